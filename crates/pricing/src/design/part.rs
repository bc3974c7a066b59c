//! A part of a design: what it measures, where it stands, what is done to it.

use serde::Serialize;

use super::{Carries, Held, Measure};
use crate::book::document::{DocumentError, Node};
use crate::book::read::{Read, is_default, reads, reads_word};
use crate::book::values::{Count, Key, Text};
use crate::measure::{Axis, Length, Lie};

/// A part, finished sizes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Part {
    /// How options refer to it.
    pub key: Key,
    /// The trade's name for it.
    pub name: Text,
    /// The role whose material it is of.
    pub role: Key,
    /// Finished length, along the grain.
    pub length: Measure,
    /// Finished width.
    pub width: Measure,
    /// Finished thickness.
    pub thickness: Measure,
    /// Where its corner nearest the piece's own stands: along the length, the depth and the height.
    pub at: [Measure; 3],
    /// How it lies: the directions its length, width and thickness run along.
    pub lies: Lie,
    /// How many there are, and where the others stand.
    #[serde(skip_serializing_if = "is_default")]
    pub copies: Copies,
    /// Joints each one has at its ends and edges.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub joints: Vec<Joint>,
    /// Surfaces that are sanded and finished.
    pub finished: Faces,
    /// Edges that are shaped.
    #[serde(skip_serializing_if = "is_default")]
    pub shaped: Shaped,
    /// What it is meant to carry, where it lies level between supports.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub carries: Option<Carries>,
    /// How it is held, where it is wide and moves with the seasons.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub held: Option<Held>,
}

reads!(Part { key, name, role, length, width, thickness, at, lies, copies, joints, finished, shaped, carries, held });

/// How many of a part there are.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Copies {
    /// One.
    #[default]
    One,
    /// Two, the other mirrored left to right.
    MirrorX,
    /// Two, the other mirrored front to back.
    MirrorY,
    /// Four, one at each corner.
    MirrorXy,
    /// As many as it takes for no gap to be over `every`, evenly spread from the part's place to `to`.
    Spread(Spread),
}

reads_word!(Copies {
    "one" => Self::One,
    "mirror-x" => Self::MirrorX,
    "mirror-y" => Self::MirrorY,
    "mirror-xy" => Self::MirrorXy,
} with {
    "spread" => Self::Spread,
} or Self::One);

/// An even row of parts.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Spread {
    /// The direction of the row.
    pub along: Axis,
    /// Where the last one stands.
    pub to: Measure,
    /// The widest spacing.
    pub every: Length,
}

reads!(Spread { along, to, every });

/// Joints of one kind at a part.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Joint {
    /// The kind, as operations name it.
    pub kind: Key,
    /// How many each part has. Count a joint at one of the two parts that meet in it.
    pub count: Count,
    /// How far the one part reaches into the other: the length of a tenon, the depth of a dado.
    #[serde(skip_serializing_if = "is_default")]
    pub depth: Length,
    /// Whether it comes apart for the way and is put together where the piece stands.
    #[serde(skip_serializing_if = "is_default")]
    pub apart: bool,
}

reads!(Joint { kind, count, depth = Length::ZERO, apart = false });

/// How many of a part's surfaces are sanded and finished: of two broad faces, two long edges, two ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Faces {
    /// Broad faces.
    pub faces: Pair,
    /// Long edges.
    pub edges: Pair,
    /// Ends.
    pub ends: Pair,
}

reads!(Faces { faces, edges, ends } or Self::default());

/// All of them: a part is finished on every side unless the design says otherwise.
impl Default for Faces {
    fn default() -> Self {
        Self { faces: Pair(2), edges: Pair(2), ends: Pair(2) }
    }
}

/// None, one or both of two.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
#[serde(into = "u8")]
pub struct Pair(u8);

impl Pair {
    /// 0, 1 or 2.
    #[must_use]
    pub const fn count(self) -> u8 {
        self.0
    }
}

impl Read for Pair {
    fn read(node: &Node) -> Result<Self, DocumentError> {
        match node {
            Node::Int(0) => Ok(Self(0)),
            Node::Int(1) => Ok(Self(1)),
            Node::Int(2) => Ok(Self(2)),
            _ => Err(node.wrong("0, 1 or 2: a part has two such surfaces; write one of them")),
        }
    }
}

#[cfg(feature = "schema")]
crate::book::schema::describes_text!(Pair, { "enum": [0, 1, 2] });

impl From<Pair> for u8 {
    fn from(pair: Pair) -> Self {
        pair.0
    }
}

/// How many of a part's edges are shaped: rounded, chamfered, scraped to a live edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
pub struct Shaped {
    /// Long edges.
    pub edges: Pair,
    /// Ends.
    pub ends: Pair,
}

reads!(Shaped { edges, ends } or Self::default());
