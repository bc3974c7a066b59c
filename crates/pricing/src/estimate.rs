//! The estimate: lines rounded once each, their sum rounded up to the step once, a range around it, delivered by every way.
//!
//! **Invariant:** the lines of the piece, the lines of a way and its rounding add up to the likely price of that way.

use rust_decimal::Decimal;
use serde::{Serialize, Serializer};

use crate::book::PriceBook;
use crate::book::delivery::{Climate, Shown, Tax};
use crate::book::price_book::Stock;
use crate::book::shop::Deposit;
use crate::book::values::{Day, Key, Text};
use crate::book::work::PastJobs;
use crate::brief::{Brief, Destination};
use crate::checks::{Caution, Finding, findings};
use crate::conversion::{Conversion, conversion};
use crate::cost::{self, CostLine, LineKind, QuantityUnit};
use crate::delivery::{self, CarriageQuote, Mode, Order, Terms, Trip, Unreachable, origin, read_place, region_for};
use crate::design::{Resolved, resolve};
use crate::lead_time::{LeadTime, lead_time};
use crate::money::{Currency, Money, half_up, total};
use crate::order::put_in_order;
use crate::problem::Problem;
use crate::range::{Guess, Spread};
use crate::takeoff::{Takeoff, take_off};
use crate::tax::{Levy, tax_on};

/// A priced brief.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Estimate {
    /// The format's version: 1.
    pub scantling_estimate: u32,
    /// The edition of the book it was priced from.
    pub edition: Day,
    /// The book's notice.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub notice: Option<Text>,
    /// The design.
    pub design: Key,
    /// How many pieces.
    pub quantity: u32,
    /// ISO 4217 code of every amount.
    pub currency: Currency,
    /// What the piece is made of, each line rounded.
    pub lines: Vec<Line>,
    /// What rounds the price at the workshop up to its step.
    pub rounding: Money,
    /// The price at the workshop, as it is shown there.
    pub works: PriceRange,
    /// The tax of a piece handed over at the workshop, on the likely price.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub works_tax: Option<TaxLine>,
    /// Board feet of blanks, before waste.
    pub net_board_feet: Decimal,
    /// Board feet to buy, slabs included, as expected.
    pub board_feet: Decimal,
    /// Square feet of surface finished.
    pub finished_square_feet: Decimal,
    /// Pounds one piece weighs.
    pub weight_pounds: Decimal,
    /// The region it goes to.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub region: Option<RegionName>,
    /// Every way to get there, possible or not.
    pub ways: Vec<Way>,
    /// The way chosen: the brief's, else the cheapest that brings it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub chosen: Option<Mode>,
    /// Cautions, of the design, its materials and its finish.
    pub cautions: Vec<Caution>,
    /// What the checks found, refusals apart: they are problems of the brief.
    pub findings: Vec<Finding>,
    /// How long until it can leave the workshop; each way adds its days in transit.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lead_time: Option<LeadTime>,
    /// What is paid when, of the price by the way chosen with its tax; adds up to it exactly.
    pub payments: Vec<Payment>,
    /// What the price by the way chosen comes to in the currency of the place, when that is another.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub conversion: Option<Conversion>,
    /// Days the estimate stands.
    pub stands_days: u32,
}

/// One stage of payment.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Payment {
    /// When it is due, in the maker's words.
    pub when: Text,
    /// How much.
    pub amount: Money,
}

/// One line.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Line {
    /// What it is for.
    pub kind: LineKind,
    /// The book's name for it; empty where the kind says all.
    pub name: String,
    /// How much of it, to two decimals.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub quantity: Option<Decimal>,
    /// What the quantity counts.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub unit: Option<QuantityUnit>,
    /// What it comes to.
    pub amount: Money,
    /// How unsure it is: the variance of what it comes to, by the rule of [`Spread::variance`]. Of the lines of a price the one with the
    /// most of it is what makes its range wide. It is for putting them in order, and written nowhere.
    #[serde(skip)]
    pub doubt: Decimal,
}

/// A price and the span that should hold 8 jobs in 10.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PriceRange {
    /// The low end, rounded down to the step.
    pub low: Money,
    /// The price, rounded up to the step.
    pub likely: Money,
    /// The high end, rounded up to the step.
    pub high: Money,
}

/// The region a destination is in.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct RegionName {
    /// Its key.
    pub key: Key,
    /// What it is called.
    pub name: Text,
    /// What a buyer there is told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<Text>,
}

