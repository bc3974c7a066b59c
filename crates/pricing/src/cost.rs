//! From a takeoff to lines of money: one line per species, slab, finish and stage of work, not yet rounded.
//!
//! The engine does not know whether an amount is a cost or a selling rate: that is the book's to say.

use rust_decimal::Decimal;
use serde::Serialize;

use crate::book::PriceBook;
use crate::book::stock::Timber;
use crate::book::values::Text;
use crate::design::Resolved;
use crate::labour;
use crate::range::{Guess, Spread};
use crate::takeoff::{Takeoff, finish_units};

/// What a line is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum LineKind {
    /// Boards of a species.
    Timber,
    /// A slab.
    Slab,
    /// Sheets.
    Sheet,
    /// Resin.
    Resin,
    /// Finish material.
    Finish,
    /// Hardware.
    Hardware,
    /// Abrasives, glue and whatever else is used up.
    Sundries,
    /// A stage of work.
    Work,
    /// What brings a small job up to the least the shop takes.
    LeastJob,
    /// Crates.
    Crating,
    /// Pallets.
    Pallets,
    /// Timber of crates and pallets, treated and marked for a border.
    MarkedTimber,
    /// The maker's van.
    Van,
    /// A second pair of hands in the van.
    Helper,
    /// Nights away.
    Nights,
    /// Tolls and ferries.
    Tolls,
    /// Cartons.
    Cartons,
    /// A parcel carrier's charge.
    Parcel,
    /// A carrier's charge, fuel included.
    Freight,
    /// A lift at the tail of the truck.
    Liftgate,
    /// Delivery to a home, by appointment.
    Residential,
    /// Delivery to where a truck gets badly.
    LimitedAccess,
    /// What a long crate costs besides.
    OverLength,
    /// Carrying past the threshold.
    Inside,
    /// The charge of those who carry in and place.
    WhiteGlove,
    /// Carriage abroad.
    Abroad,
    /// Papers and the customs agent.
    Papers,
    /// Cover on the way.
    Insurance,
    /// Duty and import tax, as the maker estimates them.
    Duty,
    /// What a carrier has named for the order.
    Quoted,
}

impl LineKind {
    /// Its word, as people read it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Timber => "timber",
            Self::Slab => "slab",
            Self::Sheet => "sheet",
            Self::Resin => "resin",
            Self::Finish => "finish",
            Self::Hardware => "hardware",
            Self::Sundries => "sundries",
            Self::Work => "work",
            Self::LeastJob => "least job",
            Self::Crating => "crating",
            Self::Pallets => "pallets",
            Self::MarkedTimber => "marked timber",
            Self::Van => "van",
            Self::Helper => "helper",
            Self::Nights => "nights",
            Self::Tolls => "tolls",
            Self::Cartons => "cartons",
            Self::Parcel => "parcel",
            Self::Freight => "freight",
            Self::Liftgate => "liftgate",
            Self::Residential => "residential",
            Self::LimitedAccess => "limited access",
            Self::OverLength => "over length",
            Self::Inside => "inside",
            Self::WhiteGlove => "white glove",
            Self::Abroad => "abroad",
            Self::Papers => "papers",
            Self::Insurance => "insurance",
            Self::Duty => "duty, estimated",
            Self::Quoted => "quoted",
        }
    }
}

/// What a quantity counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum QuantityUnit {
    /// Board feet to buy.
    BoardFeet,
    /// Square feet.
    SquareFeet,
    /// Whole sheets.
    Sheets,
    /// Cubic inches.
    CubicInches,
    /// Pieces.
    Pieces,
    /// Miles there and back.
    Miles,
    /// Pounds with packing.
    Pounds,
    /// Nights, for each who is away.
    Nights,
}

/// A line before rounding.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CostLine {
    /// What it is for.
    pub kind: LineKind,
    /// The book's name for it; empty where the kind says all.
    pub name: String,
    /// How much of it.
    pub quantity: Option<(Decimal, QuantityUnit)>,
    /// What it comes to.
    pub guess: Guess,
    /// How far it may miss, operation by operation: a line of several is no surer or less sure for being one line.
    pub spread: Spread,
}

impl CostLine {
    pub(crate) fn new(kind: LineKind, name: impl ToString, guess: Guess) -> Self {
        Self { kind, name: name.to_string(), quantity: None, guess, spread: Spread::NONE.and(guess) }
    }

    /// With more of the same, which runs long or short together with it.
    fn add(&mut self, guess: Guess, quantity: Decimal) {
        self.guess.mean += guess.mean;
        self.guess.deviation += guess.deviation;
        self.spread = Spread::NONE.and(self.guess);
        if let Some((sum, _)) = &mut self.quantity {
            *sum += quantity;
        }
    }

