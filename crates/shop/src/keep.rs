//! Earlier states of the book, kept in the browser: the last ten, as far as there is room, and never one lost to make room for a worse.
//!
//! They are numbered, not dated: whatever the computer's clock does, the newest stays the newest.

mod published;
mod shelf;
mod state;
mod told;

use std::fmt;
use std::sync::Arc;

pub use published::Published;
#[cfg(test)]
pub(crate) use shelf::Room;
pub use shelf::Shelf;
pub use state::State;
pub use told::Told;

use crate::pack::packed;

/// States that are kept at most.
const MOST: u64 = 10;

/// What every key of ours starts with: pages opened from disk may share one store.
const PREFIX: &str = "scantling-shop";

/// Where the number of the newest state stands.
const NEWEST: &str = "scantling-shop-newest";

/// Where the book of a window stands that another window was faster than.
const ASIDE: &str = "scantling-shop-aside";

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
            Self::Full => {
                "The browser has no room left: what you change now stands on this page alone. Save the shop book as a file now. Then make room: \
                 under Shops, put away what you no longer need and throw it away, or clear what other pages keep in this browser. It is kept \
                 again by itself as soon as there is room."
            }
            Self::NoStore => {
                "The browser keeps nothing for this page, as in a private window: what you change stands on this page alone. Save the shop book \
                 as a file before you close it, and open that file the next time."
            }
            Self::Overtaken => {
                "Another window has changed this shop's book since. Nothing is kept over it until you choose; whichever you choose, the other \
                 stays among the earlier states."
            }
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

/// A book that is to be kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Keeping {
    /// The book.
    pub book: Arc<str>,
    /// The same as it lies in the store, packed or as it is.
    pub packed: String,
    /// What is told of it.
    pub told: Told,
}

impl Keeping {
    /// A book, packed here.
    #[must_use]
    pub fn new(book: impl Into<Arc<str>>, told: Told) -> Self {
        let book = book.into();
        Self { packed: packed(&book), book, told }
    }
}

/// The places are taken in turn, so that a new state takes that of the oldest.
fn key(number: u64) -> String {
    format!("{PREFIX}-{}", number % MOST)
}

/// The keys of one shop's book: its states and what goes with them.
pub(crate) fn keys() -> impl Iterator<Item = String> {
    (0..MOST).map(key).chain(keys_beside())
}

/// The keys of what goes with the states of a shop's book.
pub(crate) fn keys_beside() -> impl Iterator<Item = String> {
    [NEWEST, ASIDE, told::TOLD, published::PUBLISHED].map(str::to_owned).into_iter()
}

/// The keys of the states there are, the newest first.
pub(crate) fn keys_of_states(store: &impl Store) -> Vec<String> {
    let there = |end| Some((State::read(&store.get(&key(end))?, end, MOST).number, key(end)));
    let mut all: Vec<_> = (0..MOST).filter_map(there).collect();
    all.sort_by_key(|(number, _)| std::cmp::Reverse(*number));
    all.into_iter().map(|(_, key)| key).collect()
}

/// Writes down which state is the newest, as it is known from another place where the same states lie.
///
/// # Errors
/// When there is no room, or no store.
pub(crate) fn set_newest(store: &mut impl Store, known: &impl Store) -> Result<(), NotKept> {
    store.set(NEWEST, &newest(known, &states(known)).to_string())
}

/// The number of the newest state, as far as it is written. The states themselves are asked, too: what is said of them may be damaged, or not
/// have been written any more.
fn newest(store: &impl Store, states: &[State]) -> u64 {
    let numbers = states.iter().filter_map(|state| state.number);
    numbers.chain([number_told(store)]).max().unwrap_or(0)
}

/// The number of the newest state, as the store says by itself.
fn number_told(store: &impl Store) -> u64 {
    // A number that no one lives to reach is a damaged one.
    store.get(NEWEST).and_then(|text| text.parse::<u32>().ok()).map_or(0, u64::from)
}

/// Every state there is, the newest first, those that are damaged among them: the ones whose number is lost come last.
#[must_use]
pub fn states(store: &impl Store) -> Vec<State> {
    let told = told::told(store);
    let of = |state: State| {
        let told = state.number.and_then(|number| told.get(&number).cloned());
        state.telling(told.unwrap_or_default())
    };
    let mut all: Vec<State> =
        (0..MOST).filter_map(|end| Some(of(State::read(&store.get(&key(end))?, end, MOST)))).collect();
    all.sort_by_key(|state| std::cmp::Reverse(state.number));
    all
}

/// The book that was put aside because another window was faster, if one was.
#[must_use]
pub fn aside(store: &impl Store) -> Option<State> {
    let told = told::told(store).remove(&told::OF_ASIDE).unwrap_or_default();
    store.get(ASIDE).map(|text| State::read(&text, 0, 1).telling(told))
}

