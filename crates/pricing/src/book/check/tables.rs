//! The tables but designs and regions: keys that repeat, guesses out of order, names that lead nowhere.

use std::collections::BTreeSet;

use rust_decimal::Decimal;

use super::Faults;
use crate::book::delivery::Band;
use crate::book::document::DocumentError;
use crate::book::price_book::PriceBook;
use crate::book::shop::Deposit;
use crate::book::shop_book::ShopBook;
use crate::book::values::{Key, ThreePoint};
use crate::book::work::Operation;
use crate::money::Currency;

/// No one measures a slab at more stations.
const MOST_STATIONS: usize = 100;

/// Faults of the shared tables.
pub(super) fn faults(book: &PriceBook) -> Faults {
    let mut faults = Faults::default();
    shop(book, &mut faults);
    stock_keys(book, &mut faults);
    timbers(book, &mut faults);
    slabs(book, &mut faults);
    repeated("finishes", book.finishes.iter().map(|finish| &finish.key), &mut faults);
    repeated("hardware", book.hardware.iter().map(|item| &item.key), &mut faults);
    operations(&book.operations, &mut faults);
    freight(book, &mut faults);
    carriers(book, &mut faults);
    bench(book, &mut faults);
    for (table, empty) in [("timbers", book.timbers.is_empty()), ("finishes", book.finishes.is_empty())] {
        if empty {
            faults.push(DocumentError::unusable(table, "the table is empty; add at least one"));
        }
    }
    faults
}

/// Faults of what only a shop book has.
pub(super) fn private_faults(book: &ShopBook) -> Faults {
    let mut faults = Faults::default();
    for (i, operation) in book.operations.iter().enumerate() {
        let each = operation.each.map(|minutes| minutes.value());
        let set_up = operation.set_up.map(|minutes| minutes.value());
        in_order(&format!("operations[{i}].each"), &each, &mut faults);
        in_order(&format!("operations[{i}].set_up"), &set_up, &mut faults);
    }
    for (i, rate) in book.currencies.iter().enumerate() {
        currency(&format!("currencies[{i}].currency"), rate.currency.as_str(), &mut faults);
    }
    repeated("jobs", book.jobs.iter().map(|job| &job.key), &mut faults);
    faults.extend(super::ledger::faults(book).0);
    faults
}

fn shop(book: &PriceBook, faults: &mut Faults) {
    currency("shop.currency", book.shop.currency.as_str(), faults);
    let coin = Decimal::new(1, book.currency().minor_digits());
    let step = book.shop.rounding_step.value();
    if !(step % coin).is_zero() {
        let why = format!("{step} is no whole number of {coin}, the smallest coin there is; write a multiple of it");
        faults.push(DocumentError::unusable("shop.rounding_step", why));
    }
    if !book.shop.contact.as_str().contains('@') {
        faults.push(DocumentError::unusable(
            "shop.contact",
            "requests need a mail address; write one, as bench@shop.example",
        ));
    }
    deposits("shop.deposits", &book.shop.deposits, faults);
}

/// What is paid when must be all of it.
pub(super) fn deposits(path: &str, deposits: &[Deposit], faults: &mut Faults) {
    let sum: Decimal = deposits.iter().map(|deposit| deposit.share.value()).sum();
    if sum != Decimal::ONE {
        let why = format!("the shares add up to {sum}; make them add up to 1, the last payment included");
        faults.push(DocumentError::unusable(path, why));
    }
}

fn bench(book: &PriceBook, faults: &mut Faults) {
    let designs: BTreeSet<&Key> = book.designs.iter().map(|design| &design.key).collect();
    for (key, [fewest, most]) in &book.bench.design_weeks {
        let path = format!("bench.design_weeks.{key}");
        if !designs.contains(key) {
            faults.push(DocumentError::unusable(
                &path,
                "there is no such design; take it out, or publish the book again",
            ));
        }
        if fewest > most {
            faults.push(DocumentError::unusable(&path, "the fewest weeks are more than the most; swap them"));
        }
    }
}

