//! The price book that was written last, as it was written: what the next one is compared with.

use scantling_pricing::book::document::Node;
use scantling_pricing::book::moment::Moment;
use scantling_pricing::book::read::Read;

use super::{NotKept, Store};
use crate::pack::{packed, unpacked};

/// Where it stands.
pub(super) const PUBLISHED: &str = "scantling-shop-published";

/// A price book that was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Published {
    /// When, by the computer's clock.
    pub at: Option<Moment>,
    /// Its text.
    pub book: String,
}

impl Published {
    /// The one that was written last; nothing where none was, or what is kept of it is damaged.
    #[must_use]
    pub fn find(store: &impl Store) -> Option<Self> {
        let text = store.get(PUBLISHED)?;
        let (head, book) = text.split_once('\n')?;
        let (at, size) = head.split_once(' ')?;
        let whole = size.parse() == Ok(book.len());
        let at = Moment::read(&Node::Text(at.to_owned())).ok();
        whole.then(|| unpacked(book)).flatten().map(|book| Self { at, book })
    }

    /// Remembers it. Written once more as it was, it stays what was written then.
    ///
    /// # Errors
    /// When there is no room, or no store; what was remembered is as it was.
    pub fn keep(&self, store: &mut impl Store) -> Result<(), NotKept> {
        if Self::find(store).is_some_and(|before| before.book == self.book) {
            return Ok(());
        }
        let (at, book) = (self.at.map_or_else(|| "-".to_owned(), |at| at.to_string()), packed(&self.book));
        store.set(PUBLISHED, &format!("{at} {}\n{book}", book.len()))
    }
}
