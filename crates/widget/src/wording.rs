//! Everything a buyer reads, as keys into the tables of words: one line here and one in each file of `element/words`.
//!
//! `words!` names texts without holes, `sentences!` functions that fill a text's holes, `counted!` the same for texts that
//! change with a count. The tests below hold that every file has just these keys, with these holes.

mod faults;
mod findings;
pub(crate) mod passing_on;

use rust_decimal::Decimal;
use scantling_drawing::{Limit, View};
use scantling_pricing::book::values::Text;
use scantling_pricing::brief::Site;
use scantling_pricing::checks::Caution;
use scantling_pricing::cost::{LineKind, QuantityUnit};
use scantling_pricing::delivery::{Excess, Mode, Rule, Terms, Unreachable};
use scantling_pricing::estimate::Line;
use scantling_pricing::measure::{Length, LengthUnit, Quantity};

use crate::form::ELSEWHERE;
use crate::words::{Word, Words};

pub(crate) use faults::{length, problem, quantity_fault};
pub(crate) use findings::{finding, room};

/// Texts without holes: `NAME = "key";`
macro_rules! words {
    ($($name:ident = $key:literal;)*) => {
        $(pub(crate) const $name: Word = Word($key);)*
        #[cfg(test)]
        pub(crate) const WORDS: &[&str] = &[$($key),*];
    };
}

/// Texts with holes: `name(hole, hole) = "key";`
macro_rules! sentences {
    ($($name:ident($($hole:ident),*) = $key:literal;)*) => {
        $(pub(crate) fn $name(words: &Words, $($hole: &str),*) -> String {
            words.fill($key, &[$((stringify!($hole), $hole)),*])
        })*
        #[cfg(test)]
        pub(crate) const SENTENCES: &[(&str, &[&str])] = &[$(($key, &[$(stringify!($hole)),*])),*];
    };
}

/// Texts that change with a count, which is written in digits: `name[hole, hole] = "key";`
macro_rules! counted {
    ($($name:ident[$($hole:ident),*] = $key:literal;)*) => {
        $(pub(crate) fn $name(words: &Words, number: &str, $($hole: &str),*) -> String {
            words.counted($key, number, &[$((stringify!($hole), $hole)),*])
        })*
        #[cfg(test)]
        pub(crate) const COUNTED: &[(&str, &[&str])] = &[$(($key, &[$(stringify!($hole)),*])),*];
    };
}

pub(crate) use {counted, sentences, words};

