//! Reading a length the way people write one: `72 1/2 in`, `6' 2-1/2"`, `6 ft 2½`, `184cm`, `1,84 m`.
//!
//! What can't be read says what was read and what is accepted; nothing is guessed or clamped.

use std::borrow::Cow;
use std::fmt;

use super::length::{LONGEST_NM, Length, LengthUnit, NM_PER_INCH, NM_PER_MM};

/// Which mark a reader's language puts before decimals.
///
/// The other mark is taken as a thousands mark only where exactly three digits follow it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DecimalMark {
    /// `1.5`
    Point,
    /// `1,5`
    Comma,
}

impl DecimalMark {
    /// The sign itself.
    #[must_use]
    pub const fn sign(self) -> char {
        match self {
            Self::Point => '.',
            Self::Comma => ',',
        }
    }
}

/// Why a text is not a length.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LengthError {
    /// Nothing was written.
    Empty,
    /// A word that is no unit of length.
    UnknownUnit(String),
    /// A character that has no place in a length.
    Unexpected(String),
    /// A fraction that divides by nothing, or a number with too many digits.
    BadNumber(String),
    /// Units in an order no one writes, such as `3 in 2 ft`.
    UnitOrder(String),
    /// Longer than 100 m.
    TooLong(String),
}

impl fmt::Display for LengthError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        const WAYS: &str = "write it as 72 1/2 in, 6' 2\", 184 cm or 1840 mm";
        match self {
            Self::Empty => write!(f, "no length is given; {WAYS}"),
            Self::UnknownUnit(word) => write!(f, "“{word}” is not a unit of length; use in, ft, mm, cm or m"),
            Self::Unexpected(text) => write!(f, "“{text}” does not read as a length; {WAYS}"),
            Self::BadNumber(text) => write!(f, "“{text}” is not a number a length can have; {WAYS}"),
            Self::UnitOrder(text) => {
                write!(f, "the units in “{text}” are out of order; put the larger one first, as 6 ft 2 in")
            }
            Self::TooLong(text) => write!(f, "“{text}” is longer than anything that is priced here; check its unit"),
        }
    }
}

impl std::error::Error for LengthError {}

/// Reads a length. A number with no unit is in `bare`, the unit on display.
///
/// # Errors
/// A [`LengthError`] that says what was read and what is accepted.
///
/// ```
/// use scantling_pricing::measure::{DecimalMark, Length, LengthUnit, read_length};
/// let read = |text| read_length(text, LengthUnit::Inch, DecimalMark::Point);
/// assert_eq!(read("6' 2-1/2\""), Ok(Length::sixty_fourths(64 * 74 + 32)));
/// assert_eq!(read("1.84 m"), read("1840 mm"));
/// assert!(read("six feet").is_err());
/// ```
pub fn read_length(text: &str, bare: LengthUnit, mark: DecimalMark) -> Result<Length, LengthError> {
    read(text, bare, mark).map(|(length, _)| length)
}

/// Reads a length that must have its unit, with a decimal point: nothing where it has none.
///
/// # Errors
/// As [`read_length`].
pub(crate) fn read_with_unit(text: &str) -> Result<Option<Length>, LengthError> {
    let (length, has_unit) = read(text, LengthUnit::Inch, DecimalMark::Point)?;
    Ok(has_unit.then_some(length))
}

/// A length, and whether its first number had a unit or needs none.
fn read(text: &str, bare: LengthUnit, mark: DecimalMark) -> Result<(Length, bool), LengthError> {
    let trimmed = text.trim();
    if trimmed.is_empty() {
        return Err(LengthError::Empty);
    }
    if trimmed.len() > 60 && trimmed.chars().count() > 60 {
        return Err(LengthError::Unexpected(trimmed.chars().take(20).chain("…".chars()).collect()));
    }
    let mut reader = Reader { rest: Rest(trimmed), text: trimmed, mark };
    let negative = reader.skip_sign();
    let mut total = Exact { numerator: 0, denominator: 1 };
    let (mut previous, mut has_unit): (Option<Unit>, bool) = (None, false);
    loop {
        let number = reader.number()?;
        let unit = reader.unit()?;
        has_unit |= unit.is_some();
        let unit = place_unit(unit, previous, bare).ok_or_else(|| LengthError::UnitOrder(trimmed.to_owned()))?;
        total = number.times(unit.nanometres()).and_then(|n| total.plus(n)).ok_or_else(|| reader.bad_number())?;
        previous = Some(unit);
        if reader.at_end() {
            break;
        }
    }
    let nanometres = total.rounded();
    if nanometres > i128::from(LONGEST_NM) {
        return Err(LengthError::TooLong(trimmed.to_owned()));
    }
    let nanometres = i64::try_from(nanometres).map_err(|_| LengthError::TooLong(trimmed.to_owned()))?;
    let length = Length::from_nanometres(if negative { nanometres.saturating_neg() } else { nanometres });
    Ok((length, has_unit || nanometres == 0))
}

