//! How moist wood becomes in the air around it.

use rust_decimal::Decimal;

use crate::book::delivery::{Climate, Humidity};

/// The least and the most moisture, in percent of oven-dry weight, that furniture comes to over a year.
///
/// Source: FPL-GTR-190 (2010), Table 13-2, interior use, individual pieces; `shared/reference/wood/indoor_mc.md` (the spans are from
/// memory there, the averages were read).
pub(super) fn moisture_indoors(climate: Climate) -> [Decimal; 2] {
    match climate {
        Climate::Dry => [4, 9].map(Decimal::from),
        Climate::Ordinary => [6, 10].map(Decimal::from),
        Climate::Damp => [8, 13].map(Decimal::from),
        Climate::Humidity(Humidity { least, most, celsius }) => {
            [least, most].map(|humidity| equilibrium(celsius.decimal(), humidity.value() / Decimal::ONE_HUNDRED))
        }
    }
}

/// `a + b T + c T²`.
fn quadratic(celsius: Decimal, [a, b, c]: [Decimal; 3]) -> Decimal {
    a + (b + c * celsius) * celsius
}

/// The moisture content, in percent, that wood comes to in air of this temperature (0 to 50 °C; beyond, as at the nearer end) and
/// relative humidity (0 to 0.99).
///
/// `1800/W [Kh/(1 - Kh) + (K1 Kh + 2 K1 K2 K²h²)/(1 + K1 Kh + K1 K2 K²h²)]`, with W, K, K1, K2 quadratic in the temperature.
/// Source: FPL-GTR-190 (2010), eq. 4-3, metric coefficients; `shared/reference/wood/emc.md`.
#[must_use]
pub fn equilibrium(celsius: Decimal, humidity: Decimal) -> Decimal {
    let at = celsius.clamp(Decimal::ZERO, Decimal::from(50));
    let w = quadratic(at, [Decimal::from(349), Decimal::new(129, 2), Decimal::new(135, 4)]);
    let k = quadratic(at, [Decimal::new(805, 3), Decimal::new(736, 6), Decimal::new(-273, 8)]);
    let k1 = quadratic(at, [Decimal::new(627, 2), Decimal::new(-938, 5), Decimal::new(-303, 6)]);
    let k2 = quadratic(at, [Decimal::new(191, 2), Decimal::new(407, 4), Decimal::new(-293, 6)]);
    let kh = k * humidity.clamp(Decimal::ZERO, Decimal::new(99, 2));
    let (first, second) = (k1 * kh, k1 * k2 * kh * kh);
    let free = kh / (Decimal::ONE - kh);
    let bound = (first + Decimal::TWO * second) / (Decimal::ONE + first + second);
    Decimal::from(1800) / w * (free + bound)
}
