//! What leads to a place of the book, in the words that stand on the screen.

use scantling_pricing::book::document::Node;

use crate::form::Kind;
use crate::sheet::{Path, Step};

/// What leads to a place, in words.
#[derive(Debug, Clone, Default)]
pub(crate) struct Trail {
    /// The part of the book.
    pub(crate) table: String,
    /// The row, by its name.
    pub(crate) row: String,
    /// The fields within.
    pub(crate) fields: Vec<String>,
}

impl Trail {
    /// In words.
    pub(crate) fn words(&self) -> String {
        let row = if self.row.is_empty() { String::new() } else { format!(", {}", self.row) };
        let fields = self.fields.join(" ");
        if fields.is_empty() { format!("{}{row}", self.table) } else { format!("{}{row}: {fields}", self.table) }
    }

    /// One field further in.
    pub(crate) fn with_field(&self, label: &str) -> Self {
        let label = if self.fields.is_empty() { label.to_lowercase() } else { label.to_owned() };
        let fields = self.fields.iter().cloned().chain(std::iter::once(label.to_lowercase())).collect();
        Self { fields, ..self.clone() }
    }

    /// One row further in: the first is named as a row, others among the fields.
    pub(crate) fn with_row(&self, row: &Node, index: usize) -> Self {
        self.with_row_named(name_of(row), index)
    }

    fn with_row_named(&self, name: Option<String>, index: usize) -> Self {
        let name = name.unwrap_or_else(|| format!("row {}", index.saturating_add(1)));
        if self.row.is_empty() && self.fields.is_empty() {
            Self { row: name, ..self.clone() }
        } else {
            self.with_field(&name)
        }
    }
}

/// What a row is called.
pub(crate) fn name_of(row: &Node) -> Option<String> {
    let keys = ["name", "label", "key", "currency", "when"];
    keys.iter().find_map(|key| row.text(key)).map(str::to_owned)
}

/// A place in words, as far as the document and what it is made of tell: `Timbers, Black walnut: rates 8/4`.
#[must_use]
pub fn in_words(root: &Node, kind: &Kind, place: &Path) -> String {
    let mut steps = place.steps().iter();
    let Some(Step::Key(first)) = steps.next() else { return "The whole book".to_owned() };
    let field = kind.field(first);
    let table = field.map_or_else(|| first.clone(), |field| field.label.clone());
    let mut trail = Trail { table, ..Trail::default() };
    let mut kind = field.map(|field| &field.kind);
    let mut at = Path::whole().key(first);
    for step in steps {
        match step {
            Step::Key(key) => {
                let field = kind.and_then(|kind| kind.field(key));
                trail = trail.with_field(field.map_or(key, |field| &field.label));
                at = at.key(key);
                kind = match (field, kind) {
                    (Some(field), _) => Some(&field.kind),
                    (None, Some(Kind::Map(held))) => Some(held),
                    (None, _) => None,
                };
            }
            Step::Index(index) => {
                at = at.index(*index);
                trail = trail.with_row_named(at.find(root).and_then(name_of), *index);
                kind = kind.and_then(Kind::rows);
            }
        }
    }
    trail.words()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_is_told_by_what_stands_on_the_screen() {
        let (root, kind) =
            (Node::read(crate::DEMO).unwrap(), Kind::of_document(&serde_json::from_str(crate::SCHEMA).unwrap()));
        for (place, words) in [
            ("regions[1].van.miles", "Regions, Wisconsin: van miles"),
            ("timbers[0].rates.8/4", "Timbers, Black walnut: rates 8/4"),
            ("designs[0].roles[0].materials[6]", "Designs, Trestle dining table: roles top materials row 7"),
            ("shop.country", "Shop: country"),
            ("regions[99].name", "Regions, row 100: name"),
            ("nothing[0].of.this", "nothing, row 1: of this"),
            ("", "The whole book"),
        ] {
            assert_eq!(in_words(&root, &kind, &Path::read(place)), words, "{place}");
        }
    }
}
