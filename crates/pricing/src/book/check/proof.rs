//! The proof that every size a buyer may choose can be built.
//!
//! Every measure is linear in the dimensions, so it is least and most at corners of the box of allowed sizes: checking
//! the corners proves the whole box.

use std::cell::Cell;

use super::designs::{Known, pack_sizes};
use super::{Faults, overlaps};
use crate::book::document::DocumentError;
use crate::design::{
    BOX, Copies, Design, Dimension, Dimensions, MOST_COPIES, Material, Measure, Part, envelope, resolve_part,
};
use crate::measure::{Axis, Length, LengthUnit};
use crate::takeoff::fits;

/// More parts than this, each at a corner and in a material, are not tried in one book: no workshop offers so much, and a slip of the
/// pen should not take minutes to find.
const MOST_TRIED: usize = 20_000;

/// How much of a book may still be proved.
pub(super) struct Left {
    tries: Cell<usize>,
    pairs: usize,
}

impl Default for Left {
    fn default() -> Self {
        Self { tries: Cell::new(MOST_TRIED), pairs: overlaps::MOST_PAIRS }
    }
}

/// Checks every part and every pack at every corner of the box of allowed sizes.
pub(super) fn prove(known: &Known<'_>, design: &Design, path: &str, left: &mut Left, faults: &mut Faults) {
    let (corners, before) = (corners(&design.dimensions), faults.len());
    for part in design.all_parts() {
        let why = |sizes: &Dimensions| impossible(known, design, part, sizes, &left.tries);
        faults.extend(broken(&corners, &format!("{path}.parts.{}", part.key), "part", why));
    }
    for (i, pack) in design.packs.iter().enumerate() {
        let why = |sizes: &Dimensions| no_size(&pack_sizes(pack), sizes);
        faults.extend(broken(&corners, &format!("{path}.packs[{i}]"), "pack", why));
    }
    if left.tries.get() == 0 {
        let why = "there are more parts, materials and dimensions than can be proved; offer fewer in one book";
        faults.push(DocumentError::unusable(format!("{path}.parts"), why));
        return;
    }
    // Of parts that can't be, it would say little that they are in each other's way.
    if faults.len() == before {
        faults.extend(overlaps::faults(design, path, &corners, &mut left.pairs));
    }
}

/// The first corner at which something can't be, and why.
pub(super) fn broken(
    corners: &[Dimensions],
    path: &str,
    what: &str,
    why: impl Fn(&Dimensions) -> Option<String>,
) -> Option<DocumentError> {
    let (sizes, why) = corners.iter().find_map(|sizes| Some((sizes, why(sizes)?)))?;
    let at: Vec<String> = sizes.iter().map(|(key, size)| format!("{key} {size}")).collect();
    let why = format!("at {}, {why}; change the {what} or narrow the limits", at.join(", "));
    Some(DocumentError::unusable(path, why))
}

/// Every combination of least and most.
fn corners(dimensions: &[Dimension]) -> Vec<Dimensions> {
    dimensions.iter().fold(vec![Dimensions::new()], |corners, dimension| {
        let ends = [dimension.least, dimension.most];
        let with = |end: Length| {
            corners.iter().cloned().map(move |mut sizes| {
                sizes.insert(dimension.key.clone(), end);
                sizes
            })
        };
        ends.into_iter().flat_map(with).collect()
    })
}

/// Why a part can't be at these sizes; nothing when it can.
fn impossible(
    known: &Known<'_>,
    design: &Design,
    part: &Part,
    sizes: &Dimensions,
    tries: &Cell<usize>,
) -> Option<String> {
    tries.set(tries.get().checked_sub(1)?);
    let named = [("length", &part.length), ("width", &part.width), ("thickness", &part.thickness)];
    no_size(&named, sizes)
        .or_else(|| outside(part, sizes))
        .or_else(|| too_many(part, sizes))
        .or_else(|| unchecked(part, sizes))
        .or_else(|| no_material(known, design, part, sizes, tries))
}

/// A length, width, thickness or height that comes to nothing or less.
fn no_size(named: &[(&str, &Measure)], sizes: &Dimensions) -> Option<String> {
    let (name, size) =
        named.iter().map(|(name, measure)| (name, measure.at(sizes))).find(|(_, size)| !size.is_positive())?;
    Some(format!("its {name} comes to {}", size.show(LengthUnit::Inch)))
}

/// A part that leaves the box the piece is said to fill would be drawn, crated and carried wrong.
fn outside(part: &Part, sizes: &Dimensions) -> Option<String> {
    let wholes = BOX.into_iter().zip(envelope(sizes));
    Axis::ALL.into_iter().zip(&part.at).zip(wholes).find_map(|((axis, at), (name, whole))| {
        let size = part.lies.along(axis, [&part.length, &part.width, &part.thickness]);
        let last = match &part.copies {
            Copies::Spread(spread) if spread.along == axis => &spread.to,
            _ => at,
        };
        let (start, end) = (at.at(sizes), last.at(sizes) + size.at(sizes));
        let inside = !(-start).is_positive() && end <= whole;
        (!inside).then(|| format!("it reaches from {start} to {end} in a piece of {name} {whole}"))
    })
}

/// A load over no span and a part held over less than nothing would pass their checks unseen.
fn unchecked(part: &Part, sizes: &Dimensions) -> Option<String> {
    let span = part.carries.as_ref().map(|carries| carries.span.at(sizes)).filter(|span| !span.is_positive());
    let across = part.held.as_ref().map(|held| held.across.at(sizes)).filter(|across| (-*across).is_positive());
    span.map(|span| format!("the span it carries over comes to {span}"))
        .or_else(|| across.map(|across| format!("it is held {across} across its grain")))
}

fn too_many(part: &Part, sizes: &Dimensions) -> Option<String> {
    let Copies::Spread(spread) = &part.copies else { return None };
    let first = part.at.get(spread.along.index())?;
    let span = spread.to.at(sizes) - first.at(sizes);
    let gaps = span.covered_by(spread.every);
    if !span.is_positive() || !spread.every.is_positive() {
        return Some(format!("its row runs over {span} by every {}, which is no row", spread.every));
    }
    (gaps >= MOST_COPIES).then(|| format!("there would be over {MOST_COPIES} of it"))
}

/// Why no material its role may be of can give the part: a buyer could choose no wood at all.
fn no_material(
    known: &Known<'_>,
    design: &Design,
    part: &Part,
    sizes: &Dimensions,
    tries: &Cell<usize>,
) -> Option<String> {
    let role = design.role(&part.role)?;
    let cut = |key| {
        tries.set(tries.get().checked_sub(1)?);
        let material = Material { role: &role.key, key, stock: *known.stock.get(key)? };
        let part = resolve_part(part, std::slice::from_ref(&material), sizes)?;
        Some(fits(&part, &known.book.allowances))
    };
    let mut problem = None;
    for cut in role.materials.iter().map_while(cut) {
        problem = problem.or(Some(cut.err()?));
    }
    let problem = problem?;
    Some(format!("no material offered will do: {}", problem.explain(LengthUnit::Inch)))
}
