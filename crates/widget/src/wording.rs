//! Every word a buyer sees, in whole sentences.

use scantling_drawing::View;
use scantling_pricing::checks::Caution;
use scantling_pricing::cost::{LineKind, QuantityUnit};
use scantling_pricing::delivery::{Mode, Unreachable};
use scantling_pricing::estimate::Line;
use scantling_pricing::measure::LengthUnit;

macro_rules! words {
    ($($name:ident = $text:literal;)*) => {
        $(
            #[doc = concat!("“", $text, "”")]
            pub const $name: &str = $text;
        )*
    };
}

words! {
    WIDGET = "Price estimate";
    PIECE = "The piece";
    SIZES = "Size";
    SIZES_HINT = "Write sizes as 84, 7', 6 ft 2½, 74-1/2 or 184 cm. The arrow keys move one by a step.";
    UNITS = "Lengths in";
    INCHES = "Inches";
    MILLIMETRES = "Millimetres";
    WOOD = "Material";
    FINISH = "Finish";
    OPTIONS = "Variants";
    QUANTITY = "How many";
    QUANTITY_HINT = "From 1 to 50, all alike.";
    DESTINATION = "Where it goes";
    COUNTRY = "Country";
    ANOTHER_COUNTRY = "Another country";
    POSTAL_CODE = "Postal code";
    DELIVERY = "How it gets there";
    DRAWING = "Drawing to scale";
    PRICE = "Estimate";
    WORKSHOP = "Collected at the workshop";
    DELIVERED = "Delivered";
    NO_DESTINATION = "Give a postal code below to see it delivered.";
    COLLECTING = "You collect it; pick another way below to see it delivered.";
    NO_WAY = "Delivery to that address is quoted by hand.";
    WHY_RANGE = "Why a range";
    WHY_RANGE_TEXT = "Timber yields and hours at the bench are known only when the piece is made. The range is where 8 jobs in 10 like this one should end.";
    MADE_OF = "What it is made of";
    LINE = "Line";
    AMOUNT = "Amount";
    ROUNDING = "Rounded up";
    TOTAL = "Likely price";
    TAX_NOTE = "Tax comes on top:";
    FACTS = "In figures";
    CAUTIONS = "Please note";
    EARLIER = "This estimate is for the sizes before; a field above needs mending first.";
    TERMS = "Terms";
    PAYMENTS = "Payment";
    SUNDRIES = "Abrasives, glue and sundries";
    LEAST_JOB = "Up to the smallest job taken";
    CRATING = "Crate and packing";
    VAN = "The maker's van";
    FREIGHT = "Freight to your door";
    CARTONS = "Cartons and padding";
    PARCEL = "Parcel carriage";
    WHITE_GLOVE = "Carrying in and placing";
    ABROAD = "Carriage to your address abroad";
    PAPERS = "Export papers and customs agent";
    INSURANCE = "Insured on the way for its price";
}

/// Why a quantity can't be taken.
#[must_use]
pub fn quantity_fault(typed: &str) -> String {
    format!("“{}” is not a number of pieces; write a whole number from 1 to 50", typed.trim())
}

/// The limits of a size, under its field.
#[must_use]
pub fn size_hint(least: &str, most: &str) -> String {
    format!("{least} to {most}")
}

/// A size that is not for the buyer to choose.
#[must_use]
pub fn fixed_size(size: &str) -> String {
    format!("Always {size}.")
}

/// The three sizes of a piece, for the title of its drawing.
#[must_use]
pub fn sizes(length: &str, width: &str, height: &str) -> String {
    format!("{length} × {width} × {height}")
}

/// What a role is of, for the title of a drawing.
#[must_use]
pub fn role_in(role: &str, material: &str) -> String {
    format!("{role}: {material}")
}

/// The name of a view.
#[must_use]
pub const fn view(view: View) -> &'static str {
    match view {
        View::Front => "Front",
        View::Side => "Right-hand end",
        View::Plan => "From above",
        View::Solid => "Seen whole",
    }
}

/// What a postal code looks like in a country, and what it is for.
#[must_use]
pub fn postal_code_hint(example: Option<&str>) -> String {
    let example = example.map_or(String::new(), |example| format!("As {example}. "));
    format!("{example}It stays in this page; it is used only to choose the delivery table.")
}

/// The name of a way of delivery.
#[must_use]
pub const fn mode(mode: Mode) -> &'static str {
    match mode {
        Mode::Collect => "Collect it",
        Mode::Van => "The maker brings it",
        Mode::Parcel => "By parcel",
        Mode::Freight => "Freight, crated",
        Mode::WhiteGlove => "Carried in and placed",
        Mode::Abroad => "Sent abroad, crated",
    }
}

/// What a way includes.
#[must_use]
pub const fn mode_includes(mode: Mode) -> &'static str {
    match mode {
        Mode::Collect => "Wrapped, at the workshop; bring a van and a second pair of hands.",
        Mode::Van => "Carried in, set up where it stands.",
        Mode::Parcel => "In cartons to your door. Photograph a damaged carton before you open it.",
        Mode::Abroad => {
            "To your address, ready to unload, papers included. Duty and import tax are yours to pay there."
        }
        Mode::WhiteGlove => "Two people bring it in, unpack it, set it where it stands and take the packing away.",
        Mode::Freight => "By a carrier to your door with a lift at the kerb. Check the crate before you sign for it.",
    }
}