/// The unit a number ends up with: its own, inches after feet, or the unit on display when it stands alone.
fn place_unit(written: Option<Unit>, previous: Option<Unit>, bare: LengthUnit) -> Option<Unit> {
    match (written, previous) {
        (Some(unit), None) => Some(unit),
        (None, None) => Some(if bare == LengthUnit::Inch { Unit::Inch } else { Unit::Millimetre }),
        (None | Some(Unit::Inch), Some(Unit::Foot)) => Some(Unit::Inch),
        (Some(Unit::Centimetre), Some(Unit::Metre)) => Some(Unit::Centimetre),
        (Some(Unit::Millimetre), Some(Unit::Metre | Unit::Centimetre)) => Some(Unit::Millimetre),
        _ => None,
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Unit {
    Inch,
    Foot,
    Millimetre,
    Centimetre,
    Metre,
}

impl Unit {
    fn nanometres(self) -> i64 {
        match self {
            Self::Inch => NM_PER_INCH,
            Self::Foot => NM_PER_INCH.saturating_mul(12),
            Self::Millimetre => NM_PER_MM,
            Self::Centimetre => NM_PER_MM.saturating_mul(10),
            Self::Metre => NM_PER_MM.saturating_mul(1000),
        }
    }

    fn named(word: &str) -> Option<Self> {
        Some(match word {
            "in" | "inch" | "inches" => Self::Inch,
            "ft" | "foot" | "feet" => Self::Foot,
            "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Self::Millimetre,
            "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => Self::Centimetre,
            "m" | "metre" | "metres" | "meter" | "meters" => Self::Metre,
            _ => return None,
        })
    }
}

/// An exact non-negative fraction; every step is checked, so no text can overflow it.
#[derive(Debug, Clone, Copy)]
struct Exact {
    numerator: i128,
    denominator: i128,
}

impl Exact {
    fn plus(self, other: Self) -> Option<Self> {
        let left = self.numerator.checked_mul(other.denominator)?;
        let right = other.numerator.checked_mul(self.denominator)?;
        Some(Self {
            numerator: left.checked_add(right)?,
            denominator: self.denominator.checked_mul(other.denominator)?,
        })
    }

    fn times(self, n: i64) -> Option<Self> {
        Some(Self { numerator: self.numerator.checked_mul(i128::from(n))?, denominator: self.denominator })
    }

    /// The nearest whole number, halves up: the one place where reading a length rounds.
    fn rounded(self) -> i128 {
        self.numerator.saturating_add(self.denominator.div_euclid(2)).div_euclid(self.denominator.max(1))
    }
}

/// What is still to be read.
#[derive(Clone, Copy)]
struct Rest<'t>(&'t str);

impl<'t> Rest<'t> {
    fn peek(self) -> Option<char> {
        self.0.chars().next()
    }

    fn next_if(&mut self, wanted: impl Fn(char) -> bool) -> Option<char> {
        let next = self.peek().filter(|c| wanted(*c))?;
        self.0 = self.0.get(next.len_utf8()..).unwrap_or("");
        Some(next)
    }

    fn take_while(&mut self, wanted: impl Fn(char) -> bool) -> &'t str {
        let end = self.0.find(|c| !wanted(c)).unwrap_or(self.0.len());
        let (taken, rest) = self.0.split_at_checked(end).unwrap_or((self.0, ""));
        self.0 = rest;
        taken
    }
}

struct Reader<'t> {
    rest: Rest<'t>,
    text: &'t str,
    mark: DecimalMark,
}

impl<'t> Reader<'t> {
    fn bad_number(&self) -> LengthError {
        LengthError::BadNumber(self.text.to_owned())
    }

    fn skip_spaces(&mut self) {
        self.rest.take_while(char::is_whitespace);
    }

    fn skip_sign(&mut self) -> bool {
        self.rest.next_if(|c| matches!(c, '-' | '\u{2212}')).is_some()
    }

    fn at_end(&mut self) -> bool {
        self.skip_spaces();
        self.rest.peek().is_none()
    }

