//! Designs: what they name must exist, and no size a buyer may choose may give an impossible part.
//!
//! Every measure is linear in the dimensions, so it is least and most at corners of the box of allowed sizes: checking
//! the corners proves the whole box.

use super::overlaps;
use super::tables::repeated;
use crate::book::document::DocumentError;
use crate::book::price_book::PriceBook;
use crate::book::values::Key;
use crate::book::work::Driver;
use crate::design::{
    BOX, Copies, Design, Dimension, Dimensions, HardwareUse, MOST_COPIES, Material, Measure, NamedWork, Pack, Part,
    envelope, resolve_part,
};
use crate::measure::{Axis, Length, LengthUnit};
use crate::problem::Problem;
use crate::takeoff::fits;

/// More than these would make too many corners to check, and a form no buyer fills in.
const MOST_DIMENSIONS: usize = 6;
/// More parts than any piece has.
const MOST_PARTS: usize = 200;
/// The largest a dimension may be.
const LARGEST: Length = Length::inches(1200);

/// Faults of the designs.
pub(super) fn faults(book: &PriceBook) -> Vec<DocumentError> {
    let mut faults = Vec::new();
    repeated("designs", book.designs.iter().map(|design| &design.key), &mut faults);
    if book.designs.is_empty() {
        faults.push(DocumentError::unusable("designs", "there is no design; add at least one"));
    }
    let mut pairs_left = overlaps::MOST_PAIRS;
    for (i, design) in book.designs.iter().enumerate() {
        let path = format!("designs[{i}]");
        let before = faults.len();
        dimensions(design, &path, &mut faults);
        roles(book, design, &path, &mut faults);
        names(book, design, &path, &mut faults);
        if faults.len() == before {
            prove(book, design, &path, &mut pairs_left, &mut faults);
        }
    }
    faults
}

fn dimensions(design: &Design, path: &str, faults: &mut Vec<DocumentError>) {
    repeated(&format!("{path}.dimensions"), design.dimensions.iter().map(|dimension| &dimension.key), faults);
    for name in BOX {
        if design.dimension(name).is_none() {
            let why = format!(
                "the dimension “{name}” is missing; add it: every design has length, width and height, fixed or not"
            );
            faults.push(DocumentError::unusable(format!("{path}.dimensions"), why));
        }
    }
    if design.dimensions.len() > MOST_DIMENSIONS {
        let why = format!(
            "there are {} dimensions, and at most {MOST_DIMENSIONS} can be offered; take some out",
            design.dimensions.len()
        );
        faults.push(DocumentError::unusable(format!("{path}.dimensions"), why));
    }
    for (i, dimension) in design.dimensions.iter().enumerate() {
        let Dimension { least, most, default, step, .. } = dimension;
        if !least.is_positive() || least > default || default > most || *most > LARGEST {
            let why = format!(
                "{least}, {default}, {most}: make the least more than zero and put the default between it and the most"
            );
            faults.push(DocumentError::unusable(format!("{path}.dimensions[{i}]"), why));
        }
        if !step.is_positive() {
            let why = format!("a step of {step} leads nowhere; write one above zero");
            faults.push(DocumentError::unusable(format!("{path}.dimensions[{i}].step"), why));
        }
    }
}

fn roles(book: &PriceBook, design: &Design, path: &str, faults: &mut Vec<DocumentError>) {
    repeated(&format!("{path}.roles"), design.roles.iter().map(|role| &role.key), faults);
    for (i, role) in design.roles.iter().enumerate() {
        let place = format!("{path}.roles[{i}].materials");
        if role.materials.is_empty() {
            faults.push(DocumentError::unusable(&place, "no material is offered; name at least one"));
        }
        for (j, key) in role.materials.iter().enumerate().filter(|(_, key)| book.stock(key).is_none()) {
            let why = format!("there is no timber, slab, sheet or resin “{key}”; name one, or add it");
            faults.push(DocumentError::unusable(format!("{place}[{j}]"), why));
        }
    }
}

/// Everything a design refers to by name.
fn names(book: &PriceBook, design: &Design, path: &str, faults: &mut Vec<DocumentError>) {
    repeated(&format!("{path}.parts"), design.parts.iter().map(|part| &part.key), faults);
    repeated(&format!("{path}.options"), design.options.iter().map(|group| &group.key), faults);
    let count = design.all_parts().count();
    if count == 0 || count > MOST_PARTS {
        let why = format!("the design has {count} parts; give it 1 to {MOST_PARTS}");
        faults.push(DocumentError::unusable(format!("{path}.parts"), why));
    }
    for part in design.all_parts() {
        part_names(book, design, part, &format!("{path}.parts.{}", part.key), faults);
    }
    pack_names(design, path, faults);
    used(book, &design.hardware, &design.work, path, faults);
    for (g, group) in design.options.iter().enumerate() {
        if group.choices.is_empty() {
            faults.push(DocumentError::unusable(
                format!("{path}.options[{g}].choices"),
                "the option has no choice; add one at least, or take the option out",
            ));
        }
        repeated(&format!("{path}.options[{g}].choices"), group.choices.iter().map(|choice| &choice.key), faults);
        for (c, choice) in group.choices.iter().enumerate() {
            let place = format!("{path}.options[{g}].choices[{c}]");
            for key in choice.remove.iter().filter(|key| design.parts.iter().all(|part| part.key != **key)) {
                let why = format!("the design has no part “{key}” to take out; name one of its parts");
                faults.push(DocumentError::unusable(format!("{place}.remove"), why));
            }
            used(book, &choice.hardware, &choice.work, &place, faults);
        }
    }
}

