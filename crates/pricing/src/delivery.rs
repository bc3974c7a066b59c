//! Delivery: where a piece goes, which ways take it there, and what each costs.

mod abroad;
mod atlas;
mod border;
mod distance;
mod freight;
mod packing;
mod parcel;
mod place;
mod postal;
mod quote;
mod region;
mod van;
mod zip_states;

pub use atlas::Atlas;
pub(crate) use border::table_of;
pub use border::{Rule, Terms, customs_border, is_regulated_wood, must_be_marked, wood_packaging_rule};
pub use distance::{Point, great_circle_miles, road_miles};
pub use freight::{FreightClass, accessorials, density_class, linehaul, older_density_class};
pub use packing::{Crated, Packed, Shipment, crated, packs, shipment, weighed};
pub use parcel::{Parcel, parcel_charge};
pub(crate) use place::proper_country;
pub use place::{Place, read_place};
pub use postal::{countries, example as postal_example};
pub use quote::CarriageQuote;
pub use region::region_for;
pub(crate) use van::origin;
pub use zip_states::state_of_zip3;

use rust_decimal::Decimal;
use serde::Serialize;

use crate::book::PriceBook;
use crate::book::delivery::{Band, Insurance, Region};
use crate::book::read::reads_word;
use crate::book::values::Count;
use crate::bounded::Bounded;
use crate::cost::{CostLine, LineKind, QuantityUnit};
use crate::design::Resolved;
use crate::measure::{Length, LengthUnit, Quantity};
use crate::range::Guess;
use crate::takeoff::Takeoff;

/// A way for a piece to reach its buyer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Mode {
    /// The buyer collects it at the workshop.
    Collect,
    /// The maker brings it.
    Van,
    /// A parcel carrier brings it in cartons.
    Parcel,
    /// A carrier brings it in a crate.
    Freight,
    /// It is carried in, unpacked and placed.
    WhiteGlove,
    /// It is sent abroad in a crate, duty and import tax apart.
    Abroad,
}

reads_word!(Mode {
    "collect" => Self::Collect,
    "van" => Self::Van,
    "parcel" => Self::Parcel,
    "freight" => Self::Freight,
    "white-glove" => Self::WhiteGlove,
    "abroad" => Self::Abroad,
});

impl Mode {
    /// All of them.
    pub const ALL: [Self; 6] = [Self::Collect, Self::Van, Self::Parcel, Self::Freight, Self::WhiteGlove, Self::Abroad];

    /// Its word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Collect => "collect",
            Self::Van => "van",
            Self::Parcel => "parcel",
            Self::Freight => "freight",
            Self::WhiteGlove => "white-glove",
            Self::Abroad => "abroad",
        }
    }
}

/// Why a way is not possible.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Unreachable {
    /// The maker does not offer it in that region.
    NotOffered,
    /// Farther than the van goes.
    TooFar {
        /// Road miles, one way.
        miles: u32,
        /// The farthest the van goes.
        farthest: u32,
    },
    /// Longer, larger or heavier than its carriers take.
    TooLarge(Excess),
    /// How far it is can't be told from the postal code.
    Unmeasured,
    /// It is to be carried in, and its carriers stay outside.
    StaysOutside,
}

impl Unreachable {
    /// The reason in words, distances in the system of this unit.
    #[must_use]
    pub fn explain(&self, unit: LengthUnit) -> String {
        match self {
            Self::NotOffered => "the maker does not offer it there".into(),
            Self::TooLarge(excess) => excess.explain(unit),
            Self::Unmeasured => "how far it is can't be told from that postal code; ask the maker".into(),
            Self::StaysOutside => "its carriers leave it at the door, and it is to be carried in".into(),
            Self::TooFar { miles, farthest } => {
                let away = Quantity::Distance.show(Decimal::from(*miles), unit);
                format!(
                    "it is {away} away, and the van goes {}",
                    Quantity::Distance.shown(Decimal::from(*farthest), unit)
                )
            }
        }
    }
}