words! {
    WIDGET = "widget";
    REST_COMING = "rest.coming";
    REST_MISSING = "rest.missing";
    REST_AGAIN = "rest.again";
    REST_ASKED = "rest.asked";
    REST_ASK = "rest.ask";
    PIECE = "piece";
    SIZES = "sizes";
    SIZES_HINT = "sizes.hint";
    UNITS = "units";
    INCHES = "units.inch";
    MILLIMETRES = "units.metric";
    FINISH = "finish";
    QUANTITY = "quantity";
    DESTINATION = "destination";
    COUNTRY = "country";
    ANOTHER_COUNTRY = "country.another";
    POSTAL_CODE = "postal-code";
    POSTAL_CODE_HINT = "postal-code.hint";
    SITE = "site";
    SITE_HOME = "site.home";
    SITE_DOCK = "site.dock";
    SITE_LIMITED_ACCESS = "site.limited-access";
    INSIDE = "inside";
    DELIVERY = "delivery";
    COLLECT = "mode.collect";
    VAN = "mode.van";
    PARCEL = "mode.parcel";
    FREIGHT = "mode.freight";
    WHITE_GLOVE = "mode.white-glove";
    ABROAD = "mode.abroad";
    COLLECT_INCLUDES = "includes.collect";
    VAN_INCLUDES = "includes.van";
    PARCEL_INCLUDES = "includes.parcel";
    FREIGHT_INCLUDES = "includes.freight";
    WHITE_GLOVE_INCLUDES = "includes.white-glove";
    ABROAD_INCLUDES = "includes.abroad";
    TERMS_OF_DELIVERY = "terms-of-delivery";
    NOT_OFFERED = "unreachable.not-offered";
    UNMEASURED = "unreachable.unmeasured";
    STAYS_OUTSIDE = "unreachable.stays-outside";
    DRAWING = "drawing";
    PULL_OR_CLICK = "drawing.hint";
    CHAIR_FOR_SCALE = "drawing.chair";
    FRONT = "view.front";
    SIDE = "view.side";
    PLAN = "view.plan";
    SOLID = "view.solid";
    PRICE = "price";
    WORKSHOP = "price.workshop";
    DELIVERED = "price.delivered";
    NO_DESTINATION = "price.no-destination";
    COLLECTING = "price.collecting";
    NO_WAY = "price.no-way";
    EARLIER = "price.earlier";
    MADE_OF = "made-of";
    LINE = "line";
    AMOUNT = "amount";
    ROUNDING = "rounding";
    TOTAL = "total";
    TAX = "tax";
    SUNDRIES = "line.sundries";
    LEAST_JOB = "line.least-job";
    CRATING_LINE = "line.crating";
    PALLETS_LINE = "line.pallets";
    MARKED_TIMBER_LINE = "line.marked-timber";
    VAN_LINE = "line.van";
    HELPER_LINE = "line.helper";
    NIGHTS_LINE = "line.nights";
    TOLLS_LINE = "line.tolls";
    CARTONS_LINE = "line.cartons";
    PARCEL_LINE = "line.parcel";
    FREIGHT_LINE = "line.freight";
    LIFTGATE_LINE = "line.liftgate";
    RESIDENTIAL_LINE = "line.residential";
    LIMITED_ACCESS_LINE = "line.limited-access";
    OVER_LENGTH_LINE = "line.over-length";
    INSIDE_LINE = "line.inside";
    WHITE_GLOVE_LINE = "line.white-glove";
    ABROAD_LINE = "line.abroad";
    PAPERS_LINE = "line.papers";
    INSURANCE_LINE = "line.insurance";
    SHARE_MATERIALS = "share.materials";
    SHARE_WORK = "share.work";
    SHARE_DELIVERY = "share.delivery";
    SHARE_TAX = "share.tax";
    MATERIALS_EACH = "materials.each";
    MOVES = "moves";
    MOVES_HINT = "moves.hint";
    MOVES_DEARER = "moves.dearer";
    COSTS_THE_SAME = "moves.same";
    BUDGET = "budget";
    FIND_WHAT_FITS = "budget.find";
    BUDGET_WITHIN = "budget.within";
    BUDGET_PLANS = "budget.plans";
    BUDGET_LEAST = "budget.least";
    WHY_RANGE = "why-range";
    WHY_RANGE_TEXT = "why-range.text";
    FACTS = "facts";
    ROOM = "room";
    TERMS = "terms";
    CAUTIONS = "cautions";
    WALL_FIXING = "caution.wall-fixing";
    TIPPING = "caution.tipping";
    SEATING = "caution.seating";
    OILY_RAGS = "caution.oily-rags";
    RESIN = "caution.resin";
    NUT_OIL = "caution.nut-oil";
    DUST_SENSITISER = "caution.dust-sensitiser";
    RESTRICTED_TRADE = "caution.restricted-trade";
    TWO_PERSON_LIFT = "caution.two-person-lift";
    NO_LENGTH = "length.empty";
}

