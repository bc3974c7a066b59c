//! Sheets and resin: whole sheets with the parts laid out on them, and the volume of the void with what is mixed beyond it.

use rust_decimal::Decimal;

use super::Takeoff;
use super::nest::{Layout, Piece, nest};
use crate::book::stock::{Resin, Sheet};
use crate::book::work::Driver;
use crate::design::ResolvedPart;
use crate::measure::{Area, Length, Volume};
use crate::problem::Problem;

/// What a brief takes of one sheet material.
#[derive(Debug, Clone)]
pub struct SheetUse<'b> {
    /// The material.
    pub sheet: &'b Sheet,
    /// The parts.
    pub pieces: Vec<Piece>,
    /// How whole sheets are cut for them.
    pub layout: Layout,
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

/// What is cut for a part.
///
/// # Errors
/// When the sheet is of another thickness, which no one planes, or the part fits on none.
pub(super) fn piece(sheet: &Sheet, part: &ResolvedPart<'_>, count: u32) -> Result<Piece, Problem> {
    let name = part.part.name.to_string();
    if part.thickness != sheet.thickness {
        return Err(Problem::SheetThickness {
            sheet: sheet.name.to_string(),
            part: name,
            needs: part.thickness,
            has: sheet.thickness,
        });
    }
    let piece = Piece { name, length: part.length, width: part.width, count };
    match nest(sheet, std::slice::from_ref(&piece)) {
        Some(_) => Ok(piece),
        None => Err(Problem::SheetTooSmall { sheet: sheet.name.to_string(), part: piece.name }),
    }
}

/// Takes a part off its sheets.
pub(super) fn take_sheet<'b>(
    sheet: &'b Sheet,
    part: &ResolvedPart<'_>,
    count: u32,
    takeoff: &mut Takeoff<'b>,
) -> Result<(), Problem> {
    let piece = piece(sheet, part, count)?;
    match takeoff.sheets.iter_mut().find(|used| used.sheet.key == sheet.key) {
        Some(used) => used.pieces.push(piece),
        None => takeoff.sheets.push(SheetUse { sheet, pieces: vec![piece], layout: Layout::default() }),
    }
    Ok(())
}

/// Lays out every sheet material's parts together. Each fits by itself, so all of them do.
pub(super) fn lay_out(uses: &mut [SheetUse<'_>]) {
    for used in uses {
        used.layout = nest(used.sheet, &used.pieces).unwrap_or_default();
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
