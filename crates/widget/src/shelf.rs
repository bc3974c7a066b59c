//! What a buyer has kept, each in a record of its own, so that one that can't be read harms no other, and two pages at once write
//! over nothing.
//!
//! **Invariant:** a record that can't be read, is of a newer program or of another maker is never written over and never taken away.

use scantling_pricing::book::document::Node;
use scantling_pricing::book::values::Day;
use scantling_pricing::kept::{Kept, KeptFault};

use crate::store::{Store, StoreFault};

/// Before the number of a kept estimate. Local pages may share one storage, so the keys say whose they are.
const KEPT: &str = "scantling.kept.";

/// Before the number of a request that waits to be sent.
const WAITING: &str = "scantling.waiting.";

/// What is on the shelf for a maker's page.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Shelf {
    /// What can be read, in the order it was kept.
    pub kept: Vec<Slip>,
    /// How many records are of a newer program.
    pub newer: usize,
    /// How many can't be read.
    pub damaged: usize,
}

/// A kept estimate and where it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Slip {
    /// The key of its record.
    pub key: String,
    /// What it holds.
    pub kept: Kept,
}

/// What keeping came to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Keeping {
    /// It is kept under this key.
    Kept(String),
    /// The same is on the shelf already, under this key.
    There(String),
}

/// A record taken off the shelf, as it stood, for putting it back.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Taken {
    key: String,
    text: String,
}

/// Reads the shelf.
///
/// # Errors
/// When there is no storage.
pub fn shelf(store: &impl Store, shop: &str) -> Result<Shelf, StoreFault> {
    let mut shelf = Shelf::default();
    for (key, text) in records(store, KEPT)? {
        match Kept::read(&text) {
            Ok(kept) if kept.shop.as_str() == shop => shelf.kept.push(Slip { key, kept }),
            Ok(_) => {}
            Err(KeptFault::Newer) => shelf.newer = shelf.newer.saturating_add(1),
            Err(KeptFault::Damaged(_)) => shelf.damaged = shelf.damaged.saturating_add(1),
        }
    }
    Ok(shelf)
}

/// Keeps an estimate, once.
///
/// # Errors
/// When there is no storage, or no room in it.
pub fn keep(store: &impl Store, kept: &Kept) -> Result<Keeping, StoreFault> {
    let same = |other: &Kept| other.brief == kept.brief && other.told == kept.told;
    let there = shelf(store, kept.shop.as_str())?.kept.into_iter().find(|slip| same(&slip.kept));
    if let Some(slip) = there {
        return Ok(Keeping::There(slip.key));
    }
    add(store, KEPT, &kept.json()).map(Keeping::Kept)
}

/// Takes an estimate off the shelf.
///
/// # Errors
/// When there is no storage.
pub fn take(store: &impl Store, key: &str) -> Result<Option<Taken>, StoreFault> {
    let Some(text) = store.get(key)? else { return Ok(None) };
    store.remove(key)?;
    Ok(Some(Taken { key: key.to_owned(), text }))
}

/// Puts an estimate back where it stood, or last where another has taken its place.
///
/// # Errors
/// When there is no storage, or no room in it.
pub fn put_back(store: &impl Store, taken: &Taken) -> Result<String, StoreFault> {
    if store.get(&taken.key)?.is_some() {
        return add(store, KEPT, &taken.text);
    }
    store.put(&taken.key, &taken.text)?;
    Ok(taken.key.clone())
}

/// Keeps a request, as it is written, until it can be sent.
///
/// # Errors
/// When there is no storage, or no room in it.
pub fn wait(store: &impl Store, json: &str) -> Result<String, StoreFault> {
    add(store, WAITING, json)
}

/// A request that waits. It is sent as it was written: taking it apart would only take what was checked before.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Waiting {
    /// The key of its record.
    pub key: String,
    /// The day it was written.
    pub written: Option<Day>,
    /// The piece it is about.
    pub design: String,
    /// The request.
    pub json: String,
}

/// What waits to be sent to a maker.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Queue {
    /// What can be sent, in the order it was written.
    pub waiting: Vec<Waiting>,
    /// How many records are of a newer program.
    pub newer: usize,
    /// How many can't be read.
    pub damaged: usize,
}

/// The requests that wait for a maker.
///
/// # Errors
/// When there is no storage.
pub fn waiting(store: &impl Store, shop: &str) -> Result<Queue, StoreFault> {
    let mut queue = Queue::default();
    for (key, json) in records(store, WAITING)? {
        match wanted(&json) {
            Wanted::Newer => queue.newer = queue.newer.saturating_add(1),
            Wanted::Damaged => queue.damaged = queue.damaged.saturating_add(1),
            Wanted::Of { shop: whose, written, design } if whose == shop => {
                queue.waiting.push(Waiting { key, written, design, json });
            }
            Wanted::Of { .. } => {}
        }
    }
    Ok(queue)
}

