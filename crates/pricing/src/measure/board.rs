//! Board measure and thickness classes: how sawn hardwood is counted and sold.

use std::fmt;

use rust_decimal::Decimal;

use super::{Area, BoardFeet, Length};
use crate::bounded::Bounded;

/// A quarter class of rough timber, by its nominal thickness in quarters of an inch: `4/4` is 1 in, `8/4` is 2 in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct ThicknessClass {
    quarters: u8,
    surfaced: Length,
}

/// The text is not one of the classes `4/4` to `16/4`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnknownClass(pub String);

impl fmt::Display for UnknownClass {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "“{}” is not a thickness class; use one of 4/4, 5/4, 6/4, 7/4, 8/4, 10/4, 12/4, 14/4, 16/4", self.0)
    }
}

/// The classes sold from 1 in up, and the thickness left once both faces are surfaced (S2S).
///
/// Source: hardwood S2S standard thicknesses, `shared/reference/trade/board_measure.md` section 3 (two published
/// reference pages agree; the pattern is 3/16 in off to 6/4 and 1/4 in above). 10/4 is from memory there and follows it.
pub const STANDARD_CLASSES: [ThicknessClass; 9] = [
    ThicknessClass::standard(4, 52),
    ThicknessClass::standard(5, 68),
    ThicknessClass::standard(6, 84),
    ThicknessClass::standard(7, 96),
    ThicknessClass::standard(8, 112),
    ThicknessClass::standard(10, 144),
    ThicknessClass::standard(12, 176),
    ThicknessClass::standard(14, 208),
    ThicknessClass::standard(16, 240),
];

impl ThicknessClass {
    const fn standard(quarters: u8, surfaced_sixty_fourths: i32) -> Self {
        Self { quarters, surfaced: Length::sixty_fourths(surfaced_sixty_fourths) }
    }

    /// Reads a class written as quarters: `6/4`.
    ///
    /// # Errors
    /// [`UnknownClass`] when the text is none of [`STANDARD_CLASSES`].
    pub fn read(text: &str) -> Result<Self, UnknownClass> {
        STANDARD_CLASSES
            .into_iter()
            .find(|class| class.to_string() == text)
            .ok_or_else(|| UnknownClass(text.to_owned()))
    }

    /// The thickness it is sold and counted by.
    #[must_use]
    pub fn nominal(self) -> Length {
        Length::sixty_fourths(i32::from(self.quarters).saturating_mul(16))
    }

    /// The thickness left when both faces are surfaced.
    #[must_use]
    pub const fn surfaced(self) -> Length {
        self.surfaced
    }
}

impl fmt::Display for ThicknessClass {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/4", self.quarters)
    }
}

/// Exact board feet of one piece: nominal thickness x width x length over 144 cubic inches, under 1 in counted as 1 in.
///
/// Source: Navy Engineering Aid Basic, ch. 6 (the formula and the rule under 1 in), `shared/reference/trade/board_measure.md`.
///
/// ```
/// use rust_decimal::Decimal;
/// use scantling_pricing::measure::{Length, board_feet};
/// let plank = board_feet(Length::sixty_fourths(80), Length::inches(6), Length::inches(72));
/// assert_eq!(plank.value(), Decimal::new(375, 2)); // 5/4 x 6 in x 72 in
/// ```
#[must_use]
pub fn board_feet(nominal_thickness: Length, width: Length, length: Length) -> BoardFeet {
    let counted = nominal_thickness.max(Length::inches(1));
    BoardFeet::in_volume(Area::of(length, width).by(counted))
}

/// Surface measure of a random-width board, in whole square feet: width by whole feet of length over 12, rounded to the
/// nearest foot, an exact half to the even one so that the order of boards does not matter.
///
/// Source: AHEC measurement page; NHLA rule book p. 7 as quoted in `shared/reference/trade/board_measure.md` section 2.
#[must_use]
pub fn surface_measure(width: Length, length: Length) -> u32 {
    let whole_feet = length.nanometres().div_euclid(Length::inches(12).nanometres());
    let twelfths = width.in_inches().times(Decimal::from(whole_feet));
    crate::money::half_even_whole(twelfths / Decimal::from(12))
}