    /// A whole or decimal number, a fraction, or a number and a fraction: `72`, `72.5`, `1/2`, `2-1/2`, `2½`.
    fn number(&mut self) -> Result<Exact, LengthError> {
        self.skip_spaces();
        if let Some(fraction) = self.vulgar_fraction() {
            return Ok(fraction);
        }
        let digits = self.digits();
        if digits.is_empty() {
            return Err(LengthError::Unexpected(self.text.to_owned()));
        }
        let first = self.read_digits(digits)?;
        if self.rest.peek().is_some_and(is_slash) {
            return self.over(first);
        }
        match self.fraction_after()? {
            Some(fraction) => first.plus(fraction).ok_or_else(|| self.bad_number()),
            None => Ok(first),
        }
    }

    /// What may follow a whole number: a fraction after a space or a hyphen. Anything else is left unread.
    fn fraction_after(&mut self) -> Result<Option<Exact>, LengthError> {
        let before = self.rest;
        self.skip_spaces();
        if self.rest.next_if(|c| matches!(c, '-' | '\u{2010}' | '\u{2011}' | '\u{2013}')).is_some() {
            self.skip_spaces();
        }
        if let Some(fraction) = self.vulgar_fraction() {
            return Ok(Some(fraction));
        }
        let digits = self.digits();
        if !digits.is_empty() && self.rest.peek().is_some_and(is_slash) {
            let top = self.read_digits(digits)?;
            return self.over(top).map(Some);
        }
        self.rest = before;
        Ok(None)
    }

    fn over(&mut self, top: Exact) -> Result<Exact, LengthError> {
        self.rest.next_if(is_slash);
        let digits = self.digits();
        let bottom = self.read_digits(digits)?;
        let whole = top.denominator == 1 && bottom.denominator == 1 && bottom.numerator > 0;
        if !whole {
            return Err(self.bad_number());
        }
        Ok(Exact { numerator: top.numerator, denominator: bottom.numerator })
    }

    fn vulgar_fraction(&mut self) -> Option<Exact> {
        let (numerator, denominator) = match self.rest.peek()? {
            '¼' => (1, 4),
            '½' => (1, 2),
            '¾' => (3, 4),
            '⅓' => (1, 3),
            '⅔' => (2, 3),
            '⅛' => (1, 8),
            '⅜' => (3, 8),
            '⅝' => (5, 8),
            '⅞' => (7, 8),
            _ => return None,
        };
        self.rest.next_if(|_| true);
        Some(Exact { numerator, denominator })
    }

    fn digits(&mut self) -> &'t str {
        self.rest.take_while(|c| c.is_ascii_digit() || matches!(c, '.' | ','))
    }

    /// Digits with at most one decimal mark; the other mark only groups thousands.
    fn read_digits(&self, digits: &str) -> Result<Exact, LengthError> {
        let (own, other) = match self.mark {
            DecimalMark::Point => ('.', ','),
            DecimalMark::Comma => (',', '.'),
        };
        let (whole, decimals) = match digits.split_once(own) {
            Some((whole, decimals)) => (ungrouped(whole, other), Some(decimals)),
            None => match digits.split_once(other) {
                Some((first, last)) if last.len() != 3 => (Some(Cow::Borrowed(first)), Some(last)),
                _ => (ungrouped(digits, other), None),
            },
        };
        let whole = whole.ok_or_else(|| self.bad_number())?;
        let decimals = decimals.unwrap_or("");
        let all = if decimals.is_empty() { whole } else { Cow::Owned(format!("{whole}{decimals}")) };
        let plain = !all.is_empty() && all.len() <= 15 && all.bytes().all(|b| b.is_ascii_digit());
        if !plain {
            return Err(self.bad_number());
        }
        let numerator = all.parse().map_err(|_| self.bad_number())?;
        let power = u32::try_from(decimals.len()).map_err(|_| self.bad_number())?;
        Ok(Exact { numerator, denominator: 10_i128.saturating_pow(power) })
    }

    /// A unit, if one follows the number.
    fn unit(&mut self) -> Result<Option<Unit>, LengthError> {
        self.skip_spaces();
        if self.rest.next_if(|c| matches!(c, '"' | '\u{2033}' | '\u{201d}' | '\u{201c}')).is_some() {
            return Ok(Some(Unit::Inch));
        }
        if self.rest.next_if(is_foot_mark).is_some() {
            let doubled = self.rest.next_if(is_foot_mark).is_some();
            return Ok(Some(if doubled { Unit::Inch } else { Unit::Foot }));
        }
        let word = self.rest.take_while(char::is_alphabetic);
        if word.is_empty() {
            return Ok(None);
        }
        self.rest.next_if(|c| c == '.');
        let named = Unit::named(word).or_else(|| Unit::named(&word.to_ascii_lowercase()));
        named.map(Some).ok_or_else(|| LengthError::UnknownUnit(word.to_ascii_lowercase()))
    }
}

