//! Dimension lines, drawn by the rules of technical drawing.
//!
//! Extension lines stand off the outline by a gap and reach a little past the dimension line, which ends in slanting strokes;
//! the figure stands above its line and reads from below or from the right. Source: the principles of ISO 129-1, from memory.

use crate::{Point, Shape};

/// How far a dimension line keeps from what it measures, in tenths of the lettering.
const OFFSET: i64 = 21;

/// A level dimension line under an outline whose foot is at `foot`, from `from` to `to`. A figure that is longer than its line
/// stands under it, clear of the extension lines.
pub(crate) fn level(from: i64, to: i64, foot: i64, lettering: i64, text: &str) -> [Shape; 2] {
    let y = foot + lettering * OFFSET / 10;
    let line = measure(lettering, (from, y), (to, y), |(x, y)| [(x, foot + gap(lettering)), (x, y + past(lettering))]);
    let fits = words(text, lettering) <= to - from;
    let under = if fits { y - clear(lettering) } else { y + past(lettering) + lettering };
    [line, Shape::Figure { at: ((from + to) / 2, under), upright: false, text: text.to_owned() }]
}

/// On which side of an outline an upright dimension line stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Side {
    Left,
    Right,
}

/// An upright dimension line beside an outline whose edge is at `edge`, from `from` down to `to`. A figure that is longer than
/// its line stands on the far side of it, clear of the extension lines.
pub(crate) fn upright((from, to): (i64, i64), (edge, side): (i64, Side), lettering: i64, text: &str) -> [Shape; 2] {
    let away = if side == Side::Left { -1 } else { 1 };
    let x = edge + away * lettering * OFFSET / 10;
    let line = measure(lettering, (x, from), (x, to), |(x, y)| {
        [(edge + away * gap(lettering), y), (x + away * past(lettering), y)]
    });
    let foot = match side {
        _ if words(text, lettering) <= to - from => x - clear(lettering),
        Side::Left => x - past(lettering) - lettering / 5,
        Side::Right => x + past(lettering) + lettering,
    };
    [line, Shape::Figure { at: (foot, (from + to) / 2), upright: true, text: text.to_owned() }]
}

/// About how long a line of text is: its letters at six tenths of their height, a little more than most fonts take.
pub(crate) fn words(text: &str, lettering: i64) -> i64 {
    i64::try_from(text.chars().count()).unwrap_or(0) * lettering * 6 / 10
}

/// A dimension line across a face at `x`, without extension lines: its ends lie on the outline itself.
pub(crate) fn across(x: i64, from: i64, to: i64, lettering: i64) -> Shape {
    let line = [(x, from), (x, to)];
    Shape::Ruler(vec![line, tick(line[0], lettering), tick(line[1], lettering)])
}

/// The room between a line and the foot of its figure.
fn clear(lettering: i64) -> i64 {
    (lettering * 4 / 10).max(1)
}

/// The gap between an outline and an extension line.
fn gap(lettering: i64) -> i64 {
    (lettering / 3).max(1)
}

/// How far an extension line reaches past the dimension line.
fn past(lettering: i64) -> i64 {
    (lettering / 2).max(1)
}

/// The line, its extension lines and its ticks, drawn aslant as on a joiner's rod.
fn measure(lettering: i64, from: Point, to: Point, extension: impl Fn(Point) -> [Point; 2]) -> Shape {
    Shape::Ruler(vec![[from, to], extension(from), extension(to), tick(from, lettering), tick(to, lettering)])
}

/// A short stroke at 45 degrees through the end of a dimension line.
fn tick((x, y): Point, lettering: i64) -> [Point; 2] {
    let reach = (lettering / 3).max(1);
    [(x - reach, y + reach), (x + reach, y - reach)]
}
