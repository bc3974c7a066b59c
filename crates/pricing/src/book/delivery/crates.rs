//! Crates, pallets and cartons: how they grow from what they hold, and what they cost.

use serde::Serialize;

use crate::book::read::reads;
use crate::book::values::{Amount, Measured, Minutes};
use crate::measure::Length;

/// How a crate, a pallet or a carton grows from what it holds: inside is the piece and the padding, outside the walls and the skid.
///
/// Source of the build-up: `shared/reference/delivery/crating.md` section 1.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CrateSize {
    /// Padding on every side.
    pub padding: Length,
    /// Padding on the sides a design calls fragile; without it, as on the others.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fragile_padding: Option<Length>,
    /// Panel and batten on every side.
    pub wall: Length,
    /// Skid underneath.
    pub skid: Length,
    /// The least length and width outside, as a pallet has.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub footprint: Option<[Length; 2]>,
    /// Pounds of panel per square foot.
    pub panel_weight: Measured,
    /// Pounds of batten per foot; without it, there are none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub batten_weight: Option<Measured>,
    /// Pounds of runner per foot; without it, there are none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub runner_weight: Option<Measured>,
    /// How thick the thickest solid wood in it is, as the rule for wood packaging abroad asks (ISPM 15): nothing for one of panels made with glue
    /// throughout. Without it, battens and runners are taken to be thicker than 6 mm, and a crate without them to be of such panels.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub solid_wood: Option<Length>,
}

reads!(CrateSize {
    padding,
    fragile_padding,
    wall,
    skid,
    footprint,
    panel_weight,
    batten_weight,
    runner_weight,
    solid_wood
});

/// What a crate costs to make.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CrateCost {
    /// Its size and weight.
    pub size: CrateSize,
    /// Panel, batten and foam per square foot of its outside.
    pub material: Amount,
    /// Minutes per square foot of its outside.
    pub minutes: Minutes,
    /// Minutes per crate besides.
    pub set_up: Minutes,
}

reads!(CrateCost { size, material, minutes, set_up });

/// What a crate is charged at.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CrateRate {
    /// Its size and weight.
    pub size: CrateSize,
    /// Per square foot of its outside.
    pub per_square_foot: Amount,
    /// Per crate.
    pub per_crate: Amount,
}

reads!(CrateRate { size, per_square_foot, per_crate });
