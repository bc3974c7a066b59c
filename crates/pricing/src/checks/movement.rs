//! How far a wide part moves across the grain between the driest and the dampest weeks where it will stand.

use rust_decimal::Decimal;

use super::moisture::moisture_indoors;
use super::{Check, Figure, Finding, Level};
use crate::book::delivery::Climate;
use crate::book::price_book::Stock;
use crate::book::stock::Properties;
use crate::book::values::Percent;
use crate::bounded::Bounded;
use crate::design::{Held, Resolved, ResolvedPart};
use crate::measure::Length;
use crate::money::length_up;

/// Moisture the movement coefficients hold between, in percent. Source: FPL-GTR-190 (2010), Table 13-5.
const COEFFICIENTS_HOLD: (u32, u32) = (6, 14);

/// How far a flat-sawn width changes from one moisture to another, in percent of oven-dry weight: without its sign.
///
/// Inside 6 to 14 %, `D C (M2 - M1)`; else `D (M2 - M1) / (3000/S - 30 + M1)`, S the tangential shrinkage. Boards are rarely quite
/// flat-sawn, so the figure is on the safe side. Source: FPL-GTR-190 (2010), ch. 13, eq. 13-2 and 13-3;
/// `shared/reference/wood/movement.md`.
#[must_use]
pub fn moved(across: Length, timber: &Properties, from: Decimal, to: Decimal) -> Length {
    let (least, most) = (Decimal::from(COEFFICIENTS_HOLD.0), Decimal::from(COEFFICIENTS_HOLD.1));
    let holds = |moisture: Decimal| moisture >= least && moisture <= most;
    let width = across.in_millimetres();
    let points = (to - from).abs();
    let moved = if holds(from) && holds(to) {
        width * timber.tangential_movement.value() * points
    } else {
        let shrinks = Decimal::from(3000).over(timber.tangential_shrinkage.value());
        let whole = shrinks.map(|shrinks| shrinks - Decimal::from(30) + from);
        whole.and_then(|whole| (width * points).over(whole)).map_or(Decimal::ZERO, |moved| moved.abs())
    };
    length_up(moved)
}

/// Every part that is held across its grain.
pub(super) fn check(resolved: &Resolved<'_>, shop: Percent, indoors: Climate) -> Vec<Finding> {
    let held = |part: &ResolvedPart<'_>| {
        let (Stock::Timber(timber) | Stock::Slab(_, timber)) = part.material.stock else { return None };
        let Held { across, clearance } = part.part.held.as_ref()?;
        let across = across.at(&resolved.sizes);
        let by = |moisture: Decimal| moved(across, &timber.properties, shop.value(), moisture);
        let moves = moisture_indoors(indoors).map(by).into_iter().max()?.to_sixty_fourth_up();
        let level = if moves > *clearance { Level::Warn } else { Level::Note };
        let finding = Finding::of_part(Check::Movement, level, &part.part.name, Figure::Length(moves));
        Some(finding.at_most(Figure::Length(*clearance)))
    };
    resolved.parts.iter().filter_map(held).collect()
}
