//! Getting it to its place: who can lift it and which doors it passes.

use rust_decimal::Decimal;

use super::{Check, Figure, Finding, Level};
use crate::delivery::packs;
use crate::design::{Purpose, Resolved};
use crate::measure::{Length, Weight};
use crate::money::half_up;
use crate::order::put_in_order;

/// Pounds two people should lift: 51 each, the load constant of the NIOSH lifting equation, from memory.
const TWO_PEOPLE: Decimal = Decimal::from_parts(102, 0, 0, false, 0);
/// Clear width and height of a usual inside door. Common practice, no source.
const DOOR: (Length, Length) = (Length::inches(30), Length::inches(78));

/// Weight to lift and the way through doors.
pub(super) fn check(resolved: &Resolved<'_>, weight: Weight) -> Vec<Finding> {
    let pounds = half_up(weight.in_pounds(), 0);
    let level = if pounds > TWO_PEOPLE { Level::Warn } else { Level::Note };
    let lift = Finding::of_piece(Check::Lift, level, Figure::Pounds(pounds)).at_most(Figure::Pounds(TWO_PEOPLE));
    let mut findings = vec![lift];
    if resolved.design.purpose != Purpose::WallShelf {
        findings.extend(doorway(resolved));
    }
    findings
}

/// The first box the piece comes in that no turning gets through the door end first.
fn doorway(resolved: &Resolved<'_>) -> Option<Finding> {
    packs(resolved).into_iter().find_map(|mut pack| {
        put_in_order(&mut pack.sides, |one, other| one < other);
        let [slim, broad, _] = pack.sides;
        let passes = slim <= DOOR.0 && broad <= DOOR.1;
        (!passes).then(|| {
            let (figure, most) = if slim > DOOR.0 { (slim, DOOR.0) } else { (broad, DOOR.1) };
            let finding = Finding::of_piece(Check::Doorway, Level::Warn, Figure::Length(figure));
            finding.at_most(Figure::Length(most))
        })
    })
}
