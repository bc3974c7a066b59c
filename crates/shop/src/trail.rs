//! What leads to a place of the book, in the words that stand on the screen.

use scantling_pricing::book::document::Node;

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
        let name = name_of(row).unwrap_or_else(|| format!("row {}", index.saturating_add(1)));
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
