//! Jobs: what was said one would take, what it really took, line by line, and what was left of the price. For the maker's eyes only.
//!
//! **Invariant:** the costs said and taken, each rounded once, add up; price less fees less costs is the profit.

mod clock;
mod csv;
mod slab_cut;

pub use clock::{LONG, SetBack, counted};
pub use csv::{job_lines, jobs};
pub use slab_cut::{NotCut, SlabCut, SlabStands, left_of, slab_cut, slabs_of};

use rust_decimal::Decimal;
use serde::Serialize;

use crate::book::ShopBook;
use crate::book::job::{Job, ResinTaken, Said, SlabTaken, TimberTaken};
use crate::book::values::{Amount, Day, Key, Measured, Share, Text};
use crate::brief::Brief;
use crate::cost::LineKind;
use crate::delivery::CarriageQuote;
use crate::design::resolve;
use crate::estimate::Line;
use crate::map::Map;
use crate::money::{Currency, Money, half_up, total};
use crate::owed::Owed;
use crate::problem::Problem;
use crate::profit::{Costs, Rates, fees_on, wage};
use crate::publish::hourly;
use crate::takeoff::take_off;
use crate::work_names::{ON_THE_WAY, WorkNames, key_of};
use crate::worksheet::{WorkTime, hours};

/// What a line of a job is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Of {
    /// A species.
    Timber,
    /// A slab.
    Slab,
    /// A resin.
    Resin,
    /// Every other material.
    Materials,
    /// A stage of work.
    Work,
    /// Bringing it.
    Carriage,
}

/// A line of a job: what was said, what it took.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Variance {
    /// What it is for.
    pub of: Of,
    /// In words.
    pub what: String,
    /// What was said it costs.
    pub said: Money,
    /// What it cost.
    pub took: Money,
    /// The quantity said and taken: board feet, share of the slab's face, cubic inches, hours.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub quantity: Option<(Decimal, Decimal)>,
}

/// Hours of an operation, or of a stage where the maker writes down whole stages.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Worked {
    /// What it goes by.
    pub key: Key,
    /// In words.
    pub what: String,
    /// What was said.
    pub said: Decimal,
    /// What was worked.
    pub took: Decimal,
}

/// What came in and what was left of it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Left {
    /// What is paid, carriage with it, tax apart.
    pub price: Money,
    /// What the payments take of it.
    pub fees: Money,
    /// Everything it costs, work with it.
    pub cost: Money,
    /// Hours.
    pub hours: Decimal,
    /// What is left.
    pub profit: Money,
    /// What an hour at the bench brings, once all but the wage is paid; nothing where no hour is worked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pay_per_hour: Option<Money>,
}

/// By what a job is held.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Against {
    /// What was said as it was begun.
    Then,
    /// What the book says of its brief now.
    Now,
    /// Nothing: it has no brief, or one the book can't fill.
    Nothing,
}

/// The account of a job.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Account {
    /// The job.
    pub job: Key,
    /// By what it is held.
    pub against: Against,
    /// What was said, all told.
    pub said: Left,
    /// What it came to.
    pub took: Left,
    /// Line by line.
    pub lines: Vec<Variance>,
    /// Hours, by operation.
    pub worked: Vec<Worked>,
    /// What is still owed of the quote it comes from, once that went out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub owed: Option<Owed>,
    /// The slabs it takes of: what was taken out of each for it, and what is left.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub slabs: Vec<SlabStands>,
}

