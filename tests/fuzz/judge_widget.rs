//! What must hold of any bytes in the buyer's store: shared by the fuzzer and by the tests of the widget, which replay its corpus.

use scantling_pricing::request::Request;
use scantling_widget::shelf::{shelf, waiting};
use scantling_widget::store::{Store, StoreFault};

/// Whose page it is.
const SHOP: &str = "Larkmoor Bench";

/// A store in which one text stands wherever a record of ours may, and which nothing may change.
struct Found<'t>(&'t str);

impl Store for Found<'_> {
    fn keys(&self) -> Result<Vec<String>, StoreFault> {
        Ok(["scantling.waiting.1", "scantling.kept.1"].map(String::from).to_vec())
    }
    fn get(&self, _: &str) -> Result<Option<String>, StoreFault> {
        Ok(Some(self.0.to_owned()))
    }
    fn put(&self, key: &str, _: &str) -> Result<(), StoreFault> {
        panic!("reading wrote over {key}")
    }
    fn remove(&self, key: &str) -> Result<(), StoreFault> {
        panic!("reading took {key} away")
    }
}

/// A request that waits is sent as it was written or not at all: one that reads, and is for this maker, is never passed over.
pub(crate) fn of_the_store(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    let store = Found(text);
    let found = waiting(&store, SHOP).expect("there is a store").waiting;
    assert!(found.len() <= 1 && found.iter().all(|one| one.json == text));
    if let Ok(request) = Request::read(text)
        && request.shop.as_ref().is_some_and(|shop| shop.as_str() == SHOP)
    {
        let one = found.first().expect("a request that reads is found");
        assert_eq!((&one.written, one.design.as_str()), (&request.written, request.brief.design.as_str()));
    }
    let kept = shelf(&store, SHOP).expect("there is a store");
    assert!(kept.kept.len() + kept.newer + kept.damaged <= 1);
}