/// Forgets the book that was put aside: it is among the states now.
pub fn drop_aside(store: &mut impl Store) {
    drop(store.take(ASIDE));
}

impl Kept {
    /// What a store holds: the number of its newest state, and the newest book that still reads.
    pub fn find(store: &impl Store) -> (Self, Option<String>) {
        let states = states(store);
        let found = states.iter().find_map(|state| Some((state.number?, state.book()?)));
        let kept = Self::of(store, &states);
        let last = found.as_ref().filter(|(number, _)| *number == kept.newest).map(|(_, text)| text.as_str().into());
        (Self { last, ..kept }, found.map(|(_, text)| text))
    }

    /// What a store holds, of which these are all the states; nothing is taken for what was kept last.
    pub fn of(store: &impl Store, states: &[State]) -> Self {
        Self { newest: newest(store, states), last: None }
    }

    /// Takes a book for what was kept last: it is not kept again before it changes.
    #[must_use]
    pub fn with_last(self, book: &str) -> Self {
        Self { last: Some(book.into()), ..self }
    }

    /// Whether nothing was ever kept.
    #[must_use]
    pub const fn is_new(&self) -> bool {
        self.newest == 0
    }

    /// Whether this is what was kept last.
    #[must_use]
    pub fn has(&self, book: &Arc<str>) -> bool {
        self.last.as_ref() == Some(book)
    }

    /// Whether another window has kept something else since.
    pub fn is_overtaken(&self, store: &impl Store, book: &Arc<str>) -> bool {
        number_told(store) > self.newest && Self::find(store).1.as_deref() != Some(book)
    }

    /// Goes on from the newest state there is, whoever kept it: what is kept next comes after it.
    pub fn go_on_from_newest(&mut self, store: &impl Store) {
        self.newest = self.newest.max(newest(store, &states(store)));
        self.last = None;
    }

    /// Keeps a state, unless it is the newest already.
    ///
    /// # Errors
    /// Why not; the states before are then as they were, but for the oldest ones that were given up to make room.
    pub fn keep(&mut self, store: &mut impl Store, new: &Keeping) -> Result<(), NotKept> {
        self.keep_by(store, new, Self::set_with_room)
    }

    /// Keeps a state that found no room before, if there is room by now. No other state is given up for it: that was tried.
    ///
    /// # Errors
    /// Why not; the states before are then as they were.
    pub fn keep_where_there_is_room(&mut self, store: &mut impl Store, new: &Keeping) -> Result<(), NotKept> {
        self.keep_by(store, new, |_, store, number, text| store.set(&key(number), text))
    }

    fn keep_by<S: Store>(
        &mut self,
        store: &mut S,
        new: &Keeping,
        set: impl FnOnce(&Self, &mut S, u64, &str) -> Result<(), NotKept>,
    ) -> Result<(), NotKept> {
        let book = &new.book;
        if number_told(store) > self.newest {
            let (theirs, text) = Self::find(store);
            if text.as_deref() != Some(book) {
                return Err(self.put_aside(store, new));
            }
            // Two windows that have come to the same book need not choose.
            *self = theirs;
        }
        if self.has(book) {
            return Ok(());
        }
        // A store may say that its newest state has the largest number there is: one more would be read as damage.
        let number = self.newest.saturating_add(1).min(u64::from(u32::MAX));
        set(self, store, number, &State::written(number, &new.packed))?;
        store.set(NEWEST, &number.to_string())?;
        told::note(store, number, &new.told, MOST);
        self.newest = number;
        self.last = Some(Arc::clone(book));
        Ok(())
    }

