//! No two parts may fill the same place by more than a joint between them reaches in.
//!
//! Where a part starts and ends is linear in the dimensions. So two parts that are apart along one axis at every corner of the box of
//! allowed sizes are apart at every size: that is what is proved here, box by box. A row of parts moves with its count, so it is taken
//! whole, from its first to its last, and its own spacing is proved by itself.

use super::broken::Broken;
use super::proof::at_first;
use crate::book::document::DocumentError;
use crate::design::{Copies, Design, Dimension, Dimensions, OptionChoice, Part, PlacedBox, Spread, place};
use crate::measure::{Length, LengthUnit};

/// More pairs of boxes, corner by corner, than this in one book are not proved: no workshop offers so many, and a slip of the pen
/// should not take minutes to find.
pub(super) const MOST_PAIRS: usize = 2_000_000;

/// A part of a design, with the choice that puts it in, and its boxes at every corner.
pub(super) struct Placed<'d> {
    part: &'d Part,
    by: Option<(usize, usize)>,
    /// Box by box, then corner by corner.
    boxes: &'d [Vec<PlacedBox>],
}

/// Parts of a design that get in each other's way; `left` is how many pairs may still be looked at in the book.
pub(super) fn faults(
    design: &Design,
    (path, unit): (&str, LengthUnit),
    corners: &[Dimensions],
    left: &mut usize,
) -> Vec<DocumentError> {
    if let Some(why) = too_many(design, corners, left) {
        return vec![DocumentError::unusable(format!("{path}.parts"), why)];
    }
    let boxes: Vec<Vec<Vec<PlacedBox>>> = design.all_parts().map(|part| at_corners(part, corners)).collect();
    let parts = placed(design, &boxes);
    let broken = (0..parts.len()).flat_map(|i| of_part(design, &parts, i, (corners, unit)));
    broken.map(|broken| broken.told(path, unit)).collect()
}

/// Takes the pairs of a design off those that may still be looked at; why not, where that is more than are left.
pub(super) fn too_many(design: &Design, corners: &[Dimensions], left: &mut usize) -> Option<&'static str> {
    let count: usize = design.all_parts().map(|part| boxes(&part.copies)).sum();
    let pairs = count.saturating_mul(count).div_euclid(2).saturating_mul(corners.len());
    match left.checked_sub(pairs) {
        Some(rest) => *left = rest,
        None => {
            return Some(
                "there are more parts and dimensions than can be proved to keep apart; offer fewer in one book",
            );
        }
    }
    None
}

