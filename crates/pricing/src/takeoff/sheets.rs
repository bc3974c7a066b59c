//! Sheets and resin: bought by the whole sheet, and by the volume of the void with what is mixed beyond it.

use rust_decimal::Decimal;

use super::Takeoff;
use crate::book::stock::{Resin, Sheet};
use crate::book::work::Driver;
use crate::design::ResolvedPart;
use crate::measure::{Area, Length, Volume};
use crate::money::whole_up;
use crate::problem::Problem;

/// What a brief takes of one sheet material.
#[derive(Debug, Clone)]
pub struct SheetUse<'b> {
    /// The material.
    pub sheet: &'b Sheet,
    /// The parts' area.
    pub area: Area,
    /// Whole sheets to buy: the area with its waste, rounded up.
    pub sheets: u32,
}

/// What a brief takes of one resin.
#[derive(Debug, Clone)]
pub struct ResinUse<'b> {
    /// The resin.
    pub resin: &'b Resin,
    /// Mixed volume, with overage.
    pub mixed: Volume,
    /// Pours one upon another, of the deepest part: each cures before the next.
    pub pours: u32,
}

/// Takes a part's area off its sheets.
pub(super) fn take_sheet<'b>(
    sheet: &'b Sheet,
    part: &ResolvedPart<'_>,
    pieces: Decimal,
    takeoff: &mut Takeoff<'b>,
) -> Result<(), Problem> {
    let fits = part.length <= sheet.length && part.width <= sheet.width && part.thickness <= sheet.thickness;
    if !fits {
        return Err(Problem::SheetTooSmall { sheet: sheet.name.to_string(), part: part.part.name.to_string() });
    }
    let area = Area::of(part.length, part.width) * pieces;
    match takeoff.sheets.iter_mut().find(|used| used.sheet.key == sheet.key) {
        Some(used) => used.area = used.area + area,
        None => takeoff.sheets.push(SheetUse { sheet, area, sheets: 0 }),
    }
    Ok(())
}

/// Whole sheets: area x (1 + waste) over the sheet, rounded up. Source: `shared/reference/trade/yield.md` section 5.
pub(super) fn round_up(uses: &mut [SheetUse<'_>]) {
    for used in uses {
        let with_waste = used.area * (Decimal::ONE + used.sheet.waste.value());
        let one = Area::of(used.sheet.length, used.sheet.width);
        used.sheets = whole_up(with_waste.share_of(one).unwrap_or(Decimal::ZERO));
    }
}

/// Takes a part's void off its resin. It is poured as deep as the wood is before flattening: the finished thickness and what
/// stands proud of it. Pours: that depth over the deepest single pour, rounded up.
/// Source: `shared/reference/trade/resin.md` sections 1 (common practice) and 3.
pub(super) fn take_resin<'b>(resin: &'b Resin, part: &ResolvedPart<'_>, pieces: Decimal, takeoff: &mut Takeoff<'b>) {
    let depth = part.thickness + resin.proud.unwrap_or(Length::ZERO);
    let void = Area::of(part.length, part.width).by(depth);
    let mixed = void * (pieces * (Decimal::ONE + resin.overage.value()));
    let pours = depth.covered_by(resin.deepest_pour);
    takeoff.drivers.add(Driver::Pour, Decimal::from(pours) * pieces, Decimal::ONE);
    match takeoff.resins.iter_mut().find(|used| used.resin.key == resin.key) {
        Some(used) => {
            used.mixed = used.mixed + mixed;
            used.pours = used.pours.max(pours);
        }
        None => takeoff.resins.push(ResinUse { resin, mixed, pours }),
    }
}
