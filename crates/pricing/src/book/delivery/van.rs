//! The maker's own van: what it costs to run, and what it is charged at.

use serde::Serialize;

use crate::book::read::reads;
use crate::book::values::{Amount, Count, Factor, Measured, Minutes};
use crate::measure::Length;

/// What the maker's van costs to run.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct VanCost {
    /// Money per mile: fuel, wear, insurance.
    pub per_mile: Amount,
    /// Miles driven in an hour, on the whole.
    pub miles_per_hour: Measured,
    /// Minutes to load, unload and place.
    pub handling: Minutes,
    /// The farthest it goes, one way.
    pub farthest_miles: Count,
    /// Miles by road for a mile as the crow flies; without it, what roads are found to take.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub circuity: Option<Factor>,
    /// Who comes along for what one person can't carry; without it, no one does.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub helper: Option<HelperCost>,
    /// Nights away; without it, every trip is a day's.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub overnight: Option<Overnight>,
}

reads!(VanCost { per_mile, miles_per_hour, handling, farthest_miles, circuity, helper, overnight });

/// When a second pair of hands comes along, and what their hour costs.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct HelperCost {
    /// A pack weighs over so many pounds,
    pub pounds: Count,
    /// or is longer than this.
    pub length: Length,
    /// What an hour of theirs costs, at the wheel or carrying.
    pub per_hour: Amount,
}

reads!(HelperCost { pounds, length, per_hour });

/// Nights away on a long trip.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Overnight {
    /// Over so many miles one way, a night is spent away; over twice as many, two.
    pub beyond_miles: Count,
    /// What a night costs for each who goes.
    pub each: Amount,
}

reads!(Overnight { beyond_miles, each });

/// What the maker's van is charged at.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct VanRate {
    /// Per mile driven, both ways.
    pub per_mile: Amount,
    /// Per trip.
    pub per_trip: Amount,
    /// The farthest it goes, one way.
    pub farthest_miles: Count,
    /// Miles by road for a mile as the crow flies; without it, what roads are found to take.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub circuity: Option<Factor>,
    /// Who comes along for what one person can't carry.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub helper: Option<HelperRate>,
    /// Nights away.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub overnight: Option<Overnight>,
}

reads!(VanRate { per_mile, per_trip, farthest_miles, circuity, helper, overnight });

/// When a second pair of hands comes along, and what they are charged at.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct HelperRate {
    /// A pack weighs over so many pounds,
    pub pounds: Count,
    /// or is longer than this.
    pub length: Length,
    /// Per mile driven, both ways.
    pub per_mile: Amount,
    /// Per trip.
    pub per_trip: Amount,
}

reads!(HelperRate { pounds, length, per_mile, per_trip });