/// What an order is said to take, as it is written down when a job is begun.
///
/// # Errors
/// Everything in the brief the book can't fill.
pub fn said(
    shop: &ShopBook,
    rates: &Rates,
    (brief, quoted): (&Brief, Option<&CarriageQuote>),
) -> Result<(Said, Costs), Vec<Problem>> {
    let costs = rates.costs_quoted(brief, quoted)?;
    let resolved = resolve(&rates.minutes, brief)?;
    let takeoff = take_off(&rates.minutes, &resolved)?;
    let times = hours(&rates.minutes, &takeoff, resolved.quantity);
    let outcome = costs.as_estimated();
    let lines = &costs.cost.lines;
    let hour = |amount: Decimal| amount_of(half_up(amount, 6));
    let own = wage(&shop.pricing);
    let slab = |line: &Line| {
        let used = takeoff.slabs.iter().find(|used| used.slab.name.as_str() == line.name)?;
        let share = Share::new(half_up(used.share, 4).normalize())?;
        Some((used.slab.key.clone(), SlabTaken { share, cost: amount_of(line.amount.amount()) }))
    };
    let timber = |line: &Line| {
        let key = shop.timbers.iter().find(|row| row.name.as_str() == line.name)?.key.clone();
        Some((key, TimberTaken { board_feet: Measured::new(line.quantity?)?, cost: amount_of(line.amount.amount()) }))
    };
    let resin = |line: &Line| {
        let key = shop.resins.iter().find(|row| row.name.as_str() == line.name)?.key.clone();
        Some((key, ResinTaken { cubic_inches: Measured::new(line.quantity?)?, cost: amount_of(line.amount.amount()) }))
    };
    let of = |kind: LineKind| lines.iter().filter(move |line| line.kind == kind);
    let timbers: Map<Key, TimberTaken> = of(LineKind::Timber).filter_map(timber).collect();
    let slabs: Map<Key, SlabTaken> = of(LineKind::Slab).filter_map(slab).collect();
    let resins: Map<Key, ResinTaken> = of(LineKind::Resin).filter_map(resin).collect();
    let named: Decimal = timbers.values().map(|one| one.cost.value()).sum::<Decimal>()
        + slabs.values().map(|one| one.cost.value()).sum::<Decimal>()
        + resins.values().map(|one| one.cost.value()).sum::<Decimal>();
    let bought: Decimal =
        lines.iter().filter(|line| line.kind != LineKind::Work).map(|line| line.amount.amount()).sum();
    let stage = |line: &Line| Some((key_of(&line.name)?, amount_of(line.amount.amount())));
    let own_carriage = (costs.full - costs.cost.works.likely - costs.outlay_carriage).amount();
    let said = Said {
        edition: shop.edition.clone(),
        wage: hour(own),
        overhead: hour(hourly(&shop.pricing.shop_rate) - own),
        timbers,
        slabs,
        resins,
        materials: amount_of(bought - named),
        work: of(LineKind::Work).filter_map(stage).chain(on_the_way(own_carriage, amount_of)).collect(),
        hours: hours_of(&WorkNames::new(shop), &times, costs.hours),
        carriage: amount_of(costs.outlay_carriage.amount()),
        carriage_charged: amount_of((costs.selling.net() - costs.selling.works_net()).amount()),
        fees: amount_of(outcome.fees.amount()),
    };
    Ok((said, costs))
}

/// Never below nothing, and never more than an amount may be.
fn amount_of(value: Decimal) -> Amount {
    Amount::new(value.max(Decimal::ZERO).normalize()).unwrap_or(Amount::MOST)
}

/// What of packing and carriage is the shop's own work, where there is any.
fn on_the_way<T>(much: Decimal, as_held: impl Fn(Decimal) -> T) -> Option<(Key, T)> {
    (much > Decimal::ZERO).then(|| key_of(ON_THE_WAY).map(|key| (key, as_held(much)))).flatten()
}

/// Hours by operation; what is more in all is packing and carriage.
fn hours_of(names: &WorkNames, times: &[WorkTime], all: Decimal) -> Map<Key, Measured> {
    let hours = |minutes: Decimal| half_up(minutes.checked_div(Decimal::from(60)).unwrap_or(Decimal::ZERO), 2);
    let rest = all - hours(times.iter().map(|time| time.minutes).sum());
    let each = times.iter().filter_map(|time| {
        let named = names.iter().find(|named| named.name == time.operation && named.stage == time.stage)?;
        Some((named.key.clone(), Measured::new(hours(time.minutes).normalize())?))
    });
    let rest = on_the_way(rest, |rest| Measured::new(rest.normalize())).and_then(|(key, rest)| Some((key, rest?)));
    each.chain(rest).collect()
}

/// What a job is begun from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Begun<'a> {
    /// The maker's number for it.
    pub key: Key,
    /// The day.
    pub day: Day,
    /// Who it is for.
    pub buyer: Option<Text>,
    /// The quote it comes from, and what its last revision says of piece and carriage.
    pub quote: Option<(Key, Amount, Amount)>,
    /// What a carrier has named.
    pub quoted: Option<&'a CarriageQuote>,
}