/// One way of delivery.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Way {
    /// Which.
    pub mode: Mode,
    /// What it comes to, or why it is not possible; written as `{"possible": …}` or `{"not-possible": …}`.
    #[serde(serialize_with = "write_outcome")]
    #[cfg_attr(feature = "schema", schemars(with = "Outcome"))]
    pub outcome: Result<Delivered, Unreachable>,
}

/// How the outcome of a way is written.
#[cfg(feature = "schema")]
#[derive(schemars::JsonSchema)]
#[schemars(rename_all = "kebab-case")]
#[expect(dead_code, reason = "it only names what is written")]
enum Outcome {
    Possible(Box<Delivered>),
    NotPossible(Unreachable),
}

fn write_outcome<S: Serializer>(outcome: &Result<Delivered, Unreachable>, serializer: S) -> Result<S::Ok, S::Error> {
    match outcome {
        Ok(delivered) => serializer.collect_map([("possible", delivered)]),
        Err(reason) => serializer.collect_map([("not-possible", reason)]),
    }
}

/// A price with delivery.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Delivered {
    /// What the way adds, each line rounded.
    pub lines: Vec<Line>,
    /// What rounds the delivered price up to its step.
    pub rounding: Money,
    /// The delivered price, as it is shown there: with its tax in it or apart.
    pub price: PriceRange,
    /// Tax the maker charges there, on the likely price.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tax: Option<TaxLine>,
    /// Fewest and most days in transit.
    pub days: (u32, u32),
    /// Where it is handed over and who pays duty and import tax, where they may be due.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub terms: Option<Terms>,
}

/// A tax and what it comes to.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct TaxLine {
    /// Its name.
    pub name: Text,
    /// What it comes to.
    pub amount: Money,
    /// Whether the price shown has it in it.
    pub shown: Shown,
}

/// What is known of an order besides its brief.
#[derive(Debug, Clone, Copy, Default)]
pub struct Known<'a> {
    /// What carriers are told it is worth; without it, its price. From a book of costs the price is another, and it is still the price that is
    /// declared.
    pub declared: Option<Money>,
    /// What a carrier has named for it, which stands in for the tables.
    pub quoted: Option<&'a CarriageQuote>,
}

/// Prices a brief from a price book.
///
/// # Errors
/// Everything in the brief the book can't fill, all at once.
pub fn estimate(book: &PriceBook, brief: &Brief) -> Result<Estimate, Vec<Problem>> {
    estimate_knowing(book, brief, &Known::default())
}

/// Prices a brief of which more is known.
///
/// # Errors
/// As [`estimate`].
pub fn estimate_knowing(book: &PriceBook, brief: &Brief, known: &Known<'_>) -> Result<Estimate, Vec<Problem>> {
    let resolved = resolve(book, brief)?;
    let takeoff = take_off(book, &resolved)?;
    let place = brief.destination.as_ref().map(read_place).transpose().map_err(|problem| vec![problem])?;
    let region = place.as_ref().and_then(|place| region_for(&book.regions, place));
    let indoors = region.map_or(Climate::Ordinary, |region| region.indoors);
    let findings = findings(book, &resolved, &takeoff, indoors)?;
    let piece = Piece::new(book, &resolved, &takeoff);
    let (works, works_tax) = (piece.works(), piece.works_tax());
    let declared = known.declared.unwrap_or_else(|| without(works.likely, works_tax.as_ref())).amount();
    let order = Order { book, resolved: &resolved, takeoff: &takeoff, declared, quoted: known.quoted };
    let trip = region.zip(place.as_ref()).map(|(region, place)| Trip { region, place });
    let ways = trip.map_or_else(Vec::new, |trip| ways(&order, &trip, &piece, brief.destination.as_ref()));
    let chosen = choose(&ways, brief.delivery).map_err(|problem| vec![problem])?;
    let in_board_feet = piece.lines.iter().filter(|line| line.unit == Some(QuantityUnit::BoardFeet));
    let mut estimate = Estimate {
        scantling_estimate: 1,
        edition: book.edition.clone(),
        notice: book.notice.clone(),
        design: resolved.design.key.clone(),
        quantity: resolved.quantity,
        currency: piece.currency,
        rounding: without(works.likely, works_tax.as_ref()) - Money::rounded(piece.sum(), piece.currency),
        works,
        works_tax,
        net_board_feet: half_up(takeoff.net_board_feet().value(), 2),
        board_feet: in_board_feet.filter_map(|line| line.quantity).sum(),
        finished_square_feet: half_up(takeoff.finished.in_square_feet(), 1),
        weight_pounds: half_up(takeoff.weight.in_pounds(), 0),
        region: region.map(|region| RegionName {
            key: region.key.clone(),
            name: region.name.clone(),
            note: region.note.clone(),
        }),
        ways,
        chosen,
        cautions: cautions(&resolved),
        findings,
        lead_time: lead_time(book, &resolved, &takeoff),
        payments: Vec::new(),
        conversion: None,
        stands_days: book.shop.stands_days.value(),
        lines: piece.lines,
    };
    estimate.payments = payments(&book.shop.deposits, estimate.to_pay());
    let other = trip.and_then(|trip| Some((trip.region.currency.as_ref()?, trip.place.country.as_str())));
    estimate.conversion =
        other.and_then(|(code, country)| conversion(&book.currencies, code, country, estimate.price()));
    Ok(estimate)
}

