//! Designs: what they name must exist, and there is a limit to everything they list.

use std::collections::BTreeSet;

use super::tables::repeated;
use super::{Faults, packs};
use crate::book::document::DocumentError;
use crate::book::price_book::PriceBook;
use crate::book::values::Key;
use crate::book::work::Driver;
use crate::design::{BOX, Copies, Design, Dimension, HardwareUse, Measure, NamedWork, Part};
use crate::measure::Length;

/// More than these would make too many corners to check, and a form no buyer fills in.
const MOST_DIMENSIONS: usize = 6;
/// More parts than any piece has.
const MOST_PARTS: usize = 200;
/// More packs than any piece travels in.
const MOST_PACKS: usize = 20;
/// More materials than any buyer chooses among.
const MOST_MATERIALS: usize = 100;
/// The largest a dimension may be.
const LARGEST: Length = Length::inches(1200);

/// What designs may name, found at once however many there are. Keys alone: each further kind of tree weighs two kilobytes in a buyer's
/// browser.
struct Known<'b> {
    stock: BTreeSet<&'b Key>,
    joints: BTreeSet<&'b Key>,
    named: BTreeSet<&'b Key>,
    hardware: BTreeSet<&'b Key>,
}

impl<'b> Known<'b> {
    fn new(book: &'b PriceBook) -> Self {
        let boards = book.timbers.iter().map(|timber| &timber.key).chain(book.slabs.iter().map(|slab| &slab.key));
        let others = book.sheets.iter().map(|sheet| &sheet.key).chain(book.resins.iter().map(|resin| &resin.key));
        let driving = |kind: fn(&Driver) -> Option<&Key>| book.operations.iter().filter_map(move |o| kind(&o.driver));
        Self {
            stock: boards.chain(others).collect(),
            joints: driving(joint).collect(),
            named: driving(named).collect(),
            hardware: book.hardware.iter().map(|item| &item.key).collect(),
        }
    }
}

const fn joint(driver: &Driver) -> Option<&Key> {
    if let Driver::Joint(key) = driver { Some(key) } else { None }
}

const fn named(driver: &Driver) -> Option<&Key> {
    if let Driver::Named(key) = driver { Some(key) } else { None }
}

/// Faults of the designs, as far as their names and counts go; of those that have none, `prove` says more.
pub(super) fn faults(book: &PriceBook, mut prove: impl FnMut(&Design, &str, &mut Faults)) -> Faults {
    let mut faults = Faults::default();
    let known = Known::new(book);
    repeated("designs", book.designs.iter().map(|design| &design.key), &mut faults);
    if book.designs.is_empty() {
        faults.push(DocumentError::unusable("designs", "there is no design; add at least one"));
    }
    for (i, design) in book.designs.iter().enumerate() {
        if faults.is_full() {
            break;
        }
        let path = format!("designs[{i}]");
        if of_one(&known, design, &path, &mut faults) {
            prove(design, &path, &mut faults);
        }
    }
    faults
}

/// What is written wrong in one design of a book, as if it were its first.
pub(super) fn written(book: &PriceBook, design: &Design) -> Vec<DocumentError> {
    let mut faults = Faults::default();
    of_one(&Known::new(book), design, "designs[0]", &mut faults);
    faults.0
}

/// Finds what is written wrong in a design; says whether nothing is.
fn of_one(known: &Known<'_>, design: &Design, path: &str, faults: &mut Faults) -> bool {
    let before = faults.len();
    dimensions(design, path, faults);
    roles(known, design, path, faults);
    counts(design, path, faults);
    if faults.len() == before {
        names(known, design, path, faults);
    }
    faults.len() == before
}

/// More of anything than a design can have.
fn counts(design: &Design, path: &str, faults: &mut Faults) {
    let choices = design.options.iter().flat_map(|group| &group.choices);
    let removed = choices.map(|choice| choice.remove.len()).max().unwrap_or(0);
    let materials = design.roles.iter().map(|role| role.materials.len()).max().unwrap_or(0);
    for (key, count, most) in [
        ("parts", design.all_parts().count(), MOST_PARTS),
        ("options", removed, MOST_PARTS),
        ("packs", design.packs.len(), MOST_PACKS),
        ("roles", materials, MOST_MATERIALS),
    ] {
        if count > most {
            let why = format!("there are {count} in one list, and at most {most} can be offered; take some out");
            faults.push(DocumentError::unusable(format!("{path}.{key}"), why));
        }
    }
    if design.all_parts().next().is_none() {
        faults.push(DocumentError::unusable(format!("{path}.parts"), "there is no part; add at least one"));
    }
}

