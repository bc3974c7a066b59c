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
    findings.extend(way_in(resolved).filter(|finding| finding.level == Level::Warn));
    findings
}

/// Whether the piece gets through a usual inside door: a warning about the first box it comes in that no turning gets through end first,
/// else a note of the slimmest cross-section of the one that just does. Nothing for what hangs on a wall. An estimate has only the
/// warning; a buyer's page asks for the note too.
#[must_use]
pub fn way_in(resolved: &Resolved<'_>) -> Option<Finding> {
    if resolved.design.purpose == Purpose::WallShelf {
        return None;
    }
    let of_door = |level: Level, figure: Length, most: Length| {
        Finding::of_piece(Check::Doorway, level, Figure::Length(figure)).at_most(Figure::Length(most))
    };
    let mut widest: Option<Length> = None;
    for mut pack in packs(resolved) {
        put_in_order(&mut pack.sides, |one, other| one < other);
        let [slim, broad, _] = pack.sides;
        if slim > DOOR.0 {
            return Some(of_door(Level::Warn, slim, DOOR.0));
        } else if broad > DOOR.1 {
            return Some(of_door(Level::Warn, broad, DOOR.1));
        }
        widest = widest.max(Some(slim));
    }
    widest.map(|slim| of_door(Level::Note, slim, DOOR.0))
}
