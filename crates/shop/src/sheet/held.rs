//! Documents that are only looked at until the maker says otherwise: cut off, damaged, or from a newer page than this one.

use std::fmt;

use scantling_pricing::book::document::{DocumentError, Node};

use super::Sheet;
use crate::salvage::salvage;

/// The version of the shop book that this page writes.
const VERSION: i64 = 1;

/// Why a document is only looked at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Held {
    /// So many bytes of it could not be read.
    Damaged(usize),
    /// It was written by a newer page, in this version.
    Newer(i64),
}

impl fmt::Display for Held {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Damaged(lost) => write!(
                f,
                "This book is damaged: its last {lost} bytes can't be read. What stands before them is shown."
            ),
            Self::Newer(version) => write!(
                f,
                "This book is of version {version}, and this page knows version {VERSION}: what it does not know is shown, not understood. Open it with the newer page to change it."
            ),
        }
    }
}

impl Sheet {
    /// Opens a document as far as it can be read. One that is damaged, or newer than this page, is held: nothing in it is changed and nothing
    /// is kept over what there is, until it is [let go](Self::let_go).
    ///
    /// # Errors
    /// When nothing of it can be read.
    pub fn open_what_can_be_read(text: &str) -> Result<Self, DocumentError> {
        let (mut sheet, lost) = match Self::open(text) {
            Ok(sheet) => (sheet, None),
            Err(fault) => match salvage(text) {
                Some((part, lost)) => (Self::open(&part)?, Some(Held::Damaged(lost))),
                None => return Err(fault),
            },
        };
        sheet.held = lost.or_else(|| newer(&sheet.root));
        Ok(sheet)
    }

    /// Why the document is only looked at, if it is.
    #[must_use]
    pub const fn held(&self) -> Option<&Held> {
        self.held.as_ref()
    }

    /// The maker goes on with what could be read.
    pub fn let_go(&mut self) {
        self.held = None;
    }
}

fn newer(root: &Node) -> Option<Held> {
    let Node::Table(entries) = root else { return None };
    entries.iter().find_map(|(key, value)| match value {
        Node::Int(version) if key == "scantling_book" && *version > VERSION => Some(Held::Newer(*version)),
        _ => None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::{Edit, Path};

    fn price(sheet: &mut Sheet) -> bool {
        sheet.edit("price", vec![Edit::set(Path::read("price"), Node::Text("2".into()))])
    }

    #[test]
    fn a_damaged_or_newer_book_is_looked_at_and_changed_only_once_it_is_let_go() {
        let whole = Sheet::open_what_can_be_read(r#"{"scantling_book": 1, "price": "1"}"#).unwrap();
        assert_eq!(whole.held(), None);
        let cut = r#"{"scantling_book": 1, "price": "1", "timbers": [{"key": "wal"#;
        let newer = r#"{"scantling_book": 2, "price": "1"}"#;
        // The row stays, without the key that was being written.
        for (text, why) in [(cut, Held::Damaged(11)), (newer, Held::Newer(2))] {
            let mut sheet = Sheet::open_what_can_be_read(text).unwrap();
            assert_eq!(sheet.held(), Some(&why));
            let before = sheet.text();
            assert!(!price(&mut sheet) && sheet.text() == before);
            sheet.let_go();
            assert!(price(&mut sheet) && sheet.text() != before);
        }
        assert!(Sheet::open_what_can_be_read("a letter").is_err());
    }
}
