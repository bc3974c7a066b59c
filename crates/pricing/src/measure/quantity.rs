//! Areas, volumes, board feet and weights: decimals that know their unit, so that two can't be mixed up.
//!
//! Areas and volumes are held in square and cubic millimetres, where every product of two lengths ends exactly.

use std::iter::Sum;
use std::ops::{Add, Mul, Sub};

use rust_decimal::Decimal;

use super::Length;
use crate::bounded::Bounded;

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        pub struct $name(Decimal);

        impl $name {
            /// None of it.
            pub const ZERO: Self = Self(Decimal::ZERO);
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0.plus(other.0))
            }
        }

        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0.less(other.0))
            }
        }

        /// So many times as much.
        impl Mul<Decimal> for $name {
            type Output = Self;
            fn mul(self, by: Decimal) -> Self {
                Self(self.0.times(by))
            }
        }

        impl Sum for $name {
            fn sum<I: Iterator<Item = Self>>(items: I) -> Self {
                items.fold(Self::ZERO, Add::add)
            }
        }
    };
}

quantity! {
    /// An area.
    Area
}
quantity! {
    /// A volume.
    Volume
}
quantity! {
    /// Board feet: 144 cubic inches of nominal timber each.
    BoardFeet
}
quantity! {
    /// A weight in pounds.
    Weight
}

/// Square millimetres in a square foot: 304.8 squared, exactly.
pub(super) const MM2_PER_SQUARE_FOOT: Decimal = Decimal::from_parts(9_290_304, 0, 0, false, 2);
/// Cubic millimetres in a cubic inch: 25.4 cubed, exactly.
pub(super) const MM3_PER_CUBIC_INCH: Decimal = Decimal::from_parts(16_387_064, 0, 0, false, 3);

/// Cubic millimetres in a cubic foot and in a board foot: 1728 and 144 cubic inches, exactly.
const MM3_PER_CUBIC_FOOT: Decimal = Decimal::from_parts(2_547_042_816, 6, 0, false, 3);
pub(super) const MM3_PER_BOARD_FOOT: Decimal = Decimal::from_parts(2_359_737_216, 0, 0, false, 3);
/// Kilograms in a pound. Source: 0.45359237 exactly (NIST SP 811, appendix B).
pub(super) const KILOGRAMS_PER_POUND: Decimal = Decimal::from_parts(45_359_237, 0, 0, false, 8);

impl Area {
    /// The area of a rectangle.
    #[must_use]
    pub fn of(length: Length, width: Length) -> Self {
        Self(length.in_millimetres().times(width.in_millimetres()))
    }

    /// In square feet.
    #[must_use]
    pub fn in_square_feet(self) -> Decimal {
        self.0.over(MM2_PER_SQUARE_FOOT).unwrap_or(Decimal::ZERO)
    }

    /// This area to so much depth.
    #[must_use]
    pub fn by(self, depth: Length) -> Volume {
        Volume(self.0.times(depth.in_millimetres()))
    }

    /// This area as a share of `whole`; nothing when `whole` is no area.
    #[must_use]
    pub fn share_of(self, whole: Self) -> Option<Decimal> {
        self.0.over(whole.0)
    }
}

impl Volume {
    /// In cubic inches.
    #[must_use]
    pub fn in_cubic_inches(self) -> Decimal {
        self.0.over(MM3_PER_CUBIC_INCH).unwrap_or(Decimal::ZERO)
    }

    /// In cubic feet.
    #[must_use]
    pub fn in_cubic_feet(self) -> Decimal {
        self.0.over(MM3_PER_CUBIC_FOOT).unwrap_or(Decimal::ZERO)
    }
}

impl BoardFeet {
    /// So many board feet.
    #[must_use]
    pub const fn new(board_feet: Decimal) -> Self {
        Self(board_feet)
    }

    /// What is left when each of these is taken to be so much: board feet to buy for those in the blanks, at a yield.
    #[must_use]
    pub fn over(self, share: Decimal) -> Self {
        Self(Bounded::over(self.0, share).unwrap_or(Decimal::ZERO))
    }

    /// Up to the next multiple of `step`.
    #[must_use]
    pub fn up_to(self, step: Decimal) -> Self {
        Self(crate::money::multiple_up(self.0, step))
    }

    /// The board feet in so much nominal timber. Source: 144 cubic inches, Minn. Stat. 239.33.
    #[must_use]
    pub fn in_volume(nominal: Volume) -> Self {
        Self(nominal.0.over(MM3_PER_BOARD_FOOT).unwrap_or(Decimal::ZERO))
    }

    /// The number.
    #[must_use]
    pub const fn value(self) -> Decimal {
        self.0
    }
}

impl Weight {
    /// So many pounds.
    #[must_use]
    pub const fn pounds(pounds: Decimal) -> Self {
        Self(pounds)
    }

    /// In pounds.
    #[must_use]
    pub const fn in_pounds(self) -> Decimal {
        self.0
    }

    /// In kilograms.
    #[must_use]
    pub fn in_kilograms(self) -> Decimal {
        self.0.times(KILOGRAMS_PER_POUND)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_finishing_take_off_from_the_trade_notes() {
        // shared/reference/trade: top 84 x 42 x 1.5 in, both faces and all edges, is 51.625 sq ft (derived there).
        let (l, w, t) = (Length::inches(84), Length::inches(42), Length::sixty_fourths(96));
        let two = Decimal::TWO;
        let all = Area::of(l, w) * two + Area::of(l, t) * two + Area::of(w, t) * two;
        assert_eq!(all.in_square_feet(), Decimal::new(51_625, 3));
    }

    #[test]
    fn a_void_from_the_resin_notes_is_1008_cubic_inches() {
        // shared/reference/trade: 84 x 6 x 2 in = 1008 cu in.
        let void = Area::of(Length::inches(84), Length::inches(6)).by(Length::inches(2));
        assert_eq!(void.in_cubic_inches(), Decimal::from(1008));
    }
}
