//! Dimension lines: a line as long as what it measures, a tick at each end, the figure in its middle.

use crate::{Point, Shape};

/// A level dimension line at height `y` from `from` to `to`.
pub(crate) fn level(from: i64, to: i64, y: i64, lettering: i64, text: &str) -> [Shape; 2] {
    let line = measure((from, y), (to, y), lettering);
    [line, Shape::Figure { at: ((from + to) / 2, y + lettering * 6 / 5), upright: false, text: text.to_owned() }]
}

/// An upright dimension line at `x` from `from` to `to`.
pub(crate) fn upright(from: i64, to: i64, x: i64, lettering: i64, text: &str) -> [Shape; 2] {
    let line = measure((x, from), (x, to), lettering);
    [line, Shape::Figure { at: (x - lettering * 2 / 5, (from + to) / 2), upright: true, text: text.to_owned() }]
}

/// The line and its ticks, drawn aslant as on a joiner's rod.
fn measure(from: Point, to: Point, lettering: i64) -> Shape {
    let reach = lettering / 3;
    let tick = |(x, y): Point| [(x - reach, y + reach), (x + reach, y - reach)];
    Shape::Ruler(vec![[from, to], tick(from), tick(to)])
}
