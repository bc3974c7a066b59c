//! The clock that runs while something is worked at: only where it was started is kept, so it survives whatever the page does not.

use rust_decimal::Decimal;

use crate::book::moment::Moment;
use crate::money::half_up;

/// Seconds after which a clock is more likely forgotten than worked by.
pub const LONG: u64 = 12 * 3600;

/// The computer's clock was set back while a clock ran: what it shows is no time that was worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SetBack {
    /// By how many seconds at least.
    pub by: u64,
}

/// Hours from a start to now, to the hundredth, halves up. `seen` is the latest moment that was ever read off the computer's clock while
/// this one ran: where now lies before it, the clock was set back, and nothing is counted.
///
/// # Errors
/// When the clock was set back.
pub fn counted(since: Moment, seen: Moment, now: Moment) -> Result<Decimal, SetBack> {
    let latest = seen.max(since);
    match now.since(latest) {
        Some(_) => {
            let seconds = Decimal::from(now.since(since).unwrap_or(0));
            Ok(half_up(seconds.checked_div(Decimal::from(3600)).unwrap_or(Decimal::ZERO), 2))
        }
        None => Err(SetBack { by: latest.since(now).unwrap_or(0) }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(seconds: u64) -> Moment {
        Moment::new(seconds).unwrap()
    }

    #[test]
    fn seconds_become_hundredths_of_an_hour() {
        let hours = |seconds: u64| counted(at(1000), at(1000), at(1000 + seconds)).unwrap().normalize().to_string();
        // 5400 s are an hour and a half; 17 s are 0.0047 h, 18 s 0.005 h.
        assert_eq!([hours(5400), hours(17), hours(18), hours(0)], ["1.5", "0", "0.01", "0"].map(String::from));
    }

    #[test]
    fn a_clock_set_back_is_told_and_not_counted() {
        assert_eq!(counted(at(9000), at(9000), at(5400)), Err(SetBack { by: 3600 }));
        // Two hours worked, then set back by one: later than the start, and still no time to count.
        assert_eq!(counted(at(9000), at(16_200), at(12_600)), Err(SetBack { by: 3600 }));
        assert_eq!(counted(at(9000), at(16_200), at(16_200)).unwrap(), Decimal::new(200, 2));
    }
}
