//! What of a shop book becomes public, and what does not: read off the price book itself, field by field, so that no list can forget one.

use scantling_pricing::book::document::Node;

use crate::form::{Kind, label};

/// What only the price book has, made of what the shop book keeps to itself.
const MADE: [(&str, &str); 4] = [
    ("bench", "weeks already sold, and whole weeks that a design takes"),
    ("past_jobs", "by how many percent the hours of all jobs together ran over and apart"),
    ("per_order", "what every order carries of the shop's own costs, as it is sold"),
    ("scantling_price_book", "that it is a price book, and of which version"),
];

/// What says what the book is: no figure of the maker's.
const MARK: &str = "scantling_book";

/// A line for each part of the price book that there is: its name, how many rows it has, and every field that stands in any of them.
#[must_use]
pub fn public(price_book: &Node, kind: &Kind) -> Vec<String> {
    Shape::of(&[price_book], Some(kind)).fields.iter().map(Field::line).collect()
}

/// A line for each part of the shop book of which something is in no price book, with the fields that are not.
#[must_use]
pub fn private(shop_book: &Node, price_book: &Node, kind: &Kind) -> Vec<String> {
    let all = Shape::of(&[shop_book], Some(kind));
    let kept_back = all.without(&Shape::of(&[price_book], Some(kind)));
    kept_back.fields.iter().filter(|field| field.key != MARK).map(Field::line).collect()
}

/// The fields that stand in a table, or in any row of a list.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
struct Shape {
    /// How many rows it has, where it is a list of tables.
    rows: Option<usize>,
    fields: Vec<Field>,
}

#[derive(Debug, Clone, PartialEq, Eq)]
struct Field {
    key: String,
    label: String,
    inside: Shape,
}

impl Shape {
    /// The shape of values that stand in the same place of different rows.
    fn of(values: &[&Node], kind: Option<&Kind>) -> Self {
        let rows = values.iter().any(|value| matches!(value, Node::List(items) if items.iter().any(is_table)));
        let kind = kind.map(|kind| kind.rows().unwrap_or(kind));
        let tables: Vec<&[(String, Node)]> = values.iter().flat_map(|value| tables(value)).collect();
        if let Some(Kind::Map(held)) = kind {
            // Its keys are the maker's own, such as thicknesses: what stands under each is of one shape.
            let held_in: Vec<&Node> = tables.iter().copied().flatten().map(|(_, value)| value).collect();
            return Self { rows: None, fields: Self::of(&held_in, Some(held)).fields };
        }
        let mut fields: Vec<Field> = Vec::new();
        for (key, _) in tables.iter().copied().flatten().filter(|(_, value)| !matches!(value, Node::Null)) {
            if fields.iter().all(|field| field.key != *key) {
                let held = tables.iter().copied().flatten().filter(|(known, _)| known == key).map(|(_, value)| value);
                let held: Vec<&Node> = held.collect();
                let known = kind.and_then(|kind| field_of(kind, key));
                let name = known.map_or_else(|| label(key), |field| field.label.clone());
                fields.push(Field {
                    key: key.clone(),
                    label: name,
                    inside: Self::of(&held, known.map(|field| &field.kind)),
                });
            }
        }
        Self { rows: rows.then_some(tables.len()), fields }
    }

    /// The fields that another shape lacks.
    fn without(&self, other: &Self) -> Self {
        let lacking = |field: &Field| match other.fields.iter().find(|known| known.key == field.key) {
            None => Some(field.clone()),
            Some(known) => {
                let inside = field.inside.without(&known.inside);
                (!inside.fields.is_empty()).then(|| Field { inside, ..field.clone() })
            }
        };
        Self { rows: self.rows, fields: self.fields.iter().filter_map(lacking).collect() }
    }

    /// The fields by their names, with what stands within each.
    fn words(&self) -> String {
        let named = |field: &Field| {
            let name = field.label.to_lowercase();
            let inside = field.inside.words();
            if inside.is_empty() { name } else { format!("{name} ({inside})") }
        };
        self.fields.iter().map(named).collect::<Vec<_>>().join(", ")
    }
}

impl Field {
    fn line(&self) -> String {
        if let Some((_, words)) = MADE.iter().find(|(key, _)| *key == self.key) {
            return format!("{}: {words}", self.label);
        }
        let rows = match self.inside.rows {
            Some(1) => ", 1 row".to_owned(),
            Some(rows) => format!(", {rows} rows"),
            None => String::new(),
        };
        let words = self.inside.words();
        if words.is_empty() { format!("{}{rows}", self.label) } else { format!("{}{rows}: {words}", self.label) }
    }
}

