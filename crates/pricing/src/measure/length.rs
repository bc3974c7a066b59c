//! [`Length`]: a whole count of nanometres, and how it is written back.

use crate::bounded::Bounded;
use std::fmt;
use std::ops::{Add, Neg, Sub};

use rust_decimal::Decimal;

/// Nanometres in an inch. Source: the international inch, 25.4 mm exactly (NIST SP 811, appendix B).
pub(crate) const NM_PER_INCH: i64 = 25_400_000;
/// Nanometres in a sixty-fourth of an inch: whole, which is why lengths are counted in nanometres.
const NM_PER_SIXTY_FOURTH: i64 = 396_875;
/// Nanometres in a millimetre.
pub(crate) const NM_PER_MM: i64 = 1_000_000;
/// The longest length there is, 100 m: far above any piece, far below overflow.
pub(crate) const LONGEST_NM: i64 = 100_000_000_000;

/// A length, exact to the nanometre.
///
/// ```
/// use scantling_pricing::measure::{Length, LengthUnit};
/// let top = Length::inches(84);
/// assert_eq!(top.show(LengthUnit::Inch), "84 in");
/// assert_eq!(top.show(LengthUnit::Millimetre), "2133.6 mm");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Length(i64);

/// The unit a buyer or maker reads and types lengths in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LengthUnit {
    /// Inches and fractions of an inch.
    Inch,
    /// Millimetres.
    Millimetre,
}

impl LengthUnit {
    /// The symbol written after a number: `in` or `mm`.
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Inch => "in",
            Self::Millimetre => "mm",
        }
    }
}

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self(0);

    /// A length of so many nanometres, kept within ±100 m.
    #[must_use]
    pub const fn from_nanometres(nanometres: i64) -> Self {
        if nanometres > LONGEST_NM {
            Self(LONGEST_NM)
        } else if nanometres < -LONGEST_NM {
            Self(-LONGEST_NM)
        } else {
            Self(nanometres)
        }
    }

    /// A length of so many whole inches.
    #[must_use]
    pub const fn inches(inches: i32) -> Self {
        Self::sixty_fourths(inches.saturating_mul(64))
    }

    /// A length of so many sixty-fourths of an inch.
    #[must_use]
    #[expect(clippy::as_conversions, reason = "widening i32 to i64 in a const fn")]
    pub const fn sixty_fourths(n: i32) -> Self {
        Self::from_nanometres((n as i64).saturating_mul(NM_PER_SIXTY_FOURTH))
    }

    /// The count of nanometres.
    #[must_use]
    pub const fn nanometres(self) -> i64 {
        self.0
    }

    /// The length in millimetres, exactly.
    #[must_use]
    pub fn in_millimetres(self) -> Decimal {
        Decimal::new(self.0, 6)
    }

    /// The length in feet, to the decimal's 28 digits.
    #[must_use]
    pub fn in_feet(self) -> Decimal {
        self.in_millimetres().over(Decimal::new(3048, 1)).unwrap_or(Decimal::ZERO)
    }

    /// The length in inches, to the decimal's 28 digits.
    #[must_use]
    pub fn in_inches(self) -> Decimal {
        self.in_millimetres().over(Decimal::new(254, 1)).unwrap_or(Decimal::ZERO)
    }

    /// True when the length is above zero.
    #[must_use]
    pub const fn is_positive(self) -> bool {
        self.0 > 0
    }

    /// This length `numerator / denominator` times over, to the nearest nanometre, halves away from zero.
    /// A denominator of zero gives [`Length::ZERO`].
    #[must_use]
    pub fn scaled(self, numerator: i64, denominator: i64) -> Self {
        if denominator == 0 {
            return Self::ZERO;
        }
        let product = i128::from(self.0).saturating_mul(i128::from(numerator));
        let rounded = divide_rounding(product, i128::from(denominator));
        Self::from_nanometres(i64::try_from(rounded).unwrap_or(if rounded < 0 { i64::MIN } else { i64::MAX }))
    }

    /// This length cut into `n` equal shares, each rounded up so that `n` of them always cover it.
    #[must_use]
    pub fn share_rounded_up(self, n: u32) -> Self {
        let n = i64::from(n.max(1));
        let whole = self.0.div_euclid(n);
        Self::from_nanometres(if self.0.rem_euclid(n) > 0 { whole.saturating_add(1) } else { whole })
    }

    /// The next sixty-fourth of an inch from here up: a figure a maker can read off a rule.
    #[must_use]
    pub const fn to_sixty_fourth_up(self) -> Self {
        let over = self.0.rem_euclid(NM_PER_SIXTY_FOURTH);
        if over == 0 {
            self
        } else {
            Self::from_nanometres(self.0.saturating_add(NM_PER_SIXTY_FOURTH).saturating_sub(over))
        }
    }

    /// The next sixty-fourth of an inch from here down.
    #[must_use]
    pub const fn to_sixty_fourth_down(self) -> Self {
        Self::from_nanometres(self.0.saturating_sub(self.0.rem_euclid(NM_PER_SIXTY_FOURTH)))
    }

    /// How many steps of `step` it takes to cover this length: the quotient, rounded up. Zero for a step of nothing.
    #[must_use]
    pub fn covered_by(self, step: Self) -> u32 {
        if step.0 <= 0 || self.0 <= 0 {
            return 0;
        }
        let steps = self.0.div_euclid(step.0);
        let steps = if self.0.rem_euclid(step.0) > 0 { steps.saturating_add(1) } else { steps };
        u32::try_from(steps).unwrap_or(u32::MAX)
    }

    /// The length in words of `unit`, exactly where 1/64 in or a nanometre can say it.
    #[must_use]
    pub fn show(self, unit: LengthUnit) -> String {
        match unit {
            LengthUnit::Inch => show_inches(self.0).unwrap_or_else(|| format!("{} in", decimal_inches(self))),
            LengthUnit::Millimetre => format!("{} mm", self.in_millimetres().normalize()),
        }
    }
}

