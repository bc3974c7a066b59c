//! What a check found: a figure, the limits it is held against, and where they come from.

use rust_decimal::Decimal;
use serde::ser::SerializeStruct;
use serde::{Serialize, Serializer};

use crate::measure::{Length, LengthUnit, Quantity};

/// One check of a piece or of a part of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    /// What was checked.
    pub check: Check,
    /// What follows.
    pub level: Level,
    /// The part it is about, in the design's words; empty for the piece as a whole.
    pub part: String,
    /// What it came to.
    pub figure: Figure,
    /// The least it should be.
    pub least: Option<Figure>,
    /// The most it should be.
    pub most: Option<Figure>,
}

/// What is checked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Check {
    /// How far a part bends under what it is meant to carry.
    Sag,
    /// How far a wide part moves with the seasons, against the room its fixings give.
    Movement,
    /// The pull at its upper edge that tips the piece over.
    Tipping,
    /// Storage for clothes must pass tip-over tests from a size on.
    ClothingStorage,
    /// How far a top stands out past what it stands on.
    Overhang,
    /// Its height, for what it is for.
    Height,
    /// Its depth, for places face to face.
    PlaceDepth,
    /// Room for knees under it.
    Knees,
    /// How many people sit along its sides.
    Seats,
    /// What it weighs, for those who lift it.
    Lift,
    /// Its smallest cross-section, for the doors on its way.
    Doorway,
}

/// What follows from a check.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Level {
    /// For the maker to know.
    Note,
    /// Buyer and maker should see why.
    Warn,
    /// It can't be built so.
    Refuse,
}

/// What a check measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Figure {
    /// A length.
    Length(Length),
    /// A weight or a pull, in pounds.
    Pounds(Decimal),
    /// A count.
    Count(u32),
}

impl Figure {
    /// The figure in words: lengths in this unit, weights in that of the same system.
    #[must_use]
    pub fn show(self, unit: LengthUnit) -> String {
        match self {
            Self::Length(length) => length.show(unit),
            Self::Pounds(pounds) => Quantity::Weight.show(pounds, unit),
            Self::Count(count) => count.to_string(),
        }
    }
}

impl Check {
    /// Where its limit comes from. What is common practice or was recalled from memory says so.
    #[must_use]
    pub const fn source(self) -> &'static str {
        match self {
            Self::Sag => {
                "beam formula: FPL-GTR-190 (2010), ch. 9, eq. 9-2; twice the first bend where the load stays: ch. 5, from memory; limits of 1/240 and 1/120 of the span: common practice, no source"
            }
            Self::Movement => {
                "FPL-GTR-190 (2010), ch. 13, eq. 13-2 and 13-3; moisture indoors: Table 13-2, spans from memory"
            }
            Self::Tipping => "a pull of 10 lb: from memory of the horizontal test of ASTM F2057-23",
            Self::ClothingStorage => "ASTM F2057-23 by 16 CFR 1261.2: from 27 in, 30 lb and 3.2 cu ft",
            Self::Overhang => "a third of the base: common practice, no source",
            Self::Height | Self::PlaceDepth | Self::Knees | Self::Seats => {
                "a published furniture design reference page; bench and desk heights: common practice, no source"
            }
            Self::Lift => "51 lb a person, the load constant of the NIOSH lifting equation, from memory",
            Self::Doorway => "an inside door of 30 by 78 in: common practice, no source",
        }
    }
}

impl Finding {
    /// A finding about the piece as a whole.
    pub(super) const fn of_piece(check: Check, level: Level, figure: Figure) -> Self {
        Self { check, level, part: String::new(), figure, least: None, most: None }
    }

    /// A finding about a part.
    pub(super) fn of_part(check: Check, level: Level, part: &impl ToString, figure: Figure) -> Self {
        Self { part: part.to_string(), ..Self::of_piece(check, level, figure) }
    }

    pub(super) fn at_least(self, least: Figure) -> Self {
        Self { least: Some(least), ..self }
    }

    pub(super) fn at_most(self, most: Figure) -> Self {
        Self { most: Some(most), ..self }
    }