/// Shares a sum out: what is due up to a stage is rounded, and the stage is what that adds to the stage before, so that all of them
/// add up to the sum.
pub(crate) fn payments(deposits: &[Deposit], sum: Money) -> Vec<Payment> {
    let (mut share, mut due) = (Decimal::ZERO, Money::zero(sum.currency()));
    let stage = |deposit: &Deposit| {
        share += deposit.share.value();
        let so_far = Money::rounded(sum.amount() * share, sum.currency());
        let amount = so_far - due;
        due = so_far;
        Payment { when: deposit.when.clone(), amount }
    };
    deposits.iter().map(stage).collect()
}

/// What a price is without the tax that is in it.
fn without(shown: Money, tax: Option<&TaxLine>) -> Money {
    tax.filter(|tax| tax.shown == Shown::Within).map_or(shown, |tax| shown - tax.amount)
}

/// The piece itself, priced.
struct Piece<'b> {
    currency: Currency,
    step: Decimal,
    correlation: Decimal,
    least: Decimal,
    lines: Vec<Line>,
    spread: Spread,
    /// How much more or less the work comes to as a rule, by past jobs.
    shift: Decimal,
    /// The tax of what is handed over at the workshop.
    home_tax: Option<&'b Tax>,
}

impl<'b> Piece<'b> {
    fn new(book: &'b PriceBook, resolved: &Resolved<'_>, takeoff: &Takeoff<'_>) -> Self {
        let currency = book.currency();
        let costs = cost::lines(book, resolved, takeoff);
        let correlation = book.uncertainty.correlation.value();
        let spread: Spread = costs.iter().map(|line| line.spread).sum();
        let (spread, shift) = by_past_jobs(book.past_jobs.as_ref(), &costs, spread, correlation);
        let mut lines: Vec<Line> = costs.iter().map(|line| rounded(line, currency, correlation)).collect();
        let least = book.shop.least_job.value();
        let short = least - total(currency, lines.iter().map(|line| line.amount)).amount();
        if short > Decimal::ZERO {
            // Up to the next minor unit, so that no rounding of a line leaves the job a cent short of the least.
            let short = Money::up_to_step(short, Decimal::ZERO, currency).amount();
            lines.push(rounded(&CostLine::new(LineKind::LeastJob, "", Guess::certain(short)), currency, correlation));
        }
        let step = book.shop.rounding_step.value();
        let home = origin(book).and_then(|shop| region_for(&book.regions, &shop));
        let home_tax = home.and_then(|home| home.tax.as_ref());
        Self { currency, step, correlation, least, spread, shift, lines, home_tax }
    }

    /// The price at the workshop, as it is shown there.
    fn works(&self) -> PriceRange {
        self.range(self.sum(), self.spread, Decimal::ZERO, &Levy::within(self.home_tax, Decimal::ZERO))
    }

    /// The tax of a piece handed over at the workshop.
    fn works_tax(&self) -> Option<TaxLine> {
        self.home_tax.map(|tax| TaxLine::new(tax, tax_on(tax, self.works().likely, Money::zero(self.currency))))
    }

    fn sum(&self) -> Decimal {
        total(self.currency, self.lines.iter().map(|line| line.amount)).amount()
    }

