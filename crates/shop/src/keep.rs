//! Earlier states of the book, kept in the browser: the last ten, as far as there is room, and never one lost to make room for a worse.

use std::fmt;
use std::sync::Arc;

use crate::pack::unpacked;

/// States that are kept at most.
const MOST: u64 = 10;

/// What every key of ours starts with: pages opened from disk may share one store.
const PREFIX: &str = "scantling-shop";

/// Somewhere to keep text by a key.
pub trait Store {
    /// What is kept under a key.
    fn get(&self, key: &str) -> Option<String>;
    /// Keeps a text under a key.
    ///
    /// # Errors
    /// When there is no room, or no store.
    fn set(&mut self, key: &str, text: &str) -> Result<(), NotKept>;
    /// Forgets a key; gives what was kept under it.
    fn take(&mut self, key: &str) -> Option<String>;
}

/// Why a state was not kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NotKept {
    /// The store is full.
    Full,
    /// The browser gives no store.
    NoStore,
    /// Another window has kept a newer state since this one read it.
    Overtaken,
}

impl fmt::Display for NotKept {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Full => "The browser has no room left: nothing was kept. Save the book as a file now.",
            Self::NoStore => "The browser keeps nothing here: save the book as a file before you close the page.",
            Self::Overtaken => "Another window has changed the book since: nothing was kept over it. Save yours as a file, then open the page anew.",
        })
    }
}

/// The states of one book, numbered from the first ever kept.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Kept {
    /// The number of the newest state this window knows.
    newest: u64,
    /// What this window kept last: a large book is not read back to see whether it changed.
    last: Option<Arc<str>>,
}

fn key(number: u64) -> String {
    // The places are taken in turn, so that a new state takes that of the oldest.
    format!("{PREFIX}-{}", number % MOST)
}

const NEWEST: &str = "scantling-shop-newest";

impl Kept {
    /// What a store holds: the number of its newest state, and the newest state that still reads.
    pub fn find(store: &impl Store) -> (Self, Option<String>) {
        let newest = store.get(NEWEST).and_then(|text| text.parse().ok()).unwrap_or(0);
        let mut kept = Self { newest, last: None };
        let found = (0..MOST)
            .find_map(|ago| kept.state(store, ago).and_then(|(number, text)| Some((number, unpacked(&text)?))));
        kept.last = found.as_ref().filter(|(number, _)| *number == newest).map(|(_, text)| text.as_str().into());
        (kept, found.map(|(_, text)| text))
    }

    /// Every state that is kept, the newest first, each with its number, as it was kept: see [`unpacked`]. One that was half written is
    /// passed over.
    #[must_use]
    pub fn states(&self, store: &impl Store) -> Vec<(u64, String)> {
        (0..MOST).filter_map(|ago| self.state(store, ago)).collect()
    }

    /// The state so many before the newest, when it is whole.
    fn state(&self, store: &impl Store, ago: u64) -> Option<(u64, String)> {
        let number = self.newest.checked_sub(ago)?;
        let text = store.get(&key(number))?;
        let (written, book) = text.split_once('\n')?;
        let whole = written == format!("{number} {}", book.len());
        (number > 0 && whole).then(|| (number, book.to_owned()))
    }

    /// Keeps a state, packed beforehand or as it is, unless it is the newest already.
    ///
    /// # Errors
    /// Why not; the states before are then as they were, but for the oldest ones that were given up to make room.
    pub fn keep(&mut self, store: &mut impl Store, book: &Arc<str>, packed: &str) -> Result<(), NotKept> {
        if self.last.as_ref() == Some(book) {
            return Ok(());
        }
        let there: u64 = store.get(NEWEST).and_then(|text| text.parse().ok()).unwrap_or(0);
        if there > self.newest {
            return Err(NotKept::Overtaken);
        }
        let number = self.newest.saturating_add(1);
        let text = format!("{number} {}\n{packed}", packed.len());
        self.set_with_room(store, number, &text)?;
        store.set(NEWEST, &number.to_string())?;
        self.newest = number;
        self.last = Some(Arc::clone(book));
        Ok(())
    }