/// A job as it is begun: nothing taken yet, and what was said written down.
///
/// # Errors
/// Everything in the brief the book can't fill.
pub fn begin(shop: &ShopBook, brief: &Brief, begun: Begun<'_>) -> Result<Job, Vec<Problem>> {
    let rates = Rates::new(shop).map_err(|_| Vec::new())?;
    let (mut said, costs) = said(shop, &rates, (brief, begun.quoted))?;
    let mut estimated = amount_of(costs.selling.works_net().amount());
    let quote = begun.quote.map(|(key, piece, carriage)| {
        estimated = piece;
        said.carriage_charged = carriage;
        let price = Money::rounded(piece.value() + carriage.value(), costs.full.currency());
        said.fees = amount_of(costs.sold_for(price).fees.amount());
        key
    });
    let least = Measured::new(Decimal::new(1, 2));
    let hours = Measured::new(costs.hours.normalize()).or(least).ok_or_else(Vec::new)?;
    Ok(Job {
        key: begun.key,
        design: brief.design.clone(),
        started: Some(begun.day),
        finished: None,
        quantity: brief.quantity,
        brief: Some(brief.clone()),
        buyer: begun.buyer,
        quote,
        estimated,
        paid: Amount::ZERO,
        carriage_paid: None,
        hours_estimated: hours,
        hours: Map::new(),
        running: Vec::new(),
        bought: Map::new(),
        timber_paid: Map::new(),
        slabs: Map::new(),
        cut_out: Map::new(),
        resins: Map::new(),
        materials: Amount::ZERO,
        carriage: Amount::ZERO,
        fees: None,
        said: Some(said),
        note: None,
    })
}

/// The account of a job, against what was said when it was begun, else against what the book says of its brief now.
#[must_use]
pub fn account(shop: &ShopBook, rates: &Rates, job: &Job) -> Account {
    let now = || {
        let brief = Brief { quantity: job.quantity, ..job.brief.clone()? };
        let said = |rates: &Rates| said(shop, rates, (&brief, None)).map(|(said, _)| said);
        // What is gone may be gone by this very job.
        let gone = |problems: &Vec<Problem>| problems.iter().any(|one| matches!(one, Problem::SlabGone(_)));
        said(rates).or_else(|why| if gone(&why) { said(&rates.with_whole_slabs()) } else { Err(why) }).ok()
    };
    let (held, against) = match &job.said {
        Some(said) => (Some(said.clone()), Against::Then),
        None => now().map_or((None, Against::Nothing), |said| (Some(said), Against::Now)),
    };
    let book = Reckoning::new(shop, job, held);
    let lines = book.lines();
    let (said, took) = (book.said(&lines), book.took(&lines));
    let quote = job.quote.as_ref().and_then(|key| shop.quotes.iter().find(|quote| quote.key == *key));
    let owed = quote.and_then(|quote| quote.owed(book.currency));
    Account {
        job: job.key.clone(),
        against,
        said,
        took,
        worked: book.worked(),
        lines,
        owed,
        slabs: slabs_of(shop, job),
    }
}

/// What an account is reckoned from.
struct Reckoning<'a> {
    shop: &'a ShopBook,
    job: &'a Job,
    said: Option<Said>,
    names: WorkNames,
    currency: Currency,
    wage: Decimal,
    hour: Decimal,
}

impl<'a> Reckoning<'a> {
    fn new(shop: &'a ShopBook, job: &'a Job, said: Option<Said>) -> Self {
        let own = wage(&shop.pricing);
        let (wage, hour) = match &said {
            Some(said) => (said.wage.value(), said.wage.value() + said.overhead.value()),
            None => (own, hourly(&shop.pricing.shop_rate)),
        };
        let currency = Currency::from_code(shop.shop.currency.as_str()).unwrap_or(Currency::USD);
        Self { shop, job, said, names: WorkNames::new(shop), currency, wage, hour }
    }

    fn money(&self, amount: Decimal) -> Money {
        Money::rounded(amount, self.currency)
    }

    fn line(&self, of: Of, what: String, (said, took): (Decimal, Decimal)) -> Variance {
        Variance { of, what, said: self.money(said), took: self.money(took), quantity: None }
    }

