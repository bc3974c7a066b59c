//! Front, side and plan: the boxes seen square on, the nearest painted last, with the sizes of the whole.

use crate::{Drawing, Light, Piece, Shape, Solid, View, grain, ruler};

/// Which axis runs right, which runs up on the sheet, and which way one looks.
struct Frame {
    right: usize,
    up: usize,
    depth: usize,
    /// Whether larger values along the depth are nearer.
    nearer_is_larger: bool,
    /// How the light falls on what is seen.
    light: Light,
}

impl Frame {
    fn of(view: View) -> Self {
        match view {
            View::Side => Self { right: 1, up: 2, depth: 0, nearer_is_larger: true, light: Light::Half },
            View::Plan => Self { right: 0, up: 1, depth: 2, nearer_is_larger: true, light: Light::Full },
            View::Front | View::Solid => {
                Self { right: 0, up: 2, depth: 1, nearer_is_larger: false, light: Light::Half }
            }
        }
    }
}

/// Draws one square view.
pub(crate) fn draw(piece: &Piece<'_>, view: View) -> Drawing {
    let frame = Frame::of(view);
    let (wide, high) = (at(&piece.envelope, frame.right), at(&piece.envelope, frame.up));
    // A view may be shown no wider than a thumb's length: its figures must still be read there.
    let lettering = (wide.max(high) / 18).max(14);
    let sheet = [-3 * lettering, -lettering, wide + 4 * lettering, high + 5 * lettering];
    Drawing { sheet, lettering, shapes: shapes(piece, view, lettering) }
}

/// The shapes of one square view, its upper left corner at the sheet's origin.
pub(crate) fn shapes(piece: &Piece<'_>, view: View, lettering: i64) -> Vec<Shape> {
    let frame = Frame::of(view);
    let (wide, high) = (at(&piece.envelope, frame.right), at(&piece.envelope, frame.up));
    let mut order: Vec<&Solid<'_>> = piece.boxes.iter().collect();
    order.sort_by_key(
        |solid| if frame.nearer_is_larger { at(&solid.high, frame.depth) } else { -at(&solid.low, frame.depth) },
    );
    let mut shapes: Vec<Shape> = order.iter().flat_map(|solid| face(solid, &frame, high)).collect();
    let word = |axis: usize| piece.figures.get(axis).map_or("", String::as_str);
    shapes.extend(ruler::level(0, wide, high + lettering * 3 / 2, lettering, word(frame.right)));
    shapes.extend(ruler::upright(0, high, -lettering * 3 / 2, lettering, word(frame.up)));
    shapes
}

/// A box's face towards the reader, with grain where the grain lies in it.
fn face(solid: &Solid<'_>, frame: &Frame, high: i64) -> Vec<Shape> {
    let (left, right) = (at(&solid.low, frame.right), at(&solid.high, frame.right));
    let (bottom, top) = (at(&solid.low, frame.up), at(&solid.high, frame.up));
    let place = |x: i64, up: i64| (x, high - up);
    let corners = [(left, bottom), (right, bottom), (right, top), (left, top)].map(|(x, up)| place(x, up));
    let mut shapes =
        vec![Shape::Face { corners: corners.to_vec(), swatch: solid.swatch.to_owned(), light: frame.light }];
    if solid.grain == Some(frame.right) {
        shapes.extend(grain::strokes((left, right), (bottom, top), place));
    } else if solid.grain == Some(frame.up) {
        shapes.extend(grain::strokes((bottom, top), (left, right), |up, x| place(x, up)));
    }
    shapes
}

fn at(values: &[i64; 3], axis: usize) -> i64 {
    values.get(axis).copied().unwrap_or(0)
}
