//! A shop book far larger than a maker's: what is quick with it is quick with any.

use anyhow::{Context, Result};
use serde_json::{Value, json};

/// The demo's shop book, found from here: the tests of the maker's page take this file too.
const DEMO: &str = include_str!("../../shared/books/demo-shop.json");

/// How many rows each list is brought to, about 5 000 together with what the demo has.
const ROWS: [(&str, usize); 8] = [
    ("timbers", 500),
    ("slabs", 200),
    ("designs", 100),
    ("jobs", 2000),
    ("hardware", 1500),
    ("resins", 200),
    ("finishes", 200),
    ("sheets", 200),
];

/// The demo's shop book with copies of its rows under keys of their own, as text.
///
/// # Errors
/// When the demo's book can't be read.
pub fn large_book() -> Result<String> {
    let mut book: Value = serde_json::from_str(DEMO)?;
    for (part, wanted) in ROWS {
        let rows = book.get_mut(part).and_then(Value::as_array_mut).with_context(|| format!("no {part}"))?;
        let first = rows.clone();
        let copies = first.iter().cycle().enumerate().take(wanted.saturating_sub(first.len()));
        for (number, row) in copies {
            let mut copy = row.clone();
            let name = |of: &str| row.get(of).and_then(Value::as_str).map(str::to_owned);
            if let (Some(key), Some(entries)) = (name("key"), copy.as_object_mut()) {
                entries.insert("key".into(), json!(format!("{key}-{number}")));
            }
            if let (Some(called), Some(entries)) = (name("name"), copy.as_object_mut()) {
                entries.insert("name".into(), json!(format!("{called} {number}")));
            }
            rows.push(copy);
        }
    }
    Ok(book.to_string())
}
