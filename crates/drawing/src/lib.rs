//! Measured drawings of a piece, from the same parts its price comes from.
//!
//! A [`Drawing`] is plain data in whole millimetres: a page renders its shapes element by element, [`svg`] writes them as a
//! file. Whole numbers throughout, so that every machine draws the same to the digit.

#![expect(
    clippy::integer_division,
    reason = "a drawing is in whole millimetres; what a division loses is less than one"
)]

mod grain;
mod joinery;
mod ortho;
mod ruler;
mod solid;
pub mod svg;

use scantling_pricing::design::{PlacedBox, Resolved, ResolvedPart};
use scantling_pricing::measure::{Axis, Length, LengthUnit};

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
    /// A stroke of grain on a face.
    Grain(Vec<Point>),
    /// A dimension line with its ticks, as separate strokes.
    Ruler(Vec<[Point; 2]>),
    /// A figure beside a dimension line.
    Figure {
        /// Its middle.
        at: Point,
        /// Whether it is turned to read upwards.
        upright: bool,
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
    /// Turned away: the darkest.
    Low,
}

/// Draws a piece.
#[must_use]
pub fn draw(resolved: &Resolved<'_>, view: View, unit: LengthUnit) -> Drawing {
    let mut boxes = boxes(resolved);
    joinery::hide_tenons(&mut boxes);
    let envelope = scantling_pricing::design::BOX.map(|name| {
        resolved.sizes.iter().find(|(key, _)| key.as_str() == name).map_or(0, |(_, size)| millimetres(*size))
    });
    let shown = [Length::show; 3].iter().zip(scantling_pricing::design::BOX).map(|(show, name)| {
        let size = resolved.sizes.iter().find(|(key, _)| key.as_str() == name).map_or(Length::ZERO, |(_, size)| *size);
        show(size, unit)
    });
    let figures: Vec<String> = shown.collect();
    match view {
        View::Solid => solid::draw(&boxes, envelope),
        View::Front | View::Side | View::Plan => ortho::draw(&boxes, envelope, view, &figures),
    }
}

/// A part's box in whole millimetres.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Solid<'s> {
    low: [i64; 3],
    high: [i64; 3],
    grain: usize,
    swatch: &'s str,
}

fn boxes<'s>(resolved: &'s Resolved<'_>) -> Vec<Solid<'s>> {
    let solid = |part: &'s ResolvedPart<'_>, placed: &PlacedBox| {
        let low = placed.at.map(millimetres);
        let [x, y, z] = placed.at;
        let [length, depth, height] = placed.size;
        Solid {
            low,
            high: [x + length, y + depth, z + height].map(millimetres),
            grain: match part.part.lies.length {
                Axis::X => 0,
                Axis::Y => 1,
                Axis::Z => 2,
            },
            swatch: part.material.stock.swatch(),
        }
    };
    resolved.parts.iter().flat_map(|part| part.boxes.iter().map(move |placed| solid(part, placed))).collect()
}

fn millimetres(length: Length) -> i64 {
    length.nanometres().saturating_add(500_000).div_euclid(1_000_000)
}