    /// The range around a sum, with the tax that is shown in it; its low end never below the least job with what is certain on top, rounded
    /// as a price is.
    fn range(&self, sum: Decimal, spread: Spread, on_top: Decimal, levy: &Levy) -> PriceRange {
        let miss = spread.eight_in_ten(self.correlation);
        let up = |amount: Decimal| Money::up_to_step(levy.added_to(amount), self.step, self.currency);
        let (middle, likely, least) = (sum + self.shift, up(sum), up(self.least + on_top));
        let low = Money::down_to_step(levy.added_to(middle - miss), self.step, self.currency);
        let low = if low.amount() < least.amount() { least } else { low };
        let low = if low.amount() > likely.amount() { likely } else { low };
        let high = up(middle + miss);
        PriceRange { low, likely, high: if high.amount() < likely.amount() { likely } else { high } }
    }
}

impl TaxLine {
    fn new(tax: &Tax, amount: Money) -> Self {
        Self { name: tax.name.clone(), amount, shown: tax.shown }
    }
}

/// The spread of a sum, and how far its middle lies from it, once past jobs have had their say.
fn by_past_jobs(
    past: Option<&PastJobs>,
    costs: &[CostLine],
    spread: Spread,
    correlation: Decimal,
) -> (Spread, Decimal) {
    let Some(past) = past else { return (spread, Decimal::ZERO) };
    let of_work = || costs.iter().filter(|line| line.kind == LineKind::Work);
    let mean: Decimal = of_work().map(|line| line.guess.mean).sum();
    let usual = mean * past.hours_take.value();
    let missed = Guess { mean: usual, deviation: usual * past.miss_by.value() };
    let own: Spread = of_work().map(|line| line.spread).sum();
    (spread.widened(own, correlation, missed), usual - mean)
}

fn rounded(line: &CostLine, currency: Currency, correlation: Decimal) -> Line {
    let certain = line.guess.deviation.is_zero();
    Line {
        kind: line.kind,
        name: line.name.clone(),
        quantity: line.quantity.map(|(quantity, _)| half_up(quantity, 2).normalize()),
        unit: line.quantity.map(|(_, unit)| unit),
        amount: Money::rounded(line.guess.mean, currency),
        doubt: if certain { Decimal::ZERO } else { line.spread.variance(correlation) },
    }
}

fn ways(order: &Order<'_>, trip: &Trip<'_>, piece: &Piece<'_>, to: Option<&Destination>) -> Vec<Way> {
    // What is collected is handed over, and taxed, at the workshop: from memory of the sourcing rule of the Streamlined Sales and Use Tax
    // Agreement, section 310; the same holds for value added tax.
    let tax = |mode: Mode| if mode == Mode::Collect { piece.home_tax } else { trip.region.tax.as_ref() };
    let deliver = |(mode, outcome): (Mode, delivery::Outcome)| Way {
        mode,
        outcome: outcome.map(|(costs, days)| Delivered {
            terms: to.and_then(|to| Terms::on(order.book, trip, to, mode)),
            ..deliver(&costs, days, tax(mode), piece)
        }),
    };
    delivery::ways(order, trip).into_iter().map(deliver).collect()
}

fn deliver(costs: &[CostLine], days: (u32, u32), tax: Option<&Tax>, piece: &Piece<'_>) -> Delivered {
    let lines: Vec<Line> = costs.iter().map(|line| rounded(line, piece.currency, piece.correlation)).collect();
    let carriage = total(piece.currency, lines.iter().map(|line| line.amount));
    let sum = piece.sum() + carriage.amount();
    let spread = costs.iter().fold(piece.spread, |spread, line| spread.and_apart(line.guess));
    let price = piece.range(sum, spread, carriage.amount(), &Levy::within(tax, carriage.amount()));
    let tax = tax.map(|tax| TaxLine::new(tax, tax_on(tax, price.likely, carriage)));
    let rounding = without(price.likely, tax.as_ref()) - Money::rounded(sum, piece.currency);
    Delivered { lines, rounding, price, tax, days, terms: None }
}