/// What is over a limit of those who bring it, by how much.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Excess {
    /// The longest side of a crate or carton.
    Length {
        /// What it is.
        is: Length,
        /// The most that is taken.
        most: Length,
    },
    /// Length and girth of a carton together.
    LengthAndGirth {
        /// What they come to.
        is: Length,
        /// The most that is taken.
        most: Length,
    },
    /// Its weight, in whole pounds.
    Weight {
        /// What it is.
        is: u32,
        /// The most that is taken.
        most: u32,
    },
    /// What it is charged as by the space it takes, in whole pounds.
    ChargedWeight {
        /// What it is.
        is: u32,
        /// The most that has a price.
        most: u32,
    },
}

impl Excess {
    /// What is over which limit, in words, in the system of this unit.
    #[must_use]
    pub fn explain(&self, unit: LengthUnit) -> String {
        let long = |length: &Length| length.show(unit);
        let heavy = |pounds: &u32| Quantity::Weight.show(Decimal::from(*pounds), unit);
        match self {
            Self::Length { is, most } => {
                format!("a side of its packing is {}, and its carriers take {}", long(is), long(most))
            }
            Self::LengthAndGirth { is, most } => {
                format!("length and girth of a carton come to {}, and its carriers take {}", long(is), long(most))
            }
            Self::Weight { is, most } => format!("it weighs {}, and its carriers take {}", heavy(is), heavy(most)),
            Self::ChargedWeight { is, most } => {
                format!("by the space it takes it counts as {}, and its carriers take {}", heavy(is), heavy(most))
            }
        }
    }
}

/// What is to be brought.
#[derive(Debug, Clone, Copy)]
pub struct Order<'a> {
    /// The book it is priced from.
    pub book: &'a PriceBook,
    /// The parts.
    pub resolved: &'a Resolved<'a>,
    /// What they weigh.
    pub takeoff: &'a Takeoff<'a>,
    /// What carriers are told it is worth.
    pub declared: Decimal,
    /// What a carrier has named for it, which stands in for the tables.
    pub quoted: Option<&'a CarriageQuote>,
}

/// Where it is to be brought.
#[derive(Debug, Clone, Copy)]
pub struct Trip<'a> {
    /// The region.
    pub region: &'a Region,
    /// The place in it.
    pub place: &'a Place,
}

/// What a way comes to: its lines, not yet rounded, and its days in transit, fewest and most; or why there is none.
pub type Outcome = Result<(Vec<CostLine>, (u32, u32)), Unreachable>;

/// Every way there is, possible or not.
#[must_use]
pub fn ways(order: &Order<'_>, trip: &Trip<'_>) -> Vec<(Mode, Outcome)> {
    Mode::ALL.into_iter().map(|mode| (mode, way(order, trip, mode))).collect()
}

fn way(order: &Order<'_>, trip: &Trip<'_>, mode: Mode) -> Outcome {
    let by_table = match mode {
        Mode::Collect => {
            return if trip.region.collect { Ok((Vec::new(), (0, 0))) } else { Err(Unreachable::NotOffered) };
        }
        Mode::Van => van::send(order, trip),
        Mode::Parcel => parcel::send(order, trip),
        Mode::Freight => freight::send(order, trip),
        Mode::WhiteGlove => white_glove(order, trip),
        Mode::Abroad => abroad::send(order, trip),
    };
    let carried = match order.quoted.filter(|quoted| quoted.mode == mode) {
        Some(quoted) => Ok(quote::in_place_of(by_table, quoted, order, trip)),
        None => by_table,
    };
    // What goes in the maker's own van is the maker's to answer for.
    let insurance = order.book.delivery.insurance.as_ref().filter(|_| mode != Mode::Van);
    let besides = || cover(insurance, order.declared).into_iter().chain(border::duty(order, trip));
    carried.map(|(lines, days)| (lines.into_iter().chain(besides()).collect(), days))
}

