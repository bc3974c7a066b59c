//! The measured sheet: plan, front and side at one scale, each in line with the next, as a workshop hangs them over the bench.
//!
//! The plan stands above the front and the side to the right of it, so that a size read in one is found level with it in the
//! other. The corner they leave free says what the piece is.

use scantling_pricing::design::Resolved;
use scantling_pricing::measure::LengthUnit;

use crate::{Drawing, Piece, Point, Shape, View, ortho};

/// Draws the sheet. `words` are written into its free corner, a line each.
#[must_use]
pub fn measured(resolved: &Resolved<'_>, unit: LengthUnit, words: &[&str]) -> Drawing {
    let piece = Piece::of(resolved, unit);
    let [length, width, height] = piece.envelope;
    let lettering = ((length + width) / 38).max(20);
    let gap = 6 * lettering;
    let mut shapes = Vec::new();
    let mut hang = |view, (right, down): Point| {
        let drawn = ortho::shapes(&piece, view, lettering);
        shapes.extend(drawn.into_iter().map(|shape| moved(shape, right, down)));
    };
    hang(View::Plan, (0, 0));
    hang(View::Front, (0, width + gap));
    hang(View::Side, (length + gap, width + gap));
    let middle = length + gap + width / 2;
    let lines = (0..).zip(words).map(|(line, text)| Shape::Figure {
        at: (middle, width / 2 + lettering * 3 / 2 * line),
        upright: false,
        text: (*text).to_owned(),
    });
    shapes.extend(lines);
    let sheet =
        [-4 * lettering, -2 * lettering, length + gap + width + 6 * lettering, width + gap + height + 6 * lettering];
    Drawing { sheet, lettering, shapes }
}

/// The same shape further right and down.
fn moved(shape: Shape, right: i64, down: i64) -> Shape {
    let put = |(x, y): Point| (x + right, y + down);
    match shape {
        Shape::Face { corners, swatch, light } => {
            Shape::Face { corners: corners.into_iter().map(put).collect(), swatch, light }
        }
        Shape::Grain(stroke) => Shape::Grain(stroke.into_iter().map(put).collect()),
        Shape::Ruler(strokes) => Shape::Ruler(strokes.into_iter().map(|stroke| stroke.map(put)).collect()),
        Shape::Figure { at, upright, text } => Shape::Figure { at: put(at), upright, text },
    }
}
