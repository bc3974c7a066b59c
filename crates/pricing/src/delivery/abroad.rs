//! Abroad: crates whose timber is treated and marked where the rule asks it, charged by weight or space, with papers. Duty and import tax
//! are the buyer's, as is usual where a seller names no figures for them.

use rust_decimal::Decimal;

use super::{Order, Outcome, Trip, Unreachable, crates_of, guessed, shipment};
use crate::cost::{CostLine, LineKind, QuantityUnit};
use crate::money::whole_up;
use crate::range::Guess;

/// Members of the European Union.
const UNION: [&str; 27] = [
    "AT", "BE", "BG", "CY", "CZ", "DE", "DK", "EE", "ES", "FI", "FR", "GR", "HR", "HU", "IE", "IT", "LT", "LU", "LV",
    "MT", "NL", "PL", "PT", "RO", "SE", "SI", "SK",
];

/// Whether the timber of a crate from one country to another must be treated and marked by ISPM 15: where the two differ, but not
/// between the United States and Canada, nor within the European Union.
///
/// Source: `shared/reference/delivery/crating.md` section 4.
#[must_use]
pub fn wood_packaging_rule(from: &str, to: &str) -> bool {
    let together = |one: &[&str]| one.contains(&from) && one.contains(&to);
    from != to && !together(&["US", "CA"]) && !together(&UNION)
}

/// A crate to a buyer's address abroad, ready to unload: `max(least, max(weight, space x pounds a foot) / 100 x rate)`, and papers.
///
/// Source of charging by weight or space: `shared/reference/delivery/parcel.md` section 1; the form by the hundredweight is common
/// practice, no source.
pub(super) fn send(order: &Order<'_>, trip: &Trip<'_>) -> Outcome {
    let tables = &order.book.delivery.abroad;
    let table = trip.region.abroad.as_ref().and_then(|key| tables.iter().find(|table| table.key == *key));
    let table = table.ok_or(Unreachable::NotOffered)?;
    if trip.place.inside {
        return Err(Unreachable::StaysOutside);
    }
    let shipment = shipment(order.book, order.resolved, order.takeoff);
    let by_space = whole_up(shipment.cube.in_cubic_feet() * table.pounds_per_cubic_foot.value());
    let pounds = shipment.gross.in_pounds().max(by_space.into());
    let charge = (pounds * table.per_hundredweight.value() * Decimal::new(1, 2)).max(table.least.value());
    let marked = wood_packaging_rule(order.book.shop.country.as_str(), &trip.place.country);
    let more = if marked { table.marked_timber.value() } else { Decimal::ZERO };
    let mut lines = crates_of(order.book, &shipment, more);
    lines.push(CostLine::new(LineKind::Abroad, "", guessed(order.book, charge)).of(pounds, QuantityUnit::Pounds));
    lines.push(CostLine::new(LineKind::Papers, "", Guess::certain(table.papers.value())));
    Ok((lines, (table.days_least.value(), table.days_most.value())))
}