/// The field of a table that may have one of several shapes.
fn field_of<'k>(kind: &'k Kind, key: &str) -> Option<&'k crate::form::Field> {
    match kind {
        Kind::OneOf(shapes) => shapes.iter().find_map(|shape| field_of(shape, key)),
        kind => kind.field(key),
    }
}

const fn is_table(node: &Node) -> bool {
    matches!(node, Node::Table(_))
}

/// A table itself, or those of a list.
fn tables(node: &Node) -> Vec<&[(String, Node)]> {
    match node {
        Node::Table(entries) => vec![entries.as_slice()],
        Node::List(items) => items.iter().flat_map(tables).collect(),
        Node::Null | Node::Bool(_) | Node::Int(_) | Node::Float | Node::Text(_) => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use scantling_pricing::book::ShopBook;
    use scantling_pricing::publish::{Basis, fold};

    fn demo() -> (Node, Node, Kind) {
        let folded = fold(&ShopBook::read(crate::DEMO).unwrap(), Basis::Selling).unwrap();
        let price_book = Node::read(&serde_json::to_string(&folded).unwrap()).unwrap();
        (Node::read(crate::DEMO).unwrap(), price_book, Kind::of_document(&serde_json::from_str(crate::SCHEMA).unwrap()))
    }

    /// The keys of the fields of a document, each once, but for those of the maker's own.
    fn keys(node: &Node, kind: Option<&Kind>, found: &mut Vec<String>) {
        match node {
            Node::Table(entries) => {
                for (key, value) in entries {
                    let own = matches!(kind, Some(Kind::Map(_)));
                    if !own {
                        found.push(label(key).to_lowercase());
                    }
                    let inside = match kind {
                        Some(Kind::Map(held)) => Some(held.as_ref()),
                        Some(kind) => field_of(kind, key).map(|field| &field.kind),
                        None => None,
                    };
                    keys(value, inside, found);
                }
            }
            Node::List(items) => items.iter().for_each(|item| keys(item, kind.and_then(Kind::rows), found)),
            _ => {}
        }
    }

    #[test]
    fn every_field_of_the_price_book_is_in_the_list_of_its_part() {
        let (_, price_book, kind) = demo();
        let lines = public(&price_book, &kind);
        let Node::Table(parts) = &price_book else { panic!("a book is a table") };
        assert_eq!(lines.len(), parts.len());
        for ((part, value), line) in parts.iter().zip(&lines) {
            assert!(line.starts_with(&label(part)), "{part}: {line}");
            if MADE.iter().any(|(made, _)| made == part) {
                continue;
            }
            let mut all = Vec::new();
            keys(value, kind.field(part).map(|field| &field.kind), &mut all);
            let words: Vec<&str> = line.split([':', ',', '(', ')']).map(str::trim).collect();
            for key in all {
                assert!(words.contains(&key.as_str()), "{part}: {key} is not in: {line}");
            }
        }
        assert!(lines.contains(&"Hardware, 5 rows: key, name, price, weight".to_owned()), "{lines:#?}");
        assert!(lines.contains(&"Currencies, 3 rows: currency, rate, day".to_owned()), "{lines:#?}");
    }

    #[test]
    fn what_a_maker_keeps_to_themselves_is_in_the_other_list_and_in_no_line_of_the_first() {
        let (shop_book, price_book, kind) = demo();
        let (out, kept_back) = (public(&price_book, &kind), private(&shop_book, &price_book, &kind));
        for words in ["Currencies, 3 rows: source, spread", "Shop: quote terms", "Workload"] {
            assert!(kept_back.iter().any(|line| line.starts_with(words)), "{words}: {kept_back:#?}");
        }
        for secret in ["margin", "overhead", "wage", "markup", "contingency"] {
            assert!(out.iter().all(|line| !line.to_lowercase().contains(secret)), "{secret}: {out:#?}");
        }
        let pricing = kept_back.iter().find(|line| line.starts_with("Pricing: ")).unwrap();
        assert!(
            ["margin", "material markup", "contingency", "fee share"].iter().all(|word| pricing.contains(word)),
            "{pricing}"
        );
        assert!(
            kept_back.iter().any(|line| line.starts_with("Jobs, 4 rows: ") && line.contains("hours")),
            "{kept_back:#?}"
        );
    }

    #[test]
    fn a_key_that_nobody_has_thought_of_is_listed_too() {
        let (_, price_book, kind) = demo();
        let Node::Table(mut parts) = price_book else { panic!("a book is a table") };
        parts
            .push(("kiln_rates".to_owned(), Node::List(vec![Node::Table(vec![("per_day".to_owned(), Node::Int(1))])])));
        let lines = public(&Node::Table(parts), &kind);
        assert_eq!(lines.last().map(String::as_str), Some("Kiln rates, 1 row: per day"));
    }
}
