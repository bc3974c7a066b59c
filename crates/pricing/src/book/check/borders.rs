//! Borders: what crosses one must have its price in the book.

use super::Faults;
use crate::book::delivery::{CrateRate, Region};
use crate::book::document::DocumentError;
use crate::book::price_book::PriceBook;
use crate::book::values::Text;
use crate::delivery::{customs_border, is_regulated_wood, table_of, wood_packaging_rule};

/// Faults of what is sent across a border.
pub(super) fn faults(book: &PriceBook) -> Faults {
    let mut faults = Faults::default();
    for (i, region) in book.regions.iter().enumerate() {
        unmarked(book, region, &format!("regions[{i}]"), &mut faults);
        undue(book, region, &format!("regions[{i}].abroad"), &mut faults);
    }
    faults
}

/// Timber that must be marked on the way, and nothing that says what that adds. A region that names no country is left to the engine: by a
/// carrier whose crates would have to be marked, it offers nothing there.
fn unmarked(book: &PriceBook, region: &Region, path: &str, faults: &mut Faults) {
    let rates = &book.delivery;
    let timber = |rate: &CrateRate| is_regulated_wood(&rate.size);
    if !(timber(&rates.crating) || rates.pallets.as_ref().is_some_and(timber)) || rates.marked_timber.is_some() {
        return;
    }
    let home = book.shop.country.as_str();
    let across = region.countries.iter().map(Text::as_str).find(|country| wood_packaging_rule(home, country));
    let priced = table_of(book, region).is_some_and(|table| table.marked_timber.is_some());
    let (Some(country), false) = (across, priced) else { return };
    for (way, table) in [("freight", &region.freight), ("abroad", &region.abroad)] {
        if table.is_some() {
            let why = format!(
                "the timber of crates to {country} must be treated and marked (ISPM 15), and nothing says what that adds; add delivery.marked_timber or, where crates are of panels made with glue throughout, solid_wood: \"0 in\" to their size"
            );
            faults.push(DocumentError::unusable(format!("{path}.{way}"), why));
        }
    }
}

/// Duty in the price of what crosses no border where any is due.
fn undue(book: &PriceBook, region: &Region, path: &str, faults: &mut Faults) {
    let home = book.shop.country.as_str();
    let inside = region.countries.iter().map(Text::as_str).find(|country| !customs_border(home, country));
    let duty = table_of(book, region).and_then(|table| table.duty.as_ref());
    if let (Some(country), Some(_)) = (inside, duty) {
        let why = format!(
            "no duty is due from {home} to {country}, and this table has one in it; name another table, or take its duty out"
        );
        faults.push(DocumentError::unusable(path, why));
    }
}