    fn lines(&self) -> Vec<Variance> {
        let said = |amount: fn(&Said) -> Amount| self.said.as_ref().map_or(Decimal::ZERO, |said| amount(said).value());
        let mut lines = self.timbers();
        lines.extend(self.slabs());
        lines.extend(self.resins());
        let (mut expected, mut what) = (said(|said| said.materials), "Other materials");
        if self.in_one_sum() {
            expected += lines.iter().map(|line| line.said.amount()).sum::<Decimal>();
            lines.clear();
            what = "Materials in one sum";
        }
        lines.push(self.line(Of::Materials, what.to_owned(), (expected, self.job.materials.value())));
        lines.extend(self.work());
        let carriage = (said(|said| said.carriage), self.job.carriage.value());
        lines.push(self.line(Of::Carriage, "Carriage".to_owned(), carriage));
        lines.retain(|line| !line.said.amount().is_zero() || !line.took.amount().is_zero());
        lines
    }

    /// Whether the maker has written down what all materials cost together, and nothing of any by itself: then there is one line to compare.
    fn in_one_sum(&self) -> bool {
        let job = self.job;
        let apart = !job.timber_paid.is_empty() || !job.slabs.is_empty() || !job.resins.is_empty();
        !apart && !job.materials.value().is_zero()
    }

    fn timbers(&self) -> Vec<Variance> {
        let (job, none) = (self.job, Map::new());
        let said = self.said.as_ref().map_or(&none, |said| &said.timbers);
        let keys = both(said.keys(), job.bought.keys().chain(job.timber_paid.keys()));
        let line = |key: &Key| {
            let name = self.shop.timbers.iter().find(|row| row.key == *key).map(|row| row.name.to_string());
            let cost = said.get(key).map_or(Decimal::ZERO, |one| one.cost.value());
            let paid = job.timber_paid.get(key).map_or(Decimal::ZERO, |paid| paid.value());
            let line = self.line(Of::Timber, name.unwrap_or_else(|| key.to_string()), (cost, paid));
            let feet = said.get(key).map_or(Decimal::ZERO, |one| one.board_feet.value());
            let bought = job.bought.get(key).map_or(Decimal::ZERO, |feet| feet.value());
            Variance { quantity: Some((feet, bought)), ..line }
        };
        keys.into_iter().map(line).collect()
    }

    fn slabs(&self) -> Vec<Variance> {
        let none = Map::new();
        let said = self.said.as_ref().map_or(&none, |said| &said.slabs);
        let line = |key: &Key| {
            let name = self.shop.slabs.iter().find(|row| row.key == *key).map(|row| row.name.to_string());
            let pair = |map: &Map<Key, SlabTaken>| {
                map.get(key).map_or((Decimal::ZERO, Decimal::ZERO), |one| (one.share.value(), one.cost.value()))
            };
            let (was, is) = (pair(said), pair(&self.job.slabs));
            let line = self.line(Of::Slab, name.unwrap_or_else(|| key.to_string()), (was.1, is.1));
            Variance { quantity: Some((was.0, is.0)), ..line }
        };
        both(said.keys(), self.job.slabs.keys()).into_iter().map(line).collect()
    }

    fn resins(&self) -> Vec<Variance> {
        let none = Map::new();
        let said = self.said.as_ref().map_or(&none, |said| &said.resins);
        let line = |key: &Key| {
            let name = self.shop.resins.iter().find(|row| row.key == *key).map(|row| row.name.to_string());
            let pair = |map: &Map<Key, ResinTaken>| {
                map.get(key).map_or((Decimal::ZERO, Decimal::ZERO), |one| (one.cubic_inches.value(), one.cost.value()))
            };
            let (was, is) = (pair(said), pair(&self.job.resins));
            let line = self.line(Of::Resin, name.unwrap_or_else(|| key.to_string()), (was.1, is.1));
            Variance { quantity: Some((was.0, is.0)), ..line }
        };
        both(said.keys(), self.job.resins.keys()).into_iter().map(line).collect()
    }