    /// Another window was faster: what was changed in this one is kept beside the states, so that it is there still when the window is gone.
    fn put_aside(&self, store: &mut impl Store, new: &Keeping) -> NotKept {
        if self.has(&new.book) {
            return NotKept::Overtaken;
        }
        let number = self.newest.max(1);
        if let Err(why) = store.set(ASIDE, &State::written(number, &new.packed)) {
            return why;
        }
        told::note(store, told::OF_ASIDE, &new.told, MOST);
        NotKept::Overtaken
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
    use scantling_pricing::book::moment::Moment;

    fn new(book: &str) -> Keeping {
        Keeping::new(book, Told::default())
    }

    fn keep(kept: &mut Kept, store: &mut Room, book: &str) -> Result<(), NotKept> {
        kept.keep(store, &new(book))
    }

    /// What can be read of all there is, the newest first.
    fn books(store: &Room) -> Vec<String> {
        states(store).iter().filter_map(State::book).collect()
    }

    #[test]
    fn the_last_ten_states_come_back_the_newest_first() {
        let (mut store, mut kept) = (Room::of(100_000), Kept::default());
        for number in 1..=25 {
            keep(&mut kept, &mut store, &format!("book {number}")).unwrap();
        }
        keep(&mut kept, &mut store, "book 25").unwrap();
        let (_, newest) = Kept::find(&store);
        assert_eq!(newest.as_deref(), Some("book 25"));
        assert_eq!(books(&store), (16..=25).rev().map(|number| format!("book {number}")).collect::<Vec<_>>());
    }

    #[test]
    fn where_room_runs_out_the_oldest_go_and_the_newest_never() {
        let (mut store, mut kept) = (Room::of(400), Kept::default());
        let book = |letter: &str| letter.repeat(100);
        for letter in ["a", "b", "c", "d", "e"] {
            keep(&mut kept, &mut store, &book(letter)).unwrap();
        }
        let states = books(&store);
        assert!(states.len() >= 2 && states[0] == book("e") && states[1] == book("d"), "{}", states.len());
        // What is larger than all the room there is leaves what was kept where it was.
        assert_eq!(keep(&mut kept, &mut store, &"x".repeat(500)), Err(NotKept::Full));
        assert_eq!(Kept::find(&store).1, Some(book("e")));
        assert_eq!(books(&store), states);
        // What waits for room takes it from no other, and has it once it is there.
        let waiting = new(&"y".repeat(200));
        assert_eq!(kept.keep_where_there_is_room(&mut store, &waiting), Err(NotKept::Full));
        assert_eq!(books(&store), states);
        store.bytes = 1000;
        assert_eq!(kept.keep_where_there_is_room(&mut store, &waiting), Ok(()));
        assert_eq!(books(&store).first().map(String::as_str), Some(&*waiting.book));
    }

    #[test]
    fn two_windows_don_t_write_over_each_other_silently() {
        let mut store = Room::of(10_000);
        let mut first = Kept::default();
        keep(&mut first, &mut store, "start").unwrap();
        let (mut second, _) = Kept::find(&store);
        keep(&mut second, &mut store, "from the second").unwrap();
        assert_eq!(keep(&mut first, &mut store, "from the first"), Err(NotKept::Overtaken));
        assert_eq!(Kept::find(&store).1.as_deref(), Some("from the second"));
        // What the first held is there for when its window is gone; once it was chosen, both are states.
        assert_eq!(aside(&store).and_then(|state| state.book()).as_deref(), Some("from the first"));
        first.go_on_from_newest(&store);
        keep(&mut first, &mut store, "from the first").unwrap();
        assert_eq!(books(&store), ["from the first", "from the second", "start"]);
        // Now the second has to choose; where both have come to the same, neither has.
        assert!(second.is_overtaken(&store, &"from the second".into()));
        assert_eq!(keep(&mut second, &mut store, "from the second"), Err(NotKept::Overtaken));
        assert!(!second.is_overtaken(&store, &"from the first".into()));
        assert_eq!(keep(&mut second, &mut store, "from the first"), Ok(()));
        assert_eq!(keep(&mut second, &mut store, "and on"), Ok(()));
    }

    #[test]
    fn the_number_of_the_newest_may_be_lost_or_damaged() {
        for spoilt in [None, Some(""), Some("x7"), Some("99999999999999999999"), Some("1")] {
            let (mut store, mut kept) = (Room::of(10_000), Kept::default());
            for number in 1..=13 {
                keep(&mut kept, &mut store, &format!("book {number}")).unwrap();
            }
            drop(store.take(NEWEST));
            if let Some(text) = spoilt {
                store.set(NEWEST, text).unwrap();
            }
            let (mut found, newest) = Kept::find(&store);
            assert_eq!(newest.as_deref(), Some("book 13"), "{spoilt:?}");
            keep(&mut found, &mut store, "book 14").unwrap();
            assert_eq!(books(&store), (5..=14).rev().map(|number| format!("book {number}")).collect::<Vec<_>>());
        }
    }

    #[test]
    fn a_state_that_was_half_written_is_passed_over() {
        let (mut store, mut kept) = (Room::of(10_000), Kept::default());
        keep(&mut kept, &mut store, "whole").unwrap();
        keep(&mut kept, &mut store, "cut off in the middle").unwrap();
        let cut: String = store.get(&key(2)).unwrap().chars().take(12).collect();
        store.set(&key(2), &cut).unwrap();
        let (mut found, text) = Kept::find(&store);
        assert_eq!(text.as_deref(), Some("whole"));
        // It is told, and nothing is written over it.
        keep(&mut found, &mut store, "after").unwrap();
        let all = states(&store);
        assert_eq!(all.iter().map(|state| state.number).collect::<Vec<_>>(), [Some(3), Some(2), Some(1)]);
        assert_eq!(all.get(1).map(|state| (state.book(), state.book_in_part())), Some((None, Some("cut off".into()))));
        // One whose number is lost is there still, after the others.
        store.set(&key(9), "spoilt\nwhat was in it").unwrap();
        assert_eq!(states(&store).last().and_then(State::book_in_part).as_deref(), Some("what was in it"));
    }

    #[test]
    fn a_state_tells_when_it_was_kept_and_what_was_done_and_one_from_before_reads_on() {
        let (mut store, mut kept) = (Room::of(10_000), Kept::default());
        // As it has always been written: the number, the size, the book.
        store.set(&key(1), "1 4\nbook").unwrap();
        store.set(NEWEST, "1").unwrap();
        kept.go_on_from_newest(&store);
        let at = |seconds| Moment::new(seconds);
        let told = |state: &State| (state.number, state.told.at, state.told.what.clone());
        for number in 2..=12 {
            // What lies in the way of a line is taken out of it, and no clock orders anything.
            let what = format!("Price,\n row {number}");
            kept.keep(&mut store, &Keeping::new(what.as_str(), Told::new(at(100 - number), &what))).unwrap();
        }
        let all = states(&store);
        assert_eq!(told(&all[0]), (Some(12), at(88), "Price, row 12".to_owned()));
        assert_eq!(told(&all[9]), (Some(3), at(97), "Price, row 3".to_owned()));
        assert_eq!(
            store.get(told::TOLD).map(|text| text.lines().count()),
            Some(10),
            "those that are gone are forgotten"
        );
        // A line that is damaged takes nothing from its state, nor from the others.
        let spoilt = store.get(told::TOLD).unwrap().replace("12 1970-01-01T00:01:28Z Price, row 12", "12 \u{0}");
        store.set(told::TOLD, &spoilt).unwrap();
        let all = states(&store);
        assert_eq!((all[0].book().as_deref(), &all[0].told), (Some("Price,\n row 12"), &Told::new(None, "")));
        assert_eq!(told(&all[1]), (Some(11), at(89), "Price, row 11".to_owned()));
        // Of what is put aside, too; and no more than so many letters.
        let long = Told::new(at(5), &"é".repeat(200));
        assert_eq!(Kept::default().keep(&mut store, &Keeping::new("aside", long)), Err(NotKept::Overtaken));
        assert_eq!(aside(&store).map(|state| (state.told.at, state.told.what)), Some((at(5), "é".repeat(80))));
    }

    #[test]
    fn without_room_for_what_is_told_the_state_is_kept_all_the_same() {
        let (mut store, mut kept) = (Room::of(80), Kept::default());
        let told = Told::new(Moment::new(7), "Price, row 1");
        assert_eq!(kept.keep(&mut store, &Keeping::new("book", told)), Ok(()));
        let all = states(&store);
        assert_eq!((all[0].book().as_deref(), &all[0].told), (Some("book"), &Told::default()));
    }

    #[test]
    fn the_price_book_written_last_is_remembered_and_one_that_is_cut_off_is_not_taken_for_it() {
        let mut store = Room::of(100_000);
        assert_eq!(Published::find(&store), None);
        let first = Published { at: Moment::new(100), book: "{\"a\":\n1}".into() };
        first.keep(&mut store).unwrap();
        assert_eq!(Published::find(&store).as_ref(), Some(&first));
        // Written again as it was, it is of the day it was first written; changed, it is another.
        Published { at: Moment::new(200), ..first.clone() }.keep(&mut store).unwrap();
        assert_eq!(Published::find(&store).as_ref(), Some(&first));
        let large: String = (0..60_000).map(|number| format!("{{\"{}\"}} ", number % 10)).collect();
        let second = Published { at: None, book: large };
        second.keep(&mut store).unwrap();
        assert_eq!(Published::find(&store).as_ref(), Some(&second), "packed as the states are");
        let cut: String = store.get(published::PUBLISHED).unwrap().chars().take(500).collect();
        store.set(published::PUBLISHED, &cut).unwrap();
        assert_eq!(Published::find(&store), None);
        // Without room, what was remembered stays.
        let mut full = Room::of(80);
        first.keep(&mut full).unwrap();
        assert_eq!(Published { at: None, book: "x".repeat(99) }.keep(&mut full), Err(NotKept::Full));
        assert_eq!(Published::find(&full), Some(first));
    }

    #[test]
    fn a_large_book_is_kept_packed_and_found_as_it_was() {
        let (mut store, mut kept) = (Room::of(1_000_000), Kept::default());
        let book: Arc<str> = "{\"white-oak\": \"7.25\"} ".repeat(100_000).into();
        kept.keep(&mut store, &new(&book)).unwrap();
        let (mut found, text) = Kept::find(&store);
        assert_eq!(text.as_deref(), Some(&*book));
        found.keep(&mut store, &new(&book)).unwrap();
        assert_eq!(states(&store).len(), 1, "what is kept already is not kept again");
    }
}
