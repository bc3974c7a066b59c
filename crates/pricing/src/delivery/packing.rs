//! Packs, and the crates, pallets and cartons grown from them: inside is the pack and its padding, outside the walls and the skid.

use rust_decimal::Decimal;

use crate::book::PriceBook;
use crate::book::delivery::{CrateRate, CrateSize};
use crate::book::values::{Key, Measured};
use crate::bounded::Bounded;
use crate::design::{Pack, Resolved};
use crate::measure::{Area, Length, Volume, Weight};
use crate::money::whole_up;
use crate::takeoff::Takeoff;

/// A box one piece travels in, before padding.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Packed<'b> {
    /// Its length, width and height.
    pub sides: [Length; 3],
    /// Whether the two sides across each of these are fragile.
    pub fragile: [bool; 3],
    /// Whether it stands on a pallet without walls.
    pub on_pallet: bool,
    /// The parts it is known to hold.
    pub holds: &'b [Key],
}

/// A crate, a pallet or a carton, as a carrier meets it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Crated {
    /// Its outside.
    pub sides: [Length; 3],
    /// Whether it is a pallet.
    pub on_pallet: bool,
    /// The panel it takes.
    pub panel: Area,
    /// The batten it takes: round the four edges of all six faces.
    pub batten: Length,
    /// The runners it takes: under its width, two below 48 in of length and three from there.
    pub runner: Length,
    /// Its weight with what it holds.
    pub gross: Weight,
}

/// What a carrier takes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shipment {
    /// The crates of one piece.
    pub crates: Vec<Crated>,
    /// How many pieces there are.
    pub pieces: u32,
    /// Outside volume of all crates.
    pub cube: Volume,
    /// Weight of all crates, in whole pounds, rounded up as carriers do.
    pub gross: Weight,
}

impl Shipment {
    /// The longest side of any crate.
    #[must_use]
    pub fn longest(&self) -> Length {
        self.crates.iter().flat_map(|one| one.sides).max().unwrap_or(Length::ZERO)
    }
}

impl Crated {
    /// All of its outside.
    #[must_use]
    pub fn surface(&self) -> Area {
        surface(self.sides)
    }
}

/// The boxes one piece travels in: the design's packs, or one as large as the piece.
#[must_use]
pub fn packs<'b>(resolved: &Resolved<'b>) -> Vec<Packed<'b>> {
    let (sizes, design) = (&resolved.sizes, resolved.design);
    if design.packs.is_empty() {
        return vec![Packed { sides: resolved.envelope(), fragile: [false; 3], on_pallet: false, holds: &[] }];
    }
    let pack = |pack: &'b Pack| Packed {
        sides: [pack.length.at(sizes), pack.width.at(sizes), pack.height.at(sizes)],
        fragile: pack.fragile_across(),
        on_pallet: pack.on_pallet,
        holds: &pack.holds,
    };
    design.packs.iter().map(pack).collect()
}

/// The packs of one piece with what each weighs: the parts it holds, and of the rest a share by its space (common practice, no source).
#[must_use]
pub fn weighed<'b>(resolved: &Resolved<'b>, takeoff: &Takeoff<'_>) -> Vec<(Packed<'b>, Weight)> {
    let packs = packs(resolved);
    let held = |pack: &Packed<'_>| -> Weight {
        let parts = resolved.parts.iter().zip(&takeoff.part_weights);
        let inside = parts.filter(|(part, _)| pack.holds.contains(&part.part.key));
        inside.map(|(part, weight)| *weight * Decimal::from(part.count())).sum()
    };
    let space = |pack: &Packed<'_>| {
        let [length, width, height] = pack.sides;
        Area::of(length, width).by(height).in_cubic_inches()
    };
    let all: Decimal = packs.iter().map(space).sum();
    let known: Weight = packs.iter().map(held).sum();
    let rest = (takeoff.weight.in_pounds() - known.in_pounds()).max(Decimal::ZERO);
    let weigh = |pack: Packed<'b>| {
        let share = space(&pack).over(all).unwrap_or(Decimal::ONE);
        let weight = held(&pack) + Weight::pounds(rest.times(share));
        (pack, weight)
    };
    packs.into_iter().map(weigh).collect()
}

/// Every pack of an order crated, or on its pallet where the book has pallets.
#[must_use]
pub fn shipment(book: &PriceBook, resolved: &Resolved<'_>, takeoff: &Takeoff<'_>) -> Shipment {
    let rates = &book.delivery;
    let crates: Vec<Crated> = weighed(resolved, takeoff)
        .into_iter()
        .map(|(pack, weight)| match &rates.pallets {
            Some(pallets) if pack.on_pallet => Crated { on_pallet: true, ..crated(&pallets.size, &pack, weight) },
            _ => crated(&rates.crating.size, &pack, weight),
        })
        .collect();
    let quantity = Decimal::from(resolved.quantity);
    let cube: Volume = crates.iter().map(|one| cube(one.sides)).sum();
    let gross: Weight = crates.iter().map(|one| one.gross).sum();
    let gross = whole_up(gross.in_pounds().times(quantity));
    Shipment { crates, pieces: resolved.quantity, cube: cube * quantity, gross: Weight::pounds(gross.into()) }
}

/// What the crate of a pack comes to.
///
/// Source of the model: `shared/reference/delivery/crating.md` section 2: panel by the inside, battens round the edges of all faces,
/// runners across.
#[must_use]
pub fn crated(size: &CrateSize, pack: &Packed<'_>, weight: Weight) -> Crated {
    let padding = |fragile: bool| size.fragile_padding.filter(|_| fragile).unwrap_or(size.padding);
    let [mut inside, mut outside] = [pack.sides; 2];
    for ((inner, outer), fragile) in inside.iter_mut().zip(&mut outside).zip(pack.fragile) {
        *inner = *inner + padding(fragile).scaled(2, 1);
        *outer = *inner + size.wall.scaled(2, 1);
    }
    let [length, width, height] = outside;
    let [least_length, least_width] = size.footprint.unwrap_or([Length::ZERO; 2]);
    let sides = [length.max(least_length), width.max(least_width), height + size.skid];
    let panel = surface(inside);
    let [long, wide, high] = inside;
    let per_foot = |weight: Option<Measured>, run: Length| match weight {
        Some(weight) => (run, run.in_feet() * weight.value()),
        None => (Length::ZERO, Decimal::ZERO),
    };
    let (batten, batten_weight) = per_foot(size.batten_weight, (long + wide + high).scaled(8, 1));
    let runners = if long < Length::inches(48) { 2 } else { 3 };
    let (runner, runner_weight) = per_foot(size.runner_weight, wide.scaled(runners, 1));
    let empty = panel.in_square_feet() * size.panel_weight.value() + batten_weight + runner_weight;
    Crated { sides, on_pallet: false, panel, batten, runner, gross: weight + Weight::pounds(empty) }
}

/// What a crate costs, or what is charged for it.
pub(super) fn charge(rates: &CrateRate, surface: Area) -> Decimal {
    surface.in_square_feet() * rates.per_square_foot.value() + rates.per_crate.value()
}

fn surface([length, width, height]: [Length; 3]) -> Area {
    (Area::of(length, width) + Area::of(length, height) + Area::of(width, height)) * Decimal::TWO
}

fn cube([length, width, height]: [Length; 3]) -> Volume {
    Area::of(length, width).by(height)
}
