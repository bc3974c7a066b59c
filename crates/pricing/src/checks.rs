//! Cautions a buyer and a maker see. Each defers to local codes and licensed practice; the words are the page's own.

use serde::{Deserialize, Serialize};

/// A caution that goes with a design, a finish or a timber.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Caution {
    /// Hung on a wall: the wall, the fixing and the load are for a competent person to judge.
    WallFixing,
    /// Tall or top-heavy: it must be fixed against tipping.
    Tipping,
    /// Stands or sits people on it: the load it is built for.
    Seating,
    /// Rags wet with a drying oil can catch fire by themselves.
    OilyRags,
    /// Uncured resin sensitises skin; curing mass gets hot.
    Resin,
    /// Nut oils may trouble people with allergies.
    NutOil,
    /// Its dust is a known sensitiser.
    DustSensitiser,
    /// Trade in the species is restricted.
    RestrictedTrade,
    /// More than one person should lift it.
    TwoPersonLift,
}
