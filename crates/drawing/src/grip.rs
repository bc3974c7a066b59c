//! Handles on dimension lines: which size each one pulls, and how far a pull on the screen changes it.

use scantling_pricing::book::Key;
use scantling_pricing::design::{Dimension, Dimensions, Resolved, ResolvedPart};
use scantling_pricing::measure::{Axis, Length};

use crate::Point;

/// Nanometres a handle moves while its size grows by a millimetre, when it moves as far as the size grows.
pub(crate) const ALL_OF_IT: i64 = 1_000_000;

/// A handle at the end of a dimension line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Grip {
    /// The dimension it changes.
    pub dimension: Key,
    /// Which way it is pulled.
    pub along: Along,
    /// Where it is on the sheet.
    pub knob: Point,
    /// The middle of the foot of its figure.
    pub figure: Point,
    /// What its figure says.
    pub text: String,
    /// Nanometres it moves while its size grows by a millimetre.
    pub(crate) travel: i64,
}

/// The way a handle is pulled to make a size larger.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Along {
    /// To the right.
    Right,
    /// Up the sheet.
    Up,
}

/// A limit that a pull has reached.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Limit {
    /// The least that is built.
    Least,
    /// The most that is built.
    Most,
}

/// What a pull comes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pulled {
    /// The size, on one of the dimension's steps and within its limits.
    pub size: Length,
    /// The limit it stopped at.
    pub limit: Option<Limit>,
}

impl Grip {
    /// What a size becomes when its handle is pulled by so many pixels right and down on a sheet `millimetres` wide that is
    /// shown `pixels` wide.
    #[must_use]
    pub fn pull(
        &self,
        dimension: &Dimension,
        start: Length,
        (right, down): (i32, i32),
        (millimetres, pixels): (i64, i32),
    ) -> Pulled {
        let moved = match self.along {
            Along::Right => i128::from(right),
            Along::Up => -i128::from(down),
        };
        let on_sheet = moved * i128::from(millimetres) * 1_000_000 / i128::from(pixels.max(1));
        let grown = on_sheet * i128::from(ALL_OF_IT) / i128::from(self.travel.max(1));
        let wanted = i128::from(start.nanometres()) + grown;
        // Beyond any length either way, so that what is clamped below is what was meant.
        let wanted = i64::try_from(wanted).unwrap_or(if grown < 0 { i64::MIN } else { i64::MAX });
        snapped(dimension, Length::from_nanometres(wanted))
    }
}

/// The nearest step to a size, counted from the least that is built, within the limits.
fn snapped(dimension: &Dimension, wanted: Length) -> Pulled {
    let Dimension { least, most, step, .. } = dimension;
    if wanted >= *most {
        return Pulled { size: *most, limit: Some(Limit::Most) };
    }
    if wanted <= *least {
        return Pulled { size: *least, limit: Some(Limit::Least) };
    }
    let step = step.nanometres().max(1);
    let above = wanted.nanometres() - least.nanometres();
    let size = *least + Length::from_nanometres((above + step / 2).div_euclid(step) * step);
    // The most need not lie on a step: the nearest step below it may round up past it.
    Pulled { size: size.min(*most), limit: None }
}

/// A size besides the three of the box that a part shows from above: where the part's two edges are and how the farther one moves.
pub(crate) struct Inner<'r> {
    pub(crate) dimension: &'r Dimension,
    pub(crate) near: Length,
    pub(crate) far: Length,
    pub(crate) travel: i64,
}

/// The further dimensions that are, by themselves, a part's extent from front to back: the width of a resin channel.
pub(crate) fn inner<'r>(resolved: &'r Resolved<'_>) -> Vec<Inner<'r>> {
    let further = resolved.design.dimensions.iter().filter(|dimension| !crate::BOX.contains(&dimension.key.as_str()));
    further
        .filter_map(|dimension| resolved.parts.iter().find_map(|part| shown_by(part, dimension, &resolved.sizes)))
        .collect()
}

fn shown_by<'r>(part: &ResolvedPart<'_>, dimension: &'r Dimension, sizes: &Dimensions) -> Option<Inner<'r>> {
    let measures = [&part.part.length, &part.part.width, &part.part.thickness];
    let measure = part.part.lies.along(Axis::Y, measures);
    let alone = |size: Length| {
        let mut sizes = Dimensions::new();
        sizes.insert(dimension.key.clone(), size);
        measure.at(&sizes) == size
    };
    if measure.depends_on().count() != 1 || !alone(Length::ZERO) || !alone(dimension.most) {
        return None;
    }
    let placed = part.boxes.first()?;
    let [_, at, _] = &part.part.at;
    let mut wider = sizes.clone();
    let now = sizes.get(&dimension.key).copied()?;
    wider.insert(dimension.key.clone(), now + Length::from_nanometres(ALL_OF_IT));
    let travel = (at.at(&wider) - at.at(sizes)).nanometres() + ALL_OF_IT;
    let near = placed.start(1);
    Some(Inner { dimension, near, far: near + placed.extent(1), travel })
}