/// What a record of a request is good for.
enum Wanted {
    /// A request to this maker, of this day, for this piece.
    Of { shop: String, written: Option<Day>, design: String },
    /// A newer program's.
    Newer,
    /// Nobody's.
    Damaged,
}

/// Reads of a record what tells where it belongs. What a press has written has all of it; the rest was checked before.
fn wanted(json: &str) -> Wanted {
    let Ok(node) = Node::read(json) else { return Wanted::Damaged };
    let design = node.under("brief").and_then(|brief| brief.text("design"));
    match (node.whole_number("scantling_request"), node.text("shop"), design) {
        (Some(version), ..) if version > 1 => Wanted::Newer,
        (Some(1), Some(shop), Some(design)) => {
            let written = node.text("written").and_then(|day| Day::new(day).ok());
            Wanted::Of { shop: shop.to_owned(), written, design: design.to_owned() }
        }
        _ => Wanted::Damaged,
    }
}

/// The records under a prefix, by their numbers.
fn records(store: &impl Store, prefix: &str) -> Result<Vec<(String, String)>, StoreFault> {
    let mut found: Vec<(u32, String, String)> = Vec::new();
    for key in store.keys()? {
        let Some(number) = key.strip_prefix(prefix).and_then(|number| number.parse().ok()) else { continue };
        let Some(text) = store.get(&key)? else { continue };
        // One by one into its place: the library's sort weighs a kilobyte for each kind of thing sorted.
        let place = found.iter().take_while(|(other, ..)| *other < number).count();
        found.insert(place, (number, key, text));
    }
    Ok(found.into_iter().map(|(_, key, text)| (key, text)).collect())
}

