//! Checks on the parts a price comes from: whether the piece holds, moves, stands, fits and can be carried.
//!
//! A check refuses (it can't be built so), warns (buyer and maker see why) or notes (for the maker), with the figure, the limit
//! and the source. Cautions are what no arithmetic settles; each defers to local codes and licensed practice, and the words are
//! the page's own.
//!
//! **Invariant:** decimals only, so that a check falls the same way on every machine.

mod finding;
mod moisture;
mod movement;
mod moving_in;
mod room;
mod sag;
mod tipping;

use serde::Serialize;

use crate::book::PriceBook;
use crate::book::delivery::Climate;
use crate::book::read::reads_word;
use crate::design::Resolved;
use crate::problem::Problem;
use crate::takeoff::Takeoff;

pub use finding::{Check, Figure, Finding, Level};
pub use moisture::equilibrium;
pub use movement::moved;
pub use moving_in::way_in;
pub use room::{Places, places, seat_height};
pub use sag::{Beam, deflection};

/// Checks a piece, for a place with such air indoors.
///
/// # Errors
/// Every check that refuses it.
pub fn findings(
    book: &PriceBook,
    resolved: &Resolved<'_>,
    takeoff: &Takeoff<'_>,
    indoors: Climate,
) -> Result<Vec<Finding>, Vec<Problem>> {
    let mut findings = sag::check(resolved);
    findings.extend(movement::check(resolved, book.allowances.moisture, indoors));
    findings.extend(tipping::check(resolved, takeoff));
    findings.extend(room::check(resolved));
    findings.extend(moving_in::check(resolved, takeoff.weight));
    let refused: Vec<Problem> =
        findings.iter().filter(|finding| finding.level == Level::Refuse).cloned().map(Problem::Refused).collect();
    if refused.is_empty() { Ok(findings) } else { Err(refused) }
}

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
