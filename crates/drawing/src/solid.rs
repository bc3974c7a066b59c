//! The solid view: an oblique drawing, depth running up and to the right at a little over a third of its length.
//!
//! Front, top and right faces show. A box is painted before another that lies in front of it, right of it or above it. Where
//! two such reasons disagree, the boxes can't overlap on the sheet, since depth runs right and up as x and z do.

use crate::live::{Station, stations};
use crate::{Drawing, Light, Point, Shape, Solid, grain};

/// Depth is drawn at this many hundredths of its length, both right and up.
const DEPTH: i64 = 36;

/// Draws the boxes of a piece with this envelope.
pub(crate) fn draw(boxes: &[Solid<'_>], envelope: [i64; 3]) -> Drawing {
    let [length, depth, height] = envelope;
    let aside = |depth: i64| depth * DEPTH / 100;
    let (wide, high) = (length + aside(depth), height + aside(depth));
    let place = |x: i64, y: i64, z: i64| -> Point { (x + aside(y), high - z - aside(y)) };
    let pitch = (wide.max(high) / 80).max(6);
    let shapes = in_order(boxes).into_iter().flat_map(|solid| faces(solid, pitch, place)).collect();
    let margin = (wide.max(high) / 40).max(8);
    Drawing { sheet: [-margin, -margin, wide + 2 * margin, high + 2 * margin], lettering: margin, shapes }
}

/// The boxes, hindmost first: one is taken once nothing that must be painted before it is left.
fn in_order<'s, 'b>(boxes: &'b [Solid<'s>]) -> Vec<&'b Solid<'s>> {
    let mut left: Vec<&Solid<'_>> = boxes.iter().collect();
    let mut order = Vec::with_capacity(left.len());
    while !left.is_empty() {
        let free =
            left.iter().position(|solid| left.iter().all(|other| std::ptr::eq(*other, *solid) || !hides(solid, other)));
        // Boxes that pierce each other in a ring have no order; any will do.
        order.push(left.remove(free.unwrap_or(0)));
    }
    order
}

/// Whether `near` may cover `far` on the sheet, so that `far` must be painted first.
fn hides(near: &Solid<'_>, far: &Solid<'_>) -> bool {
    let [near_left, near_front, near_bottom] = near.low;
    let [near_right, near_back, near_top] = near.high;
    let [far_left, far_front, far_bottom] = far.low;
    let [far_right, far_back, far_top] = far.high;
    let before = near_back <= far_front || near_left >= far_right || near_bottom >= far_top;
    let behind = far_back <= near_front || far_left >= near_right || far_bottom >= near_top;
    before && !behind
}

/// The right-hand face, the upper and the front one, each with its grain.
fn faces(solid: &Solid<'_>, pitch: i64, place: impl Fn(i64, i64, i64) -> Point) -> Vec<Shape> {
    let [_, _, bottom] = solid.low;
    let [right, _, top] = solid.high;
    let edges = stations(solid);
    let end = edges.last().map_or((0, 0), |station| (station.front, station.back));
    let swatch = || solid.swatch.to_owned();
    let front = |z: i64| edges.iter().map(move |station| (station.along, station.front, z));
    let back = edges.iter().rev().map(|station| (station.along, station.back, top));
    let put = |(x, y, z): (i64, i64, i64)| place(x, y, z);
    let side = [(end.0, bottom), (end.1, bottom), (end.1, top), (end.0, top)].map(|(y, z)| place(right, y, z));
    let above: Vec<Point> = front(top).chain(back).map(put).collect();
    let facing: Vec<Point> = front(bottom).chain(front(top).rev()).map(put).collect();
    let towards = if solid.grain == Some(1) { Light::End } else { Light::Half };
    let mut shapes = vec![
        Shape::Face { corners: side.to_vec(), swatch: swatch(), light: Light::Low },
        Shape::Face { corners: above, swatch: swatch(), light: Light::Full },
        Shape::Face { corners: facing, swatch: swatch(), light: towards },
    ];
    shapes.extend(figure(solid, &edges, pitch, place).into_iter().flatten());
    shapes
}

/// The grain of the three faces that show, or the glints of resin.
fn figure(
    solid: &Solid<'_>,
    edges: &[Station],
    pitch: i64,
    place: impl Fn(i64, i64, i64) -> Point,
) -> [Option<Shape>; 3] {
    let [left, _, bottom] = solid.low;
    let [right, _, top] = solid.high;
    let (x, z) = ((left, right), (bottom, top));
    // Between the bays of live edges, so that no stroke runs out of the wood.
    let front = edges.iter().map(|station| station.front).max().unwrap_or(0);
    let back = edges.iter().map(|station| station.back).min().unwrap_or(0);
    let y = (front, back);
    let above = |x, y| place(x, y, top);
    let facing = |x, z| place(x, front, z);
    let side = |y, z| place(right, y, z);
    match solid.grain {
        Some(0) => [
            grain::strokes(x, y, pitch, &above),
            grain::strokes(x, z, pitch, &facing),
            grain::rings(y, z, pitch, &side),
        ],
        Some(1) => [
            grain::strokes(y, z, pitch, &side),
            grain::strokes(y, x, pitch, &|y, x| above(x, y)),
            grain::rings(x, z, pitch, &facing),
        ],
        Some(_) => [
            grain::strokes(z, y, pitch, &|z, y| side(y, z)),
            grain::strokes(z, x, pitch, &|z, x| facing(x, z)),
            grain::rings(x, y, pitch, &above),
        ],
        None => [grain::sheen(x, y, pitch, &above), None, None],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn solid(low: [i64; 3], high: [i64; 3]) -> Solid<'static> {
        Solid { low, high, grain: Some(0), swatch: "#000000", live: None }
    }

    #[test]
    fn what_lies_in_front_right_or_above_is_painted_later() {
        let leg = solid([0, 0, 0], [50, 50, 700]);
        let top = solid([0, 0, 700], [1000, 500, 730]);
        let back_leg = solid([0, 450, 0], [50, 500, 700]);
        let right_leg = solid([950, 0, 0], [1000, 50, 700]);
        let boxes = [top.clone(), right_leg.clone(), leg.clone(), back_leg.clone()];
        let order = in_order(&boxes);
        let place = |wanted: &Solid<'_>| order.iter().position(|solid| *solid == wanted).unwrap();
        assert!(place(&back_leg) < place(&leg));
        assert!(place(&leg) < place(&top) && place(&right_leg) < place(&top));
    }

    #[test]
    fn boxes_that_pierce_each_other_are_all_painted() {
        let post = solid([0, 0, 0], [50, 50, 700]);
        let rail = solid([-20, 10, 300], [400, 40, 350]);
        assert_eq!(in_order(&[post, rail]).len(), 2);
    }
}
