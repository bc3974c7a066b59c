//! Whether the tables of a book fit together, and whether every size a buyer may choose can be built.
//!
//! Everything that is wrong is reported at once, each with its path.

mod borders;
mod broken;
mod designs;
mod ledger;
mod overlaps;
mod packs;
mod proof;
mod regions;
mod stepwise;
mod stock;
mod tables;

use super::document::{DocumentError, Node};
use super::fault::why;
use super::{PriceBook, ShopBook};
use crate::design::Design;
use crate::publish::{Basis, fold_rates};
use proof::Proof;

pub use broken::Broken;
pub use stepwise::DesignProof;

/// The version of every format there is so far.
const VERSION: i64 = 1;

/// Makes sure a document is what it should be, and of a version that is known.
///
/// # Errors
/// When the version key is missing, not a whole number, or of a later version.
pub fn version(node: &Node, key: &'static str, what: &str) -> Result<(), DocumentError> {
    match node.whole_number(key) {
        Some(VERSION) => Ok(()),
        Some(later) if later > VERSION => Err(DocumentError::unusable(
            key,
            why!("this is {what} of version {later}, and this program reads version {VERSION}; use a newer program"),
        )),
        Some(other) => Err(DocumentError::unusable(key, why!("there is no version {other}; write {VERSION}"))),
        None if matches!(node, Node::Table(_)) => Err(DocumentError::unusable(
            "",
            why!(
                "this is not {what}: the key “{key}” with the number {VERSION} is missing; open another file, or add it"
            ),
        )),
        None => Err(node.wrong(why!("{what}, a table in curly brackets"))),
    }
}

/// More faults than this are not told at once: whoever mends these sees the rest.
const MOST_TOLD: usize = 200;

/// What is wrong with a book, as far as it is told.
#[derive(Debug, Default)]
struct Faults(Vec<DocumentError>);

impl Faults {
    fn push(&mut self, fault: DocumentError) {
        if !self.is_full() {
            self.0.push(fault);
        }
    }

    /// A fault at each of some items, worded only as long as it is told.
    fn each<T>(&mut self, items: impl Iterator<Item = T>, fault: impl Fn(T) -> DocumentError) {
        let room = MOST_TOLD.saturating_sub(self.0.len());
        self.0.extend(items.take(room).map(fault));
    }

    fn extend(&mut self, faults: impl IntoIterator<Item = DocumentError>) {
        faults.into_iter().for_each(|fault| self.push(fault));
    }

    const fn len(&self) -> usize {
        self.0.len()
    }

    const fn is_full(&self) -> bool {
        self.0.len() >= MOST_TOLD
    }
}

/// Everything wrong with a price book. What it offers is proved only where all else is sound.
#[must_use]
pub fn price_book(book: &PriceBook) -> Vec<DocumentError> {
    let mut faults = of_tables(book);
    let (sound, mut proof) = (faults.len() == 0, Proof::new(book));
    let prove = |design: &Design, path: &str, faults: &mut Faults| {
        if sound {
            proof.of(design, path, faults);
        }
    };
    faults.extend(designs::faults(book, prove).0);
    faults.0
}

fn of_tables(book: &PriceBook) -> Faults {
    let mut faults = tables::faults(book);
    faults.extend(stock::faults(book).0);
    faults.extend(regions::faults(book).0);
    faults.extend(borders::faults(book).0);
    faults
}

/// Everything wrong with a shop book: with its private tables, then with the price book it folds into, whose paths are the same.
#[must_use]
pub fn shop_book(book: &ShopBook) -> Vec<DocumentError> {
    let mut faults = tables::private_faults(book);
    match fold_rates(book, Basis::Selling) {
        Ok(folded) => faults.extend(price_book(&folded)),
        Err(fault) => faults.push(fault),
    }
    faults.0
}
