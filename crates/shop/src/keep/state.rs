//! One state as it lies in the store, and what can be read of it.

use super::told::Told;
use crate::pack::{unpacked, unpacked_in_part};

/// What is kept in one place of the store.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct State {
    /// Its number, counted from the first state ever kept; nothing where even that is damaged.
    pub number: Option<u64>,
    /// What is told of it: when it was kept and what was done last.
    pub told: Told,
    /// The book, packed or as it is.
    text: String,
    /// How many bytes were to be written, as far as that is known.
    size: Option<usize>,
}

impl State {
    /// A state as it is written into the store: its number and its size first, so that one that was half written is found out.
    pub(super) fn written(number: u64, packed: &str) -> String {
        format!("{number} {}\n{packed}", packed.len())
    }

    /// What lies in a place, where the states whose numbers end so are kept.
    pub(super) fn read(text: &str, end: u64, places: u64) -> Self {
        let (head, book) = text.split_once('\n').unwrap_or((text, ""));
        let (number, size) = head.split_once(' ').unwrap_or((head, ""));
        let number = number.parse::<u32>().ok().map(u64::from);
        let number = number.filter(|number| *number > 0 && number.checked_rem(places) == Some(end));
        Self { number, told: Told::default(), text: book.to_owned(), size: size.parse().ok() }
    }

    /// The same, with what is told of it.
    pub(super) fn telling(self, told: Told) -> Self {
        Self { told, ..self }
    }

    /// The book; nothing where it is damaged.
    #[must_use]
    pub fn book(&self) -> Option<String> {
        let whole = self.number.is_some() && self.size == Some(self.text.len());
        whole.then(|| unpacked(&self.text)).flatten()
    }

    /// The book as far as it was written; nothing where nothing can be read.
    #[must_use]
    pub fn book_in_part(&self) -> Option<String> {
        self.book().or_else(|| unpacked_in_part(&self.text)).filter(|text| !text.trim().is_empty())
    }

    /// How much of it there is, in kilobytes, and how much there was where some is missing.
    #[must_use]
    pub fn size(&self) -> String {
        let (there, all) = (self.text.len(), self.size.unwrap_or(0));
        let there_kilobytes = there.div_ceil(1024);
        if all > there {
            format!("{there_kilobytes} kB of {} kB", all.div_ceil(1024))
        } else {
            format!("{there_kilobytes} kB")
        }
    }
}