fn currency(path: &str, code: &str, faults: &mut Faults) {
    if Currency::from_code(code).is_none() {
        let why = format!("“{code}” is not a currency that is known; write its ISO 4217 code, as USD");
        faults.push(DocumentError::unusable(path, why));
    }
}

/// Reports the second row of every key.
pub(super) fn repeated<'b>(table: &str, keys: impl Iterator<Item = &'b Key>, faults: &mut Faults) {
    let mut seen = BTreeSet::new();
    for (i, key) in keys.enumerate() {
        if !seen.insert(key) {
            let why = format!("“{key}” is already a key in this table; give one of the two another");
            faults.push(DocumentError::unusable(format!("{table}[{i}].key"), why));
        }
    }
}

/// Timbers, slabs, sheets and resins share one set of keys, since a role may name any of them.
fn stock_keys(book: &PriceBook, faults: &mut Faults) {
    let mut seen = BTreeSet::new();
    let timbers = book.timbers.iter().enumerate().map(|(i, row)| ("timbers", i, &row.key));
    let slabs = book.slabs.iter().enumerate().map(|(i, row)| ("slabs", i, &row.key));
    let sheets = book.sheets.iter().enumerate().map(|(i, row)| ("sheets", i, &row.key));
    let resins = book.resins.iter().enumerate().map(|(i, row)| ("resins", i, &row.key));
    for (table, i, key) in timbers.chain(slabs).chain(sheets).chain(resins) {
        if !seen.insert(key) {
            let why = format!("“{key}” already names a timber, slab, sheet or resin; give one of the two another key");
            faults.push(DocumentError::unusable(format!("{table}[{i}].key"), why));
        }
    }
}

fn timbers(book: &PriceBook, faults: &mut Faults) {
    for (i, timber) in book.timbers.iter().enumerate() {
        let yields = timber.yields.map(|share| share.value());
        in_order(&format!("timbers[{i}].yields"), &yields, faults);
        if timber.rates.is_empty() {
            let why = "no thickness has a rate; add at least one, as \"4/4\": \"9.80\"";
            faults.push(DocumentError::unusable(format!("timbers[{i}].rates"), why));
        }
        if timber.widest <= book.allowances.width || timber.longest <= book.allowances.length {
            let why =
                format!("the widest or longest board of {} is no more than its allowance; enlarge it", timber.name);
            faults.push(DocumentError::unusable(format!("timbers[{i}].widest"), why));
        }
    }
}

fn slabs(book: &PriceBook, faults: &mut Faults) {
    let timbers: BTreeSet<&Key> = book.timbers.iter().map(|timber| &timber.key).collect();
    for (i, slab) in book.slabs.iter().enumerate() {
        if !timbers.contains(&slab.timber) {
            let why = format!("there is no timber “{}”; name one of the table timbers", slab.timber);
            faults.push(DocumentError::unusable(format!("slabs[{i}].timber"), why));
        }
        if !(3..=MOST_STATIONS).contains(&slab.widths.len()) {
            let why = format!(
                "{} widths are given; measure at three stations or more, evenly from end to end, and {MOST_STATIONS} at most",
                slab.widths.len()
            );
            faults.push(DocumentError::unusable(format!("slabs[{i}].widths"), why));
        }
        let sizes = slab.widths.iter().chain([&slab.length, &slab.thickness]);
        if sizes.into_iter().any(|size| !size.is_positive()) {
            let why = "a length, width or thickness is not above zero; measure it again";
            faults.push(DocumentError::unusable(format!("slabs[{i}]"), why));
        }
    }
}

fn operations<T>(operations: &[Operation<T>], faults: &mut Faults) {
    if operations.is_empty() {
        faults.push(DocumentError::unusable(
            "operations",
            "no work is listed; add at least one operation, or labour is free",
        ));
    }
}

