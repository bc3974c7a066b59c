//! Measured drawings of a piece, from the same parts its price comes from.
//!
//! A [`Drawing`] is plain data in whole millimetres: a page renders its shapes element by element, [`svg`] writes them as a
//! file. Whole numbers throughout, so that every machine draws the same to the digit.

#![expect(
    clippy::integer_division,
    reason = "a drawing is in whole millimetres; what a division loses is less than one"
)]

mod cue;
mod described;
mod grain;
mod grip;
mod joinery;
mod live;
mod ortho;
mod ruler;
mod sheet;
mod slab;
mod solid;
pub mod svg;

use scantling_pricing::book::price_book::Stock;
use scantling_pricing::book::stock::Slab;
use scantling_pricing::design::{PlacedBox, Resolved, ResolvedPart};
use scantling_pricing::measure::{Axis, Length, LengthUnit};

pub use cue::{Cue, cue, seats};
pub use described::{Facts, Seen, described, sample_described, slab_described};
pub use grip::{Along, Grip, Limit, Pulled};
pub use sheet::{Measured, Paper, Scale, measured};
pub use slab::slab;

/// Where the piece is looked at from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum View {
    /// From the front.
    Front,
    /// From the right-hand end.
    Side,
    /// From above.
    Plan,
    /// From the front, the right and above at once.
    Solid,
}

impl View {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Solid, Self::Front, Self::Side, Self::Plan];
}

/// A point on the sheet: millimetres right and down.
pub type Point = (i64, i64);

/// A drawing: shapes on a sheet, in the order they are painted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Drawing {
    /// The sheet's left and upper edge, its width and its height.
    pub sheet: [i64; 4],
    /// The height of its lettering.
    pub lettering: i64,
    /// The shapes.
    pub shapes: Vec<Shape>,
}

/// One shape.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Shape {
    /// A face of a part, in the colour of its material.
    Face {
        /// Its corners.
        corners: Vec<Point>,
        /// The material's colour, as `#rrggbb`.
        swatch: String,
        /// How the light falls on it.
        light: Light,
    },
    /// Strokes of grain on a face: along it, or the rings of its end.
    Grain(Vec<Vec<Point>>),
    /// Glints on a face of resin.
    Sheen(Vec<Vec<Point>>),
    /// Outlines of what stands beside the piece to show its size, and is no part of it.
    Cue(Vec<Vec<Point>>),
    /// A dimension line with its extension lines and ticks, as separate strokes.
    Ruler(Vec<[Point; 2]>),
    /// A figure above a dimension line.
    Figure {
        /// The middle of its foot.
        at: Point,
        /// Whether it is turned to read upwards.
        upright: bool,
        /// What it says.
        text: String,
    },
    /// What a view is called, or a line of the title.
    Caption {
        /// The middle of its foot.
        at: Point,
        /// What it says.
        text: String,
    },
}

/// How the light falls on a face.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Light {
    /// From above: the palest.
    Full,
    /// Facing the reader.
    Half,
    /// End grain facing the reader: it drinks more finish, so it is darker than the side of the same board.
    End,
    /// Turned away: the darkest.
    Low,
}

/// Draws a piece from one side. The square views of one sheet, with their dimensions, are [`measured`]'s.
#[must_use]
pub fn draw(resolved: &Resolved<'_>, view: View, unit: LengthUnit) -> Drawing {
    let piece = Piece::of(resolved, unit);
    match view {
        View::Solid => solid::draw(&piece.boxes, piece.envelope),
        View::Front | View::Side | View::Plan => ortho::draw(&piece, view),
    }
}

/// Draws a short board of a timber, in its colour, as a sample.
#[must_use]
pub fn sample(swatch: &str) -> Drawing {
    let high = [1600, 1000, 150];
    solid::draw(&[Solid { low: [0; 3], high, grain: Some(0), swatch, live: None }], high)
}

/// What is drawn: the boxes of the parts, the box of the whole, and its sizes in words.
struct Piece<'s> {
    boxes: Vec<Solid<'s>>,
    envelope: [i64; 3],
    /// The box kept free on the sheet, so that a size may grow without the scale changing.
    room: [i64; 3],
    figures: [String; 3],
}

impl<'s> Piece<'s> {
    fn of(resolved: &'s Resolved<'_>, unit: LengthUnit) -> Self {
        let mut boxes = boxes(resolved);
        joinery::hide_tenons(&mut boxes);
        let sizes = resolved.envelope();
        let envelope = sizes.map(millimetres);
        Self { boxes, envelope, room: room(resolved, envelope), figures: sizes.map(|size| size.show(unit)) }
    }
}

/// The names of the dimensions that are the box of the piece, in the order of its axes.
const BOX: [&str; 3] = ["length", "width", "height"];

/// Each size at its most, but no more than a quarter larger than it starts: a piece in the corner of an empty sheet shows
/// little. One that is larger yet fills the sheet.
fn room(resolved: &Resolved<'_>, envelope: [i64; 3]) -> [i64; 3] {
    let mut room = BOX.map(|name| {
        let dimension = resolved.design.dimension(name);
        dimension.map_or(0, |dimension| millimetres(dimension.most.min(dimension.default.scaled(5, 4))))
    });
    for (room, size) in room.iter_mut().zip(envelope) {
        *room = size.max(*room);
    }
    room
}

