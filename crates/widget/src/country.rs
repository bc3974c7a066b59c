//! The countries a piece can be sent to, in the order of their names.

use scantling_pricing::delivery::countries;

use crate::words::Words;

/// Every country whose postal codes are known, with its name in the page's language, in the order of the names.
#[must_use]
pub(crate) fn named(words: &Words) -> Vec<(&'static str, String)> {
    let mut all: Vec<(&str, String)> = Vec::new();
    // One by one into its place: a few dozen of them, and the library's sort weighs a kilobyte for each kind of thing sorted.
    for code in countries() {
        let name = words.country(code);
        let place = all.iter().take_while(|(_, other)| *other < name).count();
        all.insert(place, (code, name));
    }
    all
}