sentences! {
    size_limits(least, most, step) = "size.limits";
    size_fixed(size) = "size.fixed";
    quantity_hint(most) = "quantity.hint";
    postal_code_example(example) = "postal-code.example";
    too_far(distance, farthest) = "unreachable.too-far";
    too_long(is, most) = "unreachable.too-long";
    too_far_around(is, most) = "unreachable.too-far-around";
    too_heavy(is, most) = "unreachable.too-heavy";
    too_bulky(is, most) = "unreachable.too-bulky";
    quoted_line(by) = "line.quoted";
    duty_line(what) = "line.duty";
    duty_apart(place) = "terms.apart";
    duty_paid(place) = "terms.paid";
    conversion(likely, span, rate, day) = "conversion";
    days_span(least, most) = "days.span";
    role_of(role, material) = "role.of";
    change(what, to) = "change";
    saves(amount) = "moves.saves";
    adds(amount) = "moves.adds";
    undo(change) = "moves.undo";
    sum_to_spend(currency) = "budget.sum";
    no_sum(typed) = "budget.fault";
    finish_care(care) = "finish.care";
    finish_durability(durability) = "finish.durability";
    doubt_of_one(first) = "why-range.one";
    doubt_of_two(first, second) = "why-range.two";
    earliest(day) = "earliest";
    least_built(size) = "size.least";
    most_built(size) = "size.most";
    handle(dimension) = "drawing.handle";
    seen_whole(design) = "drawing.whole";
    measured(design) = "drawing.measured";
    dimension(name, size) = "drawing.size";
    described(sizes, materials, beside) = "drawing.described";
    range(low, high) = "price.range";
    likely(price) = "price.likely";
    announced_delivered(price, low, high) = "announced.delivered";
    announced_workshop(price, low, high) = "announced.workshop";
    facts(timber, surface, weight) = "facts.text";
    cubic_metres(count) = "cubic-metres";
    square_metres(count) = "square-metres";
    litres(count) = "litres";
    kilometres(count) = "kilometres";
    pounds(count) = "pounds";
    kilograms(count) = "kilograms";
    driven(distance) = "driven";
    packed(weight) = "packed";
    charged(weight) = "charged";
    weeks_brought_span(least, most) = "weeks.brought.span";
    weeks_collected_span(least, most) = "weeks.collected.span";
    payments(stages) = "payments";
    payments_taxed(total, stages) = "payments.taxed";
    payment(percent, amount, when) = "payment";
}

counted! {
    seats[seats, elbow] = "drawing.seats";
    days_exactly[days] = "days";
    weeks_brought[weeks] = "weeks.brought";
    weeks_collected[weeks] = "weeks.collected";
    stands[days, edition] = "stands";
    board_feet[count] = "count.board-feet";
    square_feet[count] = "count.square-feet";
    sheets[count] = "count.sheets";
    cubic_inches[count] = "count.cubic-inches";
    pieces[count] = "count.pieces";
    miles[count] = "count.miles";
    nights[count] = "count.nights";
}

/// A size that stands at a limit.
pub(crate) fn limit_reached(words: &Words, size: &str, limit: Limit) -> String {
    match limit {
        Limit::Least => least_built(words, size),
        Limit::Most => most_built(words, size),
    }
}

/// Which lines make the range as wide as it is, the least sure first; nothing where all are sure.
pub(crate) fn doubt(words: &Words, unsure: &[&Line]) -> Option<String> {
    let name = |unsure: &Line| line(words, unsure);
    match unsure {
        [] => None,
        [first] => Some(doubt_of_one(words, &name(first))),
        [first, second, ..] => Some(doubt_of_two(words, &name(first), &name(second))),
    }
}

/// A sentence, and what the maker adds to it.
pub(crate) fn with_why(sentence: String, why: Option<&Text>) -> String {
    match why {
        Some(why) => [sentence.as_str(), why.as_str()].join(" "),
        None => sentence,
    }
}

/// The name of a view.
pub(crate) const fn view(view: View) -> Word {
    match view {
        View::Front => FRONT,
        View::Side => SIDE,
        View::Plan => PLAN,
        View::Solid => SOLID,
    }
}

/// The name of a way of delivery.
pub(crate) const fn mode(mode: Mode) -> Word {
    match mode {
        Mode::Collect => COLLECT,
        Mode::Van => VAN,
        Mode::Parcel => PARCEL,
        Mode::Freight => FREIGHT,
        Mode::WhiteGlove => WHITE_GLOVE,
        Mode::Abroad => ABROAD,
    }
}

/// What a way includes.
pub(crate) const fn mode_includes(mode: Mode) -> Word {
    match mode {
        Mode::Collect => COLLECT_INCLUDES,
        Mode::Van => VAN_INCLUDES,
        Mode::Parcel => PARCEL_INCLUDES,
        Mode::Freight => FREIGHT_INCLUDES,
        Mode::WhiteGlove => WHITE_GLOVE_INCLUDES,
        Mode::Abroad => ABROAD_INCLUDES,
    }
}

