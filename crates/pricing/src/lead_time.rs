//! Lead time: the queue, the timber, the bench, what must cure and dry, packing. In days, fewest and most.
//!
//! **Invariant:** no clock. A day to count from is passed in; see [`crate::book::values::Day::after`].

use rust_decimal::Decimal;
use serde::Serialize;

use crate::book::PriceBook;
use crate::book::stock::Resin;
use crate::book::values::Count;
use crate::bounded::Bounded;
use crate::design::Resolved;
use crate::money::whole_up;
use crate::takeoff::Takeoff;

/// How long until a piece can leave the workshop.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct LeadTime {
    /// What it is made of, in order.
    pub steps: Vec<Step>,
    /// All of it together, fewest and most days.
    pub days: (u32, u32),
}

/// One stretch of waiting or work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Step {
    /// What is waited for.
    pub wait: Wait,
    /// How long, fewest and most days.
    pub days: (u32, u32),
}

/// What is waited for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Wait {
    /// Pieces sold before this one.
    Queue,
    /// Timber on its way or settling, as far as it outlasts the queue.
    Timber,
    /// Work at the bench.
    Bench,
    /// Resin that cures.
    Resin,
    /// Coats that dry, and the last one's cure.
    Finish,
    /// Wrapping, crating, finding a carrier.
    Packing,
}

/// How long an order takes; nothing for a design the book can give no weeks for.
#[must_use]
pub fn lead_time(book: &PriceBook, resolved: &Resolved<'_>, takeoff: &Takeoff<'_>) -> Option<LeadTime> {
    let [fewest, most] = book.bench.design_weeks.get(&resolved.design.key)?;
    let weeks = |weeks: &Count| weeks.value().saturating_mul(7);
    let each = |days: u32| days.saturating_mul(resolved.quantity);
    let queue = weeks(&book.bench.queue_weeks);
    let timber = book.waits.timber_days.value().saturating_sub(queue);
    let resin = takeoff.resins.iter().map(|used| cure_days(used.resin, used.pours, book.waits.celsius)).max();
    let sure = |wait, days| Step { wait, days: (days, days) };
    let mut steps = vec![
        sure(Wait::Queue, queue),
        sure(Wait::Timber, timber),
        Step { wait: Wait::Bench, days: (each(weeks(fewest)), each(weeks(most))) },
        sure(Wait::Resin, resin.unwrap_or(0)),
        sure(Wait::Finish, finish_days(resolved)),
        sure(Wait::Packing, book.waits.packing_days.value()),
    ];
    steps.retain(|step| step.days.1 > 0);
    let days = steps
        .iter()
        .fold((0_u32, 0_u32), |sum, step| (sum.0.saturating_add(step.days.0), sum.1.saturating_add(step.days.1)));
    Some(LeadTime { steps, days })
}

/// Whole days until the last of so many pours has cured in a shop this warm: `t x 2^((reference - warmth)/10)` a pour.
///
/// Source: `shared/reference/trade/resin.md` section 4: the rate doubles every 10 °C by two published user guides; check value
/// 72 h at 22 °C is 101.8 h at 17 °C, derived there.
#[must_use]
pub fn cure_days(resin: &Resin, pours: u32, celsius: Count) -> u32 {
    let colder = i64::from(resin.cure_celsius.value()).saturating_sub(celsius.value().into());
    let hours = resin.cure_hours.value().times(doubled_every_ten(colder));
    days(hours.times(pours.into()))
}

/// `2^(k/10)`, for whole k, held to ±60: outside, nothing cures that a shop would pour.
fn doubled_every_ten(k: i64) -> Decimal {
    // 2^(0/10) to 2^(9/10), to the ninth decimal.
    const TENTHS: [i64; 10] = [
        1_000_000_000,
        1_071_773_463,
        1_148_698_355,
        1_231_144_413,
        1_319_507_911,
        1_414_213_562,
        1_515_716_567,
        1_624_504_793,
        1_741_101_127,
        1_866_065_983,
    ];
    let k = k.clamp(-60, 60);
    let (doublings, tenths) = (k.div_euclid(10), k.rem_euclid(10));
    let part = usize::try_from(tenths).ok().and_then(|i| TENTHS.get(i)).copied().unwrap_or(1_000_000_000);
    let step = if doublings < 0 { Decimal::new(5, 1) } else { Decimal::TWO };
    (0..doublings.unsigned_abs()).fold(Decimal::new(part, 9), |factor, _| factor * step)
}

/// The waits between coats, and the cure of the last.
fn finish_days(resolved: &Resolved<'_>) -> u32 {
    let between = Decimal::from(resolved.finish.coats.value().saturating_sub(1));
    let drying = days(between * resolved.finish.recoat_hours.value());
    drying.saturating_add(resolved.finish.cure_days.value())
}

fn days(hours: Decimal) -> u32 {
    whole_up(hours / Decimal::from(24))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn resin_cures_slower_in_the_cold_as_worked() {
        // shared/reference/trade/resin.md section 4 (derived there): 72 h at 22 C is 101.8 h at 17 C, 50.9 h at 27 C.
        let at = |celsius: i64| crate::money::half_up(Decimal::from(72) * doubled_every_ten(22 - celsius), 1);
        assert_eq!(at(17), Decimal::new(1018, 1));
        assert_eq!(at(27), Decimal::new(509, 1));
        assert_eq!(at(22), Decimal::from(72));
        assert_eq!(at(12), Decimal::from(144), "ten degrees colder takes twice as long");
        assert_eq!(at(32), Decimal::from(36));
    }
}