    /// The oldest states make room, but never the newest one. Where all of them are not enough, they are put back.
    fn set_with_room(&self, store: &mut impl Store, number: u64, text: &str) -> Result<(), NotKept> {
        let mut older = (1..MOST).rev().filter_map(|ago| self.newest.checked_sub(ago)).map(key);
        let mut given_up: Vec<(String, String)> = Vec::new();
        while let Err(why) = store.set(&key(number), text) {
            let freed = (why == NotKept::Full).then(|| older.find_map(|old| Some((store.take(&old)?, old)))).flatten();
            let Some(freed) = freed else {
                for (state, old) in given_up {
                    store.set(&old, &state)?;
                }
                return Err(why);
            };
            given_up.push(freed);
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeMap;

    /// A store with so much room, in bytes.
    struct Shelf(BTreeMap<String, String>, usize);

    impl Store for Shelf {
        fn get(&self, key: &str) -> Option<String> {
            self.0.get(key).cloned()
        }
        fn set(&mut self, key: &str, text: &str) -> Result<(), NotKept> {
            let others: usize =
                self.0.iter().filter(|(known, _)| *known != key).map(|(key, text)| key.len() + text.len()).sum();
            if others + key.len() + text.len() > self.1 {
                return Err(NotKept::Full);
            }
            self.0.insert(key.to_owned(), text.to_owned());
            Ok(())
        }
        fn take(&mut self, key: &str) -> Option<String> {
            self.0.remove(key)
        }
    }

    fn keep(kept: &mut Kept, store: &mut Shelf, book: &str) -> Result<(), NotKept> {
        kept.keep(store, &book.into(), book)
    }

    fn shelf(room: usize) -> Shelf {
        Shelf(BTreeMap::new(), room)
    }

    #[test]
    fn the_last_ten_states_come_back_the_newest_first() {
        let (mut store, mut kept) = (shelf(100_000), Kept::default());
        for number in 1..=25 {
            keep(&mut kept, &mut store, &format!("book {number}")).unwrap();
        }
        keep(&mut kept, &mut store, "book 25").unwrap();
        let (found, newest) = Kept::find(&store);
        assert_eq!(newest.as_deref(), Some("book 25"));
        let states: Vec<String> = found.states(&store).into_iter().map(|(_, text)| text).collect();
        assert_eq!(states, (16..=25).rev().map(|number| format!("book {number}")).collect::<Vec<_>>());
    }

    #[test]
    fn where_room_runs_out_the_oldest_go_and_the_newest_never() {
        let (mut store, mut kept) = (shelf(400), Kept::default());
        let book = |letter: &str| letter.repeat(100);
        for letter in ["a", "b", "c", "d", "e"] {
            keep(&mut kept, &mut store, &book(letter)).unwrap();
        }
        let states: Vec<String> = kept.states(&store).into_iter().map(|(_, text)| text).collect();
        assert!(states.len() >= 2 && states[0] == book("e") && states[1] == book("d"), "{}", states.len());
        // What is larger than all the room there is leaves what was kept where it was.
        assert_eq!(keep(&mut kept, &mut store, &"x".repeat(500)), Err(NotKept::Full));
        assert_eq!(Kept::find(&store).1, Some(book("e")));
        assert_eq!(kept.states(&store).len(), states.len());
    }

    #[test]
    fn two_windows_don_t_write_over_each_other_silently() {
        let mut store = shelf(10_000);
        let mut first = Kept::default();
        keep(&mut first, &mut store, "start").unwrap();
        let (mut second, _) = Kept::find(&store);
        keep(&mut second, &mut store, "from the second").unwrap();
        assert_eq!(keep(&mut first, &mut store, "from the first"), Err(NotKept::Overtaken));
        assert_eq!(Kept::find(&store).1.as_deref(), Some("from the second"));
    }

    #[test]
    fn a_state_that_was_half_written_is_passed_over() {
        let (mut store, mut kept) = (shelf(10_000), Kept::default());
        keep(&mut kept, &mut store, "whole").unwrap();
        keep(&mut kept, &mut store, "cut off in the middle").unwrap();
        let cut: String = store.get(&key(2)).unwrap().chars().take(12).collect();
        store.set(&key(2), &cut).unwrap();
        assert_eq!(Kept::find(&store).1.as_deref(), Some("whole"));
    }

    #[test]
    fn a_large_book_is_kept_packed_and_found_as_it_was() {
        let (mut store, mut kept) = (shelf(1_000_000), Kept::default());
        let book: Arc<str> = "{\"white-oak\": \"7.25\"} ".repeat(100_000).into();
        kept.keep(&mut store, &book, &crate::pack::packed(&book)).unwrap();
        let (mut found, text) = Kept::find(&store);
        assert_eq!(text.as_deref(), Some(&*book));
        found.keep(&mut store, &book, "").unwrap();
        assert_eq!(found.states(&store).len(), 1, "what is kept already is not kept again");
    }
}
