//! Weight from specific gravity at the shop's moisture content.

use rust_decimal::Decimal;

use crate::book::price_book::Stock;
use crate::book::values::{Gravity, Percent};
use crate::bounded::Bounded;
use crate::design::ResolvedPart;
use crate::measure::{Area, Volume, Weight};

/// Pounds in a cubic foot of water, as the handbook rounds it. Source: FPL-GTR-190 (2010) ch. 4, eq. 4-7.
const WATER: Decimal = Decimal::from_parts(6243, 0, 0, false, 2);
/// Pounds in a cubic inch of what weighs a gram to the cubic centimetre: 16.387064 g over 453.59237 g.
const GRAM_PER_CC: Decimal = Decimal::from_parts(36_127_292, 0, 0, false, 9);

/// The weight of so much timber of this basic specific gravity, at this moisture content (percent, below 30).
///
/// `rho = 62.43 G_x (1 + x/100)` with `G_x = G_b / (1 - 0.265 G_b (1 - x/30))`.
/// Source: FPL-GTR-190 (2010) ch. 4, eq. 4-9 to 4-12, the combined form; `shared/reference/wood/weight.md`.
#[must_use]
pub fn timber_weight(volume: Volume, basic: Gravity, moisture: Percent) -> Weight {
    let (gravity, moisture) = (basic.value(), moisture.value());
    let dryness = (Decimal::ONE - moisture.over(Decimal::from(30)).unwrap_or(Decimal::ONE)).max(Decimal::ZERO);
    let shrunk = Decimal::ONE - Decimal::new(265, 3) * gravity * dryness;
    let now = gravity.over(shrunk).unwrap_or(gravity);
    let pounds_per_cubic_foot = WATER * now * (Decimal::ONE + moisture.times(Decimal::new(1, 2)));
    Weight::pounds(volume.in_cubic_feet() * pounds_per_cubic_foot)
}

/// The weight of so much cured resin, by its density in grams per cubic centimetre.
#[must_use]
pub fn resin_weight(volume: Volume, density: Gravity) -> Weight {
    Weight::pounds(volume.in_cubic_inches() * density.value() * GRAM_PER_CC)
}

/// The weight of one finished part.
pub(super) fn of_part(part: &ResolvedPart<'_>, moisture: Percent) -> Weight {
    match part.material.stock {
        Stock::Timber(timber) | Stock::Slab(_, timber) => {
            timber_weight(part.volume(), timber.specific_gravity, moisture)
        }
        Stock::Resin(resin) => resin_weight(part.volume(), resin.density),
        Stock::Sheet(sheet) => {
            Weight::pounds(Area::of(part.length, part.width).in_square_feet() * sheet.weight.value())
        }
    }
}
