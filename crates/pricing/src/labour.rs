//! Labour: each operation's driver, times what each unit takes, harder timbers longer, set-up once per order.

use crate::book::work::{Operation, PricedOperation};
use crate::range::Guess;
use crate::takeoff::Drivers;

/// What an operation comes to in this brief; nothing when the brief has none of what drives it.
///
/// A job's own operation has no set-up besides: `each` and `set_up` both count once.
#[must_use]
pub fn priced(operation: &PricedOperation, drivers: &Drivers) -> Option<Guess> {
    let each = Guess::pert(&operation.each.map(|amount| amount.value()));
    let set_up = Guess::pert(&operation.set_up.map(|amount| amount.value()));
    let units = units(operation, drivers)?;
    let run = each.times(units);
    Some(Guess { mean: run.mean + set_up.mean, deviation: run.deviation + set_up.deviation })
}

/// Units of the driver, by the timber's work factor where it applies.
fn units<T>(operation: &Operation<T>, drivers: &Drivers) -> Option<rust_decimal::Decimal> {
    let drive = drivers.get(&operation.driver)?;
    Some(if operation.by_timber { drive.worked } else { drive.amount })
}
