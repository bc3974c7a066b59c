//! What the maker writes down: currency rates with their day, and jobs with what they really took. Never public, but for a rate with its day.

use crate::map::Map;
use serde::Serialize;

use super::read::reads;
use crate::brief::Brief;

use super::values::{Addition, Amount, Count, Day, Key, Measured, Text};

/// What one unit of the book's currency was worth in another, on a day.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CurrencyRate {
    /// ISO 4217 code of the other currency.
    pub currency: Text,
    /// Units of it for one of the book's currency.
    pub rate: Measured,
    /// The day the rate is of.
    pub day: Day,
    /// Where it was read.
    pub source: Text,
    /// Kept against movement until the money arrives.
    pub spread: Addition,
}

reads!(CurrencyRate { currency, rate, day, source, spread });

/// What one unit of the book's currency comes to in another, as a buyer is told it: with what is kept against movement.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PublicRate {
    /// ISO 4217 code of the other currency.
    pub currency: Text,
    /// Units of it for one of the book's currency.
    pub rate: Measured,
    /// The day the rate is of.
    pub day: Day,
}

reads!(PublicRate { currency, rate, day });

/// A job and what it really took.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Job {
    /// The maker's own number for it.
    pub key: Key,
    /// The design built.
    pub design: Key,
    /// The day it was finished.
    pub finished: Day,
    /// How many pieces.
    pub quantity: Count,
    /// What was built: with it, stages and timbers can be held against the book.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub brief: Option<Brief>,
    /// What was estimated, ex works.
    pub estimated: Amount,
    /// What was paid, ex works.
    pub paid: Amount,
    /// Hours that were estimated.
    pub hours_estimated: Measured,
    /// Hours really worked, by stage: its words in small letters with hyphens, as `shaping-and-sanding`.
    pub hours: Map<Key, Measured>,
    /// Board feet really bought, by timber.
    #[serde(skip_serializing_if = "Map::is_empty")]
    pub bought: Map<Key, Measured>,
    /// What materials really cost.
    pub materials: Amount,
    /// What carriage really cost.
    pub carriage: Amount,
    /// The maker's own note.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<Text>,
}

reads!(Job {
    key,
    design,
    finished,
    quantity,
    brief,
    estimated,
    paid,
    hours_estimated,
    hours,
    bought,
    materials,
    carriage,
    note
});
