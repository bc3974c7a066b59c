//! The packs a piece travels in: what they hold must exist, fit, and come apart.

use std::collections::BTreeSet;

use super::Faults;
use super::broken::Broken;
use super::designs::unknown_dimensions;
use super::proof::{at_first, no_size};
use crate::book::document::DocumentError;
use crate::book::values::Key;
use crate::design::{Design, Dimensions, Measure, Pack};
use crate::measure::{Length, LengthUnit};

/// Faults of the packs as they are written.
pub(super) fn written(design: &Design, path: &str, faults: &mut Faults) {
    let parts: BTreeSet<&Key> = design.all_parts().map(|part| &part.key).collect();
    let mut packed = BTreeSet::new();
    for (i, pack) in design.packs.iter().enumerate() {
        let place = format!("{path}.packs[{i}]");
        for (name, measure) in sizes_of(pack) {
            unknown_dimensions(design, measure, &place, name, faults);
        }
        faults.each(pack.holds.iter().filter(|key| !parts.contains(key)), |key| {
            DocumentError::unusable(
                format!("{place}.holds"),
                format!("the design has no part “{key}”; name one of its parts"),
            )
        });
        let again: Vec<&Key> = pack.holds.iter().filter(|key| !packed.insert(*key)).collect();
        faults.each(again.into_iter(), |key| {
            DocumentError::unusable(
                format!("{place}.holds"),
                format!("“{key}” is in a pack already; take it out of one of the two"),
            )
        });
    }
    let loose = design.all_parts().flat_map(|part| &part.joints).any(|joint| joint.apart);
    if design.packs.len() > 1 && !loose && design.hardware.is_empty() {
        let why = "it travels in more packs than one, and nothing of it comes apart: write \"apart\": true at the joints that do, or add the hardware that holds it";
        faults.push(DocumentError::unusable(format!("{path}.packs"), why));
    }
}

/// Each pack that can't be at some size a buyer may choose.
pub(super) fn broken(design: &Design, corners: &[Dimensions], unit: LengthUnit) -> impl Iterator<Item = Broken> {
    design.packs.iter().enumerate().filter_map(move |(i, pack)| {
        let why =
            |sizes: &Dimensions| no_size(&sizes_of(pack), sizes, unit).or_else(|| too_small(design, pack, sizes, unit));
        let (sizes, why) = at_first(corners, why)?;
        Some(Broken::of_pack(i, sizes, why))
    })
}

/// A part that goes into its pack no way round.
fn too_small(design: &Design, pack: &Pack, sizes: &Dimensions, unit: LengthUnit) -> Option<String> {
    let sorted = |mut sides: [Length; 3]| {
        sides.sort_unstable();
        sides
    };
    let room = sorted(sizes_of(pack).map(|(_, measure)| measure.at(sizes)));
    let held = design.all_parts().filter(|part| pack.holds.contains(&part.key));
    held.map(|part| (part, sorted([part.length.at(sizes), part.width.at(sizes), part.thickness.at(sizes)])))
        .find(|(_, sides)| sides.iter().zip(room).any(|(side, room)| *side > room))
        .map(|(part, sides)| {
            let show = |sides: [Length; 3]| sides.map(|side| side.show(unit)).join(" x ");
            format!("{} of {} does not go into its pack of {}", part.name, show(sides), show(room))
        })
}

fn sizes_of(pack: &Pack) -> [(&'static str, &Measure); 3] {
    [("length", &pack.length), ("width", &pack.width), ("height", &pack.height)]
}
