//! Live edges: the outline of a slab through the widths measured along it, as far as a part is cut from it.
//!
//! A part with live edges is drawn as wide as its size where the slab is widest within the cut, and narrower elsewhere by as
//! much as the slab is narrower there: the outline is the slab's own and stays within the size the piece is priced and packed
//! by.

use scantling_pricing::book::stock::Slab;

use crate::slab::edges;
use crate::{Solid, millimetres};

/// One place along a part: where it is, and where its front and back edges are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Station {
    pub(crate) along: i64,
    pub(crate) front: i64,
    pub(crate) back: i64,
}

/// The edges of a part from end to end: straight for a sawn part, two stations; a slab's own for one that keeps them.
pub(crate) fn stations(solid: &Solid<'_>) -> Vec<Station> {
    let ([left, front, _], [right, back, _]) = (solid.low, solid.high);
    let sawn = [left, right].map(|along| Station { along, front, back });
    let live = solid.live.map(|slab| along_slab(slab, right - left, back - front)).unwrap_or_default();
    if live.len() < 2 {
        return sawn.to_vec();
    }
    let put = |station: &Station| Station {
        along: left + station.along,
        front: front + station.front,
        back: front + station.back,
    };
    live.iter().map(put).collect()
}

/// Stations of a cut of this length and width from the first end of a slab, in the cut's own coordinates.
fn along_slab(slab: &Slab, length: i64, width: i64) -> Vec<Station> {
    let widths: Vec<i64> = slab.widths.iter().copied().map(millimetres).collect();
    let whole = edges(millimetres(slab.length), &widths);
    let mut cut: Vec<Station> = whole
        .iter()
        .take_while(|edge| edge.along < length)
        .map(|edge| Station { along: edge.along, front: -edge.lower, back: -edge.upper })
        .collect();
    // The saw's end: as wide as the slab at the last place before it.
    if let Some(last) = cut.last().copied() {
        cut.push(Station { along: length, ..last });
    }
    let widest = cut.iter().map(|station| station.back - station.front).max().unwrap_or(0);
    for station in &mut cut {
        let trimmed = (widest - width) / 2;
        station.front = (width / 2 + station.front + trimmed).clamp(0, width);
        station.back = (width / 2 + station.back - trimmed).clamp(0, width);
    }
    reach_the_sides(&mut cut, width);
    cut
}

/// Rounding may leave the widest place a millimetre short of the size: there the edges are where the size says.
fn reach_the_sides(cut: &mut [Station], width: i64) {
    let front = cut.iter().map(|station| station.front).min().unwrap_or(0);
    let back = cut.iter().map(|station| station.back).max().unwrap_or(width);
    for station in cut {
        if station.front == front {
            station.front = 0;
        }
        if station.back == back {
            station.back = width;
        }
    }
}

#[cfg(test)]
mod tests {
    use scantling_pricing::book::PriceBook;
    use scantling_pricing::measure::Length;

    use super::*;

    fn slab(widths: &[i32]) -> Slab {
        let book = PriceBook::read(include_str!("../../../public/price-book.json")).unwrap();
        let mut slab = book.slabs.into_iter().next().unwrap();
        slab.widths = widths.iter().map(|width| Length::inches(*width)).collect();
        slab.length = Length::inches(80);
        slab
    }

    #[test]
    fn a_cut_narrows_by_as_much_as_the_slab_does_and_stays_within_its_size() {
        // 20 in at the first end, 18 in at the middle: a cut to the middle narrows by 2 in, 51 mm, give or take the bark.
        let slab = slab(&[20, 18, 24]);
        let cut = along_slab(&slab, 1016, 400);
        let width = |station: &Station| station.back - station.front;
        let (widest, narrowest) = (cut.iter().map(width).max().unwrap(), cut.iter().map(width).min().unwrap());
        assert!((396..=400).contains(&widest), "{widest}");
        assert!((30..=75).contains(&(widest - narrowest)), "{widest} to {narrowest}");
        assert!(cut.iter().all(|station| station.front >= 0 && station.back <= 400));
        assert_eq!(cut.iter().map(|station| station.front).min(), Some(0));
        assert_eq!(cut.iter().map(|station| station.back).max(), Some(400));
        assert_eq!((cut[0].along, cut.last().unwrap().along), (0, 1016));
        assert!(cut.windows(2).all(|pair| pair[0].along < pair[1].along));
    }

    #[test]
    fn a_slab_nobody_has_measured_is_drawn_sawn() {
        let slab = slab(&[]);
        let solid = Solid { low: [5, 10, 0], high: [105, 60, 20], grain: Some(0), swatch: "", live: Some(&slab) };
        let sawn = |along| Station { along, front: 10, back: 60 };
        assert_eq!(stations(&solid), [sawn(5), sawn(105)]);
    }
}
