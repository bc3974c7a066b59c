//! What stands beside a piece so that its size is seen at a glance: chairs, drawn to the same scale.
//!
//! How many sit at a table and how high one sits are the checks' own figures, from `scantling_pricing::checks`; a chair's other
//! sizes are common practice, no source.

use scantling_pricing::checks::{self, Places};
use scantling_pricing::design::{Purpose, Resolved};
use scantling_pricing::measure::Length;

use crate::{Point, Shape, View, millimetres, put};

/// How wide and how deep a chair is. Common practice, no source.
const CHAIR: Length = Length::inches(18);
/// How high its back is. Common practice, no source.
const BACK: Length = Length::inches(33);
/// How far a chair is pushed under a table. Common practice, no source.
const TUCKED: Length = Length::inches(6);
/// How far from a piece a chair stands that is not drawn up to it.
const ASIDE: Length = Length::inches(6);
/// The thickness of its seat and legs in the drawing.
const STUFF: i64 = 40;

/// What stands by, for a piece of a purpose.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cue {
    /// Chairs along both long sides of a table.
    Seats(Places),
    /// One chair drawn up to the front of a desk.
    Sitter,
    /// A chair beside the piece.
    Chair,
    /// Nothing: one sits on the piece itself, or it hangs at a height nobody knows.
    Nothing,
}

/// What stands by a piece.
#[must_use]
pub fn cue(resolved: &Resolved<'_>) -> Cue {
    match resolved.design.purpose {
        Purpose::DiningTable => {
            checks::places(resolved).filter(|places| places.each_side > 0).map_or(Cue::Chair, Cue::Seats)
        }
        Purpose::Desk => Cue::Sitter,
        Purpose::LowTable | Purpose::Console | Purpose::Storage | Purpose::ClothingStorage => Cue::Chair,
        Purpose::Bench | Purpose::WallShelf | Purpose::Other => Cue::Nothing,
    }
}

/// How many people sit along a table's long sides, where people eat at it.
#[must_use]
pub fn seats(resolved: &Resolved<'_>) -> Option<u32> {
    match cue(resolved) {
        Cue::Seats(places) => Some(places.both_sides()),
        Cue::Sitter | Cue::Chair | Cue::Nothing => None,
    }
}

/// The room a cue takes beyond the piece, in millimetres.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct Beyond {
    /// In front of it: below in the plan, left in the side view.
    pub(crate) front: i64,
    /// Behind it.
    pub(crate) back: i64,
    /// To its right, in the front view.
    pub(crate) right: i64,
    /// How high it reaches above the floor.
    pub(crate) high: i64,
}

impl Cue {
    /// The room it takes.
    pub(crate) fn beyond(self) -> Beyond {
        let out = millimetres(CHAIR - TUCKED);
        let high = millimetres(BACK);
        match self {
            Self::Seats(_) => Beyond { front: out, back: out, right: 0, high },
            Self::Sitter => Beyond { front: out, back: 0, right: 0, high },
            Self::Chair => Beyond { front: 0, back: 0, right: millimetres(ASIDE + CHAIR), high },
            Self::Nothing => Beyond::default(),
        }
    }

    /// Its outlines in a square view of a piece of this size, the view's upper left corner at the origin.
    pub(crate) fn draw(self, view: View, [length, width, height]: [i64; 3]) -> Option<Shape> {
        let (deep, tucked) = (millimetres(CHAIR), millimetres(TUCKED));
        let outlines = match (self, view) {
            (Self::Seats(places), View::Plan) => rows(places, length, width),
            (Self::Sitter, View::Plan) => seat_from_above(length / 2, width, 1).to_vec(),
            (Self::Seats(_), View::Side) => {
                vec![profile(tucked - deep, 1, height), profile(width + deep - tucked, -1, height)]
            }
            (Self::Sitter, View::Side) => vec![profile(tucked - deep, 1, height)],
            (Self::Chair, View::Front) => vec![profile(length + millimetres(ASIDE) + deep, -1, height)],
            _ => return None,
        };
        Some(Shape::Cue(outlines))
    }
}

/// Chairs along both sides of a table from above, each in the middle of its place.
fn rows(places: Places, length: i64, width: i64) -> Vec<Vec<Point>> {
    let (count, elbow) = (i64::from(places.each_side), millimetres(places.elbow));
    let first = (length - count * elbow) / 2 + elbow / 2;
    let mut outlines = Vec::new();
    for place in 0..count {
        outlines.extend(seat_from_above(first + place * elbow, width, 1));
        outlines.extend(seat_from_above(first + place * elbow, 0, -1));
    }
    outlines
}

/// A chair from above whose seat is pushed under the edge at `edge`; `away` is 1 where the sheet's down leads away from it.
fn seat_from_above(x: i64, edge: i64, away: i64) -> [Vec<Point>; 2] {
    let (half, deep) = (millimetres(CHAIR) / 2, millimetres(CHAIR));
    let under = edge - away * millimetres(TUCKED);
    let back = under + away * deep;
    // A seat narrows a little towards the back.
    let seat = [(x - half, under), (x + half, under), (x + half * 8 / 10, back), (x - half * 8 / 10, back)];
    let rail = [
        (x - half * 8 / 10, back),
        (x + half * 8 / 10, back),
        (x + half * 8 / 10, back - away * STUFF),
        (x - half * 8 / 10, back - away * STUFF),
    ];
    [seat.to_vec(), rail.to_vec()]
}

/// A chair from its side, in one line around legs, seat and back. Its back is at `x`; it faces right where `facing` is 1. The
/// floor is `height` below the view's origin.
fn profile(x: i64, facing: i64, height: i64) -> Vec<Point> {
    let (deep, back) = (millimetres(CHAIR), millimetres(BACK));
    let seat = millimetres(checks::seat_height());
    let under = seat - STUFF;
    let corners = [
        (0, back),
        (STUFF, back),
        (STUFF * 2, seat),
        (deep, seat),
        (deep, 0),
        (deep - STUFF, 0),
        (deep - STUFF, under),
        (STUFF * 2, under),
        (STUFF * 3 / 2, 0),
        (STUFF / 2, 0),
        (STUFF, under),
    ];
    put(&corners, &|along, up| (x + facing * along, height - up))
}
