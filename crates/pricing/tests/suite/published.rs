//! The engine against published values. Each check names its publication with the status it has in `shared/reference`:
//! PUB read, PUB/mem recalled, MEM from memory, CP common practice, DER derived there.

mod delivery;
mod money;
mod slab;
mod timber;

use rust_decimal::Decimal;
use scantling_pricing::design::resolve;
use scantling_pricing::measure::{DecimalMark, Length, LengthUnit, read_length};
use scantling_pricing::takeoff::take_off;
use serde_json::json;

use crate::start::{brief, demo_value, selling, sound};

fn decimal(text: &str) -> Decimal {
    text.parse().unwrap()
}

fn length(text: &str) -> Length {
    read_length(text, LengthUnit::Inch, DecimalMark::Point).unwrap()
}

fn close(actual: Decimal, expected: Decimal, within: &str, what: &str) {
    assert!((actual - expected).abs() <= decimal(within), "{what}: {actual} is not {expected}");
}

/// Rows of a comma-separated table whose quoted fields hold no line ends.
fn rows(csv: &str) -> Vec<Vec<String>> {
    let fields = |line: &str| {
        let (mut fields, mut field, mut quoted) = (Vec::new(), String::new(), false);
        for c in line.chars() {
            match c {
                '"' => quoted = !quoted,
                ',' if !quoted => fields.push(std::mem::take(&mut field)),
                c => field.push(c),
            }
        }
        fields.push(field);
        fields
    };
    csv.lines().skip(1).map(fields).collect()
}

/// `1 1/2`, `25/3` or `10.75`, as a decimal.
fn fraction(text: &str) -> Decimal {
    let part = |text: &str| match text.split_once('/') {
        Some((top, bottom)) => decimal(top) / decimal(bottom),
        None => decimal(text),
    };
    text.split(' ').map(part).sum()
}

/// A one-part design of these finished sizes, in a timber of this yield sold in every class.
fn one_part(size: [&str; 3], yielded: &str) -> scantling_pricing::book::PriceBook {
    let mut value = demo_value();
    let [long, wide, thick] = size;
    let dimension = |key: &str, size: &str| json!({ "key": key, "label": key, "least": size, "most": size, "step": "1 in", "default": size });
    value["designs"] = json!([{
        "key": "part", "name": "Part", "summary": "One part.",
        "dimensions": [dimension("length", long), dimension("width", wide), dimension("height", thick)],
        "roles": [{ "key": "wood", "label": "Wood", "materials": ["white-oak"] }],
        "parts": [{
            "key": "part", "name": "Part", "role": "wood", "length": long, "width": wide, "thickness": thick,
            "at": ["0 in", "0 in", "0 in"], "lies": "xyz"
        }]
    }]);
    let oak = value["timbers"].as_array_mut().unwrap().iter_mut().find(|timber| timber["key"] == "white-oak").unwrap();
    oak["yields"] = json!({ "low": yielded, "likely": yielded, "high": yielded });
    oak["rates"] = json!({ "4/4": "1", "5/4": "1", "6/4": "1", "7/4": "1", "8/4": "1" });
    oak["widest"] = json!("60 in");
    selling(&sound(&value))
}

fn net_and_bought(size: [&str; 3], yielded: &str) -> (Decimal, Decimal) {
    let book = one_part(size, yielded);
    let resolved = resolve(&book, &brief(r#"{"scantling_brief": 1, "design": "part"}"#)).unwrap();
    let takeoff = take_off(&book, &resolved).unwrap();
    let timber = takeoff.timbers.first().unwrap();
    (timber.net.value(), timber.bought.likely.value())
}