/// Where it is handed over beyond a border, and who pays what is due there.
pub(crate) fn terms(words: &Words, terms: &Terms) -> String {
    let country = match terms.country.as_str() {
        ELSEWHERE => words.say(ANOTHER_COUNTRY),
        code => words.country(code),
    };
    let place = [terms.postal_code.as_str(), &country].join(" ");
    match terms.rule {
        Rule::DeliveredAtPlace => duty_apart(words, place.trim_start()),
        Rule::DeliveredDutyPaid => duty_paid(words, place.trim_start()),
    }
}

/// Why a way is not to be had, distances in the system of this unit.
pub(crate) fn unreachable(words: &Words, reason: &Unreachable, unit: LengthUnit) -> String {
    match reason {
        Unreachable::NotOffered => words.say(NOT_OFFERED),
        Unreachable::TooLarge(excess) => too_large(words, *excess, unit),
        Unreachable::Unmeasured => words.say(UNMEASURED),
        Unreachable::StaysOutside => words.say(STAYS_OUTSIDE),
        Unreachable::TooFar { miles, farthest } => {
            let [away, farthest] =
                [miles, farthest].map(|miles| in_units(words, Quantity::Distance, Decimal::from(*miles), unit));
            too_far(words, &away, &farthest)
        }
    }
}

/// What is over a limit of those who bring it.
fn too_large(words: &Words, excess: Excess, unit: LengthUnit) -> String {
    let long = |length: Length| words.length(length, unit);
    let heavy = |pounds: u32| in_units(words, Quantity::Weight, Decimal::from(pounds), unit);
    match excess {
        Excess::Length { is, most } => too_long(words, &long(is), &long(most)),
        Excess::LengthAndGirth { is, most } => too_far_around(words, &long(is), &long(most)),
        Excess::Weight { is, most } => too_heavy(words, &heavy(is), &heavy(most)),
        Excess::ChargedWeight { is, most } => too_bulky(words, &heavy(is), &heavy(most)),
    }
}

/// What a postal code looks like in a country, and what it is for.
pub(crate) fn postal_code_hint(words: &Words, example: Option<&str>) -> String {
    let hint = words.say(POSTAL_CODE_HINT);
    match example {
        Some(example) => [postal_code_example(words, example), hint].join(" "),
        None => hint,
    }
}

/// Days on the way.
pub(crate) fn days(words: &Words, (least, most): (u32, u32)) -> Option<String> {
    if most == 0 {
        return None;
    }
    let digits = most.to_string();
    Some(if least == most {
        days_exactly(words, &digits, &digits)
    } else {
        days_span(words, &least.to_string(), &digits)
    })
}

/// How long it takes from the order, in weeks.
pub(crate) fn weeks(words: &Words, (least, most): (u32, u32), brought: bool) -> String {
    let (fewest, most) = (least.to_string(), most.to_string());
    match (brought, fewest == most) {
        (true, true) => weeks_brought(words, &most, &most),
        (false, true) => weeks_collected(words, &most, &most),
        (true, false) => weeks_brought_span(words, &fewest, &most),
        (false, false) => weeks_collected_span(words, &fewest, &most),
    }
}

