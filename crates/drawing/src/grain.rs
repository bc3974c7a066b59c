//! Grain: broken strokes along a part's length, the same every time the part is drawn.

use crate::{Point, Shape};

/// Strokes on a face that spans `along` (from, to) in the direction of the grain and `across` the other way; `place` puts a
/// point of the two on the sheet.
pub(crate) fn strokes(along: (i64, i64), across: (i64, i64), place: impl Fn(i64, i64) -> Point) -> Vec<Shape> {
    let (length, breadth) = (along.1 - along.0, across.1 - across.0);
    // Narrow faces would only turn grey.
    if length < 60 || breadth < 24 {
        return Vec::new();
    }
    let mut seed = Seed::of(length, breadth);
    let count = (breadth / 24).clamp(1, 20);
    let mut shapes = Vec::new();
    for i in 0..count {
        let middle = across.0 + breadth * (2 * i + 1) / (2 * count) + seed.within(breadth / count / 3);
        for (from, to) in runs(length, &mut seed) {
            let sway = seed.within((breadth / count / 4).max(1));
            let points = [(from, middle), ((from + to) / 2, middle + sway), (to, middle)];
            shapes.push(Shape::Grain(points.map(|(run, across)| place(along.0 + run, across)).to_vec()));
        }
    }
    shapes
}

/// Where one line of grain shows along a length: two or three runs with gaps between, so that no stroke is ruled from end to end.
pub(crate) fn runs(length: i64, seed: &mut Seed) -> Vec<(i64, i64)> {
    let mut runs = Vec::new();
    let mut from = length * seed.below(16) / 100;
    while from < length * 9 / 10 {
        let to = (from + length * (26 + seed.below(34)) / 100).min(length);
        runs.push((from, to));
        from = to + length * (5 + seed.below(10)) / 100;
    }
    runs
}

/// A tiny generator: grain must look uneven and be the same on every machine.
pub(crate) struct Seed(u64);

impl Seed {
    /// A start that differs from face to face.
    pub(crate) fn of(length: i64, breadth: i64) -> Self {
        Self(length.unsigned_abs().wrapping_mul(31).wrapping_add(breadth.unsigned_abs()).wrapping_add(7))
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        self.0 >> 33
    }

    /// From 0 up to, but not, `limit`.
    pub(crate) fn below(&mut self, limit: i64) -> i64 {
        let limit = limit.max(1).unsigned_abs();
        i64::try_from(self.next() % limit).unwrap_or(0)
    }

    /// Between minus and plus `reach`.
    pub(crate) fn within(&mut self, reach: i64) -> i64 {
        self.below(2 * reach.max(0) + 1) - reach.max(0)
    }
}
