//! The solid view: an oblique drawing, depth running up and to the right at a little over a third of its length.
//!
//! Front, top and right faces show. A box is painted before another that lies in front of it, right of it or above it. Where
//! two such reasons disagree, the boxes can't overlap on the sheet, since depth runs right and up as x and z do.

use crate::live::stations;
use crate::{Drawing, Light, Point, Shape, Solid, grain, put};

/// Depth is drawn at this many hundredths of its length, both right and up.
const DEPTH: i64 = 36;

/// Draws the boxes of a piece with this envelope.
pub(crate) fn draw(boxes: &[Solid<'_>], envelope: [i64; 3]) -> Drawing {
    let [length, depth, height] = envelope;
    let aside = |depth: i64| depth * DEPTH / 100;
    let (wide, high) = (length + aside(depth), height + aside(depth));
    let place = |x: i64, y: i64, z: i64| -> Point { (x + aside(y), high - z - aside(y)) };
    let pitch = (wide.max(high) / 80).max(6);
    let mut shapes = Vec::new();
    in_order(boxes).into_iter().for_each(|solid| faces(solid, pitch, &place, &mut shapes));
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

/// Puts a point of the piece on the sheet.
type Place<'f> = &'f dyn Fn(i64, i64, i64) -> Point;

/// The right-hand face, the upper and the front one, each with its grain.
fn faces(solid: &Solid<'_>, pitch: i64, place: Place<'_>, shapes: &mut Vec<Shape>) {
    let ([left, mut front, bottom], [right, mut back, top]) = (solid.low, solid.high);
    let edges = stations(solid);
    let (mut above, mut facing, mut end) = (Vec::new(), Vec::new(), (front, back));
    for station in &edges {
        above.push((station.along, station.front));
        facing.push(place(station.along, station.front, bottom));
        // Between the bays of live edges, so that no stroke of grain runs out of the wood.
        (front, back) = (front.max(station.front), back.min(station.back));
        end = (station.front, station.back);
    }
    for station in edges.iter().rev() {
        above.push((station.along, station.back));
        facing.push(place(station.along, station.front, top));
    }
    let on_top = |x, y| place(x, y, top);
    let in_front = |x, z| place(x, front, z);
    let at_the_end = |y, z| place(right, y, z);
    let side = [(end.0, bottom), (end.1, bottom), (end.1, top), (end.0, top)];
    let towards = if solid.grain == Some(1) { Light::End } else { Light::Half };
    for (corners, light) in
        [(put(&side, &at_the_end), Light::Low), (put(&above, &on_top), Light::Full), (facing, towards)]
    {
        shapes.push(Shape::Face { corners, swatch: solid.swatch.to_owned(), light });
    }
    let (x, y, z) = ((left, right), (front, back), (bottom, top));
    let drawn = match solid.grain {
        Some(0) => [
            grain::strokes(x, y, pitch, &on_top),
            grain::strokes(x, z, pitch, &in_front),
            grain::rings(y, z, pitch, &at_the_end),
        ],
        Some(1) => [
            grain::strokes(y, z, pitch, &at_the_end),
            grain::strokes(y, x, pitch, &|y, x| on_top(x, y)),
            grain::rings(x, z, pitch, &in_front),
        ],
        Some(_) => [
            grain::strokes(z, y, pitch, &|z, y| at_the_end(y, z)),
            grain::strokes(z, x, pitch, &|z, x| in_front(x, z)),
            grain::rings(x, y, pitch, &on_top),
        ],
        None => [grain::sheen(x, y, pitch, &on_top), None, None],
    };
    shapes.extend(drawn.into_iter().flatten());
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