fn in_order(path: &str, points: &ThreePoint<Decimal>, faults: &mut Faults) {
    if points.low > points.likely || points.likely > points.high {
        let why = format!(
            "{}, {}, {} are out of order; put the low first and the high last",
            points.low, points.likely, points.high
        );
        faults.push(DocumentError::unusable(path, why));
    }
}

/// Parcel and white-glove tables: a heavier order must never cost less, and cartons must cost something.
fn carriers(book: &PriceBook, faults: &mut Faults) {
    let (parcels, white_glove) = (&book.delivery.parcels, &book.delivery.white_glove);
    repeated("delivery.parcels", parcels.iter().map(|table| &table.key), faults);
    repeated("delivery.white_glove", white_glove.iter().map(|table| &table.key), faults);
    for (i, table) in parcels.iter().enumerate() {
        let path = format!("delivery.parcels[{i}]");
        bands(&path, &table.bands, table.days_least > table.days_most, faults);
        if table.divisor.value() == 0 {
            faults.push(DocumentError::unusable(format!("{path}.divisor"), "it divides by nothing; write one, as 139"));
        }
    }
    for (i, table) in white_glove.iter().enumerate() {
        let path = format!("delivery.white_glove[{i}]");
        bands(&path, &table.bands, table.days_least > table.days_most, faults);
    }
    repeated("delivery.abroad", book.delivery.abroad.iter().map(|table| &table.key), faults);
    for (i, _) in book.delivery.abroad.iter().enumerate().filter(|(_, table)| table.days_least > table.days_most) {
        let why = "the fewest days are more than the most; swap them";
        faults.push(DocumentError::unusable(format!("delivery.abroad[{i}].days_least"), why));
    }
    if !parcels.is_empty() && book.delivery.cartons.is_none() {
        let why = "parcels go in cartons, and there are none; add delivery.cartons";
        faults.push(DocumentError::unusable("delivery.cartons", why));
    }
}

fn bands(path: &str, bands: &[Band], days_swapped: bool, faults: &mut Faults) {
    let rise = bands.is_sorted_by(|a, b| a.to < b.to && a.price <= b.price);
    if bands.is_empty() || !rise {
        let why = "the bands must rise, in weight and in price; put them in order, and write at least one";
        faults.push(DocumentError::unusable(format!("{path}.bands"), why));
    }
    if days_swapped {
        faults.push(DocumentError::unusable(
            format!("{path}.days_least"),
            "the fewest days are more than the most; swap them",
        ));
    }
}

fn freight(book: &PriceBook, faults: &mut Faults) {
    repeated("delivery.freight", book.delivery.freight.iter().map(|table| &table.key), faults);
    for (i, table) in book.delivery.freight.iter().enumerate() {
        let from: Vec<u32> = table.breaks.iter().map(|step| step.from.value()).collect();
        if from.first() != Some(&0) || !from.is_sorted_by(|a, b| a < b) {
            let why = "the weight breaks must start from 0 and rise; put them in order";
            faults.push(DocumentError::unusable(format!("delivery.freight[{i}].breaks"), why));
        }
        if !table.over_length.is_sorted_by(|a, b| a.from < b.from && a.adds <= b.adds) {
            let why = "a longer crate must not cost less: put the steps in order of length, each adding as much as the one before or more";
            faults.push(DocumentError::unusable(format!("delivery.freight[{i}].over_length"), why));
        }
        if table.longest.is_some_and(|most| table.over_length.iter().any(|step| step.from > most)) {
            let why = "no crate so long is taken as the last step of over_length begins with; raise it, or take that step out";
            faults.push(DocumentError::unusable(format!("delivery.freight[{i}].longest"), why));
        }
        if table.days_least > table.days_most {
            let why = "the fewest days are more than the most; swap them";
            faults.push(DocumentError::unusable(format!("delivery.freight[{i}].days_least"), why));
        }
    }
}
