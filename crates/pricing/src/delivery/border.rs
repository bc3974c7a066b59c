//! What a border asks for: marked timber in crates.

use rust_decimal::Decimal;

use super::{Crated, Order, Shipment, Trip};
use crate::book::PriceBook;
use crate::book::delivery::{AbroadTable, CrateSize, Region};
use crate::book::values::Amount;
use crate::bounded::Bounded;
use crate::cost::{CostLine, LineKind, QuantityUnit};
use crate::measure::Length;
use crate::range::Guess;

/// Members of the European Union.
const UNION: [&str; 27] = [
    "AT", "BE", "BG", "CY", "CZ", "DE", "DK", "EE", "ES", "FI", "FR", "GR", "HR", "HU", "IE", "IT", "LT", "LU", "LV",
    "MT", "NL", "PL", "PT", "RO", "SE", "SI", "SK",
];

/// Solid wood up to this is left out of the rule. Source: `shared/reference/delivery/crating.md` section 4: 6 mm or less throughout.
const UNREGULATED: Length = Length::from_nanometres(6_000_000);

/// Whether the timber of a crate from one country to another must be treated and marked by ISPM 15: where the two differ, but not
/// between the United States and Canada, nor within the European Union.
///
/// Source: `shared/reference/delivery/crating.md` section 4.
#[must_use]
pub fn wood_packaging_rule(from: &str, to: &str) -> bool {
    let together = |one: &[&str]| one.contains(&from) && one.contains(&to);
    from != to && !together(&["US", "CA"]) && !together(&UNION)
}

/// Whether a crate, or a pallet, has solid wood the rule is about. Panels made with glue are none of it, and neither is what is 6 mm thick
/// or less throughout; where its book does not say how thick its solid wood is, battens and runners are taken to be thicker.
///
/// Source: `shared/reference/delivery/crating.md` section 4.
#[must_use]
pub fn is_regulated_wood(size: &CrateSize) -> bool {
    match size.solid_wood {
        Some(thickest) => thickest > UNREGULATED,
        None => size.batten_weight.is_some() || size.runner_weight.is_some(),
    }
}

/// Whether the timber of such a crate from one country to another must be treated and marked.
#[must_use]
pub fn must_be_marked(size: &CrateSize, from: &str, to: &str) -> bool {
    is_regulated_wood(size) && wood_packaging_rule(from, to)
}

/// How many crates and pallets of an order must be marked on its way.
fn marked(order: &Order<'_>, trip: &Trip<'_>, shipment: &Shipment) -> Decimal {
    let (rates, from) = (&order.book.delivery, order.book.shop.country.as_str());
    let size = |one: &Crated| match &rates.pallets {
        Some(pallets) if one.on_pallet => &pallets.size,
        _ => &rates.crating.size,
    };
    let each = shipment.crates.iter().filter(|one| must_be_marked(size(one), from, &trip.place.country)).count();
    Decimal::from(each).times(Decimal::from(shipment.pieces))
}

/// The table for abroad that holds in a region.
pub(crate) fn table_of<'b>(book: &'b PriceBook, region: &Region) -> Option<&'b AbroadTable> {
    region.abroad.as_ref().and_then(|key| book.delivery.abroad.iter().find(|table| table.key == *key))
}

/// What marking adds to a crate that goes to a region: what its table for abroad says, else what holds everywhere.
fn charge(book: &PriceBook, region: &Region) -> Option<Amount> {
    table_of(book, region).and_then(|table| table.marked_timber).or(book.delivery.marked_timber)
}

/// Whether timber must be marked on the way and the book does not say what that adds: the book check refuses that where a region names its
/// countries, and where it takes anyone, no carrier is offered.
pub(super) fn is_unpriced(order: &Order<'_>, trip: &Trip<'_>, shipment: &Shipment) -> bool {
    charge(order.book, trip.region).is_none() && !marked(order, trip, shipment).is_zero()
}

/// The line of timber that must be treated and marked on the way; none where none must be. Where no charge is named for it, which only a
/// carrier's own quote gets by with, it says so by its amount of nothing.
pub(super) fn marked_timber(order: &Order<'_>, trip: &Trip<'_>, shipment: &Shipment) -> Option<CostLine> {
    let count = marked(order, trip, shipment);
    let each = charge(order.book, trip.region).map_or(Decimal::ZERO, |each| each.value());
    let line = CostLine::new(LineKind::MarkedTimber, "", Guess::certain(count.times(each)));
    (!count.is_zero()).then(|| line.of(count, QuantityUnit::Pieces))
}
