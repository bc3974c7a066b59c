//! Crates grown from what they hold: inside is the piece and its padding, outside the walls and the skid.

use rust_decimal::Decimal;

use crate::book::delivery::CrateSize;
use crate::design::{Pack, Resolved};
use crate::measure::{Area, Length, Volume, Weight};
use crate::money::whole_up;

/// What a carrier takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shipment {
    /// How many crates.
    pub crates: u32,
    /// Outside volume of all of them.
    pub cube: Volume,
    /// Outside surface of all of them.
    pub surface: Area,
    /// Weight with crates, in whole pounds, rounded up as carriers do.
    pub gross: Weight,
}

/// The crates for a brief whose pieces weigh so much each.
///
/// Source of the build-up: `shared/reference/delivery/crating.md` section 1.
#[must_use]
pub fn shipment(size: &CrateSize, resolved: &Resolved<'_>, piece: Weight) -> Shipment {
    let quantity = Decimal::from(resolved.quantity);
    let (mut cube, mut surface, mut crates) = (Volume::ZERO, Area::ZERO, 0_u32);
    for [length, width, height] in packs(resolved) {
        let [length, width, height] = outside(size, [length, width, height]);
        cube = cube + Area::of(length, width).by(height);
        let sides = Area::of(length, width) + Area::of(length, height) + Area::of(width, height);
        surface = surface + sides * Decimal::TWO;
        crates = crates.saturating_add(resolved.quantity);
    }
    let (cube, surface) = (cube * quantity, surface * quantity);
    let crate_weight = surface.in_square_feet() * size.weight.value();
    let gross = piece.in_pounds() * quantity + crate_weight;
    Shipment { crates, cube, surface, gross: Weight::pounds(whole_up(gross).into()) }
}

/// The outside of what holds a box: padding and wall on every side, the skid underneath.
#[must_use]
pub fn outside(size: &CrateSize, [length, width, height]: [Length; 3]) -> [Length; 3] {
    let around = (size.padding + size.wall).scaled(2, 1);
    [length + around, width + around, height + around + size.skid]
}

/// The boxes one piece travels in: the design's packs, or one as large as the piece.
#[must_use]
pub fn packs(resolved: &Resolved<'_>) -> Vec<[Length; 3]> {
    let sizes = &resolved.sizes;
    if resolved.design.packs.is_empty() {
        return vec![resolved.envelope()];
    }
    let pack = |pack: &Pack| [pack.length.at(sizes), pack.width.at(sizes), pack.height.at(sizes)];
    resolved.design.packs.iter().map(pack).collect()
}
