//! Whether the tables of a book fit together, and whether every size a buyer may choose can be built.
//!
//! Everything that is wrong is reported at once, each with its path.

mod designs;
mod overlaps;
mod regions;
mod stock;
mod tables;

use super::document::{DocumentError, Fault, Node};
use super::{PriceBook, ShopBook};
use crate::publish::{Basis, fold_rates};

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
            format!("this is {what} of version {later}, and this program reads version {VERSION}; use a newer program"),
        )),
        Some(other) => Err(DocumentError::unusable(key, format!("there is no version {other}; write {VERSION}"))),
        None if matches!(node, Node::Table(_)) => Err(DocumentError::unusable(
            "",
            format!(
                "this is not {what}: the key “{key}” with the number {VERSION} is missing; open another file, or add it"
            ),
        )),
        None => Err(DocumentError::at(
            "",
            Fault::WrongShape {
                found: "another JSON value".into(),
                expected: format!("{what}, a table in curly brackets"),
            },
        )),
    }
}

/// Everything wrong with a price book.
#[must_use]
pub fn price_book(book: &PriceBook) -> Vec<DocumentError> {
    let mut faults = tables::faults(book);
    faults.extend(stock::faults(book));
    faults.extend(designs::faults(book));
    faults.extend(regions::faults(book));
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
    faults
}
