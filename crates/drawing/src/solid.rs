//! The solid view: an oblique drawing, depth running up and to the right at a little over a third of its length.
//!
//! Front, top and right faces show. A box is painted before another that lies in front of it, right of it or above it. Where
//! two such reasons disagree, the boxes can't overlap on the sheet, since depth runs right and up as x and z do.

use crate::{Drawing, Light, Point, Shape, Solid, grain};

/// Depth is drawn at this many hundredths of its length, both right and up.
const DEPTH: i64 = 36;

/// Draws the boxes of a piece with this envelope.
pub(crate) fn draw(boxes: &[Solid<'_>], envelope: [i64; 3]) -> Drawing {
    let [length, depth, height] = envelope;
    let aside = depth * DEPTH / 100;
    let (wide, high) = (length + aside, height + aside);
    let place = |x: i64, y: i64, z: i64| -> Point { (x + y * DEPTH / 100, high - z - y * DEPTH / 100) };
    let shapes = in_order(boxes).into_iter().flat_map(|solid| faces(solid, place)).collect();
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

fn faces(solid: &Solid<'_>, place: impl Fn(i64, i64, i64) -> Point) -> Vec<Shape> {
    let [left, front, bottom] = solid.low;
    let [right, back, top] = solid.high;
    let face =
        |corners: [Point; 4], light| Shape::Face { corners: corners.to_vec(), swatch: solid.swatch.to_owned(), light };
    let side = [(front, bottom), (back, bottom), (back, top), (front, top)].map(|(y, z)| place(right, y, z));
    let above = [(left, front), (right, front), (right, back), (left, back)].map(|(x, y)| place(x, y, top));
    let facing = [(left, bottom), (right, bottom), (right, top), (left, top)].map(|(x, z)| place(x, front, z));
    let mut shapes = vec![face(side, Light::Low), face(above, Light::Full), face(facing, Light::Half)];
    match solid.grain {
        Some(0) => {
            shapes.extend(grain::strokes((left, right), (front, back), |x, y| place(x, y, top)));
            shapes.extend(grain::strokes((left, right), (bottom, top), |x, z| place(x, front, z)));
        }
        Some(1) => {
            shapes.extend(grain::strokes((front, back), (bottom, top), |y, z| place(right, y, z)));
            shapes.extend(grain::strokes((front, back), (left, right), |y, x| place(x, y, top)));
        }
        Some(_) => {
            shapes.extend(grain::strokes((bottom, top), (front, back), |z, y| place(right, y, z)));
            shapes.extend(grain::strokes((bottom, top), (left, right), |z, x| place(x, front, z)));
        }
        None => {}
    }
    shapes
}

#[cfg(test)]
mod tests {
    use super::*;

    fn solid(low: [i64; 3], high: [i64; 3]) -> Solid<'static> {
        Solid { low, high, grain: Some(0), swatch: "#000000" }
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
