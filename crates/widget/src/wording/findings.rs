//! What a check warns of or refuses, in the words of the page: the figure, the limit and what to do.

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
}

counted! {
    seats[figure] = "check.seats";
}

/// A finding as a sentence.
pub(crate) fn finding(words: &Words, finding: &Finding, unit: LengthUnit) -> String {
    let show = |figure: Figure| match figure {
        Figure::Length(length) => words.length(length, unit),
        Figure::Pounds(weight) => in_units(words, Quantity::Weight, weight, unit),
        Figure::Count(count) => count.to_string(),
    };
    let limit = |limit: Option<Figure>| limit.map_or_else(String::new, show);
    let (part, figure) = (finding.part.as_str(), show(finding.figure));
    let (least, most) = (limit(finding.least), limit(finding.most));
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