/// Quotient to the nearest whole number, halves away from zero.
fn divide_rounding(numerator: i128, denominator: i128) -> i128 {
    let (n, d) = if denominator < 0 {
        (numerator.saturating_neg(), denominator.saturating_neg())
    } else {
        (numerator, denominator)
    };
    let half = d.div_euclid(2);
    if n < 0 {
        n.saturating_neg().saturating_add(half).div_euclid(d).saturating_neg()
    } else {
        n.saturating_add(half).div_euclid(d)
    }
}

/// Whole inches and sixty-fourths, reduced; nothing when the length falls between two sixty-fourths.
fn show_inches(nanometres: i64) -> Option<String> {
    if nanometres.rem_euclid(NM_PER_SIXTY_FOURTH) != 0 {
        return None;
    }
    let sixty_fourths = nanometres.div_euclid(NM_PER_SIXTY_FOURTH);
    let sign = if sixty_fourths < 0 { "-" } else { "" };
    let size = sixty_fourths.unsigned_abs();
    let (whole, mut part, mut parts) = (size.div_euclid(64), size.rem_euclid(64), 64_u64);
    while part > 0 && part.rem_euclid(2) == 0 {
        part = part.div_euclid(2);
        parts = parts.div_euclid(2);
    }
    Some(match (whole, part) {
        (_, 0) => format!("{sign}{whole} in"),
        (0, _) => format!("{sign}{part}/{parts} in"),
        _ => format!("{sign}{whole} {part}/{parts} in"),
    })
}

/// Inches to two decimals, for a length no sixty-fourth hits. Only ever shown, never computed with.
fn decimal_inches(length: Length) -> Decimal {
    crate::money::half_up(length.in_inches(), 2).normalize()
}

/// Written so that [`super::read_length`] gives the same length back: inches where a sixty-fourth says it, else millimetres.
impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match show_inches(self.0) {
            Some(text) => f.write_str(&text),
            None => f.write_str(&self.show(LengthUnit::Millimetre)),
        }
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::from_nanometres(self.0.saturating_add(other.0))
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::from_nanometres(self.0.saturating_sub(other.0))
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self::from_nanometres(self.0.saturating_neg())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sixty_fourth_and_a_tenth_of_a_millimetre_are_both_whole_nanometres() {
        assert_eq!(Length::sixty_fourths(1).nanometres(), 396_875);
        assert_eq!(Length::from_nanometres(100_000).in_millimetres(), Decimal::new(1, 1));
    }

    #[test]
    fn inches_are_shown_as_reduced_fractions() {
        for (sixty_fourths, text) in [
            (0, "0 in"),
            (32, "1/2 in"),
            (64 * 72 + 32, "72 1/2 in"),
            (65, "1 1/64 in"),
            (-768, "-12 in"),
            (-48, "-3/4 in"),
        ] {
            assert_eq!(Length::sixty_fourths(sixty_fourths).to_string(), text);
        }
    }

    #[test]
    fn a_length_between_sixty_fourths_is_written_in_millimetres() {
        assert_eq!(Length::from_nanometres(1_840_000_000).to_string(), "1840 mm");
        assert_eq!(Length::from_nanometres(1).to_string(), "0.000001 mm");
    }

    #[test]
    fn scaling_rounds_to_the_nearest_nanometre_away_from_zero() {
        assert_eq!(Length::from_nanometres(5).scaled(1, 2).nanometres(), 3);
        assert_eq!(Length::from_nanometres(-5).scaled(1, 2).nanometres(), -3);
        assert_eq!(Length::inches(84).scaled(-1, 3), -Length::inches(28));
        assert_eq!(Length::inches(84).scaled(1, 0), Length::ZERO);
    }

    #[test]
    fn shares_always_cover_the_whole() {
        assert_eq!(Length::from_nanometres(10).share_rounded_up(3).nanometres(), 4);
        assert_eq!(Length::inches(42).covered_by(Length::inches(8)), 6);
        assert_eq!(Length::inches(40).covered_by(Length::inches(8)), 5);
        assert_eq!(Length::inches(40).covered_by(Length::ZERO), 0);
    }
}
