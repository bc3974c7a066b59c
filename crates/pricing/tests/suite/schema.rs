//! The committed JSON Schemas against an independent validator: the demo's documents hold, and what the schema refuses the reader refuses too.

use jsonschema::Validator;
use proptest::prelude::*;
use scantling_pricing::book::document::{DocumentError, Fault};
use scantling_pricing::book::{PriceBook, ShopBook, Text};
use scantling_pricing::brief::Brief;
use scantling_pricing::estimate::estimate;
use scantling_pricing::kept::{Kept, KeptFault};
use scantling_pricing::request::{Contact, Request};
use serde_json::{Value, json};

use crate::hostile::places;
use crate::random::{briefs, holds};
use crate::start::{DEMO, brief, demo};

macro_rules! schema {
    ($name:literal) => {{
        let schema = include_str!(concat!("../../../../shared/schema/", $name, ".json"));
        jsonschema::validator_for(&serde_json::from_str(schema).unwrap()).unwrap()
    }};
}

fn value(text: &str) -> Value {
    serde_json::from_str(text).unwrap()
}

fn must_hold(schema: &Validator, document: &Value) {
    let faults: Vec<String> =
        schema.iter_errors(document).map(|fault| format!("{}: {fault}", fault.instance_path())).collect();
    assert_eq!(faults, Vec::<String>::new());
}

fn request(text: &str) -> Request {
    let brief = brief(text);
    let priced = estimate(&demo(), &brief).unwrap();
    let words = |text: &str| Text::new(text).unwrap();
    let from =
        Contact { name: words("A. Buyer"), mail: words("buyer@home.example"), message: Some(words("By spring?")) };
    Request::new(brief, &priced, from).unwrap()
}

const TABLE: &str = include_str!("../../../../shared/briefs/table-to-chicago.json");

#[test]
fn every_document_of_the_demo_holds() {
    let worked = include_str!("../../../../shared/books/worked-example-shop.json");
    let public = include_str!("../../../../public/price-book.json");
    must_hold(&schema!("shop-book"), &value(DEMO));
    must_hold(&schema!("shop-book"), &value(worked));
    must_hold(&schema!("price-book"), &value(public));
    must_hold(&schema!("request"), &serde_json::to_value(request(TABLE)).unwrap());
    must_hold(&schema!("kept"), &value(include_str!("../kept/1.json")));
    let briefs_and_estimates = [
        (TABLE, include_str!("../../../../shared/estimates/table-to-chicago.json")),
        (
            include_str!("../../../../shared/briefs/bench-nearby-pair.json"),
            include_str!("../../../../shared/estimates/bench-nearby-pair.json"),
        ),
        (
            include_str!("../../../../shared/briefs/river-table-abroad.json"),
            include_str!("../../../../shared/estimates/river-table-abroad.json"),
        ),
        (
            include_str!("../../../../shared/briefs/console-to-seattle.json"),
            include_str!("../../../../shared/estimates/console-to-seattle.json"),
        ),
        (
            include_str!("../../../../shared/briefs/shelf-collected.json"),
            include_str!("../../../../shared/estimates/shelf-collected.json"),
        ),
    ];
    for (brief, estimate) in briefs_and_estimates {
        must_hold(&schema!("brief"), &value(brief));
        must_hold(&schema!("estimate"), &value(estimate));
    }
}

#[test]
fn every_estimate_and_what_is_written_of_a_book_holds() {
    let (schema, book) = (schema!("estimate"), demo());
    holds(60, &briefs(), |brief| {
        if let Ok(priced) = estimate(&book, &brief) {
            must_hold(&schema, &serde_json::to_value(&priced).unwrap());
        }
        Ok(())
    });
    let shop = ShopBook::read(DEMO).unwrap();
    must_hold(&schema!("shop-book"), &serde_json::to_value(&shop).unwrap());
    must_hold(&schema!("price-book"), &serde_json::to_value(demo()).unwrap());
}

