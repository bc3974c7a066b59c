//! The measured sheet: plan, front and side at one scale, each in line with the next, as a workshop hangs them over the bench.
//!
//! The plan stands above the front and the side to the right of it, so that a size read in one is found level with it in the
//! other: third-angle projection. Where the paper is too narrow for that they stand one below another, still at one scale.
//! Each size is given once, where it runs clear of the others. Source of the rules: the principles of ISO 5456-2 (projection) and
//! ISO 129-1 (dimensions), from memory.

use scantling_pricing::design::Resolved;
use scantling_pricing::measure::LengthUnit;

use crate::cue::{Beyond, Cue, cue};
use crate::grip::{ALL_OF_IT, Inner, inner};
use crate::ruler::Side;
use crate::{Along, BOX, Drawing, Grip, Piece, Point, Shape, View, ortho, ruler};

/// What a sheet is drawn for.
#[derive(Debug, Clone, Copy)]
pub struct Paper<'w> {
    /// How wide it is shown, in pixels.
    pub wide: i64,
    /// How high it may become, in pixels.
    pub tall: i64,
    /// The height of its lettering, in pixels.
    pub lettering: i64,
    /// What front, side and plan are called.
    pub names: [&'w str; 3],
    /// Written into the corner the views leave free, a line each.
    pub words: &'w [&'w str],
    /// What the scale is made for.
    pub scale: Scale,
}

/// What the scale of a sheet is made for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scale {
    /// The piece as it is: the sheet is filled.
    ThisPiece,
    /// The piece with room to grow by a quarter over the size it starts at, if the design allows it: the scale stays while a
    /// size is pulled.
    RoomToGrow,
}

/// A sheet and the handles on its dimension lines.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Measured {
    /// The drawing.
    pub drawing: Drawing,
    /// A handle for every size that can be changed and is drawn, in the order of the design's box and then of its dimensions.
    pub grips: Vec<Grip>,
    /// What stands by to show the scale.
    pub cue: Cue,
}

/// Draws the sheet.
#[must_use]
pub fn measured(resolved: &Resolved<'_>, unit: LengthUnit, paper: &Paper<'_>) -> Measured {
    let piece = Piece::of(resolved, unit);
    let by = cue(resolved);
    let further = inner(resolved);
    let plot = Plot::of(&piece, by.beyond(), !further.is_empty(), paper);
    let mut shapes = Vec::new();
    for (view, name) in [View::Plan, View::Front, View::Side].into_iter().zip([2, 0, 1]) {
        let (corner, caption) = plot.place(view);
        let text = paper.names.get(name).map_or(String::new(), |name| (*name).to_owned());
        let moved = |shape| shifted(shape, corner);
        shapes.extend(by.draw(view, piece.envelope).map(moved));
        shapes.extend(ortho::shapes(&piece, view, plot.pixels(5)).into_iter().map(moved));
        shapes.push(Shape::Caption { at: plot.on_the_sheet(caption, &text), text });
    }
    let mut grips = box_lines(&piece, resolved, &plot, &mut shapes);
    further.iter().for_each(|inner| grips.extend(further_line(inner, &piece, unit, &plot, &mut shapes)));
    shapes.extend(plot.title(paper.words));
    let drawing = Drawing { sheet: [0, 0, plot.wide, plot.high], lettering: plot.letters(10), shapes };
    Measured { drawing, grips, cue: by }
}

/// Length under the front, height beside it, depth beside the plan.
fn box_lines(piece: &Piece<'_>, resolved: &Resolved<'_>, plot: &Plot, shapes: &mut Vec<Shape>) -> Vec<Grip> {
    let [length, width, height] = piece.envelope;
    let [long, deep, high] = &piece.figures;
    let (plan, front) = (plot.place(View::Plan).0, plot.place(View::Front).0);
    let lettering = plot.letters(10);
    let lines = [
        ruler::level(front.0, front.0 + length, front.1 + height, lettering, long),
        ruler::upright((plan.1, plan.1 + width), (plan.0, Side::Left), lettering, deep),
        ruler::upright((front.1, front.1 + height), (front.0, Side::Left), lettering, high),
    ];
    let mut grips = Vec::new();
    for ((name, line), along) in BOX.iter().zip(lines).zip([Along::Right, Along::Up, Along::Up]) {
        let dimension = resolved.design.dimension(name).filter(|dimension| dimension.least < dimension.most);
        grips.extend(dimension.and_then(|dimension| grip(&line, dimension.key.clone(), along, ALL_OF_IT)));
        shapes.extend(line);
    }
    grips
}

