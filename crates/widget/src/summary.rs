//! A brief in words, label by label: for the printed sheet, the mail, and the table of what was kept.

use scantling_pricing::book::PriceBook;
use scantling_pricing::brief::Brief;
use scantling_pricing::design::{Resolved, resolve};
use scantling_pricing::estimate::Estimate;
use scantling_pricing::measure::LengthUnit;

use crate::form::ELSEWHERE;
use crate::wording;
use crate::words::Words;

/// A label and what stands beside it.
pub(crate) type Row = (String, String);

/// The three outer sizes of a piece.
pub(crate) fn size(words: &Words, resolved: &Resolved<'_>, unit: LengthUnit) -> String {
    resolved.envelope().map(|size| words.length(size, unit)).join(" × ")
}

/// What each role is of.
pub(crate) fn woods(resolved: &Resolved<'_>) -> Vec<Row> {
    let row = |material: &scantling_pricing::design::Material<'_>| {
        Some((resolved.design.role(material.role)?.label.to_string(), material.stock.name().to_owned()))
    };
    resolved.materials.iter().filter_map(row).collect()
}

/// Everything a brief asks for, and how it is delivered by its estimate; nothing when the book can't fill it.
pub(crate) fn rows(words: &Words, book: &PriceBook, brief: &Brief, estimate: &Estimate, unit: LengthUnit) -> Vec<Row> {
    let Ok(resolved) = resolve(book, brief) else { return Vec::new() };
    let design = resolved.design;
    let mut rows = vec![
        (words.say(wording::PIECE), design.name.to_string()),
        (words.say(wording::SIZES), size(words, &resolved, unit)),
    ];
    rows.extend(woods(&resolved));
    rows.push((words.say(wording::FINISH), resolved.finish.name.to_string()));
    for group in &design.options {
        rows.extend(group.chosen(brief).map(|choice| (group.label.to_string(), choice.label.to_string())));
    }
    rows.push((words.say(wording::QUANTITY), resolved.quantity.to_string()));
    if let Some(place) = &brief.destination {
        let country = match place.country.as_str() {
            ELSEWHERE => words.say(wording::ANOTHER_COUNTRY),
            code => words.country(code),
        };
        let code = place.postal_code.as_ref().map_or("", |code| code.as_str());
        rows.push((words.say(wording::DESTINATION), [code, &country].join(" ").trim_start().to_owned()));
    }
    rows.extend(estimate.chosen.map(|mode| (words.say(wording::DELIVERY), words.say(wording::mode(mode)))));
    let terms = estimate.delivered().and_then(|delivered| delivered.terms.as_ref());
    rows.extend(terms.map(|terms| (words.say(wording::TERMS_OF_DELIVERY), wording::terms(words, terms))));
    rows
}
