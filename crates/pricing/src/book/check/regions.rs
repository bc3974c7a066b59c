//! Regions: what they name must exist, and the last must take everyone.

use std::collections::BTreeSet;

use super::Faults;
use super::tables::repeated;
use crate::book::delivery::{Climate, Region};
use crate::book::document::DocumentError;
use crate::book::price_book::PriceBook;
use crate::book::values::{Key, Text};
use crate::delivery::{origin, proper_country};

/// The shop's own country goes by its code, as those of the regions do.
fn home(country: &Text) -> Faults {
    let mut faults = Faults::default();
    if !is_code(country.as_str()) {
        let why =
            format!("“{country}” is not two capital letters; write the country by its code of ISO 3166-1, as US or CA");
        faults.push(DocumentError::unusable("shop.country", why));
    }
    other_codes(std::slice::from_ref(country), "shop.country", &mut faults);
    faults
}

/// A code that destinations are not read as would reach no one.
fn other_codes(countries: &[Text], path: &str, faults: &mut Faults) {
    let named = countries.iter().filter_map(|country| Some((country, proper_country(country.as_str())?)));
    faults.each(named, |(country, proper)| {
        let why = format!("“{country}” is not the code of that country in ISO 3166-1; write {proper}");
        DocumentError::unusable(path, why)
    });
}

