//! Room for people: heights, places, knees, and tops that stand out past what they stand on.
//!
//! Source of the figures: `shared/reference/trade/furniture_rules.md`, which says of each whether it was published.

use super::tipping::{edges, on_the_floor};
use super::{Check, Figure, Finding, Level};
use crate::design::{PlacedBox, Purpose, Resolved, ResolvedPart};
use crate::measure::{Axis, Length};

/// Elbow room of one who sits at a table.
const PLACE: Length = Length::inches(24);
/// Least width of a table for places face to face.
const FACING: Length = Length::inches(36);
/// Least room from the floor to a rail, for knees.
const KNEES: Length = Length::inches(24);
/// How far in from the edge knees reach.
const KNEE_DEPTH: Length = Length::inches(10);
/// What is lower than this is for feet, not for knees.
const FEET: Length = Length::inches(15);

/// Heights, places, knees and overhang, as far as they matter for what the piece is for.
pub(super) fn check(resolved: &Resolved<'_>) -> Vec<Finding> {
    let [_, depth, height] = resolved.envelope();
    let mut findings = Vec::new();
    if let Some((least, most)) = usual_height(resolved.design.purpose) {
        let level = warn_if(height < least || height > most);
        let finding = Finding::of_piece(Check::Height, level, Figure::Length(height));
        findings.push(finding.at_least(Figure::Length(least)).at_most(Figure::Length(most)));
    }
    let dining = resolved.design.purpose == Purpose::DiningTable;
    if let Some(places) = places(resolved) {
        findings.push(Finding::of_piece(Check::Seats, Level::Note, Figure::Count(places.both_sides())));
    }
    if dining && depth < FACING {
        let finding = Finding::of_piece(Check::PlaceDepth, Level::Warn, Figure::Length(depth));
        findings.push(finding.at_least(Figure::Length(FACING)));
    }
    if dining || resolved.design.purpose == Purpose::Desk {
        findings.extend(knees(resolved, depth));
    }
    findings.extend(overhang(resolved));
    findings
}

/// Places along the two long sides of a table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Places {
    /// How many along each side.
    pub each_side: u32,
    /// The length of table each takes.
    pub elbow: Length,
}

impl Places {
    /// How many along both sides together.
    #[must_use]
    pub const fn both_sides(self) -> u32 {
        self.each_side.saturating_mul(2)
    }
}

/// How many people sit along the sides of a table they eat at; nothing for a piece nobody eats at.
#[must_use]
pub fn places(resolved: &Resolved<'_>) -> Option<Places> {
    let [length, ..] = resolved.envelope();
    let each_side = length.nanometres().div_euclid(PLACE.nanometres());
    (resolved.design.purpose == Purpose::DiningTable)
        .then(|| Places { each_side: u32::try_from(each_side).unwrap_or(0), elbow: PLACE })
}

/// How high one sits: the middle of what is usual for a bench.
#[must_use]
pub fn seat_height() -> Length {
    usual_height(Purpose::Bench).map_or(Length::ZERO, |(least, most)| (least + most).scaled(1, 2))
}

const fn warn_if(wrong: bool) -> Level {
    if wrong { Level::Warn } else { Level::Note }
}

/// From which to which height such pieces usually are.
const fn usual_height(purpose: Purpose) -> Option<(Length, Length)> {
    match purpose {
        Purpose::DiningTable | Purpose::Desk => Some((Length::inches(28), Length::inches(30))),
        Purpose::LowTable => Some((Length::inches(15), Length::inches(18))),
        Purpose::Bench => Some((Length::inches(17), Length::inches(19))),
        Purpose::Console | Purpose::WallShelf | Purpose::Storage | Purpose::ClothingStorage | Purpose::Other => None,
    }
}

/// The lowest underside of what runs along the piece within knees' reach of its long sides: the top itself, when no rail does.
fn knees(resolved: &Resolved<'_>, depth: Length) -> Option<Finding> {
    let within = |placed: &&PlacedBox| {
        let reach = placed.start(1) < KNEE_DEPTH || placed.start(1) + placed.extent(1) > depth - KNEE_DEPTH;
        reach && placed.start(2) > FEET
    };
    let level = |part: &&ResolvedPart<'_>| part.part.lies.along(Axis::X, part.sizes()) >= PLACE;
    let boxes = resolved.parts.iter().filter(level).flat_map(|part| part.boxes.iter());
    let room = boxes.filter(within).map(|placed| placed.start(2)).min()?;
    let finding = Finding::of_piece(Check::Knees, warn_if(room < KNEES), Figure::Length(room));
    Some(finding.at_least(Figure::Length(KNEES)))
}

/// How far the part that stands out farthest past what touches the floor does; of equals, the first.
fn overhang(resolved: &Resolved<'_>) -> Option<Finding> {
    let [start, end] = edges(on_the_floor(resolved), 0)?;
    let most = (end - start).scaled(1, 3);
    let past = |part: &ResolvedPart<'_>| {
        let [from, to] = edges(part.boxes.iter(), 0)?;
        Some((start - from).max(to - end))
    };
    let (part, out) =
        resolved.parts.iter().rev().filter_map(|part| Some((part, past(part)?))).max_by_key(|(_, out)| *out)?;
    let finding = Finding::of_part(Check::Overhang, warn_if(out > most), &part.part.name, Figure::Length(out));
    out.is_positive().then(|| finding.at_most(Figure::Length(most.to_sixty_fourth_down())))
}