/// A part's box in whole millimetres.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Solid<'s> {
    low: [i64; 3],
    high: [i64; 3],
    /// The axis its grain runs along; resin has none.
    grain: Option<usize>,
    swatch: &'s str,
    /// The slab whose edges it keeps, for a part that lies level along the piece.
    live: Option<&'s Slab>,
}

fn boxes<'s>(resolved: &'s Resolved<'_>) -> Vec<Solid<'s>> {
    resolved.parts.iter().flat_map(|part| part.boxes.iter().map(move |placed| solid(part, placed))).collect()
}

fn solid<'s>(part: &'s ResolvedPart<'_>, placed: &PlacedBox) -> Solid<'s> {
    let [x, y, z] = placed.at;
    let [length, depth, height] = placed.size;
    let lies = part.part.lies;
    let level = lies.length == Axis::X && lies.width == Axis::Y;
    let (grain, live) = match part.material.stock {
        Stock::Timber(_) => (true, None),
        Stock::Slab(slab, _) => (true, Some(slab).filter(|_| level)),
        Stock::Sheet(sheet) => (sheet.grain, None),
        Stock::Resin(_) => (false, None),
    };
    Solid {
        low: placed.at.map(millimetres),
        high: [x + length, y + depth, z + height].map(millimetres),
        grain: grain.then_some(lies.length.index()),
        swatch: part.material.stock.swatch(),
        live,
    }
}

/// Puts a point of a face on the sheet. A function behind a pointer: a copy of all that takes one, for each face and view, would
/// weigh more than it gains.
type Place<'f> = &'f dyn Fn(i64, i64) -> Point;

/// Points of a face, on the sheet.
fn put(points: &[Point], place: Place<'_>) -> Vec<Point> {
    points.iter().map(|(x, y)| place(*x, *y)).collect()
}

/// The value of an axis; an axis a box does not have is at nothing.
fn at(values: &[i64; 3], axis: usize) -> i64 {
    values.get(axis).copied().unwrap_or(0)
}

fn millimetres(length: Length) -> i64 {
    length.nanometres().saturating_add(500_000).div_euclid(1_000_000)
}

#[cfg(test)]
mod tests {
    use scantling_pricing::book::PriceBook;
    use scantling_pricing::brief::Brief;
    use scantling_pricing::design::resolve;

    use super::*;

    /// The face seen at a point of the sheet: the last one painted there. Faces of square views are rectangles.
    fn seen(drawing: &Drawing, (x, y): Point) -> Option<&str> {
        drawing.shapes.iter().rev().find_map(|shape| {
            let Shape::Face { corners, swatch, .. } = shape else { return None };
            let (left, right) = (corners.iter().map(|p| p.0).min()?, corners.iter().map(|p| p.0).max()?);
            let (upper, lower) = (corners.iter().map(|p| p.1).min()?, corners.iter().map(|p| p.1).max()?);
            (left < x && x < right && upper < y && y < lower).then_some(swatch.as_str())
        })
    }

    #[test]
    fn every_part_is_seen_in_one_square_view_at_least() {
        let book = PriceBook::read(include_str!("../../../public/price-book.json")).unwrap();
        for design in &book.designs {
            let resolved = resolve(&book, &Brief::new(design.key.clone())).unwrap();
            let mut piece = Piece::of(&resolved, LengthUnit::Inch);
            // The part's name stands for its colour, so that a face tells whose it is.
            let names = resolved.parts.iter().flat_map(|part| part.boxes.iter().map(|_| part.part.name.as_str()));
            for (solid, name) in piece.boxes.iter_mut().zip(names) {
                solid.swatch = name;
            }
            let views = [View::Front, View::Side, View::Plan].map(|view| ortho::draw(&piece, view));
            for part in &resolved.parts {
                let name = part.part.name.as_str();
                let shows = |drawing: &Drawing| {
                    let [left, top, wide, high] = drawing.sheet;
                    let across = (left..left + wide).step_by(7);
                    let mut points = across.flat_map(|x| (top..top + high).step_by(7).map(move |y| (x, y)));
                    points.any(|point| seen(drawing, point) == Some(name))
                };
                assert!(views.iter().any(shows), "{}: the {name} is seen nowhere", design.key);
            }
        }
    }

    #[test]
    fn resin_has_no_grain() {
        let book = PriceBook::read(include_str!("../../../public/price-book.json")).unwrap();
        let river = book.designs.iter().find(|design| design.key.as_str() == "river-low-table").unwrap();
        let resolved = resolve(&book, &Brief::new(river.key.clone())).unwrap();
        let plain: Vec<String> = boxes(&resolved)
            .iter()
            .filter(|solid| solid.grain.is_none())
            .map(|solid| solid.swatch.to_owned())
            .collect();
        assert_eq!(plain, [book.resins.first().unwrap().swatch.as_str()]);
    }
}