/// Puts a text under the next number, whatever stands under the others.
fn add(store: &impl Store, prefix: &str, text: &str) -> Result<String, StoreFault> {
    let numbers = store.keys()?.into_iter().filter_map(|key| key.strip_prefix(prefix)?.parse::<u32>().ok());
    let next = numbers.max().unwrap_or(0).checked_add(1).ok_or(StoreFault::Full)?;
    let key = format!("{prefix}{next}");
    store.put(&key, text)?;
    Ok(key)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::Drawer;
    use scantling_pricing::book::PriceBook;
    use scantling_pricing::book::values::{Count, Day};
    use scantling_pricing::brief::Brief;
    use scantling_pricing::estimate::estimate;
    use scantling_pricing::request::{Contact, Request};

    const SHOP: &str = "Larkmoor Bench";

    fn book() -> PriceBook {
        PriceBook::read(include_str!("../../../public/price-book.json")).unwrap()
    }

    fn priced(quantity: u32) -> (PriceBook, Brief, scantling_pricing::estimate::Estimate) {
        let book = book();
        let brief = Brief { quantity: Count::new(quantity).unwrap(), ..Brief::new(book.designs[0].key.clone()) };
        let estimate = estimate(&book, &brief).unwrap();
        (book, brief, estimate)
    }

    fn of(quantity: u32) -> Kept {
        let (book, brief, estimate) = priced(quantity);
        Kept::new(&book, brief, &estimate, Day::new("2026-11-26").unwrap()).unwrap()
    }

    fn quantities(store: &Drawer) -> Vec<u32> {
        shelf(store, SHOP).unwrap().kept.iter().map(|slip| slip.kept.brief.quantity.value()).collect()
    }

    #[test]
    fn what_is_kept_is_there_again_in_its_order_and_the_same_only_once() {
        let store = Drawer::of(1_000_000);
        for quantity in 1..=12 {
            assert_eq!(keep(&store, &of(quantity)), Ok(Keeping::Kept(format!("scantling.kept.{quantity}"))));
        }
        assert_eq!(keep(&store, &of(3)), Ok(Keeping::There("scantling.kept.3".into())));
        assert_eq!(quantities(&store), (1..=12).collect::<Vec<_>>());
    }

    #[test]
    fn taken_and_put_back_it_stands_where_it_stood() {
        let store = Drawer::of(1_000_000);
        for quantity in 1..=3 {
            keep(&store, &of(quantity)).unwrap();
        }
        let before = store.all();
        let taken = take(&store, "scantling.kept.2").unwrap().unwrap();
        assert_eq!(quantities(&store), [1, 3]);
        assert_eq!(put_back(&store, &taken), Ok("scantling.kept.2".into()));
        assert_eq!(store.all(), before);
        // Taken on another page meanwhile, and its number given to another: both stay.
        let taken = take(&store, "scantling.kept.3").unwrap().unwrap();
        keep(&store, &of(9)).unwrap();
        assert_eq!(put_back(&store, &taken), Ok("scantling.kept.4".into()));
        assert_eq!(quantities(&store), [1, 2, 9, 3]);
        assert_eq!(take(&store, "scantling.kept.77"), Ok(None));
    }

    #[test]
    fn what_can_t_be_read_or_is_not_ours_is_counted_and_left_as_it_is() {
        let store = Drawer::of(1_000_000);
        keep(&store, &of(1)).unwrap();
        let good = store.all()[0].1.clone();
        let others = [
            ("scantling.kept.2", good.replace("\"scantling_kept\":1", "\"scantling_kept\":2")),
            ("scantling.kept.5", good.replace("\"scantling_brief\":1", "\"scantling_brief\":9")),
            ("scantling.kept.6", "{\"scantling_kept\":1,".to_owned()),
            ("scantling.kept.7", String::new()),
            ("scantling.kept.8", good.replace(SHOP, "Another Bench")),
            ("scantling.kept.x", "of some other program".to_owned()),
            ("basket", "of the page's own".to_owned()),
        ];
        for (key, text) in &others {
            store.put(key, text).unwrap();
        }
        let found = shelf(&store, SHOP).unwrap();
        assert_eq!((found.kept.len(), found.newer, found.damaged), (1, 2, 2));
        // Keeping, taking and putting back goes on beside them.
        assert_eq!(keep(&store, &of(2)), Ok(Keeping::Kept("scantling.kept.9".into())));
        let taken = take(&store, "scantling.kept.1").unwrap().unwrap();
        put_back(&store, &taken).unwrap();
        for (key, text) in &others {
            assert_eq!(store.get(key).unwrap().as_ref(), Some(text), "{key}");
        }
    }

    #[test]
    fn without_storage_or_room_it_says_so_and_loses_nothing() {
        let missing = Drawer::default();
        assert_eq!(shelf(&missing, SHOP), Err(StoreFault::Missing));
        assert_eq!(keep(&missing, &of(1)), Err(StoreFault::Missing));
        assert_eq!(waiting(&missing, SHOP), Err(StoreFault::Missing));
        let small = Drawer::of(1000);
        keep(&small, &of(1)).unwrap();
        let before = small.all();
        for quantity in 2..5 {
            let _ = keep(&small, &of(quantity));
        }
        assert_eq!(keep(&small, &of(7)), Err(StoreFault::Full));
        assert_eq!(small.all()[0], before[0]);
    }

    #[test]
    fn requests_wait_for_their_maker_and_no_other() {
        let (book, brief, estimate) = priced(1);
        let store = Drawer::of(1_000_000);
        let from = Contact::typed("A. Buyer", "buyer@home.example", "Soon?").unwrap();
        let request = Request { shop: Some(book.shop.name), ..Request::new(brief, &estimate, from).unwrap() };
        let request = Request { written: Some(Day::new("2026-11-26").unwrap()), ..request };
        assert_eq!(wait(&store, &request.json()), Ok("scantling.waiting.1".into()));
        store.put("scantling.waiting.2", "{}").unwrap();
        let found = waiting(&store, SHOP).unwrap().waiting;
        assert_eq!(
            (found.len(), found[0].key.as_str(), found[0].design.as_str()),
            (1, "scantling.waiting.1", "trestle-table")
        );
        assert_eq!(found[0].written, request.written);
        assert_eq!(Request::read(&found[0].json), Ok(request.clone()));
        assert_eq!(waiting(&store, "Another Bench").unwrap().waiting, Vec::new());
        let third = Ok("scantling.waiting.3".into());
        assert_eq!(wait(&store, &request.json()), third, "what can't be read is not written over");
    }

    #[test]
    fn requests_that_can_t_be_sent_from_here_are_counted_and_left_as_they_are() {
        let (book, brief, estimate) = priced(1);
        let store = Drawer::of(1_000_000);
        let from = Contact::typed("A. Buyer", "buyer@home.example", "").unwrap();
        let request = Request { shop: Some(book.shop.name), ..Request::new(brief, &estimate, from).unwrap() };
        let good = request.json();
        wait(&store, &good).unwrap();
        let others = [
            ("scantling.waiting.2", good.replace("\"scantling_request\":1", "\"scantling_request\":2")),
            ("scantling.waiting.3", good.split_at(40).0.to_owned()),
            ("scantling.waiting.4", String::new()),
            ("scantling.waiting.5", good.replace("\"design\":\"trestle-table\"", "\"design\":7")),
            ("scantling.waiting.6", good.replace(SHOP, "Another Bench")),
            ("scantling.waiting.x", "of some other program".to_owned()),
        ];
        for (key, text) in &others {
            assert_ne!(*text, good);
            store.put(key, text).unwrap();
        }
        let found = waiting(&store, SHOP).unwrap();
        assert_eq!((found.waiting.len(), found.newer, found.damaged), (1, 1, 3));
        for (key, text) in &others {
            assert_eq!(store.get(key).unwrap().as_ref(), Some(text), "{key}");
        }
    }
}
