//! The small values books are made of, each checked once as it is read, so that nothing further in need check it again.
//!
//! Bounds are generous for any shop and tight enough that no product of them can overflow a decimal.

use std::fmt;

use rust_decimal::Decimal;
use serde::{Serialize, Serializer};

use super::document::{DocumentError, Node, Why};
use super::fault::why;
use super::read::{Read, reads};

use crate::measure::{Length, Lie, ThicknessClass, read_with_unit};

/// A decimal number with bounds, written in quotes: `"12.50"`. A whole number may stand without them.
macro_rules! bounded {
    ($(#[$doc:meta])* $name:ident, $what:literal, $least:expr, $most:expr) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        pub struct $name(Decimal);

        impl $name {
            /// The value, when it lies within the bounds.
            #[must_use]
            pub fn new(value: Decimal) -> Option<Self> {
                let (least, most): (Decimal, Decimal) = ($least, $most);
                (value >= least && value <= most).then_some(Self(value))
            }

            /// The number.
            #[must_use]
            pub const fn value(self) -> Decimal {
                self.0
            }
        }

        impl Read for $name {
            fn read(node: &Node) -> Result<Self, DocumentError> {
                decimal(node, $what, [$least, $most]).map(Self)
            }
        }

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.collect_str(&self.0.normalize())
            }
        }

        #[cfg(feature = "schema")]
        impl schemars::JsonSchema for $name {
            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($name).into()
            }

            fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
                super::schema::decimal($what, $least, $most)
            }
        }
    };
}

bounded! {
    /// An amount of money in the book's currency: a cost in a shop book, a selling rate in a price book.
    Amount, "an amount of money", Decimal::ZERO, Amount::MOST.0
}
bounded! {
    /// A part of a whole: `"0.15"` is 15 %.
    Share, "a share", Decimal::ZERO, Decimal::ONE
}
bounded! {
    /// A share of a selling price that is kept back (margin, fee); never so much that nothing is left.
    KeptShare, "a share of the price", Decimal::ZERO, Decimal::new(9, 1)
}
bounded! {
    /// What is added on top, as a share: markup, contingency, loss.
    Addition, "a share added on top", Decimal::ZERO, Decimal::from(10)
}
bounded! {
    /// How much of what is bought ends in the piece.
    Yield, "a yield", Decimal::new(5, 2), Decimal::ONE
}
bounded! {
    /// How many times as long or as dear something is.
    Factor, "a factor", Decimal::new(1, 1), Decimal::from(10)
}
bounded! {
    /// What each doubling of the count takes of the time before: `"0.92"`.
    RepeatRate, "a repeat rate", Decimal::new(7, 1), Decimal::ONE
}
bounded! {
    /// Minutes of work.
    Minutes, "minutes", Decimal::ZERO, Decimal::from(100_000)
}
bounded! {
    /// Hours in a year or a week.
    Hours, "hours", Decimal::ONE, Decimal::from(100_000)
}
bounded! {
    /// A quantity that is not money: square feet to the gallon, pounds to the square foot.
    Measured, "a quantity", Decimal::new(1, 4), Decimal::from(1_000_000)
}
bounded! {
    /// A specific gravity.
    Gravity, "a specific gravity", Decimal::new(5, 2), Decimal::from(20)
}
bounded! {
    /// A percentage, of moisture or shrinkage.
    Percent, "a percentage", Decimal::ZERO, Decimal::from(100)
}

impl Amount {
    /// No money.
    pub const ZERO: Self = Self(Decimal::ZERO);
    /// The most an amount may be.
    pub const MOST: Self = Self(Decimal::from_parts(10_000_000, 0, 0, false, 0));
}

/// Reads a decimal within bounds: in quotes, or a whole number without them.
fn decimal(node: &Node, what: &str, [least, most]: [Decimal; 2]) -> Result<Decimal, DocumentError> {
    let value = match node {
        Node::Int(value) => Decimal::from(*value),
        Node::Text(text) => read_digits(text).ok_or_else(|| {
            let part = most <= Decimal::ONE || least.is_zero() && most <= Decimal::TEN;
            let why = if part {
                why!("“{text}” is not {what}; write it as a part of one: 0.20 is 20 %")
            } else {
                why!("“{text}” is not {what}; write digits and at most one point, as \"12.50\"")
            };
            DocumentError::unusable("", why)
        })?,
        Node::Null | Node::Bool(_) | Node::Float | Node::List(_) | Node::Table(_) => {
            return Err(node.wrong(why!("{what} in quotes, as \"12.50\"")));
        }
    };
    if value < least || value > most {
        let why = why!("{value} is out of bounds; write {what} from {least} to {most}");
        return Err(DocumentError::unusable("", why));
    }
    Ok(value)
}

