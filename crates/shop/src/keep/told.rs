//! What is told of the states besides their number: the moment each was kept, as the computer's clock had it, and what was done last before.
//!
//! It stands under a key of its own, a line for each state, so that a page that knows nothing of it reads the states as ever. No order goes by
//! it, and a state without it is none the worse.

use std::collections::BTreeMap;

use scantling_pricing::book::document::Node;
use scantling_pricing::book::moment::Moment;
use scantling_pricing::book::read::Read;

use super::Store;

/// Where it stands.
pub(super) const TOLD: &str = "scantling-shop-told";

/// The number under which it is told of the book that was put aside: states are counted from 1.
pub(super) const OF_ASIDE: u64 = 0;

/// The longest that is told of what was done, in letters.
const LONGEST: usize = 80;

/// What is told of a state.
#[derive(Debug, Clone, Default, PartialEq, Eq, Hash)]
pub struct Told {
    /// When it was kept, by the computer's clock.
    pub at: Option<Moment>,
    /// What was done last; empty where the book is as it was opened.
    pub what: String,
}

impl Told {
    /// What is told of a book that is kept now, after something was done.
    #[must_use]
    pub fn new(at: Option<Moment>, what: &str) -> Self {
        let words = what.split_whitespace().collect::<Vec<_>>().join(" ");
        Self { at, what: words.chars().take(LONGEST).collect() }
    }

    /// A line: the moment, or a dash where the computer did not tell it, and the words.
    fn line(&self) -> String {
        let at = self.at.map_or_else(|| "-".to_owned(), |at| at.to_string());
        format!("{at} {}", self.what)
    }

    fn read(line: &str) -> Self {
        let (at, what) = line.split_once(' ').unwrap_or((line, ""));
        Self::new(Moment::read(&Node::Text(at.to_owned())).ok(), what)
    }
}

/// What a store tells of its states, by their numbers; lines that can't be read are passed over.
pub(super) fn told(store: &impl Store) -> BTreeMap<u64, Told> {
    let text = store.get(TOLD).unwrap_or_default();
    let line = |line: &str| {
        let (number, rest) = line.split_once(' ')?;
        Some((number.parse::<u32>().ok()?.into(), Told::read(rest)))
    };
    text.lines().filter_map(line).collect()
}

/// Notes what is told of a state, and forgets what was told of those that are gone. Without room for it the state is kept all the same.
pub(super) fn note(store: &mut impl Store, number: u64, new: &Told, places: u64) {
    let mut all = told(store);
    drop(all.insert(number, new.clone()));
    let there = |known: u64| known == OF_ASIDE || known > number.saturating_sub(places);
    let lines = all.iter().filter(|(known, told)| there(**known) && **told != Told::default());
    let text: String = lines.map(|(known, told)| format!("{known} {}\n", told.line())).collect();
    if text.is_empty() {
        drop(store.take(TOLD));
    } else {
        let _noted = store.set(TOLD, &text);
    }
}