    /// The figure, the least and the most as words, lengths in this unit; empty where there is no limit.
    fn words(&self, unit: LengthUnit) -> [String; 3] {
        let limit = |limit: Option<Figure>| limit.map_or_else(String::new, |limit| limit.show(unit));
        [self.figure.show(unit), limit(self.least), limit(self.most)]
    }

    /// Why it warns or refuses and what to do, with lengths in this unit.
    #[must_use]
    pub fn explain(&self, unit: LengthUnit) -> String {
        let ([figure, least, most], part) = (self.words(unit), &self.part);
        match self.check {
            Check::Sag => format!(
                "{part}: bends {figure} under its load, and {most} is the most: shorter or in a stiffer wood it bends less"
            ),
            Check::Movement => format!(
                "{part}: moves {figure} with the seasons there; the maker gives its fixings more than {most} of room"
            ),
            Check::Tipping => {
                format!("a pull of {figure} at the upper edge tips it: fix it to the wall, as your local rules ask")
            }
            Check::ClothingStorage => format!(
                "storage for clothes {figure} high must pass the tip-over tests that hold where it goes; write to the maker, or stay under {most}"
            ),
            Check::Overhang => {
                format!("{part}: stands out {figure} past its base: weight on an end may tip it; up to {most} is usual")
            }
            Check::Height => format!("{figure} is an unusual height for it: {least} to {most} is usual"),
            Check::PlaceDepth => {
                format!("{figure} across leaves little room for places face to face; {least} is usual")
            }
            Check::Knees => format!("{figure} of room for knees is tight; {least} is usual"),
            Check::Seats => format!("{figure} places along its sides"),
            Check::Lift => format!("weighs {figure}, over the {most} that two people should lift"),
            Check::Doorway => {
                format!("{figure} at its slimmest, wider than a usual inside door of {most}: measure the way in")
            }
        }
    }

    /// What a maker notes of it: the figure beside what is aimed at, whether it is kept or not. Apart from the explanation, since
    /// a buyer's page never says it and need not fetch it.
    #[must_use]
    pub fn note(&self, unit: LengthUnit) -> String {
        let [figure, least, most] = self.words(unit);
        let what = match self.check {
            Check::Sag => "bend under its load",
            Check::Movement => "movement with the seasons",
            Check::Tipping => "pull at the upper edge that tips it",
            Check::ClothingStorage => "height of storage for clothes, tested against tipping",
            Check::Overhang => "overhang past the base",
            Check::Height => "height",
            Check::PlaceDepth => "depth for places face to face",
            Check::Knees => "room for knees",
            Check::Seats => "places along its sides",
            Check::Lift => "weight to lift",
            Check::Doorway => "slimmest cross-section",
        };
        let of = if self.part.is_empty() { String::new() } else { format!("{}, ", self.part) };
        let limits = match (least.is_empty(), most.is_empty()) {
            (true, true) => String::new(),
            (false, true) => format!("; {least} or more is aimed at"),
            (true, false) => format!("; {most} or less is aimed at"),
            (false, false) => format!("; {least} to {most} is usual"),
        };
        format!("{of}{what}: {figure}{limits}")
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for Finding {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Finding".into()
    }

    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let figure = generator.subschema_for::<Figure>();
        schemars::json_schema!({
            "type": "object",
            "properties": {
                "check": generator.subschema_for::<Check>(),
                "level": generator.subschema_for::<Level>(),
                "part": { "type": "string" },
                "figure": figure,
                "least": figure,
                "most": figure,
                "source": { "type": "string" },
            },
            "required": ["check", "level", "figure", "source"],
        })
    }
}

/// Written with its source, for the maker; a buyer's page has no need of it and leaves it out of what is fetched.
impl Serialize for Finding {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut table = serializer.serialize_struct("Finding", 7)?;
        table.serialize_field("check", &self.check)?;
        table.serialize_field("level", &self.level)?;
        if self.part.is_empty() {
            table.skip_field("part")?;
        } else {
            table.serialize_field("part", &self.part)?;
        }
        table.serialize_field("figure", &self.figure)?;
        for (name, limit) in [("least", self.least), ("most", self.most)] {
            match limit {
                Some(limit) => table.serialize_field(name, &limit)?,
                None => table.skip_field(name)?,
            }
        }
        table.serialize_field("source", self.check.source())?;
        table.end()
    }
}