/// A number of at most twenty characters: digits, one point among or around them, a sign before. Nothing when it is none.
///
/// By hand, since the decimal library's own reader takes exponents, underscores and roundings too, and six kilobytes for them.
#[must_use]
pub fn read_digits(text: &str) -> Option<Decimal> {
    let (negative, digits) = match text.strip_prefix('-') {
        Some(digits) => (true, digits),
        None => (false, text),
    };
    let (mut value, mut scale, mut point, mut any) = (0_i128, 0_u32, false, false);
    for byte in digits.bytes() {
        match byte {
            b'0'..=b'9' => {
                value = value.checked_mul(10)?.checked_add(i128::from(byte.checked_sub(b'0')?))?;
                scale = scale.saturating_add(u32::from(point));
                any = true;
            }
            b'.' if !point => point = true,
            _ => return None,
        }
    }
    let value = if negative { value.checked_neg()? } else { value };
    (any && text.len() <= 20).then(|| Decimal::try_from_i128_with_scale(value, scale).ok()).flatten()
}

/// A whole number from 0 to 100 000.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(transparent)]
pub struct Count(u32);

impl Count {
    /// One.
    pub const ONE: Self = Self(1);

    /// The number, when it is at most 100 000.
    #[must_use]
    pub fn new(count: u32) -> Option<Self> {
        (count <= 100_000).then_some(Self(count))
    }

    /// The number.
    #[must_use]
    pub const fn value(self) -> u32 {
        self.0
    }

    /// The number as a decimal.
    #[must_use]
    pub fn decimal(self) -> Decimal {
        Decimal::from(self.0)
    }
}

impl Read for Count {
    fn read(node: &Node) -> Result<Self, DocumentError> {
        let Node::Int(number) = node else { return Err(node.wrong("a whole number, without quotes")) };
        let count = u32::try_from(*number).ok().and_then(Self::new);
        count.ok_or_else(|| {
            DocumentError::unusable("", why!("{number} is out of bounds; write a count from 0 to 100000"))
        })
    }
}

/// Reads a value from text; what is wrong with the text is the value's own error.
macro_rules! read_from_text {
    ($name:ty, $what:literal, $read:expr) => {
        impl Read for $name {
            fn read(node: &Node) -> Result<Self, DocumentError> {
                let Node::Text(text) = node else { return Err(node.wrong($what)) };
                let read: fn(&str) -> Result<$name, Why> = $read;
                read(text).map_err(|why| DocumentError::unusable("", why))
            }
        }
    };
}

/// The name a table refers to something by: small letters, digits and hyphens, at most 40.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(transparent)]
pub struct Key(String);

impl Key {
    /// The key, when the text is one.
    ///
    /// # Errors
    /// What a key is made of.
    pub fn new(text: &str) -> Result<Self, Why> {
        let made_of = |b: u8| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-';
        if text.is_empty() || text.len() > 40 || !text.bytes().all(made_of) {
            return Err(why!("“{text}” is not a key; use 1 to 40 small letters, digits and hyphens, as black-walnut"));
        }
        Ok(Self(text.to_owned()))
    }

    /// The text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Key {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

read_from_text!(Key, "a key, as \"black-walnut\"", Key::new);

/// Words for people: 1 to 2000 characters, no control characters but line ends.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(transparent)]
pub struct Text(String);

impl Text {
    /// The words, when they are some.
    ///
    /// # Errors
    /// What is wrong with them and how to mend it.
    pub fn new(text: &str) -> Result<Self, Why> {
        if text.trim().is_empty() {
            return Err("nothing is written here; write something, or take it out".into());
        }
        if text.chars().count() > 2000 {
            return Err("the words run over 2000 characters; shorten them".into());
        }
        if text.chars().any(|c| c.is_control() && c != '\n') {
            return Err("there is a control character among the words; take it out".into());
        }
        Ok(Self(text.to_owned()))
    }

    /// The text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Text {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

read_from_text!(Text, "words in quotes", Text::new);

/// A colour, as `#6b4a33`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(transparent)]
pub struct Swatch(String);

impl Swatch {
    /// The colour as written.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

read_from_text!(Swatch, "a colour, as \"#6b4a33\"", |text| {
    let digits = text.strip_prefix('#').unwrap_or("");
    let valid = digits.len() == 6 && digits.bytes().all(|b| b.is_ascii_hexdigit());
    if valid {
        Ok(Swatch(text.to_owned()))
    } else {
        Err(why!("“{text}” is not a colour; write # and six hex digits, as #6b4a33"))
    }
});

/// A day, as `2026-11-25`.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(transparent)]
pub struct Day(String);

impl Day {
    /// The day as written.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// The day so many days later, up to the end of the year 2999; nothing beyond.
    #[must_use]
    pub fn after(&self, days: u32) -> Option<Self> {
        let mut parts = self.0.split('-').map(|part| part.parse::<u16>().ok());
        let (mut year, mut month, mut day) = (parts.next()??, parts.next()??, u32::from(parts.next()??));
        day = day.saturating_add(days);
        while day > days_in(year, month).into() {
            day = day.saturating_sub(days_in(year, month).into());
            (year, month) = if month == 12 { (year.saturating_add(1), 1) } else { (year, month.saturating_add(1)) };
            if year > 2999 {
                return None;
            }
        }
        Some(Self(format!("{year:04}-{month:02}-{day:02}")))
    }

