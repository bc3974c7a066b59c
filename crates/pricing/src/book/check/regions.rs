//! Regions: what they name must exist, and the last must take everyone.

use super::tables::repeated;
use crate::book::delivery::{Climate, Region};
use crate::book::document::DocumentError;
use crate::book::price_book::PriceBook;

/// Faults of the regions.
pub(super) fn faults(book: &PriceBook) -> Vec<DocumentError> {
    let mut faults = Vec::new();
    repeated("regions", book.regions.iter().map(|region| &region.key), &mut faults);
    for (i, region) in book.regions.iter().enumerate() {
        if let Some(table) = region.freight.as_ref().filter(|key| book.delivery.freight.iter().all(|t| t.key != **key))
        {
            let why = format!("there is no freight table “{table}”; name one of delivery.freight");
            faults.push(DocumentError::unusable(format!("regions[{i}].freight"), why));
        }
        if region.van_miles.is_some() && book.delivery.van.is_none() {
            let why = "the van has no rates; add delivery.van, or take the miles out";
            faults.push(DocumentError::unusable(format!("regions[{i}].van_miles"), why));
        }
        if let Climate::Humidity(air) = region.indoors
            && air.least.value() > air.most.value()
        {
            let why = "the driest weeks are damper than the dampest; write the least and the most the other way round";
            faults.push(DocumentError::unusable(format!("regions[{i}].indoors.humidity"), why));
        }
        for (j, code) in region.countries.iter().chain(&region.states).enumerate() {
            if code.as_str().len() != 2 || !code.as_str().bytes().all(|b| b.is_ascii_uppercase()) {
                let why =
                    format!("“{code}” is not two capital letters; write countries as US and states as WI (entry {j})");
                faults.push(DocumentError::unusable(format!("regions[{i}]"), why));
            }
        }
        for (j, prefix) in region.prefixes.iter().enumerate().filter(|(_, prefix)| !is_prefix(prefix.as_str())) {
            let why = format!(
                "“{prefix}” begins no postal code; write capitals and digits without spaces, as 546, or a run of one length, as 546-549"
            );
            faults.push(DocumentError::unusable(format!("regions[{i}].prefixes[{j}]"), why));
        }
        let takes_all = region.countries.is_empty() && region.states.is_empty() && region.prefixes.is_empty();
        let last = i.saturating_add(1) == book.regions.len();
        if takes_all != last {
            let why = if last {
                "the last region must take everyone else: take its countries, states and prefixes out, or add one after it"
            } else {
                "this region takes everyone, so those after it are never reached; move it last, or say whom it is for"
            };
            faults.push(DocumentError::unusable(format!("regions[{i}]"), why));
        }
    }
    shadowed(&book.regions, &mut faults);
    if book.regions.is_empty() {
        faults
            .push(DocumentError::unusable("regions", "there is no region; add one at least, a last resort that asks"));
    }
    faults
}

/// A region after one that takes the whole of its countries is never reached: the first match wins.
fn shadowed(regions: &[Region], faults: &mut Vec<DocumentError>) {
    let whole = |region: &Region| region.states.is_empty() && region.prefixes.is_empty();
    for (i, region) in regions.iter().enumerate().filter(|(_, region)| !region.countries.is_empty()) {
        let takes_it = |earlier: &&Region| {
            whole(earlier) && region.countries.iter().all(|country| earlier.countries.contains(country))
        };
        if let Some(earlier) = regions.iter().take(i).find(takes_it) {
            let why =
                format!("“{}” before it takes everyone there, so it is never reached; move it first", earlier.name);
            faults.push(DocumentError::unusable(format!("regions[{i}]"), why));
        }
    }
}

/// `546`, or a run such as `546-549`: anything else would match no one, and say nothing.
fn is_prefix(text: &str) -> bool {
    let (first, last) = text.split_once('-').unwrap_or((text, text));
    let plain = |end: &str| !end.is_empty() && end.bytes().all(|b| b.is_ascii_uppercase() || b.is_ascii_digit());
    plain(first) && plain(last) && first.len() == last.len() && first <= last
}