fn dimensions(design: &Design, path: &str, faults: &mut Faults) {
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

fn roles(known: &Known<'_>, design: &Design, path: &str, faults: &mut Faults) {
    repeated(&format!("{path}.roles"), design.roles.iter().map(|role| &role.key), faults);
    for (i, role) in design.roles.iter().enumerate() {
        let place = format!("{path}.roles[{i}].materials");
        if role.materials.is_empty() {
            faults.push(DocumentError::unusable(&place, "no material is offered; name at least one"));
        }
        for (j, key) in role.materials.iter().enumerate().filter(|(_, key)| !known.stock.contains(key)) {
            let why = format!("there is no timber, slab, sheet or resin “{key}”; name one, or add it");
            faults.push(DocumentError::unusable(format!("{place}[{j}]"), why));
        }
    }
}

/// Everything a design refers to by name.
fn names(known: &Known<'_>, design: &Design, path: &str, faults: &mut Faults) {
    repeated(&format!("{path}.parts"), design.parts.iter().map(|part| &part.key), faults);
    repeated(&format!("{path}.options"), design.options.iter().map(|group| &group.key), faults);
    let own: BTreeSet<&Key> = design.parts.iter().map(|part| &part.key).collect();
    let all: BTreeSet<&Key> = design.all_parts().map(|part| &part.key).collect();
    for part in design.all_parts() {
        let path = format!("{path}.parts.{}", part.key);
        stiffeners(part, &all, &path, faults);
        part_names(known, design, part, &path, faults);
    }
    packs::written(design, path, faults);
    used(known, &design.hardware, &design.work, path, faults);
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
            faults.each(choice.remove.iter().filter(|key| !own.contains(key)), |key| {
                let why = format!("the design has no part “{key}” to take out; name one of its parts");
                DocumentError::unusable(format!("{place}.remove"), why)
            });
            used(known, &choice.hardware, &choice.work, &place, faults);
        }
    }
}

pub(super) fn unknown_dimensions(design: &Design, measure: &Measure, path: &str, name: &str, faults: &mut Faults) {
    faults.each(measure.depends_on().filter(|key| design.dimension(key.as_str()).is_none()), |key| {
        let why = format!("the design has no dimension “{key}”; name one of its dimensions");
        DocumentError::unusable(format!("{path}.{name}"), why)
    });
}

fn stiffeners(part: &Part, all: &BTreeSet<&Key>, path: &str, faults: &mut Faults) {
    let named = part.carries.iter().flat_map(|carries| &carries.stiffened_by);
    faults.each(named.filter(|key| !all.contains(key)), |key| {
        let why = format!("the design has no part “{key}” to stiffen it; name one of its parts");
        DocumentError::unusable(format!("{path}.carries.stiffened_by"), why)
    });
}

fn part_names(known: &Known<'_>, design: &Design, part: &Part, path: &str, faults: &mut Faults) {
    if design.role(&part.role).is_none() {
        let why = format!("the design has no role “{}”; name one of its roles", part.role);
        faults.push(DocumentError::unusable(format!("{path}.role"), why));
    }
    for (name, measure) in measures(part) {
        unknown_dimensions(design, measure, path, name, faults);
    }
    for joint in &part.joints {
        driven(&known.joints, &format!("{path}.joints"), &joint.kind, faults);
    }
}

/// Work without an operation would be free: that is a fault, not a price.
fn driven(drivers: &BTreeSet<&Key>, path: &str, word: &Key, faults: &mut Faults) {
    if !drivers.contains(word) {
        let why = format!("no operation is driven by “{word}”, so it would cost nothing; add one, or name another");
        faults.push(DocumentError::unusable(path, why));
    }
}

fn used(known: &Known<'_>, hardware: &[HardwareUse], work: &[NamedWork], path: &str, faults: &mut Faults) {
    for used in hardware.iter().filter(|used| !known.hardware.contains(&used.item)) {
        let why = format!("there is no hardware “{}”; name one of the table hardware", used.item);
        faults.push(DocumentError::unusable(format!("{path}.hardware"), why));
    }
    for named in work {
        driven(&known.named, &format!("{path}.work"), &named.work, faults);
    }
}

fn measures(part: &Part) -> impl Iterator<Item = (&'static str, &Measure)> {
    let sizes = [("length", &part.length), ("width", &part.width), ("thickness", &part.thickness)];
    let spread = if let Copies::Spread(spread) = &part.copies { Some(("copies", &spread.to)) } else { None };
    let carries = part.carries.as_ref().map(|carries| ("carries.span", &carries.span));
    let held = part.held.as_ref().map(|held| ("held.across", &held.across));
    sizes.into_iter().chain(part.at.iter().map(|at| ("at", at))).chain(spread).chain(carries).chain(held)
}
