//! What must hold of any bytes at all: shared by the fuzzer's targets and by the test that replays what it has found.

use std::sync::LazyLock;

use scantling_pricing::book::{PriceBook, ShopBook};
use scantling_pricing::brief::Brief;
use scantling_pricing::estimate::estimate;
use scantling_pricing::kept::Kept;
use scantling_pricing::link::{LONGEST, Link};
use scantling_pricing::measure::{DecimalMark, LengthUnit, read_length};
use scantling_pricing::publish::{Basis, fold};
use scantling_pricing::request::Request;

static DEMO: LazyLock<PriceBook> = LazyLock::new(|| {
    PriceBook::read(include_str!("../../public/price-book.json")).expect("the demo's price book reads")
});

/// A brief with a destination.
const CHICAGO: &str =
    r#"{"scantling_brief": 1, "design": "table", "destination": {"country": "US", "postal_code": "60601"}}"#;

/// A length that reads is written so that it reads back the same.
pub(crate) fn length(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    for unit in [LengthUnit::Inch, LengthUnit::Millimetre] {
        for mark in [DecimalMark::Point, DecimalMark::Comma] {
            if let Ok(length) = read_length(text, unit, mark) {
                assert_eq!(read_length(&length.to_string(), unit, DecimalMark::Point), Ok(length), "{text}");
            }
        }
    }
}

/// A brief that reads is written so that it reads back the same, and is priced or refused by the demo's book.
pub(crate) fn brief(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    if let Ok(brief) = Brief::read(text) {
        let written = serde_json::to_string(&brief).expect("a brief is written");
        assert_eq!(Brief::read(&written).as_ref(), Ok(&brief));
        priced(&brief);
    }
}

/// A price is within its range.
fn priced(brief: &Brief) {
    if let Ok(priced) = estimate(&DEMO, brief) {
        let price = priced.price();
        assert!(price.low.amount() <= price.likely.amount() && price.likely.amount() <= price.high.amount());
    }
}

/// A request that reads, alone or in a mail, is written so that it reads back the same, and what it asks for is priced or refused.
pub(crate) fn request(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    for read in [Request::read(text).ok(), Request::read_mail(text).ok()] {
        let Some(request) = read else { continue };
        let written = serde_json::to_string(&request).expect("a request is written");
        assert_eq!(Request::read(&written).as_ref(), Ok(&request));
        assert_eq!(Request::read_mail(&request.mail_block()).as_ref(), Ok(&request));
        priced(&request.brief);
    }
}

/// A shop book that reads is written so that it reads back the same, folds, and prices each of its designs or says why not.
pub(crate) fn book(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    let _ = PriceBook::read(text);
    let Ok(shop) = ShopBook::read(text) else { return };
    let written = serde_json::to_string(&shop).expect("a book is written");
    assert_eq!(ShopBook::read(&written).as_ref(), Ok(&shop));
    let Ok(book) = fold(&shop, Basis::Selling) else { return };
    for design in book.designs.iter().take(8) {
        let _ = estimate(&book, &Brief::new(design.key.clone()));
    }
}

/// A price book that reads as a buyer's browser reads it, unchecked, is written so that it reads back the same, and each of its designs
/// is priced in order or refused, here and sent on its way.
pub(crate) fn published(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    let Ok(book) = PriceBook::read_published(text) else { return };
    let written = serde_json::to_string(&book).expect("a book is written");
    assert_eq!(PriceBook::read_published(&written).as_ref(), Ok(&book));
    let chicago = Brief::read(CHICAGO).expect("a brief reads").destination;
    for design in book.designs.iter().take(8) {
        for destination in [None, chicago.clone()] {
            if let Ok(priced) = estimate(&book, &Brief { destination, ..Brief::new(design.key.clone()) }) {
                let price = priced.price();
                assert!(price.low.amount() <= price.likely.amount() && price.likely.amount() <= price.high.amount());
            }
        }
    }
}

/// A link that reads is written so that it reads back the same, is no longer than any that is written, and is priced or refused.
pub(crate) fn link(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    if let Ok(link) = Link::read(text) {
        let written = link.write().expect("a link that was read is short enough to be written");
        assert!(written.len() <= LONGEST);
        priced(&link.brief);
        assert_eq!(Link::read(&written), Ok(link));
    }
}

/// A record in a browser's storage that reads is written so that it reads back the same.
pub(crate) fn record(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    if let Ok(kept) = Kept::read(text) {
        let written = serde_json::to_string(&kept).expect("a record is written");
        priced(&kept.brief);
        assert_eq!(Kept::read(&written), Ok(kept));
    }
}
