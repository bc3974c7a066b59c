//! How sure a price is: three-point guesses, added up with a shared factor, shown as the span that should hold 8 jobs in 10.

use std::iter::Sum;

use rust_decimal::Decimal;

use crate::book::values::ThreePoint;
use crate::bounded::{Bounded, whole};

/// Of ten jobs, how many should end within the range that is shown.
pub const IN_TEN: u32 = 8;

/// Standard deviations either side of the mean that hold [`IN_TEN`] in 10 of a normal distribution.
/// Source: standard normal quantile at 0.9, 1.28155; `shared/reference/trade/estimate_range.md` section 5.
pub(crate) const EIGHT_IN_TEN: Decimal = Decimal::from_parts(128_155, 0, 0, false, 5);

/// What a guess comes to: its mean and how far it may miss.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Guess {
    /// The mean.
    pub mean: Decimal,
    /// The standard deviation.
    pub deviation: Decimal,
}

impl Guess {
    /// An amount that is known.
    #[must_use]
    pub const fn certain(amount: Decimal) -> Self {
        Self { mean: amount, deviation: Decimal::ZERO }
    }

    /// A three-point guess as the beta distribution of the PERT rule: mean `m = (a + 4m + b)/6`, variance `(m - a)(b - m)/7`.
    ///
    /// The classic `((b - a)/6)²` is an approximation of that variance: by it, the span that should hold 8 jobs in 10 held 75 of a hundred
    /// simulated ones. Source: `shared/reference/trade/estimate_range.md` section 1.
    #[must_use]
    pub fn pert(points: &ThreePoint<Decimal>) -> Self {
        if points.low == points.high {
            return Self::certain(points.low);
        }
        let six = Decimal::from(6);
        let mean = (points.low + Decimal::from(4) * points.likely + points.high).over(six).unwrap_or(Decimal::ZERO);
        let variance = (mean - points.low).times(points.high - mean).over(Decimal::from(7)).unwrap_or(Decimal::ZERO);
        Self { mean, deviation: square_root(variance) }
    }

    fn square(self) -> Decimal {
        self.deviation.times(self.deviation)
    }

    /// Both, so many times over.
    #[must_use]
    pub fn times(self, factor: Decimal) -> Self {
        Self { mean: self.mean * factor, deviation: self.deviation * factor }
    }
}

/// How far sums of guesses may miss, gathered one guess at a time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Spread {
    squares: Decimal,
    sum: Decimal,
    apart: Decimal,
}

impl Spread {
    /// No guess yet.
    pub const NONE: Self = Self { squares: Decimal::ZERO, sum: Decimal::ZERO, apart: Decimal::ZERO };

    /// With one more guess that runs late together with the others.
    #[must_use]
    pub fn and(self, guess: Guess) -> Self {
        Self { squares: self.squares.plus(guess.square()), sum: self.sum.plus(guess.deviation), ..self }
    }

    /// With all the guesses of another.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        Self {
            squares: self.squares.plus(other.squares),
            sum: self.sum.plus(other.sum),
            apart: self.apart.plus(other.apart),
        }
    }

    /// With one more guess that has nothing to do with the others.
    #[must_use]
    pub fn and_apart(self, guess: Guess) -> Self {
        Self { apart: self.apart.plus(guess.square()), ..self }
    }

    /// The variance: `(1 - r) sum s² + r (sum s)²` for guesses that share a correlation of `r`, and the rest added on.
    ///
    /// Source: variance of a sum, `shared/reference/trade/estimate_range.md` section 2.
    #[must_use]
    pub fn variance(self, correlation: Decimal) -> Decimal {
        let shared = self.sum.times(self.sum).times(correlation);
        let own = self.squares.times(Decimal::ONE - correlation);
        own.plus(shared).plus(self.apart)
    }

    /// No narrower than past jobs of so much work were apart: where they missed by more than this work's own guesses would, the rest is
    /// added apart.
    #[must_use]
    pub fn widened(self, work: Self, correlation: Decimal, missed: Guess) -> Self {
        let short = missed.square().less(work.variance(correlation)).max(Decimal::ZERO);
        Self { apart: self.apart.plus(short), ..self }
    }

    /// How far either side of the mean 8 jobs in 10 should end.
    #[must_use]
    pub fn eight_in_ten(self, correlation: Decimal) -> Decimal {
        EIGHT_IN_TEN * square_root(self.variance(correlation))
    }
}

impl Sum for Spread {
    fn sum<I: Iterator<Item = Self>>(spreads: I) -> Self {
        spreads.fold(Self::NONE, Self::plus)
    }
}

