//! Labour: each operation's driver, times what each unit takes, harder timbers longer, set-up once per order, repeats faster.

mod repeat;

pub use repeat::pieces_together;

use rust_decimal::Decimal;

use crate::book::work::{Driver, PricedOperation};
use crate::range::Guess;
use crate::takeoff::Drivers;

/// What an operation comes to in an order of so many pieces; nothing when the order has none of what drives it.
///
/// A job's own operation has no set-up besides: `each` and `set_up` both count once.
#[must_use]
pub fn priced(operation: &PricedOperation, drivers: &Drivers, pieces: u32) -> Option<Guess> {
    let units = units(operation, drivers)?;
    let each = Guess::pert(&operation.each.map(|amount| amount.value()));
    let set_up = Guess::pert(&operation.set_up.map(|amount| amount.value()));
    let run = each.times(units * repeated(operation, pieces));
    Some(Guess { mean: run.mean + set_up.mean, deviation: run.deviation + set_up.deviation })
}

/// Units of the driver, by the timber's work factor where it applies.
fn units(operation: &PricedOperation, drivers: &Drivers) -> Option<Decimal> {
    let drive = drivers.get(&operation.driver)?;
    Some(if operation.by_timber { drive.worked } else { drive.amount })
}

/// What the time of a piece averages to over the order, the first counting 1. What is done once per order has no repeats.
fn repeated(operation: &PricedOperation, pieces: u32) -> Decimal {
    match operation.repeat {
        Some(rate) if operation.driver != Driver::Job && pieces > 1 => {
            pieces_together(pieces, rate.value()) / Decimal::from(pieces)
        }
        _ => Decimal::ONE,
    }
}
