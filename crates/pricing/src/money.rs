//! Money, and every rounding there is. Nothing outside this file rounds an amount.

use std::fmt;
use std::ops::{Add, Sub};

use crate::bounded::Bounded;
use rust_decimal::prelude::ToPrimitive;
use rust_decimal::{Decimal, RoundingStrategy};
use serde::{Serialize, Serializer};

/// A currency by its ISO 4217 code, with the digits of its minor unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Currency {
    code: &'static str,
    minor_digits: u32,
}

/// ISO 4217 codes with minor units. Source: ISO 4217 table A.1, as listed in
/// `shared/reference/delivery/insurance_tax_currency.md` section 6; UYU alone is from memory.
const CURRENCIES: [(&str, u32); 40] = [
    ("AED", 2),
    ("AUD", 2),
    ("BHD", 3),
    ("BRL", 2),
    ("CAD", 2),
    ("CHF", 2),
    ("CLP", 0),
    ("CNY", 2),
    ("COP", 2),
    ("CZK", 2),
    ("DKK", 2),
    ("EUR", 2),
    ("GBP", 2),
    ("HKD", 2),
    ("HUF", 2),
    ("IDR", 2),
    ("ILS", 2),
    ("INR", 2),
    ("ISK", 0),
    ("JOD", 3),
    ("JPY", 0),
    ("KRW", 0),
    ("KWD", 3),
    ("MXN", 2),
    ("NOK", 2),
    ("NZD", 2),
    ("OMR", 3),
    ("PLN", 2),
    ("RON", 2),
    ("SAR", 2),
    ("SEK", 2),
    ("SGD", 2),
    ("THB", 2),
    ("TND", 3),
    ("TRY", 2),
    ("TWD", 2),
    ("USD", 2),
    ("UYU", 2),
    ("VND", 0),
    ("ZAR", 2),
];

impl Currency {
    /// United States dollars.
    pub const USD: Self = Self { code: "USD", minor_digits: 2 };

    /// The currency with this ISO 4217 code; nothing for a code not in the table.
    #[must_use]
    pub fn from_code(code: &str) -> Option<Self> {
        CURRENCIES.iter().find(|(known, _)| *known == code).map(|&(code, minor_digits)| Self { code, minor_digits })
    }

    /// The ISO 4217 code, as `USD`.
    #[must_use]
    pub const fn code(self) -> &'static str {
        self.code
    }

    /// The least that is paid in cash in a country, by its ISO 3166-1 code, where coins have gone: 5 Rappen, 10 New Zealand cents, 5 euro
    /// cents in some of the countries that share the euro. Nothing where the minor unit is a coin.
    ///
    /// Source: `shared/reference/delivery/insurance_tax_currency.md` section 6: CHF, CAD, SEK, NOK and DKK read, the rest from memory.
    #[must_use]
    pub fn cash_step(self, country: &str) -> Decimal {
        match self.code {
            "CHF" | "CAD" | "AUD" => Decimal::new(5, 2),
            "EUR" if matches!(country, "BE" | "EE" | "FI" | "IE" | "IT" | "LT" | "NL" | "SK") => Decimal::new(5, 2),
            "NZD" | "ILS" => Decimal::new(1, 1),
            "DKK" => Decimal::new(5, 1),
            "SEK" | "NOK" | "CZK" => Decimal::ONE,
            "HUF" => Decimal::from(5),
            _ => Decimal::ZERO,
        }
    }

    /// Digits of the minor unit: 2 for dollars, 0 for yen.
    #[must_use]
    pub const fn minor_digits(self) -> u32 {
        self.minor_digits
    }
}

impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code)
    }
}

/// An amount of money in whole minor units of its currency: what is shown and what adds up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Money {
    amount: Decimal,
    currency: Currency,
}

impl Money {
    /// Nothing, in this currency.
    #[must_use]
    pub const fn zero(currency: Currency) -> Self {
        Self { amount: Decimal::ZERO, currency }
    }

