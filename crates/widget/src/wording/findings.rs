//! What a check warns of, refuses or notes, in the words of the page: the figure, the limit and what to do.

use scantling_pricing::checks::{Check, Figure, Finding};
use scantling_pricing::measure::{LengthUnit, Quantity};

use super::{counted, in_units, sentences};
use crate::words::Words;

sentences! {
    sag(part, figure, most) = "check.sag";
    movement(part, figure, most) = "check.movement";
    tipping(figure) = "check.tipping";
    clothing_storage(figure, most) = "check.clothing-storage";
    overhang(part, figure, most) = "check.overhang";
    height(figure, least, most) = "check.height";
    place_depth(figure, least) = "check.place-depth";
    knees(figure, least) = "check.knees";
    lift(figure, most) = "check.lift";
    doorway(figure, most) = "check.doorway";
    room_height(figure, least, most) = "room.height";
    room_knees(figure, least) = "room.knees";
    room_lift(figure, most) = "room.lift";
    room_doorway(figure, most) = "room.doorway";
}

counted! {
    seats[figure] = "check.seats";
}

/// The figure of a finding, the least and the most it should be; empty where there is no limit.
fn figures(words: &Words, finding: &Finding, unit: LengthUnit) -> [String; 3] {
    let show = |figure: Figure| match figure {
        Figure::Length(length) => words.length(length, unit),
        Figure::Pounds(weight) => in_units(words, Quantity::Weight, weight, unit),
        Figure::Count(count) => count.to_string(),
    };
    let limit = |limit: Option<Figure>| limit.map_or_else(String::new, show);
    [show(finding.figure), limit(finding.least), limit(finding.most)]
}

/// What is noted of room for people and the way in, as a sentence; nothing for what is the maker's to know.
pub(crate) fn room(words: &Words, noted: &Finding, unit: LengthUnit) -> Option<String> {
    let [figure, least, most] = figures(words, noted, unit);
    match noted.check {
        Check::Seats => Some(seats(words, &figure, &figure)),
        Check::Height => Some(room_height(words, &figure, &least, &most)),
        Check::Knees => Some(room_knees(words, &figure, &least)),
        Check::Lift => Some(room_lift(words, &figure, &most)),
        Check::Doorway => Some(room_doorway(words, &figure, &most)),
        Check::Sag
        | Check::Movement
        | Check::Tipping
        | Check::ClothingStorage
        | Check::Overhang
        | Check::PlaceDepth => None,
    }
}

/// A finding as a sentence.
pub(crate) fn finding(words: &Words, finding: &Finding, unit: LengthUnit) -> String {
    let [figure, least, most] = figures(words, finding, unit);
    let part = finding.part.as_str();
    match finding.check {
        Check::Sag => sag(words, part, &figure, &most),
        Check::Movement => movement(words, part, &figure, &most),
        Check::Tipping => tipping(words, &figure),
        Check::ClothingStorage => clothing_storage(words, &figure, &most),
        Check::Overhang => overhang(words, part, &figure, &most),
        Check::Height => height(words, &figure, &least, &most),
        Check::PlaceDepth => place_depth(words, &figure, &least),
        Check::Knees => knees(words, &figure, &least),
        Check::Seats => seats(words, &figure, &figure),
        Check::Lift => lift(words, &figure, &most),
        Check::Doorway => doorway(words, &figure, &most),
    }
}