/// Why a way is not to be had.
#[must_use]
pub fn unreachable(reason: &Unreachable) -> String {
    match reason {
        Unreachable::NotOffered => "Not offered there.".to_owned(),
        Unreachable::TooLarge => "It is larger or heavier than its carriers take.".to_owned(),
        Unreachable::TooFar { miles, farthest } => format!("{miles} miles is beyond the {farthest} the van goes."),
    }
}

/// Days on the way.
#[must_use]
pub fn days((least, most): (u32, u32)) -> Option<String> {
    match (least, most) {
        (_, 0) => None,
        (1, 1) => Some("A day on the road.".to_owned()),
        (least, most) if least == most => Some(format!("{most} days on the road.")),
        (least, most) => Some(format!("{least} to {most} days on the road.")),
    }
}

/// A price as a range.
#[must_use]
pub fn range(low: &str, high: &str) -> String {
    format!("{low} to {high}")
}

/// The likely price within its range.
#[must_use]
pub fn likely(price: &str) -> String {
    format!("likely {price}")
}

/// What a screen reader is told once typing rests.
#[must_use]
pub fn announced(price: &str, low: &str, high: &str, delivered: bool) -> String {
    if delivered {
        format!("Delivered, likely {price}, between {low} and {high}.")
    } else {
        format!("At the workshop, likely {price}, between {low} and {high}.")
    }
}

/// How long an estimate stands, and of which book it is.
#[must_use]
pub fn stands(days: u32, edition: &str) -> String {
    format!("Stands for {days} days. Prices of {edition}.")
}

/// Board feet, surface and weight.
#[must_use]
pub fn facts(board_feet: &str, square_feet: &str, pounds: &str) -> String {
    format!("{board_feet} board feet of timber to buy, {square_feet} square feet to finish, about {pounds} lb each.")
}

/// How long it takes from the order, in weeks.
#[must_use]
pub fn weeks(fewest: u32, most: u32, brought: bool) -> String {
    let until = if brought { "until it is with you" } else { "until you can collect it" };
    if fewest == most {
        format!(" About {most} weeks from your order {until}.")
    } else {
        format!(" About {fewest} to {most} weeks from your order {until}.")
    }
}

/// One stage of payment.
#[must_use]
pub fn payment(percent: &str, amount: &str, when: &str) -> String {
    format!("{percent} % ({amount}) {when}")
}

/// What a line is called.
#[must_use]
pub fn line(line: &Line) -> String {
    match line.kind {
        LineKind::Timber
        | LineKind::Slab
        | LineKind::Sheet
        | LineKind::Resin
        | LineKind::Finish
        | LineKind::Hardware => line.name.clone(),
        LineKind::Work => line.name.clone(),
        LineKind::Sundries => SUNDRIES.to_owned(),
        LineKind::LeastJob => LEAST_JOB.to_owned(),
        LineKind::Crating => CRATING.to_owned(),
        LineKind::Van => VAN.to_owned(),
        LineKind::Cartons => CARTONS.to_owned(),
        LineKind::Parcel => PARCEL.to_owned(),
        LineKind::Freight => FREIGHT.to_owned(),
        LineKind::WhiteGlove => WHITE_GLOVE.to_owned(),
        LineKind::Abroad => ABROAD.to_owned(),
        LineKind::Papers => PAPERS.to_owned(),
        LineKind::Insurance => INSURANCE.to_owned(),
    }
}

/// How much of a line there is.
#[must_use]
pub fn quantity(line: &Line) -> String {
    let (Some(quantity), Some(unit)) = (line.quantity, line.unit) else { return String::new() };
    let unit = match unit {
        QuantityUnit::BoardFeet => "board feet",
        QuantityUnit::SquareFeet => "sq ft",
        QuantityUnit::Sheets => "sheets",
        QuantityUnit::CubicInches => "cu in",
        QuantityUnit::Pieces => "pcs",
        QuantityUnit::Miles => "miles driven",
        QuantityUnit::Pounds => "lb with packing",
    };
    format!("{quantity} {unit}")
}

/// A unit's name on its switch.
#[must_use]
pub const fn unit(unit: LengthUnit) -> &'static str {
    match unit {
        LengthUnit::Inch => INCHES,
        LengthUnit::Millimetre => MILLIMETRES,
    }
}

/// A caution, deferring to local codes and licensed practice.
#[must_use]
pub const fn caution(caution: Caution) -> &'static str {
    match caution {
        Caution::WallFixing => {
            "It hangs on a wall: what the wall, the fixings and the load can bear is for a competent person on the spot to judge, by your local codes."
        }
        Caution::Tipping => {
            "It is narrow for its height: have it fixed to the wall, above all where children live. Follow the fixing notice and your local codes."
        }
        Caution::Seating => {
            "It is built for grown people to sit on, not to stand on. Ask the maker before you plan for other loads."
        }
        Caution::OilyRags => {
            "Rags wet with this finish can catch fire by themselves. When you renew it, spread them flat outdoors to dry or put them in a closed metal can."
        }
        Caution::Resin => {
            "Uncured resin harms skin and lungs and gets hot as it cures; that is the maker's care. Cured, keep hot pans and strong sun off it."
        }
        Caution::NutOil => "This finish has a nut oil in it; mind allergies in the house.",
        Caution::DustSensitiser => {
            "The dust of this wood is a known sensitiser; have it sanded only with extraction and a mask."
        }
        Caution::RestrictedTrade => "Trade in this wood is restricted; crossing a border with it may need papers.",
        Caution::TwoPersonLift => "It is heavy or long: lift it with two or more people.",
    }
}
