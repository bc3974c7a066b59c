//! Whole estimates of the demo book, read line by line when they were accepted. A change to one is a decision, not an accident.
//! The table to Chicago was also reckoned once outside the engine, from the book alone: every line, range and way to the cent.
//!
//! `SCANTLING_GOLDEN=write cargo test -p scantling-pricing golden` writes them anew; commit them apart, with the reason.

use std::path::Path;

use scantling_pricing::brief::Brief;
use scantling_pricing::estimate::estimate;

use crate::start::{demo, demo_shop, selling};
use crate::thousand;

#[test]
fn golden_estimates_are_unchanged() {
    let shared = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../shared");
    let mut briefs: Vec<_> =
        std::fs::read_dir(shared.join("briefs")).unwrap().map(|entry| entry.unwrap().path()).collect();
    briefs.sort();
    assert!(briefs.len() >= 5);
    let book = demo();
    for path in briefs {
        let brief = Brief::read(&std::fs::read_to_string(&path).unwrap()).unwrap();
        let priced = format!("{}\n", serde_json::to_string_pretty(&estimate(&book, &brief).unwrap()).unwrap());
        let golden = shared.join("estimates").join(path.file_name().unwrap());
        if std::env::var_os("SCANTLING_GOLDEN").is_some() {
            std::fs::write(&golden, &priced).unwrap();
        }
        assert_eq!(std::fs::read_to_string(&golden).unwrap_or_default(), priced, "{}", golden.display());
    }
}

#[test]
fn a_thousand_briefs_come_to_what_is_committed() {
    // The tests inside a browser hold the same file: what is equal to it here and there is equal here and there.
    let (hash, priced) = thousand::come_to(&demo());
    assert!((700..1000).contains(&priced), "{priced} of the thousand can be built");
    if std::env::var_os("SCANTLING_GOLDEN").is_some() {
        let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../shared/estimates/thousand.txt");
        std::fs::write(file, format!("{hash}\n")).unwrap();
    } else {
        assert_eq!(hash, thousand::COMMITTED.trim());
    }
}

#[test]
fn the_committed_price_book_is_the_demo_shop_book_folded() {
    let folded = format!("{}\n", serde_json::to_string(&selling(&demo_shop())).unwrap());
    assert_eq!(
        include_str!("../../../../public/price-book.json"),
        folded,
        "run: cargo run -p scantling-cli -- publish shared/books/demo-shop.json --out public/price-book.json"
    );
}
