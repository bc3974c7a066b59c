//! A moment: a second of universal time, as a running clock is started at. Text in documents, whole seconds to reckon with.

use std::fmt;

use serde::{Serialize, Serializer};

use super::document::{DocumentError, Node};
use super::fault::why;
use super::read::Read;
use super::values::Day;

const SECONDS_A_DAY: u64 = 86_400;

/// A second of universal time from 1970 on, as `2026-11-26T05:45:30Z` (RFC 3339, whole seconds, always UTC).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Moment(u64);

impl Moment {
    /// So many seconds after the first one of 1970, as computers count; nothing beyond the year 2999.
    #[must_use]
    pub fn new(seconds: u64) -> Option<Self> {
        Self(seconds).day().map(|_| Self(seconds))
    }

    /// Seconds since the first one of 1970.
    #[must_use]
    pub const fn seconds(self) -> u64 {
        self.0
    }

    /// Seconds from an earlier moment to this one; nothing when it is later.
    #[must_use]
    pub const fn since(self, earlier: Self) -> Option<u64> {
        self.0.checked_sub(earlier.0)
    }

    /// The day of it, by universal time.
    fn day(self) -> Option<Day> {
        let days = u32::try_from(self.0.checked_div(SECONDS_A_DAY)?).ok()?;
        Day::new("1970-01-01").ok()?.after(days)
    }

    fn parse(text: &str) -> Option<Self> {
        let (day, time) = text.strip_suffix('Z')?.split_once('T')?;
        let days = u64::from(Day::new(day).ok()?.days_since_1970()?);
        let parts: Vec<&str> = time.split(':').collect();
        let [hour, minute, second] = parts.as_slice() else { return None };
        let number = |part: &str, below: u64| {
            let digits = part.len() == 2 && part.bytes().all(|b| b.is_ascii_digit());
            digits.then(|| part.parse::<u64>().ok()).flatten().filter(|number| *number < below)
        };
        let of_day = number(hour, 24)?.checked_mul(60)?.checked_add(number(minute, 60)?)?.checked_mul(60)?;
        Some(Self(days.checked_mul(SECONDS_A_DAY)?.checked_add(of_day)?.checked_add(number(second, 60)?)?))
    }
}

impl fmt::Display for Moment {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let of_day = self.0 % SECONDS_A_DAY;
        let (minutes, second) = (of_day.checked_div(60).unwrap_or(0), of_day % 60);
        let (hour, minute) = (minutes.checked_div(60).unwrap_or(0), minutes % 60);
        let day = self.day();
        let day = day.as_ref().map_or("1970-01-01", Day::as_str);
        write!(f, "{day}T{hour:02}:{minute:02}:{second:02}Z")
    }
}

impl Read for Moment {
    fn read(node: &Node) -> Result<Self, DocumentError> {
        let Node::Text(text) = node else { return Err(node.wrong("a moment, as \"2026-11-26T05:45:30Z\"")) };
        Self::parse(text).ok_or_else(|| {
            let why = why!("“{text}” is no moment; write day and time of universal time, as 2026-11-26T05:45:30Z");
            DocumentError::unusable("", why)
        })
    }
}

impl Serialize for Moment {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

#[cfg(feature = "schema")]
super::schema::describes_text!(Moment, {
    "type": "string",
    "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}Z$",
    "description": "day and time of universal time, as 2026-11-26T05:45:30Z",
});

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Option<Moment> {
        Moment::read(&Node::Text(text.to_owned())).ok()
    }

    #[test]
    fn seconds_and_text_are_the_same_moment() {
        // POSIX.1-2017, base definitions 4.16, gives seconds since the epoch: 86 400 a day, no leap seconds. 1 000 000 000 is
        // 2001-09-09T01:46:40Z, 951 782 400 the leap day of 2000 (both by `date -u -d @...` of GNU coreutils).
        for (seconds, text) in [
            (0, "1970-01-01T00:00:00Z"),
            (951_782_400, "2000-02-29T00:00:00Z"),
            (1_000_000_000, "2001-09-09T01:46:40Z"),
            (1_795_671_930, "2026-11-26T05:45:30Z"),
        ] {
            assert_eq!(Moment::new(seconds).unwrap().to_string(), text);
            assert_eq!(read(text).unwrap().seconds(), seconds);
        }
        assert_eq!(Moment::new(u64::MAX), None);
    }

    #[test]
    fn what_is_no_moment_is_refused() {
        for text in [
            "2026-11-26",
            "2026-11-26T05:45Z",
            "2026-11-26T24:00:00Z",
            "2026-02-30T05:45:30Z",
            "2026-11-26T05:45:30",
            "2026-11-26T5:45:30Z",
            "2026-11-26T05:45:+3Z",
            "1969-12-31T23:59:59Z",
        ] {
            assert_eq!(read(text), None, "{text}");
        }
    }
}