fn is_slash(c: char) -> bool {
    matches!(c, '/' | '\u{2044}' | '\u{2215}')
}

fn is_foot_mark(c: char) -> bool {
    matches!(c, '\'' | '\u{2032}' | '\u{2019}' | '\u{2018}')
}

/// A whole number with its thousands marks taken out; nothing when the groups are not of three digits.
fn ungrouped(text: &str, mark: char) -> Option<Cow<'_, str>> {
    if !text.contains(mark) {
        return Some(Cow::Borrowed(text));
    }
    let mut groups = text.split(mark);
    let first = groups.next()?;
    let mut whole = first.to_owned();
    for group in groups {
        if group.len() != 3 || first.is_empty() || first.len() > 3 {
            return None;
        }
        whole.push_str(group);
    }
    Some(Cow::Owned(whole))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inches(text: &str) -> Result<Length, LengthError> {
        read_length(text, LengthUnit::Inch, DecimalMark::Point)
    }

    fn check(text: &str, sixty_fourths: i32) {
        assert_eq!(inches(text), Ok(Length::sixty_fourths(sixty_fourths)), "{text}");
    }

    #[test]
    fn inches_and_feet_read_as_people_write_them() {
        let in74_5 = 74 * 64 + 32;
        for text in [
            "74.5",
            "74 1/2",
            "74-1/2",
            "74½",
            "74 ½ in",
            "74.5\"",
            "74,5",
            "6' 2-1/2\"",
            "6'2½",
            "6 ft 2½",
            "6 feet 2 1/2 inches",
            "6′ 2½″",
            "6’ 2½”",
            "6' 2.5''",
            "149/2",
            "74 in. ½",
        ] {
            if text == "74 in. ½" {
                assert!(inches(text).is_err());
            } else {
                check(text, in74_5);
            }
        }
        check("6'", 6 * 12 * 64);
        check("1/64", 1);
        check("-12 in", -12 * 64);
    }

    #[test]
    fn metric_reads_whole_and_decimal() {
        let expected = Ok(Length::from_nanometres(1_840_000_000));
        for text in ["1.84 m", "184cm", "1840 mm", "1,840 mm", "1840MM", "1 m 84 cm", "1,84 m", "1 m 840 mm"] {
            assert_eq!(inches(text), expected, "{text}");
        }
        assert_eq!(read_length("1840", LengthUnit::Millimetre, DecimalMark::Point), expected);
    }

    #[test]
    fn the_mark_of_the_language_decides_what_a_comma_is() {
        let with = |text, mark| read_length(text, LengthUnit::Millimetre, mark).map(Length::in_millimetres);
        assert_eq!(with("1,840", DecimalMark::Point).map(|d| d.to_string()), Ok("1840.000000".into()));
        assert_eq!(with("1,840", DecimalMark::Comma).map(|d| d.normalize().to_string()), Ok("1.84".into()));
        assert_eq!(with("1.840", DecimalMark::Comma).map(|d| d.normalize().to_string()), Ok("1840".into()));
        assert_eq!(with("1.234,5", DecimalMark::Comma).map(|d| d.normalize().to_string()), Ok("1234.5".into()));
    }

    #[test]
    fn what_is_no_length_says_why() {
        assert_eq!(inches("  "), Err(LengthError::Empty));
        assert_eq!(inches("6 cubits"), Err(LengthError::UnknownUnit("cubits".into())));
        assert_eq!(inches("3 in 2 ft"), Err(LengthError::UnitOrder("3 in 2 ft".into())));
        assert_eq!(inches("1/0"), Err(LengthError::BadNumber("1/0".into())));
        assert_eq!(inches("1.2.3"), Err(LengthError::BadNumber("1.2.3".into())));
        assert_eq!(inches("200 m"), Err(LengthError::TooLong("200 m".into())));
        for text in ["six feet", "/2", "7 1/", "9999999999999999", "12 12", "1e5", "½½", "--3", "1,2,3", "６"] {
            assert!(inches(text).is_err(), "{text}");
        }
    }
}
