//! Every rate of a book: what has a number in it, where it stands, and what it is called.

use rust_decimal::{Decimal, RoundingStrategy};
use scantling_pricing::book::document::Node;
use scantling_pricing::book::values::read_digits;

use crate::form::Kind;
use crate::sheet::{Edit, Path};
use crate::trail::Trail;

/// A rate: one number, or the three points of a guess, which move together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rate {
    /// Where it stands: the number, or the table of the three points.
    pub place: Path,
    /// What it is called: `Timbers, Black walnut: rates 8/4`.
    pub name: String,
    /// What it is; of a guess, what it mostly takes.
    pub value: Decimal,
    points: Vec<(Path, Decimal)>,
}

/// Decimals of a rate that is tried.
const DECIMALS: u32 = 6;

/// Tables whose numbers are no rates: what is built, and what was.
const NO_RATES: [&str; 8] = ["designs", "jobs", "requests", "quotes", "offers", "basket", "watched_places", "refused"];

impl Rate {
    /// The edits that make it another value. The points of a guess keep their proportions; where what it mostly takes is nothing, all
    /// three become the value.
    #[must_use]
    pub fn edits(&self, value: Decimal) -> Vec<Edit> {
        let moved = |point: Decimal| {
            let by = point.checked_mul(value).and_then(|product| product.checked_div(self.value));
            by.unwrap_or(value).round_dp_with_strategy(DECIMALS, RoundingStrategy::MidpointAwayFromZero).normalize()
        };
        let edit = |(path, point): &(Path, Decimal)| Edit::set(path.clone(), Node::Text(moved(*point).to_string()));
        self.points.iter().map(edit).collect()
    }

    /// It by another book's places.
    #[must_use]
    pub fn elsewhere(&self, place: Path) -> Self {
        Self { place, ..self.clone() }
    }
}

/// Every rate of a book, in the order of its tables.
#[must_use]
pub fn rates(root: &Node, kind: &Kind) -> Vec<Rate> {
    let mut found = Vec::new();
    let Kind::Table(fields) = kind else { return found };
    for field in fields.iter().filter(|field| !NO_RATES.contains(&field.key.as_str())) {
        if let Some(node) = root.under(&field.key) {
            let place = Path::whole().key(&field.key);
            within((node, &field.kind), &place, &Trail { table: field.label.clone(), ..Trail::default() }, &mut found);
        }
    }
    found
}

fn within((node, kind): (&Node, &Kind), place: &Path, trail: &Trail, found: &mut Vec<Rate>) {
    match (node, kind) {
        (_, Kind::Decimal | Kind::Money) => {
            if let Some(value) = number(node) {
                let points = vec![(place.clone(), value)];
                found.push(Rate { place: place.clone(), name: trail.words(), value, points });
            }
        }
        (Node::Table(entries), Kind::Table(fields)) => {
            if let Some(rate) = guess(node, place, trail) {
                found.push(rate);
                return;
            }
            for (key, value) in entries {
                if let Some(field) = fields.iter().find(|field| field.key == *key) {
                    within((value, &field.kind), &place.key(key), &trail.with_field(&field.label), found);
                }
            }
        }
        (Node::Table(entries), Kind::Map(held)) => {
            for (key, value) in entries {
                within((value, held), &place.key(key), &trail.with_field(key), found);
            }
        }
        (Node::List(items), Kind::List(held)) => {
            for (index, item) in items.iter().enumerate() {
                within((item, held), &place.index(index), &trail.with_row(item, index), found);
            }
        }
        (_, Kind::OneOf(shapes)) => {
            if let Some(shape) = fitting(shapes, node) {
                within((node, shape), place, trail, found);
            }
        }
        _ => {}
    }
}

/// Which of several shapes a value is of: of tables, the one with the keys that are there.
pub(crate) fn fitting<'k>(shapes: &'k [Kind], node: &Node) -> Option<&'k Kind> {
    shapes.iter().find(|shape| match (shape, node) {
        (Kind::Table(fields), Node::Table(entries)) => {
            entries.iter().all(|(key, _)| fields.iter().any(|field| field.key == *key))
        }
        (Kind::Decimal | Kind::Money, Node::Text(_) | Node::Int(_)) => true,
        _ => false,
    })
}

/// The three points of a guess, when that is what a table is.
fn guess(node: &Node, place: &Path, trail: &Trail) -> Option<Rate> {
    let Node::Table(entries) = node else { return None };
    let point = |key: &str| Some((place.key(key), number(node.under(key)?)?));
    let points = vec![point("low")?, point("likely")?, point("high")?];
    let value = points.get(1)?.1;
    (entries.len() == 3).then(|| Rate { place: place.clone(), name: trail.words(), value, points })
}

/// A number as a book holds it: whole, or in quotes.
pub(crate) fn number(node: &Node) -> Option<Decimal> {
    match node {
        Node::Int(number) => Some(Decimal::from(*number)),
        Node::Text(text) => read_digits(text),
        Node::Null | Node::Bool(_) | Node::Float | Node::List(_) | Node::Table(_) => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn demo() -> Vec<Rate> {
        let kind = Kind::of_document(&serde_json::from_str(crate::SCHEMA).unwrap());
        rates(&Node::read(crate::DEMO).unwrap(), &kind)
    }

    fn named(name: &str) -> Rate {
        let all = demo();
        let names: Vec<&str> = all.iter().map(|rate| rate.name.as_str()).collect();
        all.iter().find(|rate| rate.name == name).unwrap_or_else(|| panic!("{name} is not among {names:#?}")).clone()
    }

    #[test]
    fn a_rate_is_found_by_its_name_and_its_place() {
        let walnut = named("Timbers, Black walnut: rates 8/4");
        assert_eq!(
            (walnut.place.to_string().as_str(), walnut.value.to_string().as_str()),
            ("timbers[0].rates.8/4", "15.40")
        );
        assert_eq!(named("Pricing: margin").value.to_string(), "0.15");
        assert_eq!(named("Pricing: shop rate yearly wages").value.to_string(), "52000");
        let all = demo();
        assert!(all.iter().all(|rate| !rate.place.to_string().starts_with("designs")));
        assert!(all.iter().any(|rate| rate.place.to_string().starts_with("operations[")));
    }

    #[test]
    fn the_three_points_of_a_guess_move_together() {
        let yields = named("Timbers, Black walnut: yields");
        assert_eq!(yields.value.to_string(), "0.62");
        let edits: Vec<String> = yields
            .edits(Decimal::new(31, 2))
            .into_iter()
            .map(|edit| match edit {
                Edit::Set(path, Node::Text(text), None) => format!("{path} {text}"),
                other => panic!("{other:?}"),
            })
            .collect();
        let at = |point: &str, value: &str| format!("timbers[0].yields.{point} {value}");
        assert_eq!(edits, [at("low", "0.25"), at("likely", "0.31"), at("high", "0.36")]);
    }
}
