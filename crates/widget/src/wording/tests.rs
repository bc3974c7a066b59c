//! Every file of words against what the code asks for.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;
use scantling_pricing::cost::{LineKind, QuantityUnit};
use scantling_pricing::delivery::Unreachable;
use scantling_pricing::estimate::Line;
use scantling_pricing::measure::{LengthUnit, Quantity};
use scantling_pricing::money::{Currency, Money};

use super::{COUNTED, SENTENCES, WORDS, faults, findings, in_units, passing_on, quantity, unreachable};
use crate::words::Words;

/// The files, by their language.
const FILES: [(&str, &str); 4] = [
    ("en", include_str!("../../element/words/en.json")),
    ("de", include_str!("../../element/words/de.json")),
    ("fr", include_str!("../../element/words/fr.json")),
    ("es", include_str!("../../element/words/es.json")),
];

type Holes<'t> = BTreeSet<&'t str>;

/// What the code asks for: every key with its holes. The other forms of a counted text may leave holes out.
fn asked() -> BTreeMap<String, Holes<'static>> {
    let plain = WORDS.iter().chain(passing_on::WORDS).chain(&["language"]).map(|key| ((*key).to_owned(), Holes::new()));
    let with = |(key, holes): &(&str, &'static [&'static str])| ((*key).to_owned(), holes.iter().copied().collect());
    let forms = |(key, holes): &(&str, &'static [&'static str])| {
        [("one", *holes), ("other", *holes)]
            .map(|(form, holes)| (format!("{key}.{form}"), holes.iter().copied().collect()))
    };
    let sentences =
        [SENTENCES, faults::SENTENCES, findings::SENTENCES, passing_on::SENTENCES].into_iter().flatten().map(with);
    let counted = [COUNTED, findings::COUNTED, passing_on::COUNTED].into_iter().flatten().flat_map(forms);
    plain.chain(sentences).chain(counted).collect()
}

fn table(text: &str) -> BTreeMap<String, String> {
    let read: Vec<(String, String)> = {
        let value: serde_json::Value = serde_json::from_str(text).unwrap();
        value.as_object().unwrap().iter().map(|(key, text)| (key.clone(), text.as_str().unwrap().to_owned())).collect()
    };
    let written = text.lines().filter(|line| line.trim_start().starts_with('"')).count();
    assert_eq!(read.len(), written, "a key stands twice");
    read.into_iter().collect()
}

/// The names between braces.
fn holes(text: &str) -> Holes<'_> {
    text.split('{').skip(1).map(|rest| rest.split('}').next().unwrap()).collect()
}

#[test]
fn every_file_has_just_the_keys_and_holes_the_code_asks_for() {
    let asked = asked();
    for (language, text) in FILES {
        let table = table(text);
        assert_eq!(table["language"], language);
        let (has, wants): (BTreeSet<_>, BTreeSet<_>) = (table.keys().collect(), asked.keys().collect());
        assert_eq!(has.difference(&wants).collect::<Vec<_>>(), Vec::<&&String>::new(), "{language}.json has too much");
        assert_eq!(wants.difference(&has).collect::<Vec<_>>(), Vec::<&&String>::new(), "{language}.json lacks");
        for (key, wanted) in &asked {
            let found = holes(&table[key]);
            let good = if key.ends_with(".one") { found.is_subset(wanted) } else { found == *wanted };
            assert!(good, "{language}.json, {key}: holes {found:?}, of {wanted:?}");
        }
    }
}

#[test]
fn nothing_is_left_in_english() {
    let english = table(FILES[0].1);
    // The same in every language, or in a few: numbers, units and words that travelled.
    let alike = |key: &str, text: &str| {
        let words: Vec<&str> = text.split(|c: char| !c.is_alphabetic()).filter(|word| word.len() > 2).collect();
        let named = holes(text);
        words.iter().all(|word| named.iter().any(|hole| hole.contains(word))) || ["options", "piece"].contains(&key)
    };
    for (language, text) in &FILES[1..] {
        for (key, text) in table(text) {
            assert!(text != english[&key] || alike(&key, &text), "{language}.json, {key}: {text}");
            for leftover in [" the ", " and ", " with ", " your ", " it "] {
                assert!(!text.contains(leftover), "{language}.json, {key}: {text}");
            }
        }
    }
}

#[test]
fn a_buyer_reads_quantities_in_the_system_of_the_lengths() {
    const KINDS: [Quantity; 5] =
        [Quantity::Timber, Quantity::Surface, Quantity::Resin, Quantity::Weight, Quantity::Distance];
    let hundred = Decimal::ONE_HUNDRED;
    for (language, text) in FILES {
        let words = Words::read(text, language.into()).unwrap();
        let of = |unit| KINDS.map(|kind| in_units(&words, kind, hundred, unit));
        // 100 board feet, square feet, cubic inches, pounds and miles, by the factors of `Quantity`.
        assert_eq!(of(LengthUnit::Millimetre), ["0.236 m³", "9.29 m²", "1.639 l", "45.4 kg", "161 km"], "{language}");
        if language == "en" {
            assert_eq!(of(LengthUnit::Inch), ["100 board feet", "100 sq ft", "100 cu in", "100 lb", "100 miles"]);
        }
        let line = |kind, unit| Line {
            kind,
            name: String::new(),
            quantity: Some(hundred),
            unit: Some(unit),
            amount: Money::zero(Currency::USD),
            doubt: Decimal::ZERO,
        };
        for (line, metric, inch) in [
            (line(LineKind::Van, QuantityUnit::Miles), "161 km", "100 m"),
            (line(LineKind::Freight, QuantityUnit::Pounds), "45.4 kg", "100 lb"),
            (line(LineKind::Parcel, QuantityUnit::Pounds), "45.4 kg", "100 lb"),
            (line(LineKind::Sheet, QuantityUnit::Sheets), "100 ", "100 "),
        ] {
            let said =
                [LengthUnit::Millimetre, LengthUnit::Inch].map(|unit| quantity(&words, &line, unit).to_lowercase());
            assert!(said[0].contains(metric) && said[1].contains(inch), "{language}: {said:?}");
        }
        let far = Unreachable::TooFar { miles: 200, farthest: 100 };
        let said = unreachable(&words, &far, LengthUnit::Millimetre);
        assert!(said.contains("322 km") && said.contains("161 km"), "{said}");
    }
}

#[test]
fn texts_are_whole_and_clean() {
    for (language, text) in FILES {
        for (key, text) in table(text) {
            assert!(!text.trim().is_empty() && text.trim() == text, "{language}.json, {key}");
            assert!(!text.contains("  ") && !text.contains("..."), "{language}.json, {key}: {text}");
            assert_eq!(
                text.matches('“').count() + text.matches('„').count() + text.matches('«').count() > 0,
                text.matches(['”', '“', '»']).count() > 0,
                "{language}.json, {key}: quotes are open: {text}"
            );
            let first = text.chars().next().unwrap();
            let sentence = ["caution.", "problem.", "length.", "check."].iter().any(|group| key.starts_with(group));
            assert!(!sentence || text.ends_with('.'), "{language}.json, {key}: {text}");
            assert!(!sentence || !first.is_lowercase(), "{language}.json, {key}: {text}");
        }
    }
}

#[test]
fn a_way_without_a_line_of_cover_says_so() {
    // The engine has no line of insurance in the maker's own van; who brings it answers for it.
    for ((language, text), word) in FILES.into_iter().zip(["cover", "Versicherung", "assurance", "seguro"]) {
        let table = table(text);
        assert!(table["includes.van"].contains(word), "{language}.json");
    }
}
