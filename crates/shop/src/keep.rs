//! Earlier states of the book, kept in the browser: the last ten, as far as there is room, and never one lost to make room for a worse.

use std::fmt;

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
    /// Forgets a key.
    fn remove(&mut self, key: &str);
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
        let kept = Self { newest };
        let text = kept.states(store).into_iter().next().map(|(_, text)| text);
        (kept, text)
    }

    /// Every state that is kept, the newest first, each with its number. One that was half written is passed over.
    #[must_use]
    pub fn states(&self, store: &impl Store) -> Vec<(u64, String)> {
        let back = |ago: u64| {
            let number = self.newest.checked_sub(ago)?;
            let text = store.get(&key(number))?;
            let (written, book) = text.split_once('\n')?;
            let whole = written == format!("{number} {}", book.len());
            (number > 0 && whole).then(|| (number, book.to_owned()))
        };
        (0..MOST).filter_map(back).collect()
    }

    /// Keeps a state, unless it is the newest already.
    ///
    /// # Errors
    /// Why not; the states before are then as they were, but for the oldest ones that were given up to make room.
    pub fn keep(&mut self, store: &mut impl Store, book: &str) -> Result<(), NotKept> {
        let there: u64 = store.get(NEWEST).and_then(|text| text.parse().ok()).unwrap_or(0);
        if there > self.newest {
            return Err(NotKept::Overtaken);
        }
        if self.states(store).first().is_some_and(|(_, newest)| newest == book) {
            return Ok(());
        }
        let number = self.newest.saturating_add(1);
        let text = format!("{number} {}\n{book}", book.len());
        let mut oldest = MOST;
        while let Err(why) = store.set(&key(number), &text) {
            // The oldest states make room, but never the newest one.
            oldest = oldest.saturating_sub(1);
            if why != NotKept::Full || oldest == 0 {
                return Err(why);
            }
            if let Some(old) = number.checked_sub(oldest).filter(|old| *old < self.newest) {
                store.remove(&key(old));
            }
        }
        store.set(NEWEST, &number.to_string())?;
        self.newest = number;
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
        fn remove(&mut self, key: &str) {
            self.0.remove(key);
        }
    }

    fn shelf(room: usize) -> Shelf {
        Shelf(BTreeMap::new(), room)
    }

    #[test]
    fn the_last_ten_states_come_back_the_newest_first() {
        let (mut store, mut kept) = (shelf(100_000), Kept::default());
        for number in 1..=25 {
            kept.keep(&mut store, &format!("book {number}")).unwrap();
        }
        kept.keep(&mut store, "book 25").unwrap();
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
            kept.keep(&mut store, &book(letter)).unwrap();
        }
        let states: Vec<String> = kept.states(&store).into_iter().map(|(_, text)| text).collect();
        assert!(states.len() >= 2 && states[0] == book("e") && states[1] == book("d"), "{}", states.len());
        // What is larger than all the room there is leaves the newest where it was.
        assert_eq!(kept.keep(&mut store, &"x".repeat(500)), Err(NotKept::Full));
        assert_eq!(Kept::find(&store).1, Some(book("e")));
    }

    #[test]
    fn two_windows_don_t_write_over_each_other_silently() {
        let mut store = shelf(10_000);
        let mut first = Kept::default();
        first.keep(&mut store, "start").unwrap();
        let (mut second, _) = Kept::find(&store);
        second.keep(&mut store, "from the second").unwrap();
        assert_eq!(first.keep(&mut store, "from the first"), Err(NotKept::Overtaken));
        assert_eq!(Kept::find(&store).1.as_deref(), Some("from the second"));
    }

    #[test]
    fn a_state_that_was_half_written_is_passed_over() {
        let (mut store, mut kept) = (shelf(10_000), Kept::default());
        kept.keep(&mut store, "whole").unwrap();
        kept.keep(&mut store, "cut off in the middle").unwrap();
        let cut: String = store.get(&key(2)).unwrap().chars().take(12).collect();
        store.set(&key(2), &cut).unwrap();
        assert_eq!(Kept::find(&store).1.as_deref(), Some("whole"));
    }
}