    pub(crate) fn of(self, quantity: Decimal, unit: QuantityUnit) -> Self {
        Self { quantity: Some((quantity, unit)), ..self }
    }
}

/// The lines of everything that is in the piece and everything done to it.
#[must_use]
pub fn lines(book: &PriceBook, resolved: &Resolved<'_>, takeoff: &Takeoff<'_>) -> Vec<CostLine> {
    let mut lines = materials(takeoff);
    lines.push(finish(resolved, takeoff));
    lines.extend(hardware(book, resolved));
    lines.extend(sundries(book, takeoff));
    lines.extend(work(book, takeoff, resolved.quantity));
    lines
}

fn materials(takeoff: &Takeoff<'_>) -> Vec<CostLine> {
    let mut timbers: Vec<(&Timber, CostLine)> = Vec::new();
    for used in &takeoff.timbers {
        let bought = Guess::pert(&used.bought.map(|board_feet| board_feet.value())).mean;
        let guess = Guess::pert(&used.value);
        match timbers.iter_mut().find(|(timber, _)| timber.key == used.timber.key) {
            Some((_, line)) => line.add(guess, bought),
            None => {
                let line = CostLine::new(LineKind::Timber, &used.timber.name, guess);
                timbers.push((used.timber, line.of(bought, QuantityUnit::BoardFeet)));
            }
        }
    }
    let slabs = takeoff.slabs.iter().map(|used| {
        CostLine::new(LineKind::Slab, &used.slab.name, Guess::certain(used.value()))
            .of(used.board_feet.value(), QuantityUnit::BoardFeet)
    });
    let sheets = takeoff.sheets.iter().map(|used| {
        let sheets = Decimal::from(used.layout.sheets);
        CostLine::new(LineKind::Sheet, &used.sheet.name, Guess::certain(sheets * used.sheet.price.value()))
            .of(sheets, QuantityUnit::Sheets)
    });
    let resins = takeoff.resins.iter().map(|used| {
        let mixed = used.mixed.in_cubic_inches();
        CostLine::new(LineKind::Resin, &used.resin.name, Guess::certain(mixed * used.resin.rate.value()))
            .of(mixed, QuantityUnit::CubicInches)
    });
    timbers.into_iter().map(|(_, line)| line).chain(slabs).chain(sheets).chain(resins).collect()
}

fn finish(resolved: &Resolved<'_>, takeoff: &Takeoff<'_>) -> CostLine {
    let finish = resolved.finish;
    let area = takeoff.finished.in_square_feet();
    let units = finish_units(finish, takeoff.finished);
    CostLine::new(LineKind::Finish, &finish.name, Guess::certain(units * finish.rate.value()))
        .of(area, QuantityUnit::SquareFeet)
}

fn hardware(book: &PriceBook, resolved: &Resolved<'_>) -> Vec<CostLine> {
    let quantity = Decimal::from(resolved.quantity);
    let line = |used: &&crate::design::HardwareUse| {
        let item = book.hardware_item(&used.item)?;
        let count = used.count.decimal() * quantity;
        let guess = Guess::certain(count * item.price.value());
        Some(CostLine::new(LineKind::Hardware, &item.name, guess).of(count, QuantityUnit::Pieces))
    };
    resolved.hardware.iter().filter_map(line).collect()
}

/// Consumables in one line, with what is charged once per order: what takes the payment is no line of its own.
fn sundries(book: &PriceBook, takeoff: &Takeoff<'_>) -> Option<CostLine> {
    let used = book.consumables.iter().filter_map(|item| {
        let drive = takeoff.drivers.get(&item.driver)?;
        Some(drive.amount * item.rate.value())
    });
    let sum: Decimal = used.sum::<Decimal>() + book.per_order.value();
    (!sum.is_zero()).then(|| CostLine::new(LineKind::Sundries, "", Guess::certain(sum)))
}

/// One line per stage, in the order the book first names them.
fn work(book: &PriceBook, takeoff: &Takeoff<'_>, pieces: u32) -> Vec<CostLine> {
    let mut stages: Vec<(&Text, CostLine)> = Vec::new();
    for operation in &book.operations {
        let Some(priced) = labour::priced(operation, &takeoff.drivers, pieces) else { continue };
        match stages.iter_mut().find(|(stage, _)| **stage == operation.stage) {
            Some((_, line)) => {
                line.guess.mean += priced.mean;
                line.guess.deviation += priced.deviation;
                line.spread = line.spread.and(priced);
            }
            None => stages.push((&operation.stage, CostLine::new(LineKind::Work, &operation.stage, priced))),
        }
    }
    stages.into_iter().map(|(_, line)| line).collect()
}