/// The line of cover for so much declared; none where it is covered without a charge.
fn cover(insurance: Option<&Insurance>, declared: Decimal) -> Option<CostLine> {
    let charge = insurance_charge(insurance?, declared);
    (!charge.is_zero()).then(|| CostLine::new(LineKind::Insurance, "", Guess::certain(charge)))
}

/// What cover costs: `max(least, ceil((declared - included) / 100) x rate)`, and nothing up to what is included.
///
/// Source: `shared/reference/delivery/insurance_tax_currency.md` section 1.
#[must_use]
pub fn insurance_charge(insurance: &Insurance, declared: Decimal) -> Decimal {
    let over = declared - insurance.included.value();
    if over <= Decimal::ZERO {
        return Decimal::ZERO;
    }
    let hundreds = Decimal::from(crate::money::whole_up(over.times(Decimal::new(1, 2))));
    (hundreds * insurance.per_hundred.value()).max(insurance.least.value())
}

/// The lines of crates and pallets, and of timber that must be marked on the way.
fn crates_of(order: &Order<'_>, trip: &Trip<'_>, shipment: &Shipment) -> Vec<CostLine> {
    let book = order.book;
    let pieces = Decimal::from(shipment.pieces);
    let line = |kind: LineKind, on_pallet: bool| {
        let rates = if on_pallet { book.delivery.pallets.as_ref()? } else { &book.delivery.crating };
        let own: Vec<&Crated> = shipment.crates.iter().filter(|one| one.on_pallet == on_pallet).collect();
        let one = |crated: &&Crated| packing::charge(rates, crated.surface());
        let (charge, count) = (own.iter().map(one).sum::<Decimal>(), Decimal::from(own.len()) * pieces);
        (!own.is_empty())
            .then(|| CostLine::new(kind, "", Guess::certain(charge.times(pieces))).of(count, QuantityUnit::Pieces))
    };
    let marked = border::marked_timber(order, trip, shipment);
    [line(LineKind::Crating, false), line(LineKind::Pallets, true), marked].into_iter().flatten().collect()
}

/// A charge that may miss by so much either way: a three-point guess around it.
fn guessed(book: &PriceBook, charge: Decimal) -> Guess {
    Guess { mean: charge, deviation: charge * book.uncertainty.carriage.value() / Decimal::from(3) }
}

/// Whether a carrier with such limits takes a shipment.
fn taken(shipment: &Shipment, longest: Option<Length>, heaviest: Option<Count>) -> Result<(), Unreachable> {
    let (is, pounds) = (shipment.longest(), crate::money::whole_up(shipment.gross.in_pounds()));
    let too_long = longest.filter(|most| is > *most).map(|most| Excess::Length { is, most });
    let heaviest = heaviest.map(Count::value).filter(|most| pounds > *most);
    let too_heavy = heaviest.map(|most| Excess::Weight { is: pounds, most });
    too_long.or(too_heavy).map_or(Ok(()), |excess| Err(Unreachable::TooLarge(excess)))
}

/// The most that bands go to, in pounds.
fn most(bands: &[Band]) -> u32 {
    bands.last().map_or(0, |band| band.to.value())
}

/// By the weight of all pieces, wrapped and not crated.
fn white_glove(order: &Order<'_>, trip: &Trip<'_>) -> Outcome {
    let tables = &order.book.delivery.white_glove;
    let table = trip.region.white_glove.as_ref().and_then(|key| tables.iter().find(|table| table.key == *key));
    let table = table.ok_or(Unreachable::NotOffered)?;
    let weight = order.takeoff.weight.in_pounds();
    let pounds = crate::money::whole_up(weight * Decimal::from(order.resolved.quantity));
    let band = table.bands.iter().find(|band| band.to.value() >= pounds);
    let band = band.ok_or(Unreachable::TooLarge(Excess::Weight { is: pounds, most: most(&table.bands) }))?;
    let line = CostLine::new(LineKind::WhiteGlove, "", guessed(order.book, band.price.value()));
    let days = (table.days_least.value(), table.days_most.value());
    Ok((vec![line.of(Decimal::from(pounds), QuantityUnit::Pounds)], days))
}
