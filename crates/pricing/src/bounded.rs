//! Decimal arithmetic that stops at the largest there is instead of overflowing, each operation once.
//!
//! The decimal library puts the whole of its checked operations into every place that uses one: two kilobytes each in a buyer's browser.

use rust_decimal::Decimal;

use crate::money::half_up;

/// The operations, kept within the largest decimal.
pub(crate) trait Bounded {
    /// The sum.
    fn plus(self, other: Decimal) -> Decimal;
    /// The difference.
    fn less(self, other: Decimal) -> Decimal;
    /// The product.
    fn times(self, other: Decimal) -> Decimal;
    /// The quotient to the twelfth decimal, halves away from zero; nothing by zero, or when it is too large.
    ///
    /// Twelve decimals are a trillionth of a foot or a dollar, and leave room to multiply on: a quotient of all 28 digits makes every
    /// product after it twice as slow.
    fn over(self, other: Decimal) -> Option<Decimal>;
}

impl Bounded for Decimal {
    #[inline(never)]
    fn plus(self, other: Decimal) -> Decimal {
        self.saturating_add(other)
    }

    #[inline(never)]
    fn less(self, other: Decimal) -> Decimal {
        self.saturating_sub(other)
    }

    #[inline(never)]
    fn times(self, other: Decimal) -> Decimal {
        self.saturating_mul(other)
    }

    #[inline(never)]
    fn over(self, other: Decimal) -> Option<Decimal> {
        whole_quotient(self, other).or_else(|| Some(half_up(self.checked_div(other)?, DECIMALS)))
    }
}

/// Decimals of a quotient.
const DECIMALS: u32 = 12;

/// The quotient by whole numbers, where these are not too large.
fn whole_quotient(one: Decimal, other: Decimal) -> Option<Decimal> {
    let (top, bottom) = (one.mantissa(), other.mantissa());
    let (wanted, has) = (DECIMALS.saturating_add(other.scale()), one.scale());
    let (top, bottom) = match wanted.checked_sub(has) {
        Some(up) => (shifted(top, up)?, bottom),
        None => (top, shifted(bottom, has.saturating_sub(wanted))?),
    };
    let half = bottom.checked_abs()?.div_euclid(2);
    let away = if top < 0 { top.checked_sub(half)? } else { top.checked_add(half)? };
    Decimal::try_from_i128_with_scale(away.checked_div(bottom)?, DECIMALS).ok()
}

/// The whole of a number once its point has moved so many places to the right; nothing where that is too large.
pub(crate) fn whole(number: Decimal, places: u32) -> Option<i128> {
    match places.checked_sub(number.scale()) {
        Some(up) => shifted(number.mantissa(), up),
        None => number.mantissa().checked_div(shifted(1, number.scale().saturating_sub(places))?),
    }
}

/// So many places up, where it is not too large then. The powers stand in a table: to work one out takes longer than all the rest.
fn shifted(number: i128, places: u32) -> Option<i128> {
    let power = |places: u32| POWERS.get(usize::try_from(places).ok()?).map(|power| i128::from(*power));
    // In two steps: the table ends where 64 bits do.
    let first = places.min(18);
    number.checked_mul(power(first)?)?.checked_mul(power(places.saturating_sub(first))?)
}

/// Ten to the power of each index.
const POWERS: [u64; 19] = [
    1,
    10,
    100,
    1_000,
    10_000,
    100_000,
    1_000_000,
    10_000_000,
    100_000_000,
    1_000_000_000,
    10_000_000_000,
    100_000_000_000,
    1_000_000_000_000,
    10_000_000_000_000,
    100_000_000_000_000,
    1_000_000_000_000_000,
    10_000_000_000_000_000,
    100_000_000_000_000_000,
    1_000_000_000_000_000_000,
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn the_table_holds_the_powers_of_ten() {
        for (power, at) in POWERS.iter().zip(0..) {
            assert_eq!(Some(*power), 10_u64.checked_pow(at));
        }
        assert_eq!(shifted(-7, 28), Some(-7 * 10_i128.pow(28)));
        assert_eq!(shifted(1, 36), Some(10_i128.pow(36)));
        assert_eq!((shifted(1, 37), shifted(i128::MAX, 1)), (None, None));
    }

    proptest! {
        /// By the rule of rounding itself: no quotient of twelve decimals lies nearer.
        #[test]
        fn no_quotient_of_twelve_decimals_lies_nearer(
            (top, places) in (-1_000_000_000_i64..=1_000_000_000, 0..=12_u32),
            (bottom, of_bottom) in ((-1_000_000_i64..=1_000_000).prop_filter("nothing goes by zero", |n| *n != 0), 0..=8_u32),
        ) {
            let quotient = Decimal::new(top, places).over(Decimal::new(bottom, of_bottom)).unwrap();
            prop_assert_eq!(quotient.scale(), DECIMALS);
            let wide = i128::from(bottom) * 10_i128.pow(places);
            let missed = quotient.mantissa() * wide - i128::from(top) * 10_i128.pow(DECIMALS + of_bottom);
            prop_assert!(missed.abs() * 2 <= wide.abs(), "{} by {} is no {}", top, bottom, quotient);
        }

        #[test]
        fn the_whole_of_a_number_is_what_the_library_leaves_of_it(number: i64, scale in 0..=28_u32, places in 0..=8_u32) {
            let shifted_by_library = Decimal::new(number, scale).checked_mul(Decimal::from(10_u64.pow(places)));
            let by_library = shifted_by_library.map(|number| number.trunc().mantissa());
            prop_assert_eq!(whole(Decimal::new(number, scale), places), by_library);
        }
    }
}
