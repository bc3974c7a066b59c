//! What the fuzzer started from and what it has found: replayed with every run of the tests.

#[path = "../../../../tests/fuzz/judge.rs"]
mod judge;

#[path = "../../../../tests/fuzz/replay.rs"]
mod replay;

use std::fs;
use std::path::Path;

use replay::replay;

#[test]
fn nothing_the_fuzzer_found_fails_again() {
    replay("length", judge::length);
    replay("brief", judge::brief);
    replay("request", judge::request);
    replay("book", judge::book);
    replay("published", judge::published);
    replay("link", judge::link);
    replay("record", judge::record);
}

#[test]
fn the_seeds_are_sound_so_that_they_lead_somewhere() {
    let read = |name: &str| {
        let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/fuzz/corpus/book").join(name);
        fs::read_to_string(file).unwrap()
    };
    for seed in ["seed-worked", "seed-small"] {
        assert!(scantling_pricing::book::ShopBook::read(&read(seed)).is_ok(), "{seed}");
    }
    let published = include_str!("../../../../tests/fuzz/corpus/published/seed-small");
    assert!(scantling_pricing::book::PriceBook::read(published).is_ok());
    let request = include_str!("../../../../tests/fuzz/corpus/request/seed-request.json");
    assert!(scantling_pricing::request::Request::read(request).is_ok());
    // As a mail program has quoted and wrapped it.
    let mail = include_str!("../../../../tests/fuzz/corpus/request/seed-mail");
    assert!(scantling_pricing::request::Request::read_mail(mail).is_ok());
    assert!(
        scantling_pricing::kept::Kept::read(include_str!("../../../../tests/fuzz/corpus/record/seed-kept")).is_ok()
    );
    // Packed by another program, with its own checksum and letters.
    let link =
        scantling_pricing::link::Link::read(include_str!("../../../../tests/fuzz/corpus/link/seed-link")).unwrap();
    assert_eq!(link.brief.dimensions.values().next().unwrap().to_string(), "84 in");
    assert_eq!((link.edition.as_str(), link.brief.delivery.unwrap().word()), ("2026-11-25", "freight"));
}