#[test]
fn a_request_reads_back_as_it_was_written_and_says_what_is_wrong() {
    let written = request(TABLE);
    let text = serde_json::to_string(&written).unwrap();
    assert_eq!(Request::read(&text), Ok(written));
    let told = |from: &str, to: &str| Request::read(&text.replacen(from, to, 1)).unwrap_err().to_string();
    assert!(told("buyer@home.example", "at home").starts_with("from.mail: this is no mail address"));
    assert!(
        told("\"scantling_brief\":1", "\"scantling_brief\":2")
            .starts_with("brief.scantling_brief: the brief is of version 2")
    );
    assert!(told("\"scantling_request\":1", "\"scantling_request\":3").contains("use a newer program"));
}

/// A document with one thing wrong with it, or not: a value replaced, a key taken out, added or misspelt.
fn spoilt(document: &Value, place: &str, how: usize) -> Value {
    let mut spoilt = document.clone();
    let replacements =
        [json!(null), json!(true), json!(7), json!(-1), json!(1.5), json!(""), json!("words"), json!([]), json!({})];
    if let Some(replacement) = replacements.get(how) {
        *spoilt.pointer_mut(place).unwrap() = replacement.clone();
        return spoilt;
    }
    let Some((parent, key)) = place.rsplit_once('/') else { return spoilt };
    let key = key.replace("~1", "/").replace("~0", "~");
    match spoilt.pointer_mut(parent).unwrap() {
        Value::Object(table) => {
            let held = table.remove(&key);
            if how > replacements.len() {
                table.insert(format!("{key}x"), held.unwrap());
            }
        }
        Value::Array(items) => drop(items.remove(key.parse().unwrap())),
        _ => {}
    }
    spoilt
}

/// Whether a reader's fault is one a schema can see: of shape, key or word, not of sense.
fn of_shape(fault: &DocumentError) -> bool {
    !matches!(fault.fault, Fault::Unusable(_))
}

/// Spoils a document in many ways; each time, schema and reader must agree on its shape.
fn agree(cases: u32, schema: &Validator, document: &Value, read: impl Fn(&str) -> Result<(), Vec<DocumentError>>) {
    let mut found = vec![String::new()];
    places(document, "", &mut found);
    holds(cases, &(any::<prop::sample::Index>(), 0..11usize), |(place, how)| {
        let place = found[place.index(found.len())].as_str();
        let spoilt = spoilt(document, place, how);
        let (sound, read) = (schema.is_valid(&spoilt), read(&spoilt.to_string()));
        match &read {
            Ok(()) => {
                prop_assert!(sound, "the schema refuses {} spoilt by {how}, the reader doesn't", place);
            }
            Err(faults) if faults.iter().any(of_shape) => {
                prop_assert!(!sound, "the schema lets {} spoilt by {how} pass: {faults:?}", place);
            }
            Err(_) => {}
        }
        Ok(())
    });
}

#[test]
fn schema_and_reader_agree_on_every_spoilt_document() {
    let one = |read: Result<(), DocumentError>| read.map_err(|fault| vec![fault]);
    agree(700, &schema!("shop-book"), &value(DEMO), |text| ShopBook::read(text).map(drop));
    agree(500, &schema!("price-book"), &serde_json::to_value(demo()).unwrap(), |text| PriceBook::read(text).map(drop));
    agree(300, &schema!("brief"), &value(TABLE), |text| one(Brief::read(text).map(drop)));
    let request = serde_json::to_value(request(TABLE)).unwrap();
    agree(300, &schema!("request"), &request, |text| one(Request::read(text).map(drop)));
    agree(300, &schema!("kept"), &value(include_str!("../kept/1.json")), |text| match Kept::read(text) {
        Err(KeptFault::Damaged(fault)) => Err(vec![fault]),
        Err(KeptFault::Newer) => Err(vec![DocumentError::unusable("", "of a newer version")]),
        Ok(_) => Ok(()),
    });
}
