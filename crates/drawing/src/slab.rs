//! Slabs as they lie in the rack: the outline through the widths measured along them, each width with its figure.

use scantling_pricing::book::stock::{Slab, Timber};
use scantling_pricing::measure::LengthUnit;

use crate::grain::{Seed, runs};
use crate::{Drawing, Light, Point, Shape, millimetres, ruler};

/// Points drawn between one measured width and the next: the bark is never straight.
const BETWEEN: usize = 8;

/// Draws a slab from above. Its widths are true where they were measured; between them the edge is guessed.
#[must_use]
pub fn slab(slab: &Slab, timber: &Timber, unit: LengthUnit) -> Drawing {
    let length = millimetres(slab.length);
    let widths: Vec<i64> = slab.widths.iter().copied().map(millimetres).collect();
    let widest = widths.iter().copied().max().unwrap_or(0);
    let lettering = (length / 30).max(20);
    let edges = edges(length, &widths);
    let upper = edges.iter().map(|edge| (edge.along, edge.upper));
    let lower = edges.iter().rev().map(|edge| (edge.along, edge.lower));
    let face = Shape::Face {
        corners: upper.chain(lower).collect(),
        swatch: timber.swatch.as_str().to_owned(),
        light: Light::Full,
    };
    let mut shapes = vec![face];
    shapes.push(grain(&edges, widest));
    shapes.extend(ruler::level(0, length, widest / 2, lettering, &slab.length.show(unit)));
    let stations = edges.iter().step_by(BETWEEN).zip(&slab.widths);
    for (edge, width) in stations {
        shapes.push(ruler::across(edge.along, edge.upper, edge.lower, lettering));
        let at = (edge.along, -widest / 2 - lettering * 3 / 4);
        shapes.push(Shape::Figure { at, upright: false, text: width.show(unit) });
    }
    let sheet = [-3 * lettering, -widest / 2 - 5 * lettering / 2, length + 6 * lettering, widest + 6 * lettering];
    Drawing { sheet, lettering, shapes }
}

/// Where the two edges are at one place along the slab.
#[derive(Debug)]
pub(crate) struct Edge {
    pub(crate) along: i64,
    pub(crate) upper: i64,
    pub(crate) lower: i64,
}

impl Edge {
    /// The point at so many hundredths of the way from the upper edge to the lower.
    fn at(&self, hundredths: i64) -> Point {
        (self.along, self.upper + (self.lower - self.upper) * hundredths / 100)
    }
}

/// The edges from end to end: eased from one measured width to the next, with a little of the bark's wandering between.
pub(crate) fn edges(length: i64, widths: &[i64]) -> Vec<Edge> {
    let gaps = i64::try_from(widths.len()).unwrap_or(1).saturating_sub(1).max(1);
    let between = i64::try_from(BETWEEN).unwrap_or(1);
    let mut seed = Seed::of(length, widths.iter().sum());
    let mut edges = Vec::new();
    for (gap, pair) in (0..).zip(widths.windows(2)) {
        let [from, to] = pair else { continue };
        for step in 0..between {
            // 3t^2 - 2t^3: level at every measured width, so that the outline has no corner there.
            let eased = (3 * between * step * step - 2 * step * step * step) * (to - from) / between.pow(3);
            let reach = if step == 0 { 0 } else { from / 60 };
            let half = (from + eased) / 2;
            let along = length * (gap * between + step) / (gaps * between);
            edges.push(Edge { along, upper: seed.within(reach) - half, lower: half + seed.within(reach) });
        }
    }
    edges.extend(widths.last().map(|width| Edge { along: length, upper: -width / 2, lower: width / 2 }));
    edges
}

/// Two lines where the sapwood ends, and broken grain between them; all follow the edges.
fn grain(edges: &[Edge], widest: i64) -> Shape {
    let line = |edges: &[Edge], hundredths: i64| edges.iter().map(|edge| edge.at(hundredths)).collect::<Vec<Point>>();
    let mut seed = Seed::of(widest, 0);
    let mut strokes = vec![line(edges, 7), line(edges, 93)];
    let count = (widest / 26).clamp(1, 20);
    let last = i64::try_from(edges.len()).unwrap_or(1) - 1;
    for i in 0..count {
        let hundredths = 12 + 76 * (2 * i + 1) / (2 * count) + seed.within(1);
        for (from, to) in runs(last, &mut seed) {
            let place = |value: i64| usize::try_from(value).unwrap_or(0);
            if let Some(run) = edges.get(place(from)..=place(to)).filter(|run| run.len() > 1) {
                strokes.push(line(run, hundredths));
            }
        }
    }
    Shape::Grain(strokes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_edge_is_true_where_it_was_measured_and_close_to_it_between() {
        let widths = [430, 420, 450, 480];
        let edges = edges(1980, &widths);
        for (edge, width) in edges.iter().step_by(BETWEEN).zip(widths) {
            assert_eq!(edge.lower - edge.upper, width);
        }
        assert_eq!((edges[0].along, edges.last().unwrap().along), (0, 1980));
        assert!(edges.iter().all(|edge| (400..=500).contains(&(edge.lower - edge.upper))));
        assert!(edges.windows(2).all(|pair| pair[0].along < pair[1].along));
    }

    #[test]
    fn a_slab_without_widths_has_no_outline() {
        assert!(edges(1980, &[]).is_empty());
        assert!(edges(1980, &[400]).len() < 2);
    }
}
