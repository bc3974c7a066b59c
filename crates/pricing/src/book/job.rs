//! A job: what was said it would take, what it really took, and the clocks that run while it is on the bench. Never public.

use serde::Serialize;

use super::moment::Moment;
use super::read::reads;
use super::values::{Amount, Count, Day, Key, Measured, Share, Text};
use crate::brief::Brief;
use crate::map::Map;

/// A job and what it really took.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Job {
    /// The maker's own number for it.
    pub key: Key,
    /// The design built.
    pub design: Key,
    /// The day it was begun.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub started: Option<Day>,
    /// The day it was finished. Without it the job is on the bench still, and teaches nothing yet.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub finished: Option<Day>,
    /// How many pieces.
    pub quantity: Count,
    /// What was built: with it, stages and timbers can be held against the book.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub brief: Option<Brief>,
    /// Who it is for, in the maker's words.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub buyer: Option<Text>,
    /// The quote it was started from, by its key.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub quote: Option<Key>,
    /// What was estimated, ex works.
    pub estimated: Amount,
    /// What was paid, ex works, tax apart.
    pub paid: Amount,
    /// What was paid for carriage besides, tax apart.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub carriage_paid: Option<Amount>,
    /// Hours that were estimated.
    pub hours_estimated: Measured,
    /// Hours really worked, by stage or by operation: its words in small letters with hyphens, as `shaping-and-sanding`.
    pub hours: Map<Key, Measured>,
    /// Clocks that run.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub running: Vec<Clock>,
    /// Board feet really bought, by timber.
    #[serde(skip_serializing_if = "Map::is_empty")]
    pub bought: Map<Key, Measured>,
    /// What was paid for them, by timber.
    #[serde(skip_serializing_if = "Map::is_empty")]
    pub timber_paid: Map<Key, Amount>,
    /// What was taken of slabs.
    #[serde(skip_serializing_if = "Map::is_empty")]
    pub slabs: Map<Key, SlabTaken>,
    /// Shares that were taken out of slabs for it: each stands among that slab's own cuts, once.
    #[serde(skip_serializing_if = "Map::is_empty")]
    pub cut_out: Map<Key, Share>,
    /// Resin really mixed.
    #[serde(skip_serializing_if = "Map::is_empty")]
    pub resins: Map<Key, ResinTaken>,
    /// What materials really cost, those apart that have a sum of their own above.
    pub materials: Amount,
    /// What carriage really cost.
    pub carriage: Amount,
    /// What the payments really took; without it, what the book says they take.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fees: Option<Amount>,
    /// What was said it would take, as it stood when the job was begun.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub said: Option<Said>,
    /// The maker's own note.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<Text>,
}

reads!(Job {
    key,
    design,
    started,
    finished,
    quantity,
    brief,
    buyer,
    quote,
    estimated,
    paid,
    carriage_paid,
    hours_estimated,
    hours,
    running,
    bought,
    timber_paid,
    slabs,
    cut_out,
    resins,
    materials,
    carriage,
    fees,
    said,
    note
});

/// A clock that runs.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Clock {
    /// What is worked at: a stage or an operation, as in the hours of a job.
    pub work: Key,
    /// When it was started.
    pub since: Moment,
}

reads!(Clock { work, since });

/// What a job takes of a slab.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SlabTaken {
    /// The share of its face.
    pub share: Share,
    /// What of its price falls on the job.
    pub cost: Amount,
}

reads!(SlabTaken { share, cost });

/// What a job takes of a resin.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ResinTaken {
    /// Cubic inches, mixed.
    pub cubic_inches: Measured,
    /// What they cost.
    pub cost: Amount,
}

reads!(ResinTaken { cubic_inches, cost });

/// What a job takes of a timber.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct TimberTaken {
    /// Board feet to buy.
    pub board_feet: Measured,
    /// What they cost.
    pub cost: Amount,
}

reads!(TimberTaken { board_feet, cost });

/// What was said a job would take, at cost. It is written once, as the job is begun: a book that is corrected later changes nothing of it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Said {
    /// The edition of the book it was reckoned by.
    pub edition: Day,
    /// What an hour paid the maker.
    pub wage: Amount,
    /// Rent, machines, insurance, power, for an hour.
    pub overhead: Amount,
    /// Timber, by species.
    #[serde(skip_serializing_if = "Map::is_empty")]
    pub timbers: Map<Key, TimberTaken>,
    /// Slabs.
    #[serde(skip_serializing_if = "Map::is_empty")]
    pub slabs: Map<Key, SlabTaken>,
    /// Resin.
    #[serde(skip_serializing_if = "Map::is_empty")]
    pub resins: Map<Key, ResinTaken>,
    /// Every other material.
    pub materials: Amount,
    /// Work, by stage.
    pub work: Map<Key, Amount>,
    /// Hours, by operation.
    pub hours: Map<Key, Measured>,
    /// What bringing it costs.
    pub carriage: Amount,
    /// What the buyer pays for bringing it, tax apart.
    pub carriage_charged: Amount,
    /// What the payments take.
    pub fees: Amount,
}

reads!(Said {
    edition,
    wage,
    overhead,
    timbers,
    slabs,
    resins,
    materials,
    work,
    hours,
    carriage,
    carriage_charged,
    fees
});
