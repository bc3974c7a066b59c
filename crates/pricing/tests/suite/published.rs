//! The engine against published values. Each check names its publication with the status it has in `shared/reference`:
//! PUB read, PUB/mem recalled, MEM from memory, CP common practice, DER derived there.

mod carriers;
mod checks;
mod delivery;
mod distance;
mod money;
mod postal;
mod slab;
mod timber;

use rust_decimal::Decimal;
use scantling_pricing::brief::Brief;
use scantling_pricing::design::resolve;
use scantling_pricing::takeoff::take_off;
use serde_json::{Value, json};

use crate::start::{brief, demo_value, selling, sound};

fn decimal(text: &str) -> Decimal {
    text.parse().unwrap()
}

fn close(actual: Decimal, expected: Decimal, within: &str, what: &str) {
    assert!((actual - expected).abs() <= decimal(within), "{what}: {actual} is not {expected}");
}

/// Cells of the rows of a table of a reference page whose header begins with these words.
fn page_rows<'p>(page: &'p str, header: &str) -> Vec<Vec<&'p str>> {
    let cells = |line: &'p str| line.trim_matches('|').split('|').map(str::trim).collect();
    let table = page.lines().skip_while(|line| !line.starts_with(header)).skip(2);
    table.take_while(|line| line.starts_with('|')).map(cells).collect()
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

/// A design that is one part of these sizes, of this material and no other.
fn one_part_of(material: &str, size: [&str; 3]) -> Value {
    let [long, wide, thick] = size;
    let dimensions = [("length", long), ("width", wide), ("height", thick)].map(
        |(key, size)| json!({ "key": key, "label": key, "least": size, "most": size, "step": "1 in", "default": size }),
    );
    json!([{
        "key": "part", "name": "Part", "summary": "One part.",
        "dimensions": dimensions,
        "roles": [{ "key": "of", "label": "Material", "materials": [material] }],
        "parts": [{
            "key": "part", "name": "Part", "role": "of", "length": long, "width": wide, "thickness": thick,
            "at": ["0 in", "0 in", "0 in"], "lies": "xyz"
        }]
    }])
}

fn the_part() -> Brief {
    brief(r#"{"scantling_brief": 1, "design": "part"}"#)
}

/// The demo book with that one part in white oak of this yield, sold in every class to 8/4 and very wide.
fn oak_part(size: [&str; 3], yielded: &str) -> Value {
    let mut value = demo_value();
    value["designs"] = one_part_of("white-oak", size);
    let oak = value["timbers"].as_array_mut().unwrap().iter_mut().find(|timber| timber["key"] == "white-oak").unwrap();
    oak["yields"] = json!({ "low": yielded, "likely": yielded, "high": yielded });
    oak["rates"] = json!({ "4/4": "1", "5/4": "1", "6/4": "1", "7/4": "1", "8/4": "1" });
    oak["widest"] = json!("60 in");
    oak["tally"] = json!("exact");
    value
}

fn net_and_bought(size: [&str; 3], yielded: &str) -> (Decimal, Decimal) {
    let book = selling(&sound(&oak_part(size, yielded)));
    let resolved = resolve(&book, &the_part()).unwrap();
    let takeoff = take_off(&book, &resolved).unwrap();
    let timber = takeoff.timbers.first().unwrap();
    (timber.net.value(), timber.bought.likely.value())
}
