//! What must hold of any bytes in the maker's store: shared by the fuzzer and by the tests of the maker's page, which replay its corpus.

use std::sync::Arc;

use scantling_shop::keep::{Keeping, Kept, Shelf, Store, Told, aside, states};
use scantling_shop::opening::opening;
use scantling_shop::pack::{packed, unpacked, unpacked_in_part};
use scantling_shop::salvage::salvage;

/// What a page starts with that has nothing kept.
const START: &str = r#"{"scantling_book": 1}"#;

/// A state of a book, whatever it holds, opens or is passed over; what is kept after it is found again; a text that is packed comes back,
/// and what is salvaged of one reads.
pub(crate) fn state(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    let mut store = Shelf::default();
    // In the place where the state of its own number stands, and where one is put aside.
    let number = text.split([' ', '\n']).next().unwrap_or_default();
    let place = number.chars().next_back().filter(char::is_ascii_digit).unwrap_or('0');
    for key in [&format!("scantling-shop-{place}"), "scantling-shop-aside", "scantling-shop-told"] {
        store.set(key, text).expect("there is room");
    }
    for state in states(&store).iter().chain(&aside(&store)) {
        let (whole, part) = (state.book(), state.book_in_part());
        assert!(whole.is_none() || whole.as_deref().is_some_and(|book| book.trim().is_empty()) || whole == part);
        assert!(state.size().contains("kB"));
    }
    let opened = opening(&store, START).expect("whatever is kept, there is a book to start from");
    let (mut kept, book): (Kept, Arc<str>) = (opened.kept, Arc::from(format!("{} ", opened.sheet.text())));
    kept.keep(&mut store, &Keeping::new(Arc::clone(&book), Told::default())).expect("there is room for one more");
    assert_eq!(Kept::find(&store).1.as_deref(), Some(&*book), "what was kept last is the newest");

    // A book never starts as a packed one does.
    assert!(text.starts_with("zlib:") || unpacked(&packed(text)).as_deref() == Some(text));
    if let Some(book) = unpacked(text) {
        assert_eq!(unpacked_in_part(text), Some(book));
    }
    if let Some((part, lost)) = salvage(text) {
        assert!(serde_json::from_str::<serde_json::Value>(&part).is_ok() && lost <= text.len(), "{part}");
    }
}
