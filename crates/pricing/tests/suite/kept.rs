//! Kept estimates: every record ever written opens, and what is none is told apart.

use scantling_pricing::book::values::Day;
use scantling_pricing::estimate::estimate;
use scantling_pricing::kept::{Kept, KeptFault};

use crate::random::{briefs, holds};
use crate::start::demo;

/// A record of each version there has been, written when that version was the newest; none of these files ever changes.
const EVERY_VERSION: [&str; 1] = [include_str!("../kept/1.json")];

#[test]
fn records_of_every_version_open() {
    for (version, record) in (1..).zip(EVERY_VERSION) {
        let kept = Kept::read(record).unwrap_or_else(|fault| panic!("version {version}: {fault:?}"));
        assert_eq!(kept.brief.design.as_str(), "trestle-table");
        assert_eq!(kept.brief.size(&demo().designs[0].dimensions[0]).to_string(), "84 in");
        assert_eq!(kept.brief.destination.unwrap().postal_code.unwrap().as_str(), "60601");
        assert_eq!((kept.day.as_str(), kept.told.currency.as_str()), ("2026-11-26", "USD"));
    }
}

#[test]
fn what_is_kept_reads_back_the_same() {
    let book = demo();
    holds(100, &briefs(), |brief| {
        if let Ok(priced) = estimate(&book, &brief) {
            let kept = Kept::new(&book, brief, &priced, Day::new("2026-11-26").unwrap()).unwrap();
            assert_eq!(Kept::read(&serde_json::to_string(&kept).unwrap()), Ok(kept));
        }
        Ok(())
    });
}

#[test]
fn damaged_records_and_those_of_a_newer_program_are_told_apart() {
    let record = EVERY_VERSION[0];
    for (old, new) in
        [("\"scantling_kept\":1", "\"scantling_kept\":2"), ("\"scantling_brief\":1", "\"scantling_brief\":2")]
    {
        let newer = record.replace(old, new);
        assert_ne!(newer, record);
        assert_eq!(Kept::read(&newer), Err(KeptFault::Newer));
    }
    for damaged in [
        "",
        "null",
        "[]",
        "{}",
        "{\"scantling_kept\":1}",
        record.trim_end_matches('}'),
        &record.replace("84 in", "84 yd"),
    ] {
        assert!(matches!(Kept::read(damaged), Err(KeptFault::Damaged(_))), "{damaged}");
    }
}
