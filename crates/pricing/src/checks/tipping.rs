//! What it takes to tip a piece that stands on the floor, and what storage for clothes must pass.

use rust_decimal::Decimal;

use super::{Check, Figure, Finding, Level};
use crate::bounded::Bounded;
use crate::design::{PlacedBox, Purpose, Resolved};
use crate::measure::{Area, Length, Weight};
use crate::money::half_up;
use crate::takeoff::Takeoff;

/// From this height on a piece is held against tipping, and storage for clothes from this weight and volume on too.
/// Source: ASTM F2057-23 by 16 CFR 1261.2; `shared/reference/trade/furniture_rules.md`.
const TALL: Length = Length::inches(27);
const HEAVY_POUNDS: Decimal = Decimal::from_parts(30, 0, 0, false, 0);
const LARGE_CUBIC_FEET: Decimal = Decimal::from_parts(32, 0, 0, false, 1);
/// A pull that a tall piece should stand. From memory of the horizontal test of ASTM F2057-23.
const PULL_POUNDS: Decimal = Decimal::from_parts(10, 0, 0, false, 0);

/// Tipping of tall pieces that stand, and what is refused without tests.
pub(super) fn check(resolved: &Resolved<'_>, takeoff: &Takeoff<'_>) -> Vec<Finding> {
    let [_, _, height] = resolved.envelope();
    if resolved.design.purpose == Purpose::WallShelf || height < TALL {
        return Vec::new();
    }
    let mut findings = Vec::new();
    if let Some(pull) = tipping_pull(resolved, &takeoff.part_weights, height) {
        let level = if pull < PULL_POUNDS { Level::Warn } else { Level::Note };
        let finding = Finding::of_piece(Check::Tipping, level, Figure::Pounds(half_up(pull, 0)));
        findings.push(finding.at_least(Figure::Pounds(PULL_POUNDS)));
    }
    findings.extend(clothing_storage(resolved, takeoff.weight, height));
    findings
}

/// The pull at its upper edge, forwards or backwards, that just tips it: weight times the distance from its centre of mass to the
/// edge it stands on, over its height. Statics of a rigid body; nothing when no part touches the floor.
fn tipping_pull(resolved: &Resolved<'_>, weights: &[Weight], height: Length) -> Option<Decimal> {
    let [front, back] = edges(on_the_floor(resolved), 1)?;
    let (mut pounds, mut moment) = (Decimal::ZERO, Decimal::ZERO);
    for (part, weight) in resolved.parts.iter().zip(weights) {
        let each = weight.in_pounds();
        for placed in &part.boxes {
            let middle = placed.start(1) + placed.extent(1).scaled(1, 2);
            pounds = pounds.plus(each);
            moment = moment.plus(each.times(middle.in_inches()));
        }
    }
    let centre = moment.over(pounds)?;
    let arm = (centre - front.in_inches()).min(back.in_inches() - centre).max(Decimal::ZERO);
    pounds.times(arm).over(height.in_inches())
}

/// The boxes that touch the floor.
pub(super) fn on_the_floor<'r>(resolved: &'r Resolved<'_>) -> impl Iterator<Item = &'r PlacedBox> {
    resolved.parts.iter().flat_map(|part| part.boxes.iter()).filter(|placed| !placed.start(2).is_positive())
}

/// From where to where boxes reach along a direction.
pub(super) fn edges<'p>(boxes: impl Iterator<Item = &'p PlacedBox>, axis: usize) -> Option<[Length; 2]> {
    boxes
        .map(|placed| [placed.start(axis), placed.start(axis) + placed.extent(axis)])
        .reduce(|[start, end], [other_start, other_end]| [start.min(other_start), end.max(other_end)])
}

fn clothing_storage(resolved: &Resolved<'_>, weight: Weight, height: Length) -> Option<Finding> {
    let [length, depth, _] = resolved.envelope();
    let large = Area::of(length, depth).by(height).in_cubic_feet() >= LARGE_CUBIC_FEET;
    let in_scope = resolved.design.purpose == Purpose::ClothingStorage && large && weight.in_pounds() >= HEAVY_POUNDS;
    let level = if resolved.design.tip_tested { Level::Note } else { Level::Refuse };
    in_scope.then(|| {
        let finding = Finding::of_piece(Check::ClothingStorage, level, Figure::Length(height));
        finding.at_most(Figure::Length(TALL))
    })
}
