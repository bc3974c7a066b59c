//! Grain: a few long strokes along a part's length, the same every time the part is drawn.

use crate::{Point, Shape};

/// Strokes on a face that spans `along` (from, to) in the direction of the grain and `across` the other way; `place` puts a
/// point of the two on the sheet.
pub(crate) fn strokes(along: (i64, i64), across: (i64, i64), place: impl Fn(i64, i64) -> Point) -> Vec<Shape> {
    let (length, breadth) = (along.1 - along.0, across.1 - across.0);
    // Narrow faces would only turn grey.
    if length < 60 || breadth < 24 {
        return Vec::new();
    }
    let mut seed = Seed(length.unsigned_abs().wrapping_mul(31).wrapping_add(breadth.unsigned_abs()).wrapping_add(7));
    let count = (breadth / 22).clamp(1, 24);
    let stroke = |i: i64, seed: &mut Seed| {
        let middle = across.0 + breadth * (2 * i + 1) / (2 * count) + seed.within(breadth / count / 3);
        let from = along.0 + length * seed.below(30) / 100;
        let to = along.1 - length * seed.below(30) / 100;
        let sway = seed.within((breadth / count / 4).max(1));
        let points = [(from, middle), ((from + to) / 2, middle + sway), (to, middle)];
        Shape::Grain(points.map(|(along, across)| place(along, across)).to_vec())
    };
    (0..count).map(|i| stroke(i, &mut seed)).collect()
}

/// A tiny generator: grain must look uneven and be the same on every machine.
struct Seed(u64);

impl Seed {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        self.0 >> 33
    }

    /// From 0 up to, but not, `limit`.
    fn below(&mut self, limit: i64) -> i64 {
        let limit = limit.max(1).unsigned_abs();
        i64::try_from(self.next() % limit).unwrap_or(0)
    }

    /// Between minus and plus `reach`.
    fn within(&mut self, reach: i64) -> i64 {
        self.below(2 * reach.max(0) + 1) - reach.max(0)
    }
}
