//! An address that takes requests, for tests of sending: it holds what was posted to `/receiver`, and fails as often as it is told to.
//!
//! A browser test asks it from the page itself: `GET /receiver` answers with everything taken, as a JSON list of texts, and
//! `GET /receiver?refuse=503x2` makes the next two posts end with that status. `GET /receiver/price-book.json` is the page's own price
//! book with this address in it, and with `?edition=2027-05-01` of another day.

use std::sync::{Mutex, PoisonError};

/// Where requests are posted.
pub const PATH: &str = "/receiver";

/// The price book that names this address.
pub const BOOK: &str = "/receiver/price-book.json";

/// More is not held: tests send a handful.
const MOST: usize = 100;

/// What was taken so far.
#[derive(Debug, Default)]
pub struct Receiver {
    held: Mutex<Held>,
}

#[derive(Debug, Default)]
struct Held {
    taken: Vec<String>,
    refuse: Option<(u16, u32)>,
}

impl Receiver {
    /// Takes a body; its status.
    pub fn take(&self, content_type: &str, body: String) -> u16 {
        let mut held = self.held.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((status, times)) = held.refuse.filter(|(_, times)| *times > 0) {
            held.refuse = Some((status, times.saturating_sub(1)));
            return status;
        }
        if content_type != "application/json" {
            return 415;
        }
        if held.taken.len() >= MOST {
            return 507;
        }
        held.taken.push(body);
        201
    }

    /// Answers a test: what was taken, once what the query asks for is set.
    pub fn tell(&self, query: &str) -> String {
        let mut held = self.held.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((status, times)) = query.strip_prefix("refuse=").and_then(|refuse| refuse.split_once('x')) {
            held.refuse = status.parse().ok().zip(times.parse().ok());
        }
        serde_json::to_string(&held.taken).unwrap_or_default()
    }
}

/// A price book that sends requests here, of another edition where the query names one.
#[must_use]
pub fn book(text: &str, query: &str) -> String {
    let here = format!("\"receiver\":\"{PATH}\",\"contact\":");
    let text = text.replacen("\"contact\":", &here, 1);
    let Some(edition) = query.strip_prefix("edition=") else { return text };
    let known = text.split("\"edition\":\"").nth(1).and_then(|rest| rest.split('"').next()).unwrap_or_default();
    text.replacen(&format!("\"edition\":\"{known}\""), &format!("\"edition\":\"{edition}\""), 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_takes_refuses_as_often_as_told_and_tells() {
        let receiver = Receiver::default();
        assert_eq!(receiver.take("application/json", "{\"a\":\"é\"}".into()), 201);
        assert_eq!(receiver.take("text/plain", "x".into()), 415);
        receiver.tell("refuse=503x2");
        let statuses: Vec<u16> = (0..3).map(|_| receiver.take("application/json", "2".into())).collect();
        assert_eq!(statuses, [503, 503, 201]);
        assert_eq!(receiver.tell(""), r#"["{\"a\":\"é\"}","2"]"#);
    }

    #[test]
    fn its_book_names_it_and_another_day() {
        let text = r#"{"edition":"2026-11-25","shop":{"contact":"a@b.example"}}"#;
        let changed = r#"{"edition":"2027-05-01","shop":{"receiver":"/receiver","contact":"a@b.example"}}"#;
        assert_eq!(book(text, "edition=2027-05-01"), changed);
        assert!(book(text, "").contains("2026-11-25"));
    }
}