/// The square root to the ninth decimal, rounded down, by whole numbers: the same on every machine. Nothing for what is below
/// zero; a value too large to scale so far gives up decimals, not size.
pub(crate) fn square_root(value: Decimal) -> Decimal {
    let root = |decimals: u32| {
        let scaled = whole(value, decimals.saturating_mul(2))?;
        let root = i64::try_from(scaled.checked_isqrt()?).ok()?;
        Some(Decimal::new(root, decimals))
    };
    root(9).or_else(|| root(3)).or_else(|| root(0)).unwrap_or(Decimal::ZERO)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use rust_decimal::MathematicalOps;

    use super::*;

    fn points(low: i64, likely: i64, high: i64) -> ThreePoint<Decimal> {
        ThreePoint { low: low.into(), likely: likely.into(), high: high.into() }
    }

    fn close(actual: Decimal, expected: &str) {
        let expected: Decimal = expected.parse().unwrap();
        assert!((actual - expected).abs() < Decimal::new(6, 3), "{actual} is not {expected}");
    }

    #[test]
    fn pert_mean_and_variance_of_the_worked_values() {
        // shared/reference/trade/estimate_range.md section 6, item 1: 2, 4, 12 -> mean 5, the beta's variance 3.0000, deviation 1.7321.
        let guess = Guess::pert(&points(2, 4, 12));
        assert_eq!(guess.mean, Decimal::from(5));
        close(guess.deviation, "1.7321");
        close(guess.deviation * guess.deviation, "3.0000");
    }

    #[test]
    fn five_equal_deviations_add_up_by_their_correlation() {
        // Section 6, item 3: five items of deviation 2: 4.4721 apart, 6.6332 at 0.3, 10 together.
        let each = Guess { mean: Decimal::ZERO, deviation: Decimal::TWO };
        let spread = (0..5).fold(Spread::NONE, |spread, _| spread.and(each));
        close(square_root(spread.variance(Decimal::ZERO)), "4.4721");
        close(square_root(spread.variance(Decimal::new(3, 1))), "6.6332");
        close(square_root(spread.variance(Decimal::ONE)), "10.0000");
    }

    #[test]
    fn as_many_of_ten_jobs_lie_within_so_many_deviations() {
        // The normal density exp(-x^2 / 2) / sqrt(2 pi), added up from zero by Simpson's rule in steps of a twentieth of the way.
        // Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.6.1, recalled.
        let step = EIGHT_IN_TEN / Decimal::from(20);
        let height = |at: u32| {
            let x = step * Decimal::from(at);
            (-x * x / Decimal::TWO).exp() / square_root(Decimal::TWO * Decimal::PI)
        };
        let weight = |at: u32| Decimal::from(if at == 0 || at == 20 { 1 } else { 2 + at % 2 * 2 });
        let half: Decimal = (0..=20).map(|at| weight(at) * height(at)).sum::<Decimal>() * step / Decimal::from(3);
        let share = half * Decimal::TWO * Decimal::TEN;
        assert!((share - Decimal::from(IN_TEN)).abs() < Decimal::new(1, 4), "{share} of ten");
    }

    proptest! {
        #[test]
        fn a_root_is_the_largest_of_nine_decimals_whose_square_is_no_larger(value in 0..=i64::MAX, scale in 0..=18_u32) {
            let root = square_root(Decimal::new(value, scale));
            prop_assert_eq!(root.scale(), 9);
            let scaled = i128::from(value) * 10_i128.pow(18 - scale);
            let (least, beyond) = (root.mantissa().pow(2), (root.mantissa() + 1).pow(2));
            prop_assert!(least <= scaled && scaled < beyond, "{} is no root of {} to {}", root, value, scale);
        }
    }

    #[test]
    fn a_job_of_four_lines_has_the_worked_band() {
        // Section 6, item 4: total 1810.00, deviation 184.590 at 0.3, 80 % band 1573.44 to 2046.56, with the classic deviations.
        let lines = [points(300, 360, 480), points(900, 1100, 1700), points(80, 100, 160), points(0, 150, 400)];
        let classic = |line: &ThreePoint<Decimal>| (line.high - line.low) / Decimal::from(6);
        let guesses = lines.map(|line| Guess { mean: Guess::pert(&line).mean, deviation: classic(&line) });
        let mean: Decimal = guesses.iter().map(|guess| guess.mean).sum();
        let spread = guesses.iter().fold(Spread::NONE, |spread, guess| spread.and(*guess));
        close(mean, "1810.00");
        close(square_root(spread.variance(Decimal::new(3, 1))), "184.590");
        close(mean - spread.eight_in_ten(Decimal::new(3, 1)), "1573.44");
        close(mean + spread.eight_in_ten(Decimal::new(3, 1)), "2046.56");
    }
}
