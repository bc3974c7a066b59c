//! What a design says of itself for its checks: what it is for, what its parts carry and how they are held.

use serde::Serialize;

use super::Measure;
use crate::book::read::{reads, reads_word};
use crate::book::values::{Key, Measured};
use crate::measure::Length;

/// What a piece is for: it decides which heights and which room it is checked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Purpose {
    /// People eat at it.
    DiningTable,
    /// People write at it.
    Desk,
    /// It stands in front of a sofa.
    LowTable,
    /// It stands along a wall.
    Console,
    /// People sit on it.
    Bench,
    /// It hangs on a wall.
    WallShelf,
    /// It stands and holds things, but no clothes.
    Storage,
    /// It stands and holds clothes.
    ClothingStorage,
    /// None of these.
    #[default]
    Other,
}

reads_word!(Purpose {
    "dining-table" => Self::DiningTable,
    "desk" => Self::Desk,
    "low-table" => Self::LowTable,
    "console" => Self::Console,
    "bench" => Self::Bench,
    "wall-shelf" => Self::WallShelf,
    "storage" => Self::Storage,
    "clothing-storage" => Self::ClothingStorage,
    "other" => Self::Other,
} or Self::Other);

/// What a part that lies level is meant to carry.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Carries {
    /// From support to support.
    pub span: Measure,
    /// Pounds on each foot of it, evenly spread.
    pub pounds_per_foot: Measured,
    /// Whether the load stays: books do, people do not.
    pub lasting: bool,
    /// Parts under it that run along the same span and bend with it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub stiffened_by: Vec<Key>,
}

reads!(Carries { span, pounds_per_foot, lasting, stiffened_by });

/// How a wide part is held to what does not move with it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Held {
    /// Across the grain, from where it is held fast to the fixing farthest from there.
    pub across: Measure,
    /// How far that fixing lets it move, either way.
    pub clearance: Length,
}

reads!(Held { across, clearance });
