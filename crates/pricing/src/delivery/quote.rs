//! A real quote: what a carrier named for one order, by phone or letter, in place of what the tables say.

use rust_decimal::Decimal;
use serde::Serialize;

use super::{Mode, Order, Outcome, Trip, crates_of, shipment};
use crate::book::read::reads;
use crate::book::values::{Amount, Count, Day, Text};
use crate::bounded::Bounded;
use crate::cost::{CostLine, LineKind};
use crate::range::Guess;

/// What a carrier named for bringing an order.
///
/// Its charge is all the carrier asks; crates and cover are reckoned on top of it as by the tables.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CarriageQuote {
    /// The way it is for.
    pub mode: Mode,
    /// What is charged, in the book's currency: in a shop book's terms a cost.
    pub charge: Amount,
    /// The day it was named.
    pub day: Day,
    /// Who named it, in the maker's words.
    pub by: Text,
    /// Fewest days in transit.
    pub days_least: Count,
    /// Most days in transit.
    pub days_most: Count,
}

reads!(CarriageQuote { mode, charge, day, by, days_least, days_most });

impl CarriageQuote {
    /// The same with its charge multiplied; never more than an amount may be.
    #[must_use]
    pub(crate) fn times(&self, factor: Decimal) -> Self {
        let charge = Amount::new(self.charge.value().times(factor)).unwrap_or(Amount::MOST);
        Self { charge, ..self.clone() }
    }
}

/// What a way comes to when its carrier has named a charge: that, and what the order is packed in. A way the tables do not have is packed
/// in crates.
pub(super) fn in_place_of(
    by_table: Outcome,
    quoted: &CarriageQuote,
    order: &Order<'_>,
    trip: &Trip<'_>,
) -> (Vec<CostLine>, (u32, u32)) {
    let packing = |line: &CostLine| {
        matches!(line.kind, LineKind::Crating | LineKind::Pallets | LineKind::Cartons | LineKind::MarkedTimber)
    };
    let crated = || match quoted.mode {
        Mode::Freight | Mode::Abroad => crates_of(order, trip, &shipment(order.book, order.resolved, order.takeoff)),
        Mode::Collect | Mode::Van | Mode::Parcel | Mode::WhiteGlove => Vec::new(),
    };
    let mut lines = by_table.map_or_else(|_| crated(), |(lines, _)| lines.into_iter().filter(packing).collect());
    let charge = Guess::certain(quoted.charge.value());
    let name = format!("{}, {}", quoted.by, quoted.day.as_str());
    lines.push(CostLine::new(LineKind::Quoted, name, charge));
    (lines, (quoted.days_least.value(), quoted.days_most.value()))
}
