//! Designs as data: dimensions with limits, parts with linear measures and positions, joints, faces, options.
//!
//! A measure is a sum of fractions of dimensions and a length, so it needs no parser and no formula language, and it is
//! least or most at a corner of the box of sizes a buyer may choose: what holds at every corner holds for every size.

mod measure;
mod part;
mod purpose;
mod resolve;

use serde::Serialize;

use crate::book::read::{is_default, reads, reads_word};
use crate::brief::Brief;

pub use measure::{Dimensions, Fraction, Measure, envelope};
pub use part::{Copies, Faces, Joint, Pair, Part, Shaped, Spread};
pub use purpose::{Carries, Held, Purpose};
pub(crate) use resolve::{MOST_COPIES, place, resolve_part};
pub use resolve::{Material, PlacedBox, Resolved, ResolvedPart, resolve};

use crate::book::values::{Count, Key, Measured, Text};
use crate::checks::Caution;
use crate::measure::Length;

/// A piece that can be sized.
///
/// Its box is `length` along x, `width` along y (its depth) and `height` along z: every design has these three.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Design {
    /// How briefs refer to it.
    pub key: Key,
    /// What it is called on the page.
    pub name: Text,
    /// What it is, in a sentence or two.
    pub summary: Text,
    /// What it is for.
    #[serde(skip_serializing_if = "is_default")]
    pub purpose: Purpose,
    /// Whether a piece for clothes has passed the tip-over tests of the standard in force: without, large ones are refused.
    #[serde(skip_serializing_if = "is_default")]
    pub tip_tested: bool,
    /// What a buyer may size.
    pub dimensions: Vec<Dimension>,
    /// Groups of parts that are of one material.
    pub roles: Vec<Role>,
    /// The parts.
    pub parts: Vec<Part>,
    /// Hardware every piece has.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub hardware: Vec<HardwareUse>,
    /// Work the parts alone don't tell of.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub work: Vec<NamedWork>,
    /// What a buyer may choose besides.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub options: Vec<OptionGroup>,
    /// The boxes it travels in; without any, one as large as the piece.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub packs: Vec<Pack>,
    /// Cautions that go with the design.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<Caution>,
}

reads!(Design {
    key,
    name,
    summary,
    purpose,
    tip_tested = false,
    dimensions,
    roles,
    parts,
    hardware,
    work,
    options,
    packs,
    cautions
});

/// What a buyer may size.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Dimension {
    /// How measures and briefs refer to it.
    pub key: Key,
    /// What it is called on the page.
    pub label: Text,
    /// The least that is built.
    pub least: Length,
    /// The most that is built.
    pub most: Length,
    /// What the arrow keys move it by; any size between the limits may be typed.
    pub step: Length,
    /// What it starts at.
    pub default: Length,
    /// Why these limits, in a sentence for the buyer: what gives out below and above. Without figures, as each buyer reads the limits
    /// beside it in a unit of their own.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub why: Option<Text>,
}

reads!(Dimension { key, label, least, most, step, default, why });

/// A group of parts that are of one material.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Role {
    /// How parts and briefs refer to it.
    pub key: Key,
    /// What it is called on the page.
    pub label: Text,
    /// Timbers, slabs, sheets or resins it may be of; the first is the default.
    pub materials: Vec<Key>,
}

reads!(Role { key, label, materials });

/// Hardware that is used.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct HardwareUse {
    /// Which.
    pub item: Key,
    /// How many.
    pub count: Count,
}

reads!(HardwareUse { item, count });

/// Work the parts alone don't tell of: three drawers, two hours of carving.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct NamedWork {
    /// The word operations name it by.
    pub work: Key,
    /// How many units of it.
    pub quantity: Measured,
}

reads!(NamedWork { work, quantity });

/// A choice among variants.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct OptionGroup {
    /// How briefs refer to it.
    pub key: Key,
    /// What it is called on the page.
    pub label: Text,
    /// The variants; the first is the default.
    pub choices: Vec<OptionChoice>,
}

reads!(OptionGroup { key, label, choices });

impl OptionGroup {
    /// The variant a brief asks for, else the first; nothing where it asks for one there is none of.
    #[must_use]
    pub fn chosen(&self, brief: &Brief) -> Option<&OptionChoice> {
        let asked = brief.options.get(&self.key);
        self.choices.iter().find(|choice| asked.is_none_or(|asked| choice.key == *asked))
    }
}

/// One variant: what it takes out and puts in.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct OptionChoice {
    /// How briefs refer to it.
    pub key: Key,
    /// What it is called on the page.
    pub label: Text,
    /// Parts it puts in.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub add: Vec<Part>,
    /// Parts it takes out.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub remove: Vec<Key>,
    /// Hardware it puts in.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub hardware: Vec<HardwareUse>,
    /// Work it puts in.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub work: Vec<NamedWork>,
}

reads!(OptionChoice { key, label, add, remove, hardware, work });

/// A box the piece travels in, before padding.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Pack {
    /// Its length inside the padding.
    pub length: Measure,
    /// Its width inside the padding.
    pub width: Measure,
    /// Its height inside the padding.
    pub height: Measure,
    /// The parts in it; what no pack names is spread over all of them by their space.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub holds: Vec<Key>,
    /// The directions whose two sides want more padding.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub fragile: Vec<Across>,
    /// Whether it stands on a pallet without walls, where the book has pallets.
    #[serde(skip_serializing_if = "is_default")]
    pub on_pallet: bool,
}

reads!(Pack { length, width, height, holds, fragile, on_pallet = false });

/// A direction of a pack.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Across {
    /// Its two ends.
    Length,
    /// Its two long sides.
    Width,
    /// Top and bottom.
    Height,
}

reads_word!(Across { "length" => Self::Length, "width" => Self::Width, "height" => Self::Height });

impl Pack {
    /// Whether the sides across length, width and height are fragile.
    #[must_use]
    pub fn fragile_across(&self) -> [bool; 3] {
        [Across::Length, Across::Width, Across::Height].map(|across| self.fragile.contains(&across))
    }
}

/// The dimensions every design has, in the order x, y, z.
pub const BOX: [&str; 3] = ["length", "width", "height"];

impl Design {
    /// The dimension with this key.
    #[must_use]
    pub fn dimension(&self, key: &str) -> Option<&Dimension> {
        self.dimensions.iter().find(|dimension| dimension.key.as_str() == key)
    }

    /// The role with this key.
    #[must_use]
    pub fn role(&self, key: &Key) -> Option<&Role> {
        self.roles.iter().find(|role| role.key == *key)
    }

    /// Every part the design can have: its own, then those its options put in.
    pub fn all_parts(&self) -> impl Iterator<Item = &Part> {
        let added = self.options.iter().flat_map(|group| &group.choices).flat_map(|choice| &choice.add);
        self.parts.iter().chain(added)
    }
}
