//! Curves as pictures: decimals put on whole pixels, with figures at round values along both sides.

use rust_decimal::prelude::ToPrimitive;
use rust_decimal::{Decimal, RoundingStrategy};

/// A line of points, each a value along and a value up.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Curve {
    /// What it is called.
    pub name: &'static str,
    /// Its points, in order; where there is nothing the line is broken.
    pub points: Vec<(Decimal, Option<Decimal>)>,
}

/// A picture of curves: everything in pixels from its upper left corner.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plot {
    /// Its size.
    pub size: (i64, i64),
    /// The box the curves are in: left, top, right, bottom.
    pub frame: [i64; 4],
    /// By curve: its name and the data of its path.
    pub curves: Vec<(&'static str, String)>,
    /// Figures along the foot.
    pub along: Vec<(i64, String)>,
    /// Figures up the side.
    pub up: Vec<(i64, String)>,
    /// Where one value lies along, such as the one of today.
    pub now: Option<i64>,
}

/// From the least value to the most, never nothing wide.
#[derive(Debug, Clone, Copy)]
struct Span {
    least: Decimal,
    most: Decimal,
}

impl Span {
    fn of(values: impl Iterator<Item = Decimal> + Clone) -> Option<Self> {
        let (least, most) = (values.clone().min()?, values.max()?);
        let most = if most > least { most } else { least.checked_add(Decimal::ONE)? };
        Some(Self { least, most })
    }

    /// A value on so many pixels.
    fn on(self, value: Decimal, pixels: i64) -> Option<i64> {
        let part = value.checked_sub(self.least)?.checked_div(self.most.checked_sub(self.least)?)?;
        let at = part.checked_mul(Decimal::from(pixels))?;
        at.round_dp_with_strategy(0, RoundingStrategy::MidpointAwayFromZero).to_i64()
    }

    /// Round values within it, about so many.
    fn ticks(self, count: u32) -> Vec<Decimal> {
        let Some(step) = self.most.checked_sub(self.least).and_then(|wide| round_step(wide, count)) else {
            return Vec::new();
        };
        let first = self.least.checked_div(step).map(|steps| steps.ceil());
        let mut next = first.and_then(|steps| steps.checked_mul(step));
        let mut ticks = Vec::new();
        while let Some(tick) = next.filter(|tick| *tick <= self.most && ticks.len() < 50) {
            ticks.push(tick.normalize());
            next = tick.checked_add(step);
        }
        ticks
    }
}

/// The least of 1, 2 and 5 times a power of ten that goes into a width no more than so many times.
fn round_step(wide: Decimal, count: u32) -> Option<Decimal> {
    let wanted = wide.checked_div(Decimal::from(count.max(1)))?;
    let mut power = Decimal::new(1, 6);
    while power.checked_mul(Decimal::TEN)? <= wanted {
        power = power.checked_mul(Decimal::TEN)?;
    }
    [1, 2, 5, 10].into_iter().filter_map(|times| power.checked_mul(Decimal::from(times))).find(|step| *step >= wanted)
}

impl Plot {
    /// Draws curves on so many pixels; nothing where there is no point to draw. What is priced starts at nothing only where it is near it:
    /// the picture is of what changes.
    #[must_use]
    pub fn of(curves: &[Curve], now: Option<Decimal>, (wide, high): (i64, i64)) -> Option<Self> {
        let points = || curves.iter().flat_map(|curve| &curve.points);
        let along = Span::of(points().map(|(value, _)| *value))?;
        let up = Span::of(points().filter_map(|(_, value)| *value))?;
        let frame = [64, 12, wide.saturating_sub(12), high.saturating_sub(28)];
        let [left, top, right, bottom] = frame;
        let (across, tall) = (right.saturating_sub(left), bottom.saturating_sub(top));
        let x = |value: Decimal| along.on(value, across).map(|at| left.saturating_add(at));
        let y = |value: Decimal| up.on(value, tall).map(|at| bottom.saturating_sub(at));
        let drawn = curves.iter().filter_map(|curve| {
            let place = |(value, height): &(Decimal, Option<Decimal>)| Some((x(*value)?, y((*height)?)?));
            let placed: Vec<Option<(i64, i64)>> = curve.points.iter().map(place).collect();
            placed.iter().any(Option::is_some).then(|| (curve.name, path(&placed)))
        });
        Some(Self {
            size: (wide, high),
            frame,
            curves: drawn.collect(),
            along: along.ticks(5).into_iter().filter_map(|tick| Some((x(tick)?, tick.to_string()))).collect(),
            up: up.ticks(5).into_iter().filter_map(|tick| Some((y(tick)?, tick.to_string()))).collect(),
            now: now.and_then(x).filter(|at| (left..=right).contains(at)),
        })
    }
}

