//! Whether the maker has been told what the page starts with, and has put that away.

use crate::keep::Store;

/// Where it stands that it was put away. It is one for all shops: who has it is the maker, not a shop.
const PUT_AWAY: &str = "scantling-told";

/// Whether it was put away before.
#[must_use]
pub fn is_put_away(store: &impl Store) -> bool {
    store.get(PUT_AWAY).is_some()
}

/// Remembers that it was put away. In a browser that keeps nothing it is told again the next time, which does no harm.
pub fn put_away(store: &mut impl Store) {
    let _not_kept = store.set(PUT_AWAY, "1");
}
