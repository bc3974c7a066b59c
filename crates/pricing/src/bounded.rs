//! Decimal arithmetic that stops at the largest there is instead of overflowing, each operation once.
//!
//! The decimal library puts the whole of its checked operations into every place that uses one: two kilobytes each in a buyer's browser.

use rust_decimal::Decimal;

/// The operations, kept within the largest decimal.
pub(crate) trait Bounded {
    /// The sum.
    fn plus(self, other: Decimal) -> Decimal;
    /// The difference.
    fn less(self, other: Decimal) -> Decimal;
    /// The product.
    fn times(self, other: Decimal) -> Decimal;
    /// The quotient; nothing by zero, or when it is too large.
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
        self.checked_div(other)
    }
}
