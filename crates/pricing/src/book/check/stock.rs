//! Stock, allowances and crates: sizes that can't be, a gravity no wood has, and stock whose own work no operation is driven by.

use std::collections::BTreeSet;

use rust_decimal::Decimal;

use super::Faults;
use crate::book::document::DocumentError;
use crate::book::price_book::PriceBook;
use crate::book::values::Key;
use crate::book::work::Driver;
use crate::measure::Length;

/// Heavier than this no timber can be: it is about what solid cell wall without a pore weighs (from memory, no source read).
const HEAVIEST: Decimal = Decimal::from_parts(15, 0, 0, false, 1);

/// Faults of what is bought and of what is added to it.
pub(super) fn faults(book: &PriceBook) -> Faults {
    let mut faults = Faults::default();
    sizes(book, &mut faults);
    gravities(book, &mut faults);
    work(book, &mut faults);
    faults
}

/// An allowance below zero would make a blank smaller than its part; a pour of no depth would be poured no times.
fn sizes(book: &PriceBook, faults: &mut Faults) {
    let (allowances, size) = (&book.allowances, &book.delivery.crating.size);
    not_below_zero("allowances.length", allowances.length, faults);
    not_below_zero("allowances.width", allowances.width, faults);
    not_below_zero("allowances.slab_skim", allowances.slab_skim, faults);
    not_below_zero("delivery.crating.size.padding", size.padding, faults);
    not_below_zero("delivery.crating.size.wall", size.wall, faults);
    not_below_zero("delivery.crating.size.skid", size.skid, faults);
    not_below_zero("delivery.crating.size.solid_wood", size.solid_wood.unwrap_or(Length::ZERO), faults);
    if let Some(cartons) = &book.delivery.cartons {
        not_below_zero("delivery.cartons.size.padding", cartons.size.padding, faults);
        not_below_zero("delivery.cartons.size.wall", cartons.size.wall, faults);
        not_below_zero("delivery.cartons.size.skid", cartons.size.skid, faults);
    }
    for (i, slab) in book.slabs.iter().enumerate() {
        for (key, rise) in [("bow", slab.bow), ("cup", slab.cup), ("twist", slab.twist)] {
            not_below_zero(&format!("slabs[{i}].{key}"), rise, faults);
        }
    }
    for (i, sheet) in book.sheets.iter().enumerate() {
        for (key, size) in [("length", sheet.length), ("width", sheet.width), ("thickness", sheet.thickness)] {
            above_zero(&format!("sheets[{i}].{key}"), size, faults);
        }
        for (key, size) in [("kerf", sheet.kerf), ("trim", sheet.trim)] {
            not_below_zero(&format!("sheets[{i}].{key}"), size, faults);
        }
    }
    for (i, resin) in book.resins.iter().enumerate() {
        above_zero(&format!("resins[{i}].deepest_pour"), resin.deepest_pour, faults);
        not_below_zero(&format!("resins[{i}].proud"), resin.proud.unwrap_or(Length::ZERO), faults);
    }
}

fn not_below_zero(path: &str, size: Length, faults: &mut Faults) {
    if (-size).is_positive() {
        faults.push(DocumentError::unusable(path, format!("{size} is below zero; write 0 in or more")));
    }
}

fn above_zero(path: &str, size: Length, faults: &mut Faults) {
    if !size.is_positive() {
        faults.push(DocumentError::unusable(path, format!("{size} is no size; write one above zero")));
    }
}

fn gravities(book: &PriceBook, faults: &mut Faults) {
    for (i, timber) in book.timbers.iter().enumerate() {
        let gravity = timber.specific_gravity.value();
        if gravity > HEAVIEST {
            let why = format!(
                "no timber has a specific gravity of {gravity}; write oven-dry weight on green volume, as 0.60, at most {HEAVIEST}"
            );
            faults.push(DocumentError::unusable(format!("timbers[{i}].specific_gravity"), why));
        }
    }
}

/// Flattening, pouring and coating come with the stock: without an operation they would be free.
fn work(book: &PriceBook, faults: &mut Faults) {
    let drivers = || book.operations.iter().map(|operation| &operation.driver);
    let driven = |driver: &Driver| drivers().any(|known| known == driver);
    let coating = drivers().filter_map(|driver| if let Driver::Coated(key) = driver { Some(key) } else { None });
    let coating: BTreeSet<&Key> = coating.collect();
    if !book.slabs.is_empty() && !driven(&Driver::SlabSquareFoot) {
        let why = "no operation is driven by “slab-square-foot”, so flattening would cost nothing; add one";
        faults.push(DocumentError::unusable("slabs", why));
    }
    if !book.resins.is_empty() && !driven(&Driver::Pour) {
        let why = "no operation is driven by “pour”, so casting would cost nothing; add one";
        faults.push(DocumentError::unusable("resins", why));
    }
    for (i, finish) in book.finishes.iter().enumerate() {
        if !coating.contains(&finish.method) {
            let why = format!(
                "no operation is driven by “coated” with “{}”, so putting it on would cost nothing; add one, or name another method",
                finish.method
            );
            faults.push(DocumentError::unusable(format!("finishes[{i}].method"), why));
        }
    }
}
