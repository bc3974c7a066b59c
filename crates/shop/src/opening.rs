//! Which book the page starts with, and which it goes back to, out of the states that were kept: the newest that can be used, and what to
//! tell the maker where that is not the newest there is.

use scantling_pricing::book::document::{DocumentError, Node};

use crate::first_visit;
use crate::keep::{Kept, State, Store, aside, states};
use crate::sheet::{Held, Sheet};

/// The book a page starts with.
#[derive(Debug)]
pub struct Opening {
    /// The book.
    pub sheet: Sheet,
    /// What is known of the states.
    pub kept: Kept,
    /// What the maker is told; nothing when all is as it was left.
    pub told: String,
    /// Whether this is the book to start from and nobody has changed it: the maker is told whose it is and what to do with it.
    pub first: bool,
}

/// The newest state that is whole; else as much as can be read of a damaged one, to be looked at; else the book to start from. Nothing is
/// written over what is there before the maker changes something.
///
/// # Errors
/// When not even the book to start from reads.
pub fn opening(store: &impl Store, start: &str) -> Result<Opening, DocumentError> {
    let states = states(store);
    let kept = Kept::of(store, &states);
    if states.is_empty() && kept.is_new() {
        let first = !first_visit::is_put_away(store);
        return Ok(Opening { sheet: Sheet::open(start)?, kept, told: String::new(), first });
    }
    if let Some((at, state, (text, sheet))) =
        states.iter().enumerate().find_map(|(at, state)| Some((at, state, whole(state)?)))
    {
        let told = if at == 0 { left_aside(store) } else { passed_over(states.first(), state) };
        // The book is kept as it is opened, too: what was only looked at is still the one to start from.
        let first = !first_visit::is_put_away(store) && Sheet::open(start)?.root() == sheet.root();
        return Ok(Opening { sheet, kept: kept.with_last(&text), told, first });
    }
    let (sheet, told) = match states.iter().find_map(|state| Some((state, in_part(state)?))) {
        Some((state, sheet)) => {
            let part = format!("{}, {}", named(state), state.size());
            (sheet, format!("No state kept in this browser is whole: this is what can be read of {part}."))
        }
        None => (Sheet::open(start)?, NOTHING_READS.to_owned()),
    };
    Ok(Opening { kept: kept.with_last(&sheet.text()), sheet, told, first: false })
}

const NOTHING_READS: &str = "What was kept in this browser can't be read, so this is the demo's book, an invented maker's. Open the file you saved \
     last under Files and earlier states; what was kept is left as it is until you change something here.";

/// The newest state that can be worked on, but for the book that is open; it is what there is to go back to.
pub fn last_good(store: &impl Store, open: &str) -> Option<(State, Sheet)> {
    let good = |state: State| {
        let (text, sheet) = whole(&state)?;
        (sheet.held().is_none() && text != open).then_some((state, sheet))
    };
    states(store).into_iter().find_map(good)
}

/// What a state is called.
#[must_use]
pub fn named(state: &State) -> String {
    state.number.map_or_else(|| "a state whose number is lost".to_owned(), |number| format!("state {number}"))
}

/// A state that was written whole, though it may be of a newer page, and the book in it as it is edited.
fn whole(state: &State) -> Option<(String, Sheet)> {
    let text = state.book()?;
    let sheet = book(&text).filter(|sheet| !matches!(sheet.held(), Some(Held::Damaged(_))))?;
    Some((text, sheet))
}

fn in_part(state: &State) -> Option<Sheet> {
    book(&state.book_in_part()?)
}

fn book(text: &str) -> Option<Sheet> {
    let something = |sheet: &Sheet| matches!(sheet.root(), Node::Table(entries) if !entries.is_empty());
    Sheet::open_what_can_be_read(text).ok().filter(something)
}

fn passed_over(newest: Option<&State>, state: &State) -> String {
    let newest = newest.map_or_else(String::new, named);
    format!(
        "The newest book kept in this browser, {newest}, is damaged. What is open is {}; the damaged one is left as it is, and what can be \
         read of it can be opened under Files and earlier states.",
        named(state)
    )
}

