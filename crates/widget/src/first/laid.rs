//! What is laid on the sheet for the estimate on display: drawings, handles and words, from one settled brief.

use scantling_drawing::{Cue, Drawing, Facts, Grip, Measured, Paper, Scale, Shape, View, draw, measured};
use scantling_pricing::brief::Brief;
use scantling_pricing::design::{Dimension, Resolved, Role};
use scantling_pricing::measure::{Length, LengthUnit};

use crate::wording;
use crate::words::{Words, marked};

/// The height of the lettering, in pixels.
const LETTERING: i64 = 13;
/// As high as the measured views may become, in pixels: a screen of a phone, with the price above.
const TALL: i64 = 520;

/// All of it.
#[derive(Debug)]
pub(crate) struct Laid {
    /// What it was laid for.
    pub(crate) brief: Brief,
    pub(crate) unit: LengthUnit,
    pub(crate) wide: i32,
    pub(crate) whole: Drawing,
    pub(crate) plot: Measured,
    /// The design's name.
    pub(crate) name: String,
    /// The lines of the title: the name, the three sizes, what each role is of, what stands beside it.
    pub(crate) title: Vec<String>,
    /// What is drawn, for readers who don't see it.
    pub(crate) described: String,
}

impl Laid {
    /// Lays a settled brief on a sheet whose measured views are shown so many pixels wide.
    pub(crate) fn of(resolved: &Resolved<'_>, (brief, unit, wide): (&Brief, LengthUnit, i32), words: &Words) -> Self {
        let names = [View::Front, View::Side, View::Plan].map(|view| words.say(wording::view(view)));
        let names = names.each_ref().map(String::as_str);
        let show = |size: Length| words.length(size, unit);
        let scale = Scale::RoomToGrow;
        let paper = Paper { wide: wide.into(), tall: TALL, lettering: LETTERING, names, words: &[], scale };
        let mut plot = measured(resolved, unit, &paper);
        for shape in &mut plot.drawing.shapes {
            if let Shape::Figure { text, .. } = shape {
                *text = marked(std::mem::take(text), words.mark());
            }
        }
        let facts = Facts::of(resolved);
        let material = |(role, stock): &(&Role, &str)| wording::role_of(words, role.label.as_str(), stock);
        let materials: Vec<String> = facts.materials.iter().map(material).collect();
        let size = |(dimension, size): &(&Dimension, Length)| {
            wording::dimension(words, dimension.label.as_str(), &show(*size))
        };
        let sizes: Vec<String> = facts.sizes.iter().map(size).collect();
        let beside = beside(facts.cue, words, show);
        let described = wording::described(words, &sizes.join(", "), &materials.join("; "), &beside);
        let name = resolved.design.name.to_string();
        let mut title = vec![name.clone(), resolved.envelope().map(show).join(" × ")];
        title.extend(materials);
        title.extend(Some(beside).filter(|beside| !beside.is_empty()));
        let whole = draw(resolved, View::Solid, unit);
        Self { brief: brief.clone(), unit, wide, whole, plot, name, title, described }
    }

    /// The handle of a dimension.
    pub(crate) fn grip(&self, dimension: &str) -> Option<&Grip> {
        self.plot.grips.iter().find(|grip| grip.dimension.as_str() == dimension)
    }

    /// How wide and how high the sheet is, in millimetres.
    pub(crate) const fn size(&self) -> (i64, i64) {
        let [_, _, wide, high] = self.plot.drawing.sheet;
        (wide, high)
    }
}

fn beside(cue: Cue, words: &Words, show: impl Fn(Length) -> String) -> String {
    match cue {
        Cue::Seats(places) => {
            let seats = places.both_sides().to_string();
            wording::seats(words, &seats, &seats, &show(places.elbow))
        }
        Cue::Sitter | Cue::Chair => words.say(wording::CHAIR_FOR_SCALE),
        Cue::Nothing => String::new(),
    }
}
