//! Abroad: crates charged by weight or space, with papers.

use rust_decimal::Decimal;

use super::{Order, Outcome, Trip, Unreachable, border, crates_of, guessed, shipment, taken};
use crate::cost::{CostLine, LineKind, QuantityUnit};
use crate::money::whole_up;
use crate::range::Guess;

/// A crate to a buyer's address abroad, ready to unload: `max(least, max(weight, space x pounds a foot) / 100 x rate)`, and papers.
///
/// Source of charging by weight or space: `shared/reference/delivery/parcel.md` section 1; the form by the hundredweight is common
/// practice, no source.
pub(super) fn send(order: &Order<'_>, trip: &Trip<'_>) -> Outcome {
    let table = border::table_of(order.book, trip.region).ok_or(Unreachable::NotOffered)?;
    if trip.place.inside {
        return Err(Unreachable::StaysOutside);
    }
    let shipment = shipment(order.book, order.resolved, order.takeoff);
    if border::is_unpriced(order, trip, &shipment) {
        return Err(Unreachable::NotOffered);
    }
    taken(&shipment, table.longest, table.heaviest)?;
    let by_space = whole_up(shipment.cube.in_cubic_feet() * table.pounds_per_cubic_foot.value());
    let pounds = shipment.gross.in_pounds().max(by_space.into());
    let charge = (pounds * table.per_hundredweight.value() * Decimal::new(1, 2)).max(table.least.value());
    let mut lines = crates_of(order, trip, &shipment);
    lines.push(CostLine::new(LineKind::Abroad, "", guessed(order.book, charge)).of(pounds, QuantityUnit::Pounds));
    lines.push(CostLine::new(LineKind::Papers, "", Guess::certain(table.papers.value())));
    Ok((lines, (table.days_least.value(), table.days_most.value())))
}
