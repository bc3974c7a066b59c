//! The takeoff: how much of everything a brief needs, before any money.
//!
//! Boards, slabs, sheets and resin come from the parts; what drives the work is counted on the way.

mod boards;
mod drivers;
mod nest;
mod sheets;
mod slab;
mod weight;

use serde::Serialize;

use crate::book::read::reads;
use crate::bounded::Bounded;

pub use boards::{Blank, TimberUse, blank};
pub use drivers::{Drive, Drivers};
pub use nest::{Layout, Piece, Run, nest};
pub use sheets::{ResinUse, SheetUse};
pub use slab::{Flattening, SlabUse, flattened, flattening, slab_area};
pub use weight::{resin_weight, timber_weight};

use crate::book::PriceBook;
use crate::book::price_book::Stock;
use crate::book::stock::Finish;
use crate::book::values::Percent;
use crate::book::work::Driver;
use crate::design::{Resolved, ResolvedPart};
use crate::measure::{Area, BoardFeet, Length, Weight};
use crate::problem::Problem;
use rust_decimal::Decimal;

/// What a blank is cut larger than the part by, and how wet the shop's timber is.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Allowances {
    /// Added to a part's length.
    pub length: Length,
    /// Added to the width of every stave, for its two edges.
    pub width: Length,
    /// Taken off both faces of a slab together once bow, cup and twist are out.
    pub slab_skim: Length,
    /// Moisture content timber is worked and weighed at, percent.
    pub moisture: Percent,
}

reads!(Allowances { length, width, slab_skim, moisture });

/// How much of everything a brief needs.
#[derive(Debug, Clone)]
pub struct Takeoff<'b> {
    /// Board timber, by species and thickness class.
    pub timbers: Vec<TimberUse<'b>>,
    /// Slabs.
    pub slabs: Vec<SlabUse<'b>>,
    /// Sheets.
    pub sheets: Vec<SheetUse<'b>>,
    /// Resins.
    pub resins: Vec<ResinUse<'b>>,
    /// The surface finished, all pieces together.
    pub finished: Area,
    /// What drives the work.
    pub drivers: Drivers,
    /// The weight of one of each part, in the order of the parts.
    pub part_weights: Vec<Weight>,
    /// The weight of one piece.
    pub weight: Weight,
}

impl Takeoff<'_> {
    /// Board feet in the blanks, before waste: all species together.
    #[must_use]
    pub fn net_board_feet(&self) -> BoardFeet {
        self.timbers.iter().map(|timber| timber.net).sum()
    }
}

/// Takes off everything a resolved brief needs.
///
/// # Errors
/// Every part its material can't give.
pub fn take_off<'b>(book: &'b PriceBook, resolved: &Resolved<'b>) -> Result<Takeoff<'b>, Vec<Problem>> {
    let mut problems = Vec::new();
    let mut takeoff = Takeoff {
        timbers: Vec::new(),
        slabs: Vec::new(),
        sheets: Vec::new(),
        resins: Vec::new(),
        finished: Area::ZERO,
        drivers: Drivers::default(),
        part_weights: Vec::with_capacity(resolved.parts.len()),
        weight: Weight::ZERO,
    };
    for part in &resolved.parts {
        let pieces = Decimal::from(part.count()) * Decimal::from(resolved.quantity);
        count_part(part, pieces, &mut takeoff);
        let taken = match part.material.stock {
            Stock::Timber(timber) => boards::take(timber, part, pieces, &book.allowances, &mut takeoff),
            Stock::Slab(slab, timber) => {
                slab::take((slab, timber), part, resolved.quantity, &book.allowances, &mut takeoff)
            }
            Stock::Sheet(sheet) => {
                let count = part.count().saturating_mul(resolved.quantity);
                sheets::take_sheet(sheet, part, count, &mut takeoff)
            }
            Stock::Resin(resin) => {
                sheets::take_resin(resin, part, pieces, &mut takeoff);
                Ok(())
            }
        };
        problems.extend(taken.err());
        let weight = weight::of_part(part, book.allowances.moisture);
        takeoff.weight = takeoff.weight + weight * Decimal::from(part.count());
        takeoff.part_weights.push(weight);
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    boards::round_up(&mut takeoff.timbers);
    sheets::lay_out(&mut takeoff.sheets);
    count_order(book, resolved, &mut takeoff);
    Ok(takeoff)
}

/// Whether a part can be cut from its material.
///
/// # Errors
/// Why not.
pub(crate) fn fits(part: &ResolvedPart<'_>, allowances: &Allowances) -> Result<(), Problem> {
    match part.material.stock {
        Stock::Timber(timber) => blank(timber, part, allowances).map(drop),
        Stock::Slab(slab, _) => slab::cut(slab, part, allowances).map(drop),
        Stock::Sheet(sheet) => sheets::piece(sheet, part, 1).map(drop),
        Stock::Resin(_) => Ok(()),
    }
}

/// Units of a finish to buy for so much surface: area x coats / coverage x (1 + loss).
///
/// Source: `shared/reference/trade/finish.md` section 1.
#[must_use]
pub fn finish_units(finish: &Finish, finished: Area) -> Decimal {
    let coated = finished.in_square_feet() * finish.coats.decimal();
    coated.over(finish.coverage.value()).unwrap_or(Decimal::ZERO) * (Decimal::ONE + finish.loss.value())
}

/// What every part drives, whatever it is made of.
fn count_part(part: &ResolvedPart<'_>, pieces: Decimal, takeoff: &mut Takeoff<'_>) {
    let factor = drivers::work_factor(part);
    let area = part.finished_area() * pieces;
    takeoff.finished = takeoff.finished + area;
    let drivers = &mut takeoff.drivers;
    drivers.add(Driver::Part, pieces, factor);
    drivers.add(Driver::SandedSquareFoot, area.in_square_feet(), factor);
    drivers.add(Driver::EdgeFoot, part.shaped_length().in_feet() * pieces, factor);
    for joint in part.joints() {
        drivers.add(Driver::Joint(joint.kind.clone()), joint.count.decimal() * pieces, factor);
    }
}

/// What the order as a whole drives.
fn count_order(book: &PriceBook, resolved: &Resolved<'_>, takeoff: &mut Takeoff<'_>) {
    let quantity = Decimal::from(resolved.quantity);
    for used in &resolved.hardware {
        if let Some(item) = book.hardware_item(&used.item) {
            takeoff.weight = takeoff.weight + Weight::pounds(item.weight.value() * used.count.decimal());
        }
        takeoff.drivers.add(Driver::Hardware, used.count.decimal() * quantity, Decimal::ONE);
    }
    for work in &resolved.work {
        takeoff.drivers.add(Driver::Named(work.work.clone()), work.quantity.value() * quantity, Decimal::ONE);
    }
    let finish = resolved.finish;
    let coats = takeoff.finished.in_square_feet() * finish.coats.decimal();
    takeoff.drivers.add(Driver::Coated(finish.method.clone()), coats, Decimal::ONE);
    takeoff.drivers.add(Driver::Pound, takeoff.weight.in_pounds() * quantity, Decimal::ONE);
    takeoff.drivers.add(Driver::Piece, quantity, Decimal::ONE);
    takeoff.drivers.add(Driver::Job, Decimal::ONE, Decimal::ONE);
}
