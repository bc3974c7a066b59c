//! Grain: broken strokes along a part's length and rings on its ends, the same every time the part is drawn.

use crate::{Place, Shape, put};

/// Strokes on a face that spans `along` (from, to) in the direction of the grain and `across` the other way, about `pitch`
/// apart; `place` puts a point of the two on the sheet.
pub(crate) fn strokes(along: (i64, i64), across: (i64, i64), pitch: i64, place: Place<'_>) -> Option<Shape> {
    let (length, breadth) = (along.1 - along.0, across.1 - across.0);
    // Narrow faces would only turn grey.
    if length < 2 * pitch || breadth < pitch {
        return None;
    }
    let mut seed = Seed::of(length, breadth);
    let count = (breadth / pitch.max(1)).clamp(1, 20);
    let mut strokes = Vec::new();
    for i in 0..count {
        let middle = across.0 + breadth * (2 * i + 1) / (2 * count) + seed.within(breadth / count / 3);
        for (from, to) in runs(length, &mut seed) {
            let sway = seed.within((breadth / count / 4).max(1));
            let (from, to) = (along.0 + from, along.0 + to);
            strokes.push(put(&[(from, middle), ((from + to) / 2, middle + sway), (to, middle)], place));
        }
    }
    Some(Shape::Grain(strokes))
}

/// The rings on the end of a board that spans `breadth` (from, to) and `height`: arcs one above another, crowning in the
/// middle as on a board sawn from beside the heart.
pub(crate) fn rings(breadth: (i64, i64), height: (i64, i64), pitch: i64, place: Place<'_>) -> Option<Shape> {
    let (wide, high) = (breadth.1 - breadth.0, height.1 - height.0);
    if wide < pitch || high < pitch {
        return None;
    }
    let count = (2 * high / pitch.max(1)).clamp(2, 6);
    let mut arcs = Vec::new();
    for ring in 1..=count {
        let crown = high * ring / (count + 1);
        let fall = crown * 2 / 3;
        // Three steps to either side of the crown, falling as a parabola does.
        let mut arc = Vec::new();
        for aside in -3..=3 {
            arc.push((breadth.0 + wide * (aside + 3) / 6, height.0 + crown - fall * aside * aside / 9));
        }
        arcs.push(put(&arc, place));
    }
    Some(Shape::Grain(arcs))
}

/// Glints on a face of resin that spans these two: slanting strokes in pairs, as glass is drawn.
pub(crate) fn sheen(along: (i64, i64), across: (i64, i64), pitch: i64, place: Place<'_>) -> Option<Shape> {
    let (length, breadth) = (along.1 - along.0, across.1 - across.0);
    if breadth < pitch || length < breadth {
        return None;
    }
    let mut strokes = Vec::new();
    let mut start = along.0 + breadth / 2;
    while start + breadth * 3 / 2 < along.1 {
        for shift in [0, breadth / 3] {
            let from = (start + shift, across.0 + breadth / 5);
            let to = (start + shift + breadth * 3 / 5, across.1 - breadth / 5);
            strokes.push(put(&[from, to], place));
        }
        start += breadth * 4;
    }
    Some(Shape::Sheen(strokes))
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
