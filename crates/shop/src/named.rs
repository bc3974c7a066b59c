//! A place of the book in the words that stand on the page: what is wrong, or differs, is told by them and not by keys.

use scantling_pricing::book::document::Node;

use crate::form::Kind;
use crate::sheet::{Path, Step};
use crate::slim::rows;
use crate::trail::Trail;

/// What leads to a place of a book, or of a price book, whose tables go by the same names: `Timbers, Black walnut: rates 8/4`.
#[must_use]
pub fn named(root: &Node, kind: &Kind, place: &Path) -> String {
    let mut steps = place.steps().iter();
    let Some(Step::Key(table)) = steps.next() else { return "The book".to_owned() };
    let field = kind.field(table);
    let table_s = field.map_or_else(|| table.clone(), |field| field.label.clone());
    let mut at = At {
        node: root.under(table),
        kind: field.map(|field| &field.kind),
        trail: Trail { table: table_s, ..Trail::default() },
    };
    for step in steps {
        at = at.one_further(step);
    }
    at.trail.words()
}

/// A place on the way: what stands there and may stand there, as far as either is known.
struct At<'a> {
    node: Option<&'a Node>,
    kind: Option<&'a Kind>,
    trail: Trail,
}

impl<'a> At<'a> {
    fn one_further(self, step: &Step) -> Self {
        let rows = self.node.map_or(&[][..], rows);
        match step {
            Step::Index(index) => self.in_row(rows.get(*index), *index),
            Step::Key(key) => {
                // What goes by keys of its own is named by them where the engine tells of it.
                let row = rows.iter().enumerate().find(|(_, row)| row.text("key") == Some(key.as_str()));
                match row {
                    Some((index, row)) => self.in_row(Some(row), index),
                    None => self.in_field(key),
                }
            }
        }
    }

    fn in_row(self, row: Option<&'a Node>, index: usize) -> Self {
        let trail = self.trail.with_row(row.unwrap_or(&Node::Null), index);
        Self { node: row, kind: self.kind.and_then(Kind::rows), trail }
    }

    fn in_field(self, key: &str) -> Self {
        let (label, kind) = match self.kind {
            Some(Kind::Map(held)) => (key, Some(held.as_ref())),
            Some(kind) => kind.field(key).map_or((key, None), |field| (field.label.as_str(), Some(&field.kind))),
            None => (key, None),
        };
        Self { node: self.node.and_then(|node| node.under(key)), kind, trail: self.trail.with_field(label) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_is_told_in_the_words_that_stand_on_the_page() {
        let kind = Kind::of_document(&serde_json::from_str(crate::SCHEMA).unwrap());
        let root = Node::read(crate::DEMO).unwrap();
        for (place, words) in [
            ("hardware[0].price", "Hardware, Slotted top fixing: price"),
            ("timbers[0].rates.8/4", "Timbers, Black walnut: rates 8/4"),
            ("pricing.margin", "Pricing: margin"),
            // As the engine names a part of a design, and what is not there.
            ("designs[0].parts.bearer", "Designs, Trestle dining table: parts bearer"),
            ("hardware[77].colour", "Hardware, row 78: colour"),
            ("unheard-of.key", "unheard-of: key"),
            ("", "The book"),
        ] {
            assert_eq!(named(&root, &kind, &Path::read(place)), words, "{place}");
        }
    }
}
