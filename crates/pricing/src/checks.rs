//! Cautions a buyer and a maker see. Each defers to local codes and licensed practice; the words are the page's own.

use serde::Serialize;

use crate::book::read::reads_word;

/// A caution that goes with a design, a finish or a timber.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
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

reads_word!(Caution {
    "wall-fixing" => Self::WallFixing,
    "tipping" => Self::Tipping,
    "seating" => Self::Seating,
    "oily-rags" => Self::OilyRags,
    "resin" => Self::Resin,
    "nut-oil" => Self::NutOil,
    "dust-sensitiser" => Self::DustSensitiser,
    "restricted-trade" => Self::RestrictedTrade,
    "two-person-lift" => Self::TwoPersonLift,
});
