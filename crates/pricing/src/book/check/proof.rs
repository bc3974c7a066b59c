//! The proof that every size a buyer may choose can be built.
//!
//! Every measure is linear in the dimensions, so it is least and most at corners of the box of allowed sizes: checking
//! the corners proves the whole box.

use std::cell::Cell;
use std::collections::BTreeMap;

use super::broken::Broken;
use super::{Faults, overlaps, packs};
use crate::book::document::DocumentError;
use crate::book::price_book::{PriceBook, Stock};
use crate::book::stock::{Slab, Timber};
use crate::book::values::Key;
use crate::design::{
    BOX, Copies, Design, Dimension, Dimensions, MOST_COPIES, Material, Measure, Part, envelope, resolve_part,
};
use crate::measure::{Axis, Length, LengthUnit};
use crate::takeoff::fits;

/// More parts than this, each at a corner and in a material, are not tried in one book: no workshop offers so much, and a slip of the
/// pen should not take minutes to find.
const MOST_TRIED: usize = 20_000;

/// A book whose designs are proved, one after the other, and how much of it may still be.
pub(super) struct Proof<'b> {
    book: &'b PriceBook,
    /// The unit its words are in: the shop's own.
    unit: LengthUnit,
    stock: BTreeMap<&'b Key, Stock<'b>>,
    tries: Cell<usize>,
    pairs: usize,
}

impl<'b> Proof<'b> {
    pub(super) fn new(book: &'b PriceBook) -> Self {
        let timbers: BTreeMap<&Key, &Timber> = book.timbers.iter().map(|timber| (&timber.key, timber)).collect();
        let slab = |slab: &'b Slab| Some((&slab.key, Stock::Slab(slab, timbers.get(&slab.timber)?)));
        let stock = book.timbers.iter().map(|timber| (&timber.key, Stock::Timber(timber)));
        let stock = stock.chain(book.slabs.iter().filter_map(slab));
        let stock = stock.chain(book.sheets.iter().map(|sheet| (&sheet.key, Stock::Sheet(sheet))));
        let stock = stock.chain(book.resins.iter().map(|resin| (&resin.key, Stock::Resin(resin))));
        let unit = book.shop.units.length_unit();
        Self { book, unit, stock: stock.collect(), tries: Cell::new(MOST_TRIED), pairs: overlaps::MOST_PAIRS }
    }

    /// Checks every part and every pack of a design at every corner of the box of allowed sizes, then that parts keep apart.
    pub(super) fn of(&mut self, design: &Design, path: &str, faults: &mut Faults) {
        let (corners, before) = (corners(&design.dimensions), faults.len());
        for part in design.all_parts() {
            faults.extend(self.broken_part(design, part, &corners).map(|broken| broken.told(path, self.unit)));
        }
        faults.extend(packs::broken(design, &corners, self.unit).map(|broken| broken.told(path, self.unit)));
        if self.tries.get() == 0 {
            let why = "there are more parts, materials and dimensions than can be proved; offer fewer in one book";
            faults.push(DocumentError::unusable(format!("{path}.parts"), why));
            return;
        }
        // Of parts that can't be, it would say little that they are in each other's way.
        if faults.len() == before {
            faults.extend(overlaps::faults(design, (path, self.unit), &corners, &mut self.pairs));
        }
    }

    /// The first corner at which a part can't be, and why.
    pub(super) fn broken_part(&self, design: &Design, part: &Part, corners: &[Dimensions]) -> Option<Broken> {
        let (sizes, why) = at_first(corners, |sizes| self.impossible(design, part, sizes))?;
        Some(Broken::of_part(part, sizes, why))
    }

    /// Why a part can't be at these sizes; nothing when it can.
    fn impossible(&self, design: &Design, part: &Part, sizes: &Dimensions) -> Option<String> {
        self.tries.set(self.tries.get().checked_sub(1)?);
        let named = [("length", &part.length), ("width", &part.width), ("thickness", &part.thickness)];
        no_size(&named, sizes, self.unit)
            .or_else(|| outside(part, sizes, self.unit))
            .or_else(|| too_many(part, sizes, self.unit))
            .or_else(|| unchecked(part, sizes, self.unit))
            .or_else(|| self.no_material(design, part, sizes))
    }