    /// An unrounded amount to the nearest minor unit, halves away from zero. A line of an estimate is rounded here, once.
    #[must_use]
    pub fn rounded(amount: Decimal, currency: Currency) -> Self {
        Self { amount: padded(half_up(amount, currency.minor_digits), currency), currency }
    }

    /// An amount up to the next multiple of `step`: the price a buyer is shown. A step of nothing leaves minor units.
    #[must_use]
    pub fn up_to_step(amount: Decimal, step: Decimal, currency: Currency) -> Self {
        Self::to_step(amount, step, currency, RoundingStrategy::ToPositiveInfinity)
    }

    /// An amount down to a multiple of `step`: the low end of a range, which is rounded outwards.
    #[must_use]
    pub fn down_to_step(amount: Decimal, step: Decimal, currency: Currency) -> Self {
        Self::to_step(amount, step, currency, RoundingStrategy::ToNegativeInfinity)
    }

    /// An amount to the nearest multiple of `step`, halves away from zero: what is paid in cash. A step of nothing leaves minor units.
    #[must_use]
    pub fn to_nearest(amount: Decimal, step: Decimal, currency: Currency) -> Self {
        Self::to_step(amount, step, currency, RoundingStrategy::MidpointAwayFromZero)
    }

    fn to_step(amount: Decimal, step: Decimal, currency: Currency, strategy: RoundingStrategy) -> Self {
        let step = if step.is_zero() { Decimal::new(1, currency.minor_digits) } else { step };
        let steps = amount.over(step).unwrap_or(Decimal::ZERO).round_dp_with_strategy(0, strategy);
        Self { amount: padded(steps.times(step), currency), currency }
    }

    /// The number, with exactly as many decimals as the currency has.
    #[must_use]
    pub const fn amount(self) -> Decimal {
        self.amount
    }

    /// The currency.
    #[must_use]
    pub const fn currency(self) -> Currency {
        self.currency
    }
}

/// Written as the number alone, in quotes: a document names its currency once.
impl Serialize for Money {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(&self.amount)
    }
}

impl Serialize for Currency {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.code)
    }
}

#[cfg(feature = "schema")]
mod described {
    use super::{Currency, Money};
    use crate::book::schema::describes_text;

    describes_text!(Money, { "type": "string", "pattern": "^-?[0-9]+([.][0-9]+)?$" });
    describes_text!(Currency, { "type": "string", "pattern": "^[A-Z]{3}$" });
}

/// `1240.00 USD`: for people who read a terminal and for programs; a page formats by the reader's own habits.
impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.amount, self.currency)
    }
}

/// Adds amounts of one estimate, which has one currency.
impl Add for Money {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        debug_assert_eq!(self.currency, other.currency, "one estimate has one currency");
        Self { amount: padded(self.amount.plus(other.amount), self.currency), currency: self.currency }
    }
}

/// Takes one amount of an estimate from another.
impl Sub for Money {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        debug_assert_eq!(self.currency, other.currency, "one estimate has one currency");
        Self { amount: padded(self.amount.less(other.amount), self.currency), currency: self.currency }
    }
}

/// The sum of amounts of one currency.
#[must_use]
pub fn total(currency: Currency, amounts: impl Iterator<Item = Money>) -> Money {
    amounts.fold(Money::zero(currency), Add::add)
}

/// The amount with as many decimals as the currency writes, so that equal amounts print alike.
fn padded(amount: Decimal, currency: Currency) -> Decimal {
    let mut amount = amount;
    amount.rescale(currency.minor_digits);
    amount
}

/// To so many decimals, halves away from zero (ISO 80000-1 rule B): the customary rounding of money.
pub(crate) fn half_up(value: Decimal, decimals: u32) -> Decimal {
    value.round_dp_with_strategy(decimals, RoundingStrategy::MidpointAwayFromZero)
}

/// Up to so many decimals: for what must rather be too wide than too narrow.
pub(crate) fn up(value: Decimal, decimals: u32) -> Decimal {
    value.round_dp_with_strategy(decimals, RoundingStrategy::ToPositiveInfinity)
}

