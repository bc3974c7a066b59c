//! Front, side and plan: the boxes seen square on, the nearest painted last.

use crate::live::stations;
use crate::{Drawing, Light, Piece, Shape, Solid, View, at, grain, put};

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
    const fn of(view: View) -> Self {
        match view {
            View::Side => Self { right: 1, up: 2, depth: 0, nearer_is_larger: true, light: Light::Half },
            View::Plan => Self { right: 0, up: 1, depth: 2, nearer_is_larger: true, light: Light::Full },
            View::Front | View::Solid => {
                Self { right: 0, up: 2, depth: 1, nearer_is_larger: false, light: Light::Half }
            }
        }
    }
}

/// Draws one square view by itself.
pub(crate) fn draw(piece: &Piece<'_>, view: View) -> Drawing {
    let frame = Frame::of(view);
    let (wide, high) = (at(&piece.envelope, frame.right), at(&piece.envelope, frame.up));
    let margin = (wide.max(high) / 40).max(8);
    let sheet = [-margin, -margin, wide + 2 * margin, high + 2 * margin];
    Drawing { sheet, lettering: margin, shapes: shapes(piece, view, (wide.max(high) / 60).max(6)) }
}

/// The shapes of one square view, its upper left corner at the sheet's origin, grain about `pitch` apart.
pub(crate) fn shapes(piece: &Piece<'_>, view: View, pitch: i64) -> Vec<Shape> {
    let frame = Frame::of(view);
    let high = at(&piece.envelope, frame.up);
    let mut order: Vec<&Solid<'_>> = piece.boxes.iter().collect();
    order.sort_by_key(
        |solid| if frame.nearer_is_larger { at(&solid.high, frame.depth) } else { -at(&solid.low, frame.depth) },
    );
    let mut shapes = Vec::new();
    order.iter().for_each(|solid| face(solid, &frame, (high, pitch), &mut shapes));
    shapes
}

/// A box's face towards the reader: along the grain where it lies in the face, its end where it points at the reader.
fn face(solid: &Solid<'_>, frame: &Frame, (high, pitch): (i64, i64), shapes: &mut Vec<Shape>) {
    let x = (at(&solid.low, frame.right), at(&solid.high, frame.right));
    let up = (at(&solid.low, frame.up), at(&solid.high, frame.up));
    let place = |x: i64, up: i64| (x, high - up);
    let from_above = frame.depth == 2;
    let light = if solid.grain == Some(frame.depth) && !from_above { Light::End } else { frame.light };
    let mut corners = vec![(x.0, up.0), (x.1, up.0), (x.1, up.1), (x.0, up.1)];
    let mut across = up;
    if from_above && solid.live.is_some() {
        let edges = stations(solid);
        corners = edges.iter().map(|station| (station.along, station.front)).collect();
        for station in edges.iter().rev() {
            corners.push((station.along, station.back));
            // Between the bays of live edges, so that no stroke runs out of the wood.
            across = (across.0.max(station.front), across.1.min(station.back));
        }
    }
    shapes.push(Shape::Face { corners: put(&corners, &place), swatch: solid.swatch.to_owned(), light });
    shapes.extend(match solid.grain {
        Some(axis) if axis == frame.right => grain::strokes(x, across, pitch, &place),
        Some(axis) if axis == frame.up => grain::strokes(up, x, pitch, &|up, x| place(x, up)),
        Some(_) => grain::rings(x, up, pitch, &place),
        None if from_above => grain::sheen(x, up, pitch, &place),
        None => None,
    });
}