/// A further dimension beside the plan, on the side its depth is not.
fn further_line(
    inner: &Inner<'_>,
    piece: &Piece<'_>,
    unit: LengthUnit,
    plot: &Plot,
    shapes: &mut Vec<Shape>,
) -> Option<Grip> {
    let [length, width, _] = piece.envelope;
    let (x, y) = plot.place(View::Plan).0;
    let down = |from_front| y + width - crate::millimetres(from_front);
    let text = (inner.far - inner.near).show(unit);
    let line = ruler::upright((down(inner.far), down(inner.near)), (x + length, Side::Right), plot.letters(10), &text);
    let can_change = inner.dimension.least < inner.dimension.most;
    let grip = can_change.then(|| grip(&line, inner.dimension.key.clone(), Along::Up, inner.travel)).flatten();
    shapes.extend(line);
    grip
}

/// The handle of a dimension line: at its right or its upper end.
fn grip(line: &[Shape; 2], dimension: scantling_pricing::book::Key, along: Along, travel: i64) -> Option<Grip> {
    let [Shape::Ruler(strokes), Shape::Figure { at, text, .. }] = line else { return None };
    let [from, to] = *strokes.first()?;
    let knob = match along {
        Along::Right => to,
        Along::Up => from,
    };
    Some(Grip { dimension, along, knob, figure: *at, text: text.clone(), travel })
}

/// Room around the views, in tenths of the lettering.
mod room {
    /// Left of the views, for an upright dimension line and its figure.
    pub(super) const LEFT: i64 = 40;
    /// Right of the views.
    pub(super) const RIGHT: i64 = 10;
    /// Above the views.
    pub(super) const TOP: i64 = 16;
    /// Between two views side by side.
    pub(super) const BETWEEN: i64 = 24;
    /// Under a view with its name alone.
    pub(super) const NAMED: i64 = 30;
    /// Under a view with a dimension line and its name.
    pub(super) const MEASURED: i64 = 52;
    /// From a view's foot to its name's.
    pub(super) const NAME: i64 = 15;
    /// From a measured view's foot to its name's.
    pub(super) const MEASURED_NAME: i64 = 37;
}

/// Where everything goes.
struct Plot {
    /// Millimetres in so many pixels.
    scale: (i64, i64),
    lettering: i64,
    wide: i64,
    high: i64,
    /// Where the left edge of plan and front is.
    left: i64,
    /// Where the side view's front edge is.
    side: i64,
    /// How far down the front edge of the plan is, and the floors of the front and the side view.
    feet: [i64; 3],
    beyond: Beyond,
    piece: [i64; 3],
}

impl Plot {
    fn of(piece: &Piece<'_>, beyond: Beyond, further: bool, paper: &Paper<'_>) -> Self {
        let [length, width, height] = if paper.scale == Scale::ThisPiece { piece.envelope } else { piece.room };
        let across = width + beyond.front + beyond.back;
        let up = height.max(beyond.high);
        let aside = if further { room::LEFT } else { 0 };
        let row = Layout {
            wide: length + beyond.right + across,
            high: across + up,
            beside: room::LEFT + room::BETWEEN.max(aside) + room::RIGHT,
            above: room::TOP + room::NAMED + room::MEASURED,
        };
        let column = Layout {
            wide: (length + beyond.right).max(across),
            high: across + 2 * up,
            beside: room::LEFT + room::RIGHT.max(aside),
            above: room::TOP + room::NAMED + room::MEASURED + room::NAMED,
        };
        let (row_scale, column_scale) = (row.scale(paper), column.scale(paper));
        // In line where that costs little, since views that line up are worth a smaller scale, and where their names, which
        // then stand on one line, have room.
        let [front_name, side_name, _] = paper.names.map(|name| ruler::words(name, paper.lettering) / 2);
        let to_side = beyond.right + beyond.front + (length + width) / 2;
        let named = to_side * row_scale.1 / row_scale.0.max(1) + paper.lettering * room::BETWEEN / 10;
        let to_edge = paper.wide - paper.lettering * room::LEFT / 10 - length * row_scale.1 / row_scale.0.max(1) / 2;
        let in_line = row_scale.0 * column_scale.1 * 4 <= column_scale.0 * row_scale.1 * 5
            && front_name + side_name <= named.min(to_edge - side_name);
        let (layout, scale) = if in_line { (row, row_scale) } else { (column, column_scale) };
        let mut plot = Self {
            scale,
            lettering: paper.lettering,
            wide: 0,
            high: 0,
            left: 0,
            side: 0,
            feet: [0; 3],
            beyond,
            piece: piece.envelope,
        };
        plot.wide = plot.pixels(paper.wide).max(1);
        plot.high = plot.letters(layout.above) + layout.high;
        // What the height leaves free is shared out on both sides.
        plot.left = plot.letters(room::LEFT) + (plot.wide - plot.letters(layout.beside) - layout.wide).max(0) / 2;
        let plan = plot.letters(room::TOP) + width + beyond.back;
        let front = plan + beyond.front + plot.letters(room::NAMED) + up;
        plot.feet = if in_line {
            plot.side = plot.left + length + beyond.right + plot.letters(room::BETWEEN.max(aside)) + beyond.front;
            [plan, front, front]
        } else {
            plot.side = plot.left + beyond.front;
            [plan, front, front + plot.letters(room::MEASURED) + up]
        };
        plot
    }