    /// Days from the first of 1970 to this one; nothing before.
    #[must_use]
    pub(crate) fn days_since_1970(&self) -> Option<u32> {
        let mut parts = self.0.split('-').map(|part| part.parse::<u16>().ok());
        let (year, month, day) = (parts.next()??, parts.next()??, parts.next()??);
        let months =
            |year: u16, before: u16| (1..before).map(move |month| u32::from(days_in(year, month))).sum::<u32>();
        let years: u32 = (1970..year).map(|year| months(year, 13)).sum();
        (year >= 1970)
            .then(|| years.saturating_add(months(year, month)).saturating_add(u32::from(day)).saturating_sub(1))
    }

    /// Reads a day of the Gregorian calendar, as `2026-11-25`.
    ///
    /// # Errors
    /// What a day looks like.
    pub fn new(text: &str) -> Result<Self, Why> {
        let parts: Vec<Option<u16>> = text.split('-').map(|part| part.parse().ok()).collect();
        let valid = match parts.as_slice() {
            [Some(year @ 1900..=2999), Some(month), Some(day)] => {
                text.len() == 10 && (1..=days_in(*year, *month)).contains(day)
            }
            _ => false,
        };
        if valid {
            Ok(Self(text.to_owned()))
        } else {
            Err(why!("“{text}” is not a day; write year, month and day, as 2026-11-25"))
        }
    }
}

read_from_text!(Day, "a day, as \"2026-11-25\"", Day::new);

/// Days of a month of the Gregorian calendar; none of a month there is not.
fn days_in(year: u16, month: u16) -> u16 {
    let leap = year.is_multiple_of(4) && !year.is_multiple_of(100) || year.is_multiple_of(400);
    match month {
        2 if leap => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        _ => 0,
    }
}

read_from_text!(Length, "a length with its unit, as \"28 1/2 in\"", |text| {
    let length = read_with_unit(text).map_err(|error| why!("{error}"))?;
    length.ok_or_else(|| why!("“{text}” has no unit; write {text} in or {text} mm"))
});

impl Serialize for Length {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

read_from_text!(ThicknessClass, "a thickness class, as \"8/4\"", |text| ThicknessClass::read(text)
    .map_err(|error| why!("{error}")));

impl Serialize for ThicknessClass {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

read_from_text!(Lie, "three letters, as \"xyz\"", |text| {
    Lie::read(text).ok_or_else(|| {
        why!("“{text}” does not say how a part lies; write x, y and z once each, where its length, width and thickness run")
    })
});

impl Serialize for Lie {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.letters())
    }
}

/// What the values read from text look like.
#[cfg(feature = "schema")]
mod described {
    use super::{Count, Day, Key, Length, Lie, Swatch, Text, ThicknessClass};
    use crate::book::schema::describes_text;
    use crate::measure::STANDARD_CLASSES;

    describes_text!(Count, { "type": "integer", "minimum": 0, "maximum": 100_000 });
    describes_text!(Key, { "type": "string", "pattern": "^[a-z0-9-]{1,40}$" });
    describes_text!(Text, { "type": "string", "minLength": 1, "maxLength": 2000 });
    describes_text!(Swatch, { "type": "string", "pattern": "^#[0-9A-Fa-f]{6}$" });
    describes_text!(Day, { "type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$" });
    describes_text!(Length, { "type": "string", "description": "a length with its unit, as 28 1/2 in or 724 mm" });
    describes_text!(ThicknessClass, { "enum": STANDARD_CLASSES.map(|class| class.to_string()) });
    describes_text!(Lie, { "enum": ["xyz", "xzy", "yxz", "yzx", "zxy", "zyx"] });
}

/// A guess in three points: low, likely, high.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct ThreePoint<T> {
    /// The least it comes to: minutes when all goes well, a yield when much is lost.
    pub low: T,
    /// What it mostly comes to.
    pub likely: T,
    /// The most it comes to: minutes when it goes badly, a yield when little is lost.
    pub high: T,
}

reads!(ThreePoint<T> { low, likely, high });

impl<T> ThreePoint<T> {
    /// The same guess in another unit.
    pub fn map<U>(&self, change: impl Fn(&T) -> U) -> ThreePoint<U> {
        ThreePoint { low: change(&self.low), likely: change(&self.likely), high: change(&self.high) }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use rust_decimal::Decimal;

    use super::read_digits;

    proptest! {
        /// Held against the decimal library's own reader, on the texts both are for.
        #[test]
        fn digits_read_as_the_library_reads_them(text in "-?[0-9.-]{0,12}") {
            prop_assert_eq!(read_digits(&text), Decimal::from_str_exact(&text).ok(), "{}", text);
        }
    }

    #[test]
    fn what_only_the_library_reads_is_no_number_here() {
        for text in ["1_000", "1e3", "+1", "", ".", "-", "123456789012345678901"] {
            assert_eq!(read_digits(text), None, "{text}");
        }
        assert_eq!(read_digits("12.50").map(|read| read.to_string()).as_deref(), Some("12.50"));
    }
}