/// To the nearest whole number, an exact half to the even one; zero for what is below.
pub(crate) fn half_even_whole(value: Decimal) -> u32 {
    value.round_dp_with_strategy(0, RoundingStrategy::MidpointNearestEven).to_u32().unwrap_or(0)
}

/// Millimetres up to the next whole nanometre, as a length.
pub(crate) fn length_up(millimetres: Decimal) -> crate::measure::Length {
    let nanometres = millimetres.times(Decimal::from(1_000_000));
    let whole = nanometres.round_dp_with_strategy(0, RoundingStrategy::ToPositiveInfinity);
    crate::measure::Length::from_nanometres(whole.to_i64().unwrap_or(i64::MAX))
}

/// Up to the next multiple of `step`, leaving alone what quotients have put less than a billionth above one.
pub(crate) fn multiple_up(value: Decimal, step: Decimal) -> Decimal {
    let steps = half_up(value.over(step).unwrap_or(Decimal::ZERO), 9);
    steps.round_dp_with_strategy(0, RoundingStrategy::ToPositiveInfinity).times(step)
}

/// Up to the next whole number; zero for what is below, the most there is for what is above.
pub(crate) fn whole_up(value: Decimal) -> u32 {
    // What quotients have put less than a billionth above a whole number is that number.
    let whole = half_up(value, 9).round_dp_with_strategy(0, RoundingStrategy::ToPositiveInfinity);
    whole.to_u32().unwrap_or(if whole.is_sign_negative() { 0 } else { u32::MAX })
}

/// A part of a whole in whole percents, rounded down, from 0 to 100.
#[must_use]
pub fn whole_percent(part: Decimal, whole: Decimal) -> Decimal {
    let share = part.over(whole).unwrap_or_default().times(Decimal::ONE_HUNDRED);
    share.trunc().clamp(Decimal::ZERO, Decimal::ONE_HUNDRED)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn usd() -> Currency {
        Currency::from_code("USD").unwrap()
    }

    fn cents(text: &str) -> String {
        Money::rounded(text.parse().unwrap(), usd()).to_string()
    }

    #[test]
    fn halves_go_away_from_zero() {
        // shared/reference/delivery/insurance_tax_currency.md section 6: 2.345 -> 2.35, -2.345 -> -2.35, 0.005 -> 0.01.
        assert_eq!(cents("2.345"), "2.35 USD");
        assert_eq!(cents("-2.345"), "-2.35 USD");
        assert_eq!(cents("0.005"), "0.01 USD");
        assert_eq!(cents("3"), "3.00 USD");
    }

    #[test]
    fn minor_units_follow_the_currency() {
        let yen = Currency::from_code("JPY").unwrap();
        let dinar = Currency::from_code("KWD").unwrap();
        assert_eq!(Money::rounded(Decimal::new(123_456, 2), yen).to_string(), "1235 JPY");
        assert_eq!(Money::rounded(Decimal::new(123_456, 2), dinar).to_string(), "1234.560 KWD");
        // ISO 4217 gives XXX to what has no currency.
        assert_eq!(Currency::from_code("XXX"), None);
    }

    #[test]
    fn steps_round_outwards_and_leave_a_whole_step_alone() {
        let five = Decimal::from(5);
        let up = |text: &str| Money::up_to_step(text.parse().unwrap(), five, usd()).to_string();
        let down = |text: &str| Money::down_to_step(text.parse().unwrap(), five, usd()).to_string();
        assert_eq!(
            (up("1240.01"), up("1240"), up("0")),
            ("1245.00 USD".into(), "1240.00 USD".into(), "0.00 USD".into())
        );
        assert_eq!((down("1244.99"), down("1240")), ("1240.00 USD".into(), "1240.00 USD".into()));
        assert_eq!(Money::up_to_step("1.001".parse().unwrap(), Decimal::ZERO, usd()).to_string(), "1.01 USD");
    }
}