/// The brief's way, if it can be had; else the cheapest that brings the piece; else collecting, where that is possible.
fn choose(ways: &[Way], asked: Option<Mode>) -> Result<Option<Mode>, Problem> {
    if let Some(mode) = asked.filter(|_| !ways.is_empty()) {
        let way = ways.iter().find(|way| way.mode == mode);
        let why = match way.map(|way| &way.outcome) {
            Some(Ok(_)) => return Ok(Some(mode)),
            Some(Err(reason)) => reason.clone(),
            None => Unreachable::NotOffered,
        };
        return Err(Problem::ModeNotOffered { mode, why });
    }
    let price = |way: &&Way| way.outcome.as_ref().ok().map(|delivered| delivered.price.likely.amount());
    let possible = || ways.iter().filter(|way| way.outcome.is_ok());
    let brought = possible().filter(|way| way.mode != Mode::Collect).min_by_key(price);
    Ok(brought.or_else(|| possible().next()).map(|way| way.mode))
}

/// The cautions of the design, its materials and its finish, each once.
fn cautions(resolved: &Resolved<'_>) -> Vec<Caution> {
    let of_stock = |stock: Stock<'_>| match stock {
        Stock::Timber(timber) | Stock::Slab(_, timber) => timber.cautions.clone(),
        Stock::Resin(resin) => resin.cautions.clone(),
        Stock::Sheet(_) => Vec::new(),
    };
    let materials = resolved.materials.iter().flat_map(|material| of_stock(material.stock));
    let own = resolved.design.cautions.iter().copied();
    let mut cautions: Vec<Caution> = own.chain(materials).chain(resolved.finish.cautions.iter().copied()).collect();
    put_in_order(&mut cautions, |one, other| one < other);
    cautions.dedup();
    cautions
}

impl Estimate {
    /// The price that counts for a buyer: by the way chosen, else at the workshop.
    #[must_use]
    pub fn price(&self) -> PriceRange {
        self.delivered().map_or(self.works, |delivered| delivered.price)
    }

    /// The tax on the price that counts.
    #[must_use]
    pub fn tax(&self) -> Option<&TaxLine> {
        self.delivered().map_or(self.works_tax.as_ref(), |delivered| delivered.tax.as_ref())
    }

    /// What is paid: the likely price by the way chosen, with its tax.
    #[must_use]
    pub fn to_pay(&self) -> Money {
        let price = self.price().likely;
        self.tax().filter(|tax| tax.shown == Shown::Apart).map_or(price, |tax| price + tax.amount)
    }

    /// What the shop keeps of that once tax is passed on.
    #[must_use]
    pub fn net(&self) -> Money {
        without(self.price().likely, self.tax())
    }

    /// The likely price at the workshop, tax apart.
    #[must_use]
    pub fn works_net(&self) -> Money {
        without(self.works.likely, self.works_tax.as_ref())
    }

    /// Every way there is, the cheapest first; those that can't be had come last.
    #[must_use]
    pub fn ways_by_price(&self) -> Vec<&Way> {
        let price = |way: &&Way| way.outcome.as_ref().ok().map(|delivered| delivered.price.likely.amount());
        let mut ways: Vec<&Way> = self.ways.iter().collect();
        put_in_order(&mut ways, |one, other| match (price(one), price(other)) {
            (Some(one), Some(other)) => one < other,
            (one, other) => one.is_some() && other.is_none(),
        });
        ways
    }

    /// The way chosen, when it brings the piece to the buyer.
    #[must_use]
    pub fn brought(&self) -> Option<&Delivered> {
        self.delivered().filter(|_| self.chosen != Some(Mode::Collect))
    }

    /// The lines of the price that counts which are not sure, the least sure first.
    #[must_use]
    pub fn unsure(&self) -> Vec<&Line> {
        let carried = self.delivered().map(|delivered| delivered.lines.as_slice()).unwrap_or_default();
        let mut lines: Vec<&Line> =
            self.lines.iter().chain(carried).filter(|line| line.doubt > Decimal::ZERO).collect();
        put_in_order(&mut lines, |one, other| one.doubt > other.doubt);
        lines
    }

    /// Fewest and most days until it is there by the way chosen, or ready at the workshop.
    #[must_use]
    pub fn days(&self) -> Option<(u32, u32)> {
        let (fewest, most) = self.lead_time.as_ref()?.days;
        let (quick, slow) = self.delivered().map_or((0, 0), |delivered| delivered.days);
        Some((fewest.saturating_add(quick), most.saturating_add(slow)))
    }

    /// The way chosen, when it is possible.
    #[must_use]
    pub fn delivered(&self) -> Option<&Delivered> {
        let way = self.ways.iter().find(|way| Some(way.mode) == self.chosen)?;
        way.outcome.as_ref().ok()
    }
}