fn path(points: &[Option<(i64, i64)>]) -> String {
    let mut out = String::new();
    let mut pen_down = false;
    for point in points {
        if let Some((x, y)) = point {
            out.push_str(&format!("{}{x} {y}", if pen_down { "L" } else { "M" }));
        }
        pen_down = point.is_some();
    }
    out
}

/// How long a bar is out of so many pixels, where the largest is as long as they are; nothing for nothing, else one pixel at least.
#[must_use]
pub fn bar(value: Decimal, largest: Decimal, pixels: i64) -> i64 {
    let part = value.abs().checked_div(largest.abs()).unwrap_or_default();
    let long = part.checked_mul(Decimal::from(pixels)).unwrap_or_default();
    let long = long.round_dp_with_strategy(0, RoundingStrategy::MidpointAwayFromZero).to_i64().unwrap_or(0);
    if value.is_zero() { 0 } else { long.clamp(1, pixels.max(1)) }
}

/// So many values from one to another, both among them, each to six decimals.
#[must_use]
pub fn steps(from: Decimal, to: Decimal, count: u32) -> Vec<Decimal> {
    let gaps = count.saturating_sub(1).max(1);
    let at = |i: u32| {
        let way = to.checked_sub(from)?.checked_mul(Decimal::from(i))?.checked_div(Decimal::from(gaps))?;
        let value = from.checked_add(way)?;
        Some(value.round_dp_with_strategy(6, RoundingStrategy::MidpointAwayFromZero).normalize())
    };
    (0..=gaps).filter_map(at).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn decimal(text: &str) -> Decimal {
        text.parse().unwrap()
    }

    #[test]
    fn figures_stand_at_round_values() {
        let ticks = |least: &str, most: &str| -> Vec<String> {
            let span = Span { least: decimal(least), most: decimal(most) };
            span.ticks(5).iter().map(ToString::to_string).collect()
        };
        assert_eq!(ticks("0", "1"), ["0", "0.2", "0.4", "0.6", "0.8", "1"]);
        assert_eq!(ticks("3310", "3580"), ["3400", "3500"]);
        assert_eq!(ticks("7.35", "22.05"), ["10", "15", "20"]);
        assert_eq!(ticks("0.1", "0.2"), ["0.1", "0.12", "0.14", "0.16", "0.18", "0.2"]);
    }

    #[test]
    fn a_curve_runs_from_corner_to_corner_and_breaks_where_there_is_nothing() {
        let points = [(0, Some(0)), (1, Some(50)), (2, None), (3, Some(80)), (4, Some(100))];
        let points = points.map(|(x, y): (i64, Option<i64>)| (Decimal::from(x), y.map(Decimal::from))).to_vec();
        let plot = Plot::of(&[Curve { name: "price", points }], Some(Decimal::from(1)), (476, 240)).unwrap();
        // 400 pixels along from 64 to 464, 200 up from 212 to 12.
        assert_eq!(plot.frame, [64, 12, 464, 212]);
        assert_eq!(plot.curves, [("price", "M64 212L164 112M364 52L464 12".to_owned())]);
        assert_eq!(plot.now, Some(164));
        assert_eq!(Plot::of(&[], None, (100, 100)), None);
    }

    #[test]
    fn what_never_changes_is_a_level_line() {
        let points = vec![(Decimal::ZERO, Some(Decimal::TEN)), (Decimal::ONE, Some(Decimal::TEN))];
        let plot = Plot::of(&[Curve { name: "price", points }], None, (176, 140)).unwrap();
        assert_eq!(plot.curves[0].1, "M64 112L164 112");
    }

    #[test]
    fn steps_take_in_both_ends_and_bars_are_seen() {
        let values: Vec<String> = steps(decimal("0.5"), decimal("2"), 4).iter().map(ToString::to_string).collect();
        assert_eq!(values, ["0.5", "1", "1.5", "2"]);
        assert_eq!(bar(decimal("-25"), decimal("100"), 200), 50);
        assert_eq!((bar(decimal("0.001"), decimal("100"), 200), bar(Decimal::ZERO, decimal("100"), 200)), (1, 0));
    }
}