/// What a part gets in the way of: its own row, and the first of itself and the parts after it.
pub(super) fn of_part(
    design: &Design,
    parts: &[Placed<'_>],
    i: usize,
    (corners, unit): (&[Dimensions], LengthUnit),
) -> Vec<Broken> {
    let Some(one) = parts.get(i) else { return Vec::new() };
    let row = at_first(corners, |sizes| crowded(one.part, sizes, unit));
    let mut broken: Vec<Broken> = row.map(|(sizes, why)| Broken::of_part(one.part, sizes, why)).into_iter().collect();
    let others = parts.iter().skip(i).filter(|other| together(design, one, other));
    let clash = others.filter_map(|other| Some((other.part, clash(one, other)?))).next();
    if let Some((other, (into, allowed))) = clash {
        let why = format!(
            "at some size it runs {} into “{}”, and their joints allow {}; move one of them, or give the joint its depth",
            into.show(unit),
            other.name,
            allowed.show(unit)
        );
        broken.push(Broken {
            part: Some(one.part.key.clone()),
            other: Some(other.key.clone()),
            pack: None,
            sizes: witness(design, corners, |sizes| clash_at(one.part, other, allowed, sizes)),
            why,
        });
    }
    broken
}

/// A size at which something is so: a corner of the box of sizes where there is one, else one halfway between corners. That two parts
/// can't be proved apart at all sizes does not say that there is one at which they meet.
fn witness(design: &Design, corners: &[Dimensions], so: impl Fn(&Dimensions) -> bool) -> Option<Dimensions> {
    let corner = corners.iter().find(|sizes| so(sizes)).cloned();
    corner.or_else(|| between(&design.dimensions).into_iter().find(|sizes| so(sizes)))
}

/// Every combination of least, middle and most.
fn between(dimensions: &[Dimension]) -> Vec<Dimensions> {
    dimensions.iter().fold(vec![Dimensions::new()], |all, dimension| {
        let middle = (dimension.least + dimension.most).scaled(1, 2);
        let with = |size: Length| {
            all.iter().cloned().map(move |mut sizes| {
                sizes.insert(dimension.key.clone(), size);
                sizes
            })
        };
        [dimension.least, middle, dimension.most].into_iter().flat_map(with).collect()
    })
}

/// Whether two parts run into each other by more than this at a size.
fn clash_at(one: &Part, other: &Part, allowed: Length, sizes: &Dimensions) -> bool {
    let (a, b) = (extents(one, sizes), extents(other, sizes));
    let same = std::ptr::eq(one, other);
    let meet = |one: &PlacedBox, other: &PlacedBox| {
        (0..3).all(|axis| into(axis, one, other) > allowed && into(axis, other, one) > allowed)
    };
    a.iter()
        .enumerate()
        .any(|(i, one)| b.iter().skip(if same { i.saturating_add(1) } else { 0 }).any(|other| meet(one, other)))
}

/// How many boxes a part is taken as.
const fn boxes(copies: &Copies) -> usize {
    match copies {
        Copies::One | Copies::Spread(_) => 1,
        Copies::MirrorX | Copies::MirrorY => 2,
        Copies::MirrorXy => 4,
    }
}

/// The boxes of a part, box by box and then corner by corner.
pub(super) fn at_corners(part: &Part, corners: &[Dimensions]) -> Vec<Vec<PlacedBox>> {
    let by_corner: Vec<Vec<PlacedBox>> = corners.iter().map(|sizes| extents(part, sizes)).collect();
    let boxes = by_corner.first().map_or(0, Vec::len);
    (0..boxes).map(|i| by_corner.iter().filter_map(|placed| placed.get(i).copied()).collect()).collect()
}

/// The parts of a design, in the order of [`Design::all_parts`], each with its boxes.
pub(super) fn placed<'d>(design: &'d Design, boxes: &'d [Vec<Vec<PlacedBox>>]) -> Vec<Placed<'d>> {
    let own = design.parts.iter().map(|part| (part, None));
    let choices = design
        .options
        .iter()
        .enumerate()
        .flat_map(|(g, group)| group.choices.iter().enumerate().map(move |(c, choice)| ((g, c), choice)));
    let added = choices.flat_map(|(by, choice)| choice.add.iter().map(move |part| (part, Some(by))));
    own.chain(added).zip(boxes).map(|((part, by), boxes)| Placed { part, by, boxes }).collect()
}

/// The boxes of a part; of a row, the one box from its first to its last.
fn extents(part: &Part, sizes: &Dimensions) -> Vec<PlacedBox> {
    let Copies::Spread(spread) = &part.copies else { return place(part, &part.copies, sizes) };
    let mut row = place(part, &Copies::One, sizes);
    let axis = spread.along.index();
    for first in &mut row {
        let more = spread.to.at(sizes) - first.start(axis);
        if let Some(extent) = first.size.get_mut(axis) {
            *extent = *extent + more;
        }
    }
    row
}

/// Whether two parts can be in one piece: not when they are of two choices of one option, nor when one's choice takes the other out.
fn together(design: &Design, one: &Placed<'_>, other: &Placed<'_>) -> bool {
    let choice = |(g, c): (usize, usize)| -> Option<&OptionChoice> { design.options.get(g)?.choices.get(c) };
    let takes_out = |by: Option<(usize, usize)>, part: &Part| {
        by.and_then(choice).is_some_and(|choice| choice.remove.contains(&part.key))
    };
    let rivals = matches!((one.by, other.by), (Some((g, c)), Some((h, d))) if g == h && c != d);
    !rivals && !takes_out(one.by, other.part) && !takes_out(other.by, one.part)
}

/// How far a box of one runs into a box of the other, and how far a joint of theirs reaches: where that is less.
fn clash(one: &Placed<'_>, other: &Placed<'_>) -> Option<(Length, Length)> {
    let joints = one.part.joints.iter().chain(&other.part.joints);
    let allowed = joints.map(|joint| joint.depth).max().unwrap_or(Length::ZERO);
    let same = std::ptr::eq(one.part, other.part);
    let pairs = one.boxes.iter().enumerate().flat_map(|(i, a)| {
        // Of one part's own boxes each pair once.
        other.boxes.iter().skip(if same { i.saturating_add(1) } else { 0 }).map(move |b| (a, b))
    });
    let into = |(a, b): (&Vec<PlacedBox>, &Vec<PlacedBox>)| (!apart(a, b, allowed)).then(|| least_overlap(a, b));
    pairs.filter_map(into).next().map(|into| (into, allowed))
}

/// How far one box runs into another along an axis, if it stands before it.
fn into(axis: usize, one: &PlacedBox, other: &PlacedBox) -> Length {
    one.start(axis) + one.extent(axis) - other.start(axis)
}

/// Whether along some axis, in some order, the one runs into the other by no more than this at any corner.
fn apart(a: &[PlacedBox], b: &[PlacedBox], allowed: Length) -> bool {
    let before = |axis: usize, first: &[PlacedBox], second: &[PlacedBox]| {
        first.iter().zip(second).all(|(one, other)| into(axis, one, other) <= allowed)
    };
    (0..3).any(|axis| before(axis, a, b) || before(axis, b, a))
}

/// Along the axis and in the order in which they are most apart at all corners: how far the one runs into the other at worst.
fn least_overlap(a: &[PlacedBox], b: &[PlacedBox]) -> Length {
    let worst = |axis: usize, first: &[PlacedBox], second: &[PlacedBox]| {
        first.iter().zip(second).map(|(one, other)| into(axis, one, other)).max().unwrap_or(Length::ZERO)
    };
    (0..3).map(|axis| worst(axis, a, b).min(worst(axis, b, a))).min().unwrap_or(Length::ZERO)
}

/// Why the parts of a row stand too close at these sizes: two of them a span apart, more of them over half the widest spacing.
fn crowded(part: &Part, sizes: &Dimensions, unit: LengthUnit) -> Option<String> {
    let Copies::Spread(Spread { along, to, every }) = &part.copies else { return None };
    let first = place(part, &Copies::One, sizes).into_iter().next()?;
    let (extent, span) = (first.extent(along.index()), to.at(sizes) - first.start(along.index()));
    let spacing = if span > *every { every.scaled(1, 2) } else { span };
    (spacing < extent).then(|| {
        let [spacing, extent] = [spacing, extent].map(|length| length.show(unit));
        format!("its row leaves {spacing} from one to the next, and each takes {extent}")
    })
}