fn left_aside(store: &impl Store) -> String {
    let words = "A window was closed with changes that another window's book stood in the way of: they are under Files and earlier states.";
    aside(store).map_or_else(String::new, |_| words.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::keep::{Keeping, Shelf, Told};

    const START: &str = r#"{"scantling_book":1,"start":true}"#;

    fn new(book: &str) -> Keeping {
        Keeping::new(book, Told::default())
    }

    fn kept(books: &[&str]) -> Shelf {
        let (mut store, mut kept) = (Shelf::default(), Kept::default());
        for book in books {
            kept.keep(&mut store, &new(book)).unwrap();
        }
        store
    }

    fn cut(store: &mut Shelf, key: &str, to: usize) {
        let text = store.get(key).unwrap();
        store.set(key, text.get(..to).unwrap()).unwrap();
    }

    #[test]
    fn the_newest_book_is_opened_and_nothing_told() {
        let first = opening(&Shelf::default(), START).unwrap();
        assert_eq!((first.sheet.text().as_str(), first.told.as_str(), first.first), (START, "", true));
        let mut put_away = Shelf::default();
        first_visit::put_away(&mut put_away);
        assert!(!opening(&put_away, START).unwrap().first, "what was put away once stays away");
        assert!(opening(&kept(&[START]), START).unwrap().first, "to look at it is not to make it one's own");
        assert!(!opening(&kept(&[START, r#"{"a":1}"#]), START).unwrap().first, "whoever has changed it was told");
        let mut opened = opening(&kept(&[r#"{"a":1}"#, r#"{"a":2}"#]), START).unwrap();
        assert_eq!((opened.sheet.text().as_str(), opened.told.as_str()), (r#"{"a":2}"#, ""));
        // It is kept already.
        let mut store = kept(&[r#"{"a":1}"#, r#"{"a":2}"#]);
        let before = store.clone();
        opened.kept.keep(&mut store, &new(r#"{"a":2}"#)).unwrap();
        assert_eq!(store, before);
    }

    #[test]
    fn a_damaged_one_is_passed_over_told_and_left() {
        let mut store = kept(&[r#"{"a":1}"#, r#"{"a":2,"b":"3"}"#]);
        cut(&mut store, "scantling-shop-2", 14);
        let before = store.clone();
        let mut opened = opening(&store, START).unwrap();
        assert_eq!(opened.sheet.text(), r#"{"a":1}"#);
        assert!(opened.told.contains("state 2, is damaged. What is open is state 1"), "{}", opened.told);
        opened.kept.keep(&mut store, &new(&opened.sheet.text())).unwrap();
        assert_eq!(store, before, "nothing is written before something changes");
        // Where no other is whole, as much is shown as can be read.
        cut(&mut store, "scantling-shop-1", 6);
        let opened = opening(&store, START).unwrap();
        assert_eq!((opened.sheet.text().as_str(), opened.sheet.held().is_some()), (r#"{"a":2}"#, true));
        assert!(opened.told.contains("what can be read of state 2"), "{}", opened.told);
        cut(&mut store, "scantling-shop-2", 5);
        let opened = opening(&store, START).unwrap();
        assert_eq!((opened.sheet.text().as_str(), opened.told.as_str()), (START, NOTHING_READS));
    }

    #[test]
    fn a_newer_book_is_looked_at_and_the_one_before_is_the_way_back() {
        let store = kept(&[r#"{"scantling_book":1}"#, r#"{"scantling_book":7}"#]);
        let opened = opening(&store, START).unwrap();
        assert_eq!(opened.sheet.held(), Some(&Held::Newer(7)));
        let (state, sheet) = last_good(&store, &opened.sheet.text()).unwrap();
        assert_eq!((named(&state).as_str(), sheet.text().as_str()), ("state 1", r#"{"scantling_book":1}"#));
        assert!(last_good(&store, r#"{"scantling_book":1}"#).is_none());
    }
}
