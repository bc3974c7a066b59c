//! A brief: what a buyer asks for, before anything is computed.

use crate::map::Map;
use serde::Serialize;

use crate::book::PriceBook;
use crate::book::check;
use crate::book::document::{DocumentError, Node};
use crate::book::read::{is_default, reads, reads_word};
use crate::book::values::{Count, Key, Text};
use crate::delivery::Mode;
use crate::design::Dimension;
use crate::measure::Length;

/// What a buyer asks for. What is left out takes the design's default.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Brief {
    /// The format's version: 1.
    pub scantling_brief: u32,
    /// Which design.
    pub design: Key,
    /// Sizes, by dimension.
    #[serde(skip_serializing_if = "Map::is_empty")]
    pub dimensions: Map<Key, Length>,
    /// Timber, slab, sheet or resin, by role.
    #[serde(skip_serializing_if = "Map::is_empty")]
    pub materials: Map<Key, Key>,
    /// Which finish; without one, the book's first.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub finish: Option<Key>,
    /// Variants, by option.
    #[serde(skip_serializing_if = "Map::is_empty")]
    pub options: Map<Key, Key>,
    /// How many.
    pub quantity: Count,
    /// Where it goes; without one, only the price at the workshop is estimated.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub destination: Option<Destination>,
    /// How it gets there; without one, the cheapest way that brings it there.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub delivery: Option<Mode>,
}

reads!(Brief {
    scantling_brief,
    design,
    dimensions,
    materials,
    finish,
    options,
    quantity = Count::ONE,
    destination,
    delivery,
});

/// Where a piece goes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Destination {
    /// ISO 3166-1 code of the country.
    pub country: Text,
    /// The postal code as the buyer writes it; it may be left out where the country alone tells the region.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub postal_code: Option<Text>,
    /// What kind of place it is.
    #[serde(skip_serializing_if = "is_default")]
    pub site: Site,
    /// Whether it is to be carried in, past the threshold.
    #[serde(skip_serializing_if = "is_default")]
    pub inside: bool,
}

reads!(Destination { country, postal_code, site, inside = false });

impl Destination {
    /// A home, its things left at the door.
    #[must_use]
    pub const fn new(country: Text, postal_code: Option<Text>) -> Self {
        Self { country, postal_code, site: Site::Home, inside: false }
    }
}

/// What kind of place a carrier comes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Site {
    /// A home: no dock, and someone must be there.
    #[default]
    Home,
    /// A business with a loading dock.
    Dock,
    /// Where a truck gets badly: farm, school, church, storage, building site, island.
    LimitedAccess,
}

impl Site {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Home, Self::Dock, Self::LimitedAccess];

    /// Its word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Home => "home",
            Self::Dock => "dock",
            Self::LimitedAccess => "limited-access",
        }
    }
}

reads_word!(Site { "home" => Self::Home, "dock" => Self::Dock, "limited-access" => Self::LimitedAccess } or Self::Home);

/// The most pieces one brief may ask for: above this a maker talks to the buyer.
pub const MOST_PIECES: u32 = 50;

impl Brief {
    /// A brief for one of a design at its defaults.
    #[must_use]
    pub const fn new(design: Key) -> Self {
        Self {
            scantling_brief: 1,
            design,
            dimensions: Map::new(),
            materials: Map::new(),
            finish: None,
            options: Map::new(),
            quantity: Count::ONE,
            destination: None,
            delivery: None,
        }
    }

    /// The size asked for, or the dimension's default.
    #[must_use]
    pub fn size(&self, dimension: &Dimension) -> Length {
        self.dimensions.get(&dimension.key).copied().unwrap_or(dimension.default)
    }

    /// The same brief with everything written out that it left to the book's defaults, so that a later change of the book
    /// changes nothing of what was meant.
    #[must_use]
    pub fn spelled_out(&self, book: &PriceBook) -> Self {
        let mut brief = self.clone();
        let Some(design) = book.design(&self.design) else { return brief };
        for dimension in &design.dimensions {
            brief.dimensions.fill(&dimension.key, &dimension.default);
        }
        for role in &design.roles {
            if let Some(first) = role.materials.first() {
                brief.materials.fill(&role.key, first);
            }
        }
        for group in &design.options {
            if let Some(first) = group.choices.first() {
                brief.options.fill(&group.key, &first.key);
            }
        }
        brief.finish = brief.finish.or_else(|| book.finishes.first().map(|finish| finish.key.clone()));
        brief
    }

    /// Reads a brief.
    ///
    /// # Errors
    /// The first place where the text is not a brief. Whether a book can fill it is for [`crate::estimate::estimate`] to say.
    pub fn read(text: &str) -> Result<Self, DocumentError> {
        let node = Node::read(text)?;
        check::version(&node, "scantling_brief", "a brief")?;
        node.read_as()
    }
}