/// What a line is called: by the book where it has a name for it.
pub(crate) fn line(words: &Words, line: &Line) -> String {
    words.say(match line.kind {
        LineKind::Timber
        | LineKind::Slab
        | LineKind::Sheet
        | LineKind::Resin
        | LineKind::Finish
        | LineKind::Hardware
        | LineKind::Work => return line.name.clone(),
        LineKind::Sundries => SUNDRIES,
        LineKind::LeastJob => LEAST_JOB,
        LineKind::Quoted => return quoted_line(words, &line.name),
        LineKind::Crating => CRATING_LINE,
        LineKind::Pallets => PALLETS_LINE,
        LineKind::MarkedTimber => MARKED_TIMBER_LINE,
        LineKind::Van => VAN_LINE,
        LineKind::Helper => HELPER_LINE,
        LineKind::Nights => NIGHTS_LINE,
        LineKind::Tolls => TOLLS_LINE,
        LineKind::Cartons => CARTONS_LINE,
        LineKind::Parcel => PARCEL_LINE,
        LineKind::Freight => FREIGHT_LINE,
        LineKind::Liftgate => LIFTGATE_LINE,
        LineKind::Residential => RESIDENTIAL_LINE,
        LineKind::LimitedAccess => LIMITED_ACCESS_LINE,
        LineKind::OverLength => OVER_LENGTH_LINE,
        LineKind::Inside => INSIDE_LINE,
        LineKind::WhiteGlove => WHITE_GLOVE_LINE,
        LineKind::Abroad => ABROAD_LINE,
        LineKind::Papers => PAPERS_LINE,
        LineKind::Insurance => INSURANCE_LINE,
        LineKind::Duty => return duty_line(words, &line.name),
    })
}

/// How much of a line there is, in the system of this unit.
pub(crate) fn quantity(words: &Words, line: &Line, unit: LengthUnit) -> String {
    let (Some(quantity), Some(of)) = (line.quantity, line.unit) else { return String::new() };
    let digits = quantity.to_string();
    let of_kind = |kind| in_units(words, kind, quantity, unit);
    match of {
        QuantityUnit::BoardFeet => of_kind(Quantity::Timber),
        QuantityUnit::SquareFeet => of_kind(Quantity::Surface),
        QuantityUnit::Sheets => sheets(words, &digits, &words.number(&digits)),
        QuantityUnit::CubicInches => of_kind(Quantity::Resin),
        QuantityUnit::Pieces => pieces(words, &digits, &words.number(&digits)),
        QuantityUnit::Miles => driven(words, &of_kind(Quantity::Distance)),
        // Carriers of these charge for the room it takes where that comes to more than its weight.
        QuantityUnit::Pounds if matches!(line.kind, LineKind::Abroad | LineKind::Parcel) => {
            charged(words, &of_kind(Quantity::Weight))
        }
        QuantityUnit::Pounds => packed(words, &of_kind(Quantity::Weight)),
        QuantityUnit::Nights => nights(words, &digits, &words.number(&digits)),
    }
}

/// So much of a quantity with its unit, in the system of this unit.
pub(crate) fn in_units(words: &Words, kind: Quantity, held: Decimal, unit: LengthUnit) -> String {
    let digits = kind.shown(held, unit).to_string();
    let number = words.number(&digits);
    let inch = unit == LengthUnit::Inch;
    match kind {
        Quantity::Timber if inch => board_feet(words, &digits, &number),
        Quantity::Timber => cubic_metres(words, &number),
        Quantity::Surface if inch => square_feet(words, &digits, &number),
        Quantity::Surface => square_metres(words, &number),
        Quantity::Resin if inch => cubic_inches(words, &digits, &number),
        Quantity::Resin => litres(words, &number),
        Quantity::Weight if inch => pounds(words, &number),
        Quantity::Weight => kilograms(words, &number),
        Quantity::Distance if inch => miles(words, &digits, &number),
        Quantity::Distance => kilometres(words, &number),
        // Battens and runners are the maker's.
        Quantity::Run => number,
    }
}

/// The name of a kind of place.
pub(crate) const fn site(site: Site) -> Word {
    match site {
        Site::Home => SITE_HOME,
        Site::Dock => SITE_DOCK,
        Site::LimitedAccess => SITE_LIMITED_ACCESS,
    }
}

/// A caution, deferring to local codes and licensed practice.
pub(crate) const fn caution(caution: Caution) -> Word {
    match caution {
        Caution::WallFixing => WALL_FIXING,
        Caution::Tipping => TIPPING,
        Caution::Seating => SEATING,
        Caution::OilyRags => OILY_RAGS,
        Caution::Resin => RESIN,
        Caution::NutOil => NUT_OIL,
        Caution::DustSensitiser => DUST_SENSITISER,
        Caution::RestrictedTrade => RESTRICTED_TRADE,
        Caution::TwoPersonLift => TWO_PERSON_LIFT,
    }
}

#[cfg(test)]
mod tests;