    /// Why no material its role may be of can give the part: a buyer could choose no wood at all.
    fn no_material(&self, design: &Design, part: &Part, sizes: &Dimensions) -> Option<String> {
        let role = design.role(&part.role)?;
        let cut = |key| {
            self.tries.set(self.tries.get().checked_sub(1)?);
            let material = Material { role: &role.key, key, stock: *self.stock.get(key)? };
            let part = resolve_part(part, std::slice::from_ref(&material), sizes)?;
            Some(fits(&part, &self.book.allowances))
        };
        let mut problem = None;
        for cut in role.materials.iter().map_while(cut) {
            problem = problem.or(Some(cut.err()?));
        }
        Some(format!("no material offered will do: {}", problem?.explain(self.unit)))
    }
}

/// The first corner at which something can't be, and why.
pub(super) fn at_first(
    corners: &[Dimensions],
    why: impl Fn(&Dimensions) -> Option<String>,
) -> Option<(&Dimensions, String)> {
    corners.iter().find_map(|sizes| Some((sizes, why(sizes)?)))
}

/// Every combination of least and most.
pub(super) fn corners(dimensions: &[Dimension]) -> Vec<Dimensions> {
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

/// A length, width, thickness or height that comes to nothing or less.
pub(super) fn no_size(named: &[(&str, &Measure)], sizes: &Dimensions, unit: LengthUnit) -> Option<String> {
    let (name, size) =
        named.iter().map(|(name, measure)| (name, measure.at(sizes))).find(|(_, size)| !size.is_positive())?;
    Some(format!("its {name} comes to {}", size.show(unit)))
}

/// A part that leaves the box the piece is said to fill would be drawn, crated and carried wrong.
fn outside(part: &Part, sizes: &Dimensions, unit: LengthUnit) -> Option<String> {
    let wholes = BOX.into_iter().zip(envelope(sizes));
    Axis::ALL.into_iter().zip(&part.at).zip(wholes).find_map(|((axis, at), (name, whole))| {
        let size = part.lies.along(axis, [&part.length, &part.width, &part.thickness]);
        let last = match &part.copies {
            Copies::Spread(spread) if spread.along == axis => &spread.to,
            _ => at,
        };
        let (start, end) = (at.at(sizes), last.at(sizes) + size.at(sizes));
        let inside = !(-start).is_positive() && end <= whole;
        (!inside).then(|| {
            let [start, end, whole] = [start, end, whole].map(|length| length.show(unit));
            format!("it reaches from {start} to {end} in a piece of {name} {whole}")
        })
    })
}

/// A load over no span and a part held over less than nothing would pass their checks unseen.
fn unchecked(part: &Part, sizes: &Dimensions, unit: LengthUnit) -> Option<String> {
    let span = part.carries.as_ref().map(|carries| carries.span.at(sizes)).filter(|span| !span.is_positive());
    let across = part.held.as_ref().map(|held| held.across.at(sizes)).filter(|across| (-*across).is_positive());
    span.map(|span| format!("the span it carries over comes to {}", span.show(unit)))
        .or_else(|| across.map(|across| format!("it is held {} across its grain", across.show(unit))))
}

fn too_many(part: &Part, sizes: &Dimensions, unit: LengthUnit) -> Option<String> {
    let Copies::Spread(spread) = &part.copies else { return None };
    let first = part.at.get(spread.along.index())?;
    let span = spread.to.at(sizes) - first.at(sizes);
    let gaps = span.covered_by(spread.every);
    if !span.is_positive() || !spread.every.is_positive() {
        return Some(format!(
            "its row runs over {} by every {}, which is no row",
            span.show(unit),
            spread.every.show(unit)
        ));
    }
    (gaps >= MOST_COPIES).then(|| format!("there would be over {MOST_COPIES} of it"))
}
