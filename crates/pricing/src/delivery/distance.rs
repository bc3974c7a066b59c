//! How far it is by road between two places that are known by where they lie.
//!
//! Decimals and series, no floats: a mile is a mile on every machine.

use rust_decimal::Decimal;

use crate::book::values::Factor;
use crate::bounded::Bounded;
use crate::money::whole_up;
use crate::range::square_root;

/// A place on the earth, in ten-thousandths of a degree.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Point {
    /// North of the equator, or below zero south of it.
    pub north: i32,
    /// East of Greenwich, or below zero west of it.
    pub east: i32,
}

/// The mean radius of the earth in miles: 6371.0088 km (IUGG, R1) at 1.609344 km exactly.
/// Source: `shared/reference/delivery/own_van.md` section 4.
const RADIUS: Decimal = Decimal::from_parts(4_077_741_426, 921_720, 0, false, 12);

/// Pi, to the decimals a quotient has and some more.
const PI: Decimal = Decimal::from_parts(2_721_204_694, 731_459_039, 0, false, 18);

/// Miles as the crow flies, by the haversine formula.
///
/// `a = sin²(Δlat/2) + cos lat₁ cos lat₂ sin²(Δlon/2)`, `d = 2R asin √a`. Source: section 4 there.
#[must_use]
pub fn great_circle_miles(from: Point, to: Point) -> Decimal {
    let half_sine_squared = |a: i32, b: i32| {
        let sine = sine(radians(a.saturating_sub(b)).times(Decimal::new(5, 1)));
        sine.times(sine)
    };
    let slant = cosine(radians(from.north)).times(cosine(radians(to.north)));
    let a = half_sine_squared(from.north, to.north).plus(slant.times(half_sine_squared(from.east, to.east)));
    (RADIUS * Decimal::TWO).times(arc_sine(square_root(a.min(Decimal::ONE))))
}

/// What roads are found to take: miles by road at so many miles as the crow flies, and by how many times they grow beyond the last.
///
/// Between these it is a straight line, so that no farther place is nearer by road. Source: the design rule of
/// `shared/reference/delivery/own_van.md` section 3 (derived there): 1.42 times at 10 miles, 1.30 at 50, 1.22 at 250 and 1.18 beyond in
/// North America; 1.35 and 1.30 for the last two elsewhere.
struct Roads {
    at_250: i64,
    beyond: Decimal,
}

const NORTH_AMERICA: Roads = Roads { at_250: 3050, beyond: Decimal::from_parts(118, 0, 0, false, 2) };
const ELSEWHERE: Roads = Roads { at_250: 3375, beyond: Decimal::from_parts(130, 0, 0, false, 2) };

/// Whole miles by road, rounded up, for so many miles as the crow flies in a country; by the maker's own factor where there is one.
#[must_use]
pub fn road_miles(crow: Decimal, country: &str, own: Option<Factor>) -> u32 {
    if let Some(own) = own {
        return whole_up(crow.times(own.value()));
    }
    let roads = if matches!(country, "US" | "CA") { NORTH_AMERICA } else { ELSEWHERE };
    let mut last = (Decimal::ZERO, Decimal::ZERO);
    for (flown, driven) in [(10, 142), (50, 650), (250, roads.at_250)] {
        let (flown, driven) = (Decimal::from(flown), Decimal::new(driven, 1));
        if crow <= flown {
            let slope = (driven - last.1).over(flown - last.0).unwrap_or(Decimal::ONE);
            return whole_up(last.1.plus(slope.times(crow - last.0)));
        }
        last = (flown, driven);
    }
    whole_up(last.1.plus(roads.beyond.times(crow - last.0)))
}

/// An angle of so many ten-thousandths of a degree.
fn radians(ten_thousandths: i32) -> Decimal {
    PI.times(Decimal::from(ten_thousandths)).over(Decimal::from(1_800_000)).unwrap_or(Decimal::ZERO)
}

/// Terms of a series until they no longer count: each is the one before times `step`, which knows how many came before.
fn series(first: Decimal, step: impl Fn(i64) -> Decimal) -> Decimal {
    let (mut sum, mut term) = (first, first);
    for n in 1..40 {
        term = crate::money::half_up(term.times(step(n)), 18);
        if term.is_zero() {
            break;
        }
        sum = sum.plus(term);
    }
    sum
}

/// A sine, by its series: `x - x³/3! + x⁵/5! ...`
fn sine(angle: Decimal) -> Decimal {
    let square = angle.times(angle);
    series(angle, |n| (-square).over(Decimal::from(2 * n * (2 * n + 1))).unwrap_or(Decimal::ZERO))
}

/// A cosine, by its series: `1 - x²/2! + x⁴/4! ...`
fn cosine(angle: Decimal) -> Decimal {
    let square = angle.times(angle);
    series(Decimal::ONE, |n| (-square).over(Decimal::from(2 * n * (2 * n - 1))).unwrap_or(Decimal::ZERO))
}

/// The angle of a sine from 0 to 1, by its series up to a half, `x + x³/6 + 3x⁵/40 ...`, and by `π/2 - 2 asin √((1 - x)/2)` above.
fn arc_sine(sine: Decimal) -> Decimal {
    let half = Decimal::new(5, 1);
    let small = |sine: Decimal| {
        let square = sine.times(sine);
        series(sine, |n| {
            let odd = Decimal::from((2 * n - 1) * (2 * n - 1));
            square.times(odd.over(Decimal::from(2 * n * (2 * n + 1))).unwrap_or(Decimal::ZERO))
        })
    };
    if sine <= half {
        return small(sine);
    }
    let rest = square_root((Decimal::ONE - sine).times(half));
    PI.times(half).less(small(rest).times(Decimal::TWO))
}
