//! How a request is sent to the maker's own address: what an answer means, and how long to wait before trying again.

/// Milliseconds to wait before each further attempt: twice as long each time, so that an address in trouble is left in peace.
pub const PAUSES: [u32; 3] = [1000, 2000, 4000];

/// How often it is tried.
pub const ATTEMPTS: u32 = 4;

/// What the address answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Answer {
    /// It has it.
    Taken,
    /// Not now: it is busy, or there was no answer at all.
    NotNow,
    /// It won't take it, with this status.
    Refused(u16),
}

/// What an answer's status means; without one there was no answer.
#[must_use]
pub const fn answer(status: Option<u16>) -> Answer {
    match status {
        // Source: RFC 9110, section 15: 2xx is success; 408 and 5xx may succeed later. RFC 6585, section 4: 429. RFC 8470: 425.
        Some(200..=299) => Answer::Taken,
        Some(408 | 425 | 429 | 500..=599) | None => Answer::NotNow,
        Some(status) => Answer::Refused(status),
    }
}

/// Milliseconds to wait after this attempt, counted from 1; nothing when it is not tried again.
#[must_use]
pub fn pause_after(attempt: u32) -> Option<u32> {
    PAUSES.get(usize::try_from(attempt).ok()?.checked_sub(1)?).copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn answers_mean_what_the_standard_says() {
        for taken in [200, 201, 202, 204] {
            assert_eq!(answer(Some(taken)), Answer::Taken);
        }
        for later in [408, 425, 429, 500, 502, 503, 504] {
            assert_eq!(answer(Some(later)), Answer::NotNow);
        }
        for never in [0, 301, 400, 401, 404, 405, 410, 413, 415] {
            assert_eq!(answer(Some(never)), Answer::Refused(never));
        }
        assert_eq!(answer(None), Answer::NotNow);
    }

    #[test]
    fn it_waits_longer_each_time_and_gives_up() {
        let pauses: Vec<_> = (1..=ATTEMPTS).map(pause_after).collect();
        assert_eq!(pauses, [Some(1000), Some(2000), Some(4000), None]);
        assert_eq!(pause_after(0), None);
        assert_eq!(pause_after(u32::MAX), None);
    }
}
