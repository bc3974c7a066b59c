//! What the maker writes down of the market: currency rates with their day. Never public, but for a rate with its day.

use serde::Serialize;

use super::read::reads;
use super::values::{Addition, Day, Measured, Text};

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
