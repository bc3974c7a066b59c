//! Delivery: where a piece goes, which ways take it there, and what each costs.

mod abroad;
mod crating;
mod freight;
mod parcel;
mod place;
mod postal;
mod region;
mod zip_states;

pub use abroad::wood_packaging_rule;
pub use crating::{Shipment, outside, packs, shipment};
pub use freight::{FreightClass, carriage, density_class};
pub use parcel::{Parcel, parcel_charge};
pub use place::{Place, read_place};
pub use postal::{countries, example as postal_example};
pub use region::region_for;
pub use zip_states::state_of_zip3;

use rust_decimal::Decimal;
use serde::Serialize;

use crate::book::PriceBook;
use crate::book::delivery::{Insurance, Region, VanRate};
use crate::book::read::reads_word;
use crate::bounded::Bounded;
use crate::cost::{CostLine, LineKind, QuantityUnit};
use crate::design::Resolved;
use crate::measure::Weight;
use crate::range::Guess;

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
    TooLarge,
}

impl Unreachable {
    /// The reason in words.
    #[must_use]
    pub fn explain(&self) -> String {
        match self {
            Self::NotOffered => "the maker does not offer it there".into(),
            Self::TooLarge => "it is larger or heavier than its carriers take".into(),
            Self::TooFar { miles, farthest } => format!("it is {miles} miles away, and the van goes {farthest}"),
        }
    }
}

/// A way with its lines, not yet rounded, or why there is none.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Carried {
    /// The way.
    pub mode: Mode,
    /// Its lines and its days in transit, fewest and most.
    pub outcome: Result<(Vec<CostLine>, (u32, u32)), Unreachable>,
}

/// Every way there is to a region, possible or not.
#[must_use]
pub fn ways(
    book: &PriceBook,
    (region, country): (&Region, &str),
    resolved: &Resolved<'_>,
    weight: Weight,
    declared: Decimal,
) -> Vec<Carried> {
    let collect = if region.collect { Ok((Vec::new(), (0, 0))) } else { Err(Unreachable::NotOffered) };
    let insured = |way: Way| {
        way.map(|(lines, days)| {
            (lines.into_iter().chain(cover(book.delivery.insurance.as_ref(), declared)).collect(), days)
        })
    };
    vec![
        Carried { mode: Mode::Collect, outcome: collect },
        Carried { mode: Mode::Van, outcome: van(book, region) },
        Carried { mode: Mode::Parcel, outcome: insured(parcels(book, region, resolved, weight)) },
        Carried { mode: Mode::Freight, outcome: insured(freight(book, region, resolved, weight)) },
        Carried { mode: Mode::WhiteGlove, outcome: insured(white_glove(book, region, resolved, weight)) },
        Carried { mode: Mode::Abroad, outcome: insured(abroad::send(book, (region, country), resolved, weight)) },
    ]
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

type Way = Result<(Vec<CostLine>, (u32, u32)), Unreachable>;

/// There and back by the mile, loading and placing by the trip. Source: cost model of `shared/reference/delivery/own_van.md`.
fn van(book: &PriceBook, region: &Region) -> Way {
    let (Some(VanRate { per_mile, per_trip, farthest_miles }), Some(miles)) = (&book.delivery.van, region.van_miles)
    else {
        return Err(Unreachable::NotOffered);
    };
    if miles > *farthest_miles {
        return Err(Unreachable::TooFar { miles: miles.value(), farthest: farthest_miles.value() });
    }
    let driven = miles.decimal() * Decimal::TWO;
    let amount = driven * per_mile.value() + per_trip.value();
    let line = CostLine::new(LineKind::Van, "", Guess::certain(amount)).of(driven, QuantityUnit::Miles);
    Ok((vec![line], (1, 1)))
}

fn freight(book: &PriceBook, region: &Region, resolved: &Resolved<'_>, weight: Weight) -> Way {
    let table = region.freight.as_ref().and_then(|key| book.delivery.freight.iter().find(|table| table.key == *key));
    let table = table.ok_or(Unreachable::NotOffered)?;
    let shipment = shipment(&book.delivery.crating.size, resolved, weight);
    let charge = guessed(book, carriage(table, &shipment));
    Ok((
        vec![
            crated(book, &shipment, Decimal::ZERO),
            CostLine::new(LineKind::Freight, "", charge).of(shipment.gross.in_pounds(), QuantityUnit::Pounds),
        ],
        (table.days_least.value(), table.days_most.value()),
    ))
}

/// The line of crates, with so much more for each.
fn crated(book: &PriceBook, shipment: &Shipment, more: Decimal) -> CostLine {
    let (rates, crates) = (&book.delivery.crating, Decimal::from(shipment.crates));
    let crating = shipment.surface.in_square_feet() * rates.per_square_foot.value();
    let amount = crating + crates * (rates.per_crate.value() + more);
    CostLine::new(LineKind::Crating, "", Guess::certain(amount)).of(crates, QuantityUnit::Pieces)
}

/// A charge that may miss by so much either way: a three-point guess around it.
fn guessed(book: &PriceBook, charge: Decimal) -> Guess {
    Guess { mean: charge, deviation: charge * book.uncertainty.carriage.value() / Decimal::from(3) }
}

/// Every pack of every piece in a carton of its own.
fn parcels(book: &PriceBook, region: &Region, resolved: &Resolved<'_>, weight: Weight) -> Way {
    let table = region.parcel.as_ref().and_then(|key| book.delivery.parcels.iter().find(|table| table.key == *key));
    let (Some(table), Some(rates)) = (table, &book.delivery.cartons) else { return Err(Unreachable::NotOffered) };
    let boxed = parcel::boxed(&rates.size, resolved, weight);
    let (mut charge, mut packing, mut pounds) = (Decimal::ZERO, Decimal::ZERO, 0_u32);
    for parcel in &boxed {
        charge += parcel_charge(table, parcel).ok_or(Unreachable::TooLarge)?;
        packing += parcel.surface.in_square_feet() * rates.per_square_foot.value() + rates.per_crate.value();
        pounds = pounds.saturating_add(parcel.pounds);
    }
    let pieces = Decimal::from(resolved.quantity);
    let cartons = Decimal::from(boxed.len()) * pieces;
    let packing = CostLine::new(LineKind::Cartons, "", Guess::certain(packing * pieces));
    let carried = CostLine::new(LineKind::Parcel, "", guessed(book, charge * pieces));
    Ok((
        vec![
            packing.of(cartons, QuantityUnit::Pieces),
            carried.of(Decimal::from(pounds) * pieces, QuantityUnit::Pounds),
        ],
        (table.days_least.value(), table.days_most.value()),
    ))
}

/// By the weight of all pieces, wrapped and not crated.
fn white_glove(book: &PriceBook, region: &Region, resolved: &Resolved<'_>, weight: Weight) -> Way {
    let tables = &book.delivery.white_glove;
    let table = region.white_glove.as_ref().and_then(|key| tables.iter().find(|table| table.key == *key));
    let table = table.ok_or(Unreachable::NotOffered)?;
    let pounds = crate::money::whole_up(weight.in_pounds() * Decimal::from(resolved.quantity));
    let band = table.bands.iter().find(|band| band.to.value() >= pounds).ok_or(Unreachable::TooLarge)?;
    let line = CostLine::new(LineKind::WhiteGlove, "", guessed(book, band.price.value()));
    let days = (table.days_least.value(), table.days_most.value());
    Ok((vec![line.of(Decimal::from(pounds), QuantityUnit::Pounds)], days))
}