    /// A line for each stage, and one for hours the book has no stage for any more.
    fn work(&self) -> Vec<Variance> {
        let none = Map::new();
        let said = self.said.as_ref().map_or(&none, |said| &said.work);
        let stage_of = |key: &Key| self.names.stage_of(key).unwrap_or(key).clone();
        let mut keys: Vec<Key> = self.names.stages().into_iter().map(|(key, _)| key.clone()).collect();
        let own: Vec<Key> = self.job.hours.keys().map(stage_of).collect();
        keys.extend(
            both(said.keys(), own.iter()).into_iter().filter(|key| !keys.contains(key)).cloned().collect::<Vec<_>>(),
        );
        let line = |key: &Key| {
            let hours = |map: &Map<Key, Measured>| -> Decimal {
                map.iter().filter(|(work, _)| stage_of(work) == *key).map(|(_, hours)| hours.value()).sum()
            };
            let cost = said.get(key).map_or(Decimal::ZERO, |cost| cost.value());
            let expected = self.said.as_ref().map_or(Decimal::ZERO, |said| hours(&said.hours));
            let worked = hours(&self.job.hours);
            let line = self.line(Of::Work, self.names.words(key).to_owned(), (cost, worked * self.hour));
            Variance { quantity: Some((expected, worked)), ..line }
        };
        keys.iter().map(line).collect()
    }

    /// Operation by operation; a stage in one row where the maker has written down the stage.
    fn worked(&self) -> Vec<Worked> {
        let none = Map::new();
        let said = self.said.as_ref().map_or(&none, |said| &said.hours);
        let whole = |stage: &Key| self.job.hours.contains_key(stage);
        let row_of = |key: &Key| self.names.stage_of(key).filter(|stage| whole(stage)).unwrap_or(key).clone();
        let mut rows: Vec<Worked> = Vec::new();
        let mut add = |key: &Key, said: Decimal, took: Decimal| {
            let key = row_of(key);
            match rows.iter_mut().find(|row| row.key == key) {
                Some(row) => {
                    row.said += said;
                    row.took += took;
                }
                None => rows.push(Worked { what: self.names.words(&key).to_owned(), key, said, took }),
            }
        };
        let in_order: Vec<&Key> = self.names.iter().map(|named| &named.key).collect();
        for key in in_order
            .iter()
            .copied()
            .chain(both(said.keys(), self.job.hours.keys()).into_iter().filter(|key| !in_order.contains(key)))
        {
            let of = |map: &Map<Key, Measured>| map.get(key).map_or(Decimal::ZERO, |hours| hours.value());
            let (said, took) = (of(said), of(&self.job.hours));
            if !said.is_zero() || !took.is_zero() {
                add(key, said, took);
            }
        }
        rows
    }

    fn said(&self, lines: &[Variance]) -> Left {
        let (job, said) = (self.job, self.said.as_ref());
        let of = |amount: fn(&Said) -> Amount| said.map_or(Decimal::ZERO, |said| amount(said).value());
        let price = self.money(job.estimated.value() + of(|said| said.carriage_charged));
        let fees = said.map_or_else(|| fees_on(self.shop, price), |said| self.money(said.fees.value()));
        self.left((price, fees), total(self.currency, lines.iter().map(|line| line.said)), job.hours_estimated.value())
    }

    fn took(&self, lines: &[Variance]) -> Left {
        let job = self.job;
        let price = self.money(job.paid.value() + job.carriage_paid.map_or(Decimal::ZERO, Amount::value));
        let nothing = price.amount().is_zero();
        let by_book = || if nothing { price } else { fees_on(self.shop, price) };
        let fees = job.fees.map_or_else(by_book, |fees| self.money(fees.value()));
        let hours = job.hours.values().map(|hours| hours.value()).sum();
        self.left((price, fees), total(self.currency, lines.iter().map(|line| line.took)), hours)
    }

    fn left(&self, (price, fees): (Money, Money), cost: Money, hours: Decimal) -> Left {
        let profit = price - fees - cost;
        let for_the_bench = profit.amount() + self.wage * hours;
        let pay = for_the_bench.checked_div(hours).map(|pay| self.money(pay));
        Left { price, fees, cost, hours: hours.normalize(), profit, pay_per_hour: pay }
    }
}

/// The keys of both, those of the first before those only the second has, each once.
fn both<'k>(first: impl Iterator<Item = &'k Key>, second: impl Iterator<Item = &'k Key>) -> Vec<&'k Key> {
    let mut keys: Vec<&Key> = Vec::new();
    for key in first.chain(second) {
        if !keys.contains(&key) {
            keys.push(key);
        }
    }
    keys
}
