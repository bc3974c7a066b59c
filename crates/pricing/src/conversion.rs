//! What a price comes to in another currency: a guide with its day, never what is owed.

use rust_decimal::Decimal;
use serde::Serialize;

use crate::book::record::PublicRate;
use crate::book::values::{Day, Text};
use crate::bounded::Bounded;
use crate::estimate::PriceRange;
use crate::money::{Currency, Money};

/// A price in another currency, at the rate of a day.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Conversion {
    /// ISO 4217 code of the other currency.
    pub currency: Currency,
    /// Units of it for one of the book's currency, with what the maker keeps against movement.
    pub rate: Decimal,
    /// The day the rate is of.
    pub day: Day,
    /// The price, in coins that are paid there.
    pub price: PriceRange,
    /// The least coin that is paid there; nothing where it is the minor unit.
    #[serde(skip)]
    coin: Decimal,
}

impl Conversion {
    /// What an amount of the book's currency comes to at the same rate, in coins that are paid there.
    #[must_use]
    pub fn of(&self, amount: Money) -> Money {
        converted(amount, self.rate, self.coin, self.currency)
    }
}

fn converted(amount: Money, rate: Decimal, coin: Decimal, currency: Currency) -> Money {
    Money::to_nearest(amount.amount().times(rate), coin, currency)
}

/// What a price comes to in a country by the table of rates; nothing where it has none.
#[must_use]
pub fn conversion(rates: &[PublicRate], code: &Text, country: &str, price: PriceRange) -> Option<Conversion> {
    let rate = rates.iter().find(|rate| rate.currency == *code)?;
    let currency = Currency::from_code(code.as_str())?;
    let (factor, coin) = (rate.rate.value(), currency.cash_step(country));
    let converted = |amount: Money| converted(amount, factor, coin, currency);
    let price = PriceRange { low: converted(price.low), likely: converted(price.likely), high: converted(price.high) };
    Some(Conversion { currency, rate: factor.normalize(), day: rate.day.clone(), price, coin })
}
