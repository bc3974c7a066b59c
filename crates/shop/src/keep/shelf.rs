//! Stores in memory: what a file says was kept of a shop, and what tests keep things in.

use std::collections::BTreeMap;

use super::{NotKept, Store};

/// Texts by their keys, with room for whatever comes.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Shelf(BTreeMap<String, String>);

impl Store for Shelf {
    fn get(&self, key: &str) -> Option<String> {
        self.0.get(key).cloned()
    }

    fn set(&mut self, key: &str, text: &str) -> Result<(), NotKept> {
        self.0.insert(key.to_owned(), text.to_owned());
        Ok(())
    }

    fn take(&mut self, key: &str) -> Option<String> {
        self.0.remove(key)
    }
}

impl FromIterator<(String, String)> for Shelf {
    fn from_iter<I: IntoIterator<Item = (String, String)>>(all: I) -> Self {
        Self(all.into_iter().collect())
    }
}

impl Shelf {
    /// Whether nothing is kept.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The keys under which something is kept.
    pub fn keys(&self) -> impl Iterator<Item = &str> {
        self.0.keys().map(String::as_str)
    }
}

/// The same with so much room, in bytes, as browsers have it: for tests, and in no page.
#[cfg(test)]
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Room {
    pub(crate) shelf: Shelf,
    pub(crate) bytes: usize,
}

#[cfg(test)]
impl Room {
    /// An empty one.
    pub(crate) fn of(bytes: usize) -> Self {
        Self { shelf: Shelf::default(), bytes }
    }
}

#[cfg(test)]
impl Store for Room {
    fn get(&self, key: &str) -> Option<String> {
        self.shelf.get(key)
    }

    fn set(&mut self, key: &str, text: &str) -> Result<(), NotKept> {
        let others = self.shelf.0.iter().filter(|(known, _)| *known != key);
        let taken: usize = others.map(|(key, text)| key.len() + text.len()).sum();
        if taken + key.len() + text.len() > self.bytes { Err(NotKept::Full) } else { self.shelf.set(key, text) }
    }

    fn take(&mut self, key: &str) -> Option<String> {
        self.shelf.take(key)
    }
}