/// Faults of the regions.
pub(super) fn faults(book: &PriceBook) -> Faults {
    let mut faults = home(&book.shop.country);
    repeated("regions", book.regions.iter().map(|region| &region.key), &mut faults);
    let tables: BTreeSet<&Key> = book.delivery.freight.iter().map(|table| &table.key).collect();
    let parcels: BTreeSet<&Key> = book.delivery.parcels.iter().map(|table| &table.key).collect();
    let abroad: BTreeSet<&Key> = book.delivery.abroad.iter().map(|table| &table.key).collect();
    let white_glove: BTreeSet<&Key> = book.delivery.white_glove.iter().map(|table| &table.key).collect();
    for (i, region) in book.regions.iter().enumerate() {
        if let Some(table) = region.freight.as_ref().filter(|key| !tables.contains(key)) {
            let why = format!("there is no freight table “{table}”; name one of delivery.freight");
            faults.push(DocumentError::unusable(format!("regions[{i}].freight"), why));
        }
        for (key, named, known) in [
            ("parcel", &region.parcel, &parcels),
            ("white_glove", &region.white_glove, &white_glove),
            ("abroad", &region.abroad, &abroad),
        ] {
            if let Some(table) = named.as_ref().filter(|table| !known.contains(table)) {
                let why = format!(
                    "there is no such table “{table}”; name one of delivery.{key}{}",
                    if key == "parcel" { "s" } else { "" }
                );
                faults.push(DocumentError::unusable(format!("regions[{i}].{key}"), why));
            }
        }
        van(book, region, &format!("regions[{i}].van"), &mut faults);
        let other = region.currency.as_ref().filter(|code| book.currencies.iter().all(|rate| rate.currency != **code));
        if let Some(code) = other.filter(|code| code.as_str() != book.shop.currency.as_str()) {
            let why = format!("there is no rate of {code}; add one to currencies, or take it out");
            faults.push(DocumentError::unusable(format!("regions[{i}].currency"), why));
        }
        if let Climate::Humidity(air) = region.indoors
            && air.least.value() > air.most.value()
        {
            let why = "the driest weeks are damper than the dampest; write the least and the most the other way round";
            faults.push(DocumentError::unusable(format!("regions[{i}].indoors.humidity"), why));
        }
        // A postal area of the United Kingdom may be one letter.
        let countries = region.countries.iter().map(|country| (country, is_code(country.as_str())));
        let states = region.states.iter().map(|state| (state, is_code(state.as_str()) || is_letter(state.as_str())));
        let wrong = countries.chain(states).enumerate().filter(|(_, (_, sound))| !sound);
        faults.each(wrong, |(j, (code, _))| {
            let why =
                format!("“{code}” is not two capital letters; write countries as US and states as WI (entry {j})");
            DocumentError::unusable(format!("regions[{i}]"), why)
        });
        other_codes(&region.countries, &format!("regions[{i}].countries"), &mut faults);
        let prefixes = region.prefixes.iter().enumerate();
        faults.each(prefixes.filter(|(_, prefix)| !is_prefix(prefix.as_str())), |(j, prefix)| {
            let why = format!(
                "“{prefix}” begins no postal code; write capitals and digits without spaces, as 546, or a run of one length, as 546-549"
            );
            DocumentError::unusable(format!("regions[{i}].prefixes[{j}]"), why)
        });
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
    home_abroad(book.shop.country.as_str(), &book.regions, &mut faults);
    if book.regions.is_empty() {
        faults
            .push(DocumentError::unusable("regions", "there is no region; add one at least, a last resort that asks"));
    }
    faults
}

/// A van needs rates and, where miles are not stated, to know where it starts from.
fn van(book: &PriceBook, region: &Region, path: &str, faults: &mut Faults) {
    let Some(to) = &region.van else { return };
    if book.delivery.van.is_none() {
        let why = "the van has no rates; add delivery.van, or take this out";
        faults.push(DocumentError::unusable(path, why));
    }
    let lost = || origin(book).and_then(|shop| book.atlas.point(&shop)).is_none();
    if to.miles.is_none() && book.atlas.is_filled() && lost() {
        let why = format!(
            "where {} lies is not known here, so that no distance can be reckoned from it; state the miles one way, or mend shop.postal_code",
            book.shop.postal_code
        );
        faults.push(DocumentError::unusable(format!("{path}.miles"), why));
    }
}

/// A region after those that take the whole of its countries is never reached: the first match wins.
fn shadowed(regions: &[Region], faults: &mut Faults) {
    // There are no more codes than pairs of letters, so that this stays short.
    let mut taken: Vec<(&str, &Region)> = Vec::new();
    for (i, region) in regions.iter().enumerate().filter(|(_, region)| !region.countries.is_empty()) {
        let codes = || region.countries.iter().map(Text::as_str).filter(|code| is_code(code));
        let by = |code: &str| taken.iter().find(|(known, _)| *known == code).map(|(_, region)| *region);
        let mut earlier = codes().map(by);
        if let Some(first) = earlier.next().flatten().filter(|_| earlier.all(|region| region.is_some())) {
            let why = format!("“{}” before it takes everyone there, so it is never reached; move it first", first.name);
            faults.push(DocumentError::unusable(format!("regions[{i}]"), why));
        }
        if region.states.is_empty() && region.prefixes.is_empty() {
            let new: Vec<&str> = codes().filter(|code| by(code).is_none()).collect();
            taken.extend(new.into_iter().map(|code| (code, region)));
        }
    }
}

/// Where buyers of the shop's own country are, wherever in it, nothing is sent abroad: no border lies between, and no duty is due.
fn home_abroad(home: &str, regions: &[Region], faults: &mut Faults) {
    let takes_home = |region: &Region| {
        let there = region.countries.is_empty() || region.countries.iter().any(|code| code.as_str() == home);
        there && region.states.is_empty() && region.prefixes.is_empty()
    };
    let at_home = regions.iter().enumerate().find(|(_, region)| takes_home(region));
    if let Some((i, region)) = at_home.filter(|(_, region)| is_code(home) && region.abroad.is_some()) {
        let why = format!(
            "“{}” takes buyers in {home}, which is the shop's own country, and would send abroad to them; put a region for {home} before it, take this out, or mend shop.country",
            region.name
        );
        faults.push(DocumentError::unusable(format!("regions[{i}].abroad"), why));
    }
}

/// `US`, `WI`.
fn is_code(text: &str) -> bool {
    text.len() == 2 && text.bytes().all(|b| b.is_ascii_uppercase())
}

/// `B`, `M`.
fn is_letter(text: &str) -> bool {
    text.len() == 1 && text.bytes().all(|b| b.is_ascii_uppercase())
}

/// `546`, or a run such as `546-549`: anything else would match no one, and say nothing.
fn is_prefix(text: &str) -> bool {
    let (first, last) = text.split_once('-').unwrap_or((text, text));
    let plain = |end: &str| !end.is_empty() && end.bytes().all(|b| b.is_ascii_uppercase() || b.is_ascii_digit());
    plain(first) && plain(last) && first.len() == last.len() && first <= last
}
