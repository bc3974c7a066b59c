//! A part of a design: what it measures, where it stands, what is done to it.

use serde::{Deserialize, Serialize};

use super::Measure;
use crate::book::values::{Count, Key, Text};
use crate::measure::{Axis, Length, Lie};

/// A part, finished sizes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
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
    #[serde(default, skip_serializing_if = "Copies::is_one")]
    pub copies: Copies,
    /// Joints each one has at its ends and edges.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub joints: Vec<Joint>,
    /// Surfaces that are sanded and finished.
    #[serde(default)]
    pub finished: Faces,
    /// Edges that are shaped.
    #[serde(default, skip_serializing_if = "Shaped::is_none")]
    pub shaped: Shaped,
}

/// How many of a part there are.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
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

/// An even row of parts.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Spread {
    /// The direction of the row.
    pub along: Direction,
    /// Where the last one stands.
    pub to: Measure,
    /// The widest spacing.
    pub every: Length,
}

/// A direction, as books write it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Direction {
    /// Along the length.
    X,
    /// Along the depth.
    Y,
    /// Upwards.
    Z,
}

impl Direction {
    /// The axis of the piece.
    #[must_use]
    pub const fn axis(self) -> Axis {
        match self {
            Self::X => Axis::X,
            Self::Y => Axis::Y,
            Self::Z => Axis::Z,
        }
    }
}

impl Copies {
    fn is_one(&self) -> bool {
        *self == Self::One
    }
}

/// Joints of one kind at a part.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Joint {
    /// The kind, as operations name it.
    pub kind: Key,
    /// How many each part has. Count a joint at one of the two parts that meet in it.
    pub count: Count,
}

/// How many of a part's surfaces are sanded and finished: of two broad faces, two long edges, two ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Faces {
    /// Broad faces.
    pub faces: Pair,
    /// Long edges.
    pub edges: Pair,
    /// Ends.
    pub ends: Pair,
}

/// All of them: a part is finished on every side unless the design says otherwise.
impl Default for Faces {
    fn default() -> Self {
        Self { faces: Pair(2), edges: Pair(2), ends: Pair(2) }
    }
}

/// None, one or both of two.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(try_from = "i64", into = "u8")]
pub struct Pair(u8);

impl Pair {
    /// 0, 1 or 2.
    #[must_use]
    pub const fn count(self) -> u8 {
        self.0
    }
}

impl TryFrom<i64> for Pair {
    type Error = String;
    fn try_from(number: i64) -> Result<Self, String> {
        match number {
            0 => Ok(Self(0)),
            1 => Ok(Self(1)),
            2 => Ok(Self(2)),
            other => Err(format!("{other} can't be; a part has two such surfaces: write 0, 1 or 2")),
        }
    }
}

impl From<Pair> for u8 {
    fn from(pair: Pair) -> Self {
        pair.0
    }
}

/// How many of a part's edges are shaped: rounded, chamfered, scraped to a live edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Shaped {
    /// Long edges.
    pub edges: Pair,
    /// Ends.
    pub ends: Pair,
}

impl Shaped {
    fn is_none(&self) -> bool {
        *self == Self::default()
    }
}
