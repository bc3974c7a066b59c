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
    let power = |of: u32| 10_i128.checked_pow(of);
    let (top, bottom) = match wanted.checked_sub(has) {
        Some(up) => (top.checked_mul(power(up)?)?, bottom),
        None => (top, bottom.checked_mul(power(has.saturating_sub(wanted))?)?),
    };
    let half = bottom.checked_abs()?.div_euclid(2);
    let away = if top < 0 { top.checked_sub(half)? } else { top.checked_add(half)? };
    Decimal::try_from_i128_with_scale(away.checked_div(bottom)?, DECIMALS).ok()
}
