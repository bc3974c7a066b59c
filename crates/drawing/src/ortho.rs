//! Front, side and plan: the boxes seen square on, the nearest painted last, with the sizes of the whole.

use crate::{Drawing, Light, Shape, Solid, View, grain, ruler};

/// Which axis runs right, which runs up on the sheet, and which way one looks.
struct Frame {
    right: usize,
    up: usize,
    depth: usize,
    /// Whether larger values along the depth are nearer.
    nearer_is_larger: bool,
}

impl Frame {
    fn of(view: View) -> Self {
        match view {
            View::Side => Self { right: 1, up: 2, depth: 0, nearer_is_larger: true },
            View::Plan => Self { right: 0, up: 1, depth: 2, nearer_is_larger: true },
            View::Front | View::Solid => Self { right: 0, up: 2, depth: 1, nearer_is_larger: false },
        }
    }
}

/// Draws one square view; `figures` are the overall length, width and height in words.
pub(crate) fn draw(boxes: &[Solid<'_>], envelope: [i64; 3], view: View, figures: &[String]) -> Drawing {
    let frame = Frame::of(view);
    let (wide, high) = (at(&envelope, frame.right), at(&envelope, frame.up));
    let lettering = (wide.max(high) / 26).max(14);
    let mut order: Vec<&Solid<'_>> = boxes.iter().collect();
    order.sort_by_key(
        |solid| if frame.nearer_is_larger { at(&solid.high, frame.depth) } else { -at(&solid.low, frame.depth) },
    );
    let mut shapes: Vec<Shape> = order.iter().flat_map(|solid| face(solid, &frame, high)).collect();
    let word = |axis: usize| figures.get(axis).map_or("", String::as_str);
    shapes.extend(ruler::level(0, wide, high + lettering * 3 / 2, lettering, word(frame.right)));
    shapes.extend(ruler::upright(0, high, -lettering * 3 / 2, lettering, word(frame.up)));
    let sheet = [-3 * lettering, -lettering, wide + 4 * lettering, high + 5 * lettering];
    Drawing { sheet, lettering, shapes }
}

/// A box's face towards the reader, with grain where the grain lies in it.
fn face(solid: &Solid<'_>, frame: &Frame, high: i64) -> Vec<Shape> {
    let (left, right) = (at(&solid.low, frame.right), at(&solid.high, frame.right));
    let (bottom, top) = (at(&solid.low, frame.up), at(&solid.high, frame.up));
    let place = |x: i64, up: i64| (x, high - up);
    let corners = [(left, bottom), (right, bottom), (right, top), (left, top)].map(|(x, up)| place(x, up));
    let mut shapes =
        vec![Shape::Face { corners: corners.to_vec(), swatch: solid.swatch.to_owned(), light: Light::Half }];
    if solid.grain == frame.right {
        shapes.extend(grain::strokes((left, right), (bottom, top), place));
    } else if solid.grain == frame.up {
        shapes.extend(grain::strokes((bottom, top), (left, right), |up, x| place(x, up)));
    }
    shapes
}

fn at(values: &[i64; 3], axis: usize) -> i64 {
    values.get(axis).copied().unwrap_or(0)
}
