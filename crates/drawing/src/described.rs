//! A drawing in words, for readers who don't see it: what is drawn, with the same sizes and materials.
//!
//! The widget says these facts in the buyer's language; files, the maker's page and the demo page say them in English.

use scantling_pricing::book::stock::{Slab, Timber};
use scantling_pricing::design::{Dimension, Resolved, Role};
use scantling_pricing::measure::{Length, LengthUnit};

use crate::{Cue, cue};

/// What a drawing of a piece shows, as it stands in the brief.
#[derive(Debug)]
pub struct Facts<'r> {
    /// Every dimension of the design, with its size.
    pub sizes: Vec<(&'r Dimension, Length)>,
    /// Every role that is filled, with the name of what it is of.
    pub materials: Vec<(&'r Role, &'r str)>,
    /// What stands by for scale.
    pub cue: Cue,
}

impl<'r> Facts<'r> {
    /// The facts of a piece.
    #[must_use]
    pub fn of(resolved: &'r Resolved<'_>) -> Self {
        let design = resolved.design;
        let size = |dimension: &'r Dimension| Some((dimension, *resolved.sizes.get(&dimension.key)?));
        let materials = resolved.materials.iter();
        Self {
            sizes: design.dimensions.iter().filter_map(size).collect(),
            materials: materials.filter_map(|of| Some((design.role(of.role)?, of.stock.name()))).collect(),
            cue: cue(resolved),
        }
    }
}

/// How a piece is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Seen {
    /// By itself, from one side or whole.
    Alone,
    /// On the measured sheet, beside what gives its scale.
    Measured,
}

/// A drawing of a piece in words: `Hall bench: length 48 in, depth 14 in, seat height 17 1/2 in. Wood: White oak.`
#[must_use]
pub fn described(resolved: &Resolved<'_>, unit: LengthUnit, seen: Seen) -> String {
    let facts = Facts::of(resolved);
    let size = |(dimension, size): &(&Dimension, Length)| {
        format!("{} {}", dimension.label.as_str().to_lowercase(), size.show(unit))
    };
    let sizes: Vec<String> = facts.sizes.iter().map(size).collect();
    let material = |(role, stock): &(&Role, &str)| format!("{}: {stock}", role.label);
    let materials: Vec<String> = facts.materials.iter().map(material).collect();
    let beside = match facts.cue {
        Cue::Seats(_) | Cue::Sitter | Cue::Chair if seen == Seen::Alone => String::new(),
        Cue::Seats(places) => format!(" Chairs for scale stand at its {} places.", places.both_sides()),
        Cue::Sitter | Cue::Chair => " A chair stands there for scale.".to_owned(),
        Cue::Nothing => String::new(),
    };
    format!("{}: {}. {}.{beside}", resolved.design.name, sizes.join(", "), materials.join("; "))
}

/// A drawing of a slab in words, with its widths from end to end.
#[must_use]
pub fn slab_described(slab: &Slab, timber: &Timber, unit: LengthUnit) -> String {
    let widths: Vec<String> = slab.widths.iter().map(|width| width.show(unit)).collect();
    format!(
        "{}, {}, from above: {} long, and from end to end {} wide. {}",
        slab.name,
        timber.name,
        slab.length.show(unit),
        widths.join(", "),
        slab.character
    )
}

/// A sample of a timber in words.
#[must_use]
pub fn sample_described(timber: &Timber) -> String {
    format!("A board of {}: {}", timber.name, timber.character)
}
