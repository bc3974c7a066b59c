//! What work goes by in the hours of a job: a stage or an operation, its words in small letters with hyphens between.
//!
//! A maker may write down a whole stage, or each operation of it; both count for the stage.

use rust_decimal::Decimal;

use crate::book::ShopBook;
use crate::book::values::{Key, Measured, Text};
use crate::map::Map;

/// What the shop's own work at packing and on the way goes by: no operation of the book drives it.
pub const ON_THE_WAY: &str = "Packing and carriage";

/// The longest a key may be.
const LONGEST: usize = 40;

/// An operation, and what it goes by.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Named {
    /// Its key.
    pub key: Key,
    /// Its name.
    pub name: Text,
    /// Its stage.
    pub stage: Text,
    /// The key of its stage.
    pub stage_key: Key,
}

/// What the work of a shop goes by.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct WorkNames(Vec<Named>);

/// The key some words go by: small letters, hyphens between, as long as a key may be. Nothing for words without a letter or a digit.
#[must_use]
pub fn key_of(words: &str) -> Option<Key> {
    let small = words.to_lowercase();
    let parts = small.split(|c: char| !c.is_ascii_alphanumeric()).filter(|part| !part.is_empty());
    let joined = parts.collect::<Vec<_>>().join("-");
    let cut: String = joined.chars().take(LONGEST).collect();
    Key::new(cut.trim_end_matches('-')).ok()
}

impl WorkNames {
    /// The operations of a shop, in the order of its book. One that would go by the name of another stage, or of an operation before it,
    /// goes by its stage and its name.
    #[must_use]
    pub fn new(shop: &ShopBook) -> Self {
        let stages: Vec<Key> = shop.operations.iter().filter_map(|one| key_of(one.stage.as_str())).collect();
        let mut named: Vec<Named> = Vec::new();
        for operation in &shop.operations {
            let (Some(own), Some(stage)) = (key_of(operation.name.as_str()), key_of(operation.stage.as_str())) else {
                continue;
            };
            let taken = named.iter().any(|other| other.key == own) || (own != stage && stages.contains(&own));
            let long = taken.then(|| key_of(&format!("{stage} {own}"))).flatten();
            named.push(Named {
                key: long.unwrap_or(own),
                name: operation.name.clone(),
                stage: operation.stage.clone(),
                stage_key: stage,
            });
        }
        Self(named)
    }

    /// Every operation, in the order of the book.
    pub fn iter(&self) -> impl Iterator<Item = &Named> {
        self.0.iter()
    }

    /// Every stage with its key, in the order the book first names them.
    #[must_use]
    pub fn stages(&self) -> Vec<(&Key, &Text)> {
        let mut stages: Vec<(&Key, &Text)> = Vec::new();
        for named in &self.0 {
            if !stages.iter().any(|(key, _)| **key == named.stage_key) {
                stages.push((&named.stage_key, &named.stage));
            }
        }
        stages
    }

    /// The stage that work written under a key counts for.
    #[must_use]
    pub fn stage_of(&self, key: &Key) -> Option<&Key> {
        let stage = self.0.iter().find(|named| named.stage_key == *key).map(|named| &named.stage_key);
        stage.or_else(|| self.0.iter().find(|named| named.key == *key).map(|named| &named.stage_key))
    }

    /// What a key stands for, in the words of the book; the key itself where the book knows it no longer.
    #[must_use]
    pub fn words<'k>(&'k self, key: &'k Key) -> &'k str {
        let stage = self.0.iter().find(|named| named.stage_key == *key).map(|named| named.stage.as_str());
        let own = || self.0.iter().find(|named| named.key == *key).map(|named| named.name.as_str());
        let way = || (key_of(ON_THE_WAY).as_ref() == Some(key)).then_some(ON_THE_WAY);
        stage.or_else(own).or_else(way).unwrap_or_else(|| key.as_str())
    }
}

/// Hours that count for a stage.
#[must_use]
pub fn worked_at(hours: &Map<Key, Measured>, names: &WorkNames, stage: &Text) -> Decimal {
    let Some(wanted) = key_of(stage.as_str()) else { return Decimal::ZERO };
    let counts = |key: &Key| names.stage_of(key) == Some(&wanted);
    hours.iter().filter(|(key, _)| counts(key)).map(|(_, hours)| hours.value()).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn names(operations: &[(&str, &str)]) -> WorkNames {
        let mut book: serde_json::Value =
            serde_json::from_str(include_str!("../../../shared/books/demo-shop.json")).unwrap();
        let like = book["operations"][0].clone();
        let rows = operations.iter().map(|(stage, name)| {
            let mut row = like.clone();
            row["stage"] = json!(stage);
            row["name"] = json!(name);
            row
        });
        let rows: Vec<_> = rows.collect();
        book["operations"].as_array_mut().unwrap().extend(rows);
        WorkNames::new(&ShopBook::read(&book.to_string()).unwrap())
    }

    #[test]
    fn an_operation_goes_by_its_words_and_by_its_stage_too_where_they_are_taken() {
        let names = names(&[("Shaping and sanding", "Milling"), ("Finishing", "Rub out"), ("Assembly", "Rub out")]);
        let keys: Vec<(&str, &str)> =
            names.iter().map(|named| (named.key.as_str(), named.stage_key.as_str())).collect();
        assert!(keys.contains(&("select-and-mark-out", "milling")), "{keys:?}");
        assert_eq!(
            keys[20..],
            [
                ("shaping-and-sanding-milling", "shaping-and-sanding"),
                ("rub-out", "finishing"),
                ("assembly-rub-out", "assembly"),
            ]
        );
        let of = |key: &str| names.stage_of(&Key::new(key).unwrap()).map(Key::as_str);
        assert_eq!((of("milling"), of("rub-out"), of("not-here")), (Some("milling"), Some("finishing"), None));
    }

    #[test]
    fn a_stage_and_its_operations_are_added_up() {
        let hour = |text: &str| Measured::new(text.parse().unwrap()).unwrap();
        let key = |text: &str| Key::new(text).unwrap();
        let hours = Map::from([
            (key("milling"), hour("2")),
            (key("break-down"), hour("0.75")),
            (key("mortise-and-tenon"), hour("3")),
        ]);
        let names = names(&[]);
        let at = |stage: &str| worked_at(&hours, &names, &Text::new(stage).unwrap()).to_string();
        assert_eq!((at("Milling"), at("Joinery"), at("Assembly")), ("2.75".into(), "3".into(), "0".into()));
    }
}