fn pack_names(design: &Design, path: &str, faults: &mut Vec<DocumentError>) {
    for (i, pack) in design.packs.iter().enumerate() {
        for (name, measure) in pack_sizes(pack) {
            unknown_dimensions(design, measure, &format!("{path}.packs[{i}].{name}"), faults);
        }
    }
}

fn unknown_dimensions(design: &Design, measure: &Measure, path: &str, faults: &mut Vec<DocumentError>) {
    for key in measure.depends_on().filter(|key| design.dimension(key.as_str()).is_none()) {
        let why = format!("the design has no dimension “{key}”; name one of its dimensions");
        faults.push(DocumentError::unusable(path, why));
    }
}

fn part_names(book: &PriceBook, design: &Design, part: &Part, path: &str, faults: &mut Vec<DocumentError>) {
    if design.role(&part.role).is_none() {
        let why = format!("the design has no role “{}”; name one of its roles", part.role);
        faults.push(DocumentError::unusable(format!("{path}.role"), why));
    }
    for (name, measure) in measures(part) {
        unknown_dimensions(design, measure, &format!("{path}.{name}"), faults);
    }
    let stiffeners = part.carries.iter().flat_map(|carries| &carries.stiffened_by);
    for key in stiffeners.filter(|key| design.all_parts().all(|part| part.key != **key)) {
        let why = format!("the design has no part “{key}” to stiffen it; name one of its parts");
        faults.push(DocumentError::unusable(format!("{path}.carries.stiffened_by"), why));
    }
    for joint in &part.joints {
        let driver = Driver::Joint(joint.kind.clone());
        driven(book, &driver, &format!("{path}.joints"), &joint.kind, faults);
    }
}

/// Work without an operation would be free: that is a fault, not a price.
fn driven(book: &PriceBook, driver: &Driver, path: &str, word: &Key, faults: &mut Vec<DocumentError>) {
    if book.operations.iter().all(|operation| operation.driver != *driver) {
        let why = format!("no operation is driven by “{word}”, so it would cost nothing; add one, or name another");
        faults.push(DocumentError::unusable(path, why));
    }
}

fn used(book: &PriceBook, hardware: &[HardwareUse], work: &[NamedWork], path: &str, faults: &mut Vec<DocumentError>) {
    for used in hardware.iter().filter(|used| book.hardware_item(&used.item).is_none()) {
        let why = format!("there is no hardware “{}”; name one of the table hardware", used.item);
        faults.push(DocumentError::unusable(format!("{path}.hardware"), why));
    }
    for named in work {
        driven(book, &Driver::Named(named.work.clone()), &format!("{path}.work"), &named.work, faults);
    }
}

fn measures(part: &Part) -> impl Iterator<Item = (&'static str, &Measure)> {
    let sizes = [("length", &part.length), ("width", &part.width), ("thickness", &part.thickness)];
    let spread = if let Copies::Spread(spread) = &part.copies { Some(("copies", &spread.to)) } else { None };
    let carries = part.carries.as_ref().map(|carries| ("carries.span", &carries.span));
    let held = part.held.as_ref().map(|held| ("held.across", &held.across));
    sizes.into_iter().chain(part.at.iter().map(|at| ("at", at))).chain(spread).chain(carries).chain(held)
}

fn pack_sizes(pack: &Pack) -> [(&'static str, &Measure); 3] {
    [("length", &pack.length), ("width", &pack.width), ("height", &pack.height)]
}

/// Checks every part and every pack at every corner of the box of allowed sizes.
fn prove(book: &PriceBook, design: &Design, path: &str, pairs_left: &mut usize, faults: &mut Vec<DocumentError>) {
    let (corners, before) = (corners(&design.dimensions), faults.len());
    for part in design.all_parts() {
        let why = |sizes: &Dimensions| impossible(book, design, part, sizes);
        faults.extend(broken(&corners, &format!("{path}.parts.{}", part.key), "part", why));
    }
    for (i, pack) in design.packs.iter().enumerate() {
        let why = |sizes: &Dimensions| no_size(&pack_sizes(pack), sizes);
        faults.extend(broken(&corners, &format!("{path}.packs[{i}]"), "pack", why));
    }
    // Of parts that can't be, it would say little that they are in each other's way.
    if faults.len() == before {
        faults.extend(overlaps::faults(design, path, &corners, pairs_left));
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
fn impossible(book: &PriceBook, design: &Design, part: &Part, sizes: &Dimensions) -> Option<String> {
    let named = [("length", &part.length), ("width", &part.width), ("thickness", &part.thickness)];
    no_size(&named, sizes)
        .or_else(|| outside(part, sizes))
        .or_else(|| too_many(part, sizes))
        .or_else(|| unchecked(part, sizes))
        .or_else(|| no_material(book, design, part, sizes))
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
fn no_material(book: &PriceBook, design: &Design, part: &Part, sizes: &Dimensions) -> Option<String> {
    let role = design.role(&part.role)?;
    let cut = |key| {
        let material = Material { role: &role.key, key, stock: book.stock(key)? };
        let part = resolve_part(part, std::slice::from_ref(&material), sizes)?;
        Some(fits(&part, &book.allowances))
    };
    let cuts: Vec<Result<(), Problem>> = role.materials.iter().filter_map(cut).collect();
    if cuts.iter().any(Result::is_ok) {
        return None;
    }
    let problem = cuts.into_iter().find_map(Result::err)?;
    Some(format!("no material offered will do: {}", problem.explain(LengthUnit::Inch)))
}