    /// Millimetres as large as so many pixels.
    fn pixels(&self, pixels: i64) -> i64 {
        pixels * self.scale.0 / self.scale.1.max(1)
    }

    /// Millimetres as large as so many tenths of the lettering.
    fn letters(&self, tenths: i64) -> i64 {
        self.pixels(self.lettering * tenths) / 10
    }

    /// The upper left corner of the piece in a view, and the middle of the foot of the view's name.
    fn place(&self, view: View) -> (Point, Point) {
        let [length, width, height] = self.piece;
        let [plan, front, side] = self.feet;
        let measured = self.letters(room::MEASURED_NAME);
        match view {
            View::Plan => {
                let name = plan + self.beyond.front + self.letters(room::NAME);
                ((self.left, plan - width), (self.left + length / 2, name))
            }
            View::Side => {
                // In line with the front's name where the two stand side by side.
                let name = if side == front { measured } else { self.letters(room::NAME) };
                ((self.side, side - height), (self.side + width / 2, side + name))
            }
            View::Front | View::Solid => ((self.left, front - height), (self.left + length / 2, front + measured)),
        }
    }

    /// A place for words as near to this as the edges of the sheet let them be: a narrow view may have a long name.
    fn on_the_sheet(&self, (x, y): Point, text: &str) -> Point {
        let half = ruler::words(text, self.letters(10)) / 2;
        (x.min(self.wide - half).max(half), y)
    }

    /// Words in the middle of the free corner above the side view.
    fn title(&self, words: &[&str]) -> Vec<Shape> {
        let [plan, ..] = self.feet;
        let count = i64::try_from(words.len()).unwrap_or(0);
        let middle = (plan + self.letters(room::TOP)) / 2 - self.letters(8) * (count - 1);
        let [_, width, _] = self.piece;
        let line = |(line, text): (i64, &&str)| Shape::Caption {
            at: (self.side + width / 2, middle + self.letters(16) * line),
            text: (*text).to_owned(),
        };
        (0..).zip(words).map(line).collect()
    }
}

/// Views put together: how large they are, and the room around them in tenths of the lettering.
struct Layout {
    wide: i64,
    high: i64,
    beside: i64,
    above: i64,
}

impl Layout {
    /// Millimetres to so many pixels, so that all fits both ways.
    fn scale(&self, paper: &Paper<'_>) -> (i64, i64) {
        let free = |whole: i64, tenths: i64| (whole - paper.lettering * tenths / 10).max(paper.lettering);
        let wide = (self.wide.max(1), free(paper.wide, self.beside));
        let high = (self.high.max(1), free(paper.tall, self.above));
        if wide.0 * high.1 >= high.0 * wide.1 { wide } else { high }
    }
}

/// The same shape further right and down.
fn shifted(mut shape: Shape, (right, down): Point) -> Shape {
    let put = |point: &mut Point| *point = (point.0 + right, point.1 + down);
    match &mut shape {
        Shape::Face { corners, .. } => corners.iter_mut().for_each(put),
        Shape::Grain(strokes) | Shape::Sheen(strokes) | Shape::Cue(strokes) => {
            strokes.iter_mut().for_each(|stroke| stroke.iter_mut().for_each(put));
        }
        Shape::Ruler(strokes) => strokes.iter_mut().for_each(|stroke| stroke.iter_mut().for_each(put)),
        Shape::Figure { at, .. } | Shape::Caption { at, .. } => put(at),
    }
    shape
}
