//! Why a way takes no such piece: what is over which limit, by how much, on the book of round figures (`worked.rs`) and on the demo.

use scantling_pricing::delivery::{Excess, Mode, Unreachable};
use scantling_pricing::estimate::estimate;
use scantling_pricing::measure::LengthUnit;
use serde_json::{Value, json};

use crate::delivered::{bench, way, worked};
use crate::start::{brief, demo, length, selling};
use crate::worked::goes_abroad;

const NEW_YORK: &str = r#""country": "US", "postal_code": "10001""#;
const OTTAWA: &str = r#""country": "CA", "postal_code": "K1A 0B1""#;

#[test]
fn freight_and_abroad_say_what_is_too_long_or_too_heavy() {
    // The crate of the bench is 54 in long and goes as 112 lb (`worked.rs`): limits that are just met take it.
    let (is, shorter) = (length("54 in"), length("53 63/64 in"));
    let table = json!({ "key": "far", "pounds_per_cubic_foot": "10", "per_hundredweight": "100", "least": "100", "papers": "50",
        "days_least": 10, "days_most": 30 });
    for (mode, name, to) in [(Mode::Freight, "freight", NEW_YORK), (Mode::Abroad, "abroad", OTTAWA)] {
        let limited = |longest: &str, heaviest: u32| {
            let mut book = serde_json::to_value(worked(&[])).unwrap();
            goes_abroad(&mut book, table.clone());
            book["delivery"][name][0]["longest"] = json!(longest);
            book["delivery"][name][0]["heaviest"] = json!(heaviest);
            let estimate = bench(&crate::start::sound(&book), to);
            way(&estimate, mode).map(|_| ()).map_err(Clone::clone)
        };
        assert_eq!(limited("54 in", 112), Ok(()), "{name}");
        let too_long = Excess::Length { is, most: shorter };
        assert_eq!(limited("53 63/64 in", 112), Err(Unreachable::TooLarge(too_long)), "{name}");
        let too_heavy = Excess::Weight { is: 112, most: 111 };
        assert_eq!(limited("54 in", 111), Err(Unreachable::TooLarge(too_heavy)), "{name}");
        let told = too_heavy.explain(LengthUnit::Inch);
        assert!(told.contains("112 lb") && told.contains("111 lb"), "{told}");
    }
}

#[test]
fn carrying_in_says_what_is_too_heavy() {
    // Two benches of 30.18 lb (`worked.rs`) are 60.36, counted as 61; and a table that ends at 50.
    let mut book = serde_json::to_value(worked(&[])).unwrap();
    book["delivery"]["white_glove"] =
        json!([{ "key": "in", "bands": [{ "to": 50, "price": "200" }], "days_least": 7, "days_most": 9 }]);
    book["regions"][0]["white_glove"] = json!("in");
    let prices = selling(&crate::start::sound(&book));
    let asked = format!(r#"{{"scantling_brief": 1, "design": "bench", "quantity": 2, "destination": {{{NEW_YORK}}}}}"#);
    let two = estimate(&prices, &brief(&asked)).unwrap();
    let too_heavy = Excess::Weight { is: 61, most: 50 };
    assert_eq!(way(&two, Mode::WhiteGlove), Err(&Unreachable::TooLarge(too_heavy)));
    let asked = asked.replace("\"quantity\": 2", "\"quantity\": 1");
    assert!(way(&estimate(&prices, &brief(&asked)).unwrap(), Mode::WhiteGlove).is_ok());
}

#[test]
fn a_parcel_says_which_of_its_limits_a_piece_is_over() {
    // The bench is 48 x 12 x 18 in; its carton, without padding and walls, the same: 48 and twice 30, 108 in; 10,368 cu in, 75 lb at 139. It
    // weighs 30.18 lb with a breath of carton: 31.
    let cartons = json!({ "size": { "padding": "0 in", "wall": "0 in", "skid": "0 in", "panel_weight": "0.0001" },
        "material": "0", "minutes": "0", "set_up": "0" });
    let taken = |key: &str, value: Value| {
        let mut table = json!({ "key": "near", "divisor": 139, "longest": "48 in", "length_and_girth": "108 in", "heaviest": 31,
            "bands": [{ "to": 75, "price": "50" }], "home_delivery": "0", "fuel": "0", "days_least": 1, "days_most": 2 });
        table[key] = value;
        let mut book = serde_json::to_value(worked(&[])).unwrap();
        book["delivery"]["cartons"] = cartons.clone();
        book["delivery"]["parcels"] = json!([table]);
        book["regions"][0]["parcel"] = json!("near");
        let estimate = bench(&crate::start::sound(&book), NEW_YORK);
        way(&estimate, Mode::Parcel).map(|_| ()).map_err(Clone::clone)
    };
    let over = |excess: Excess| Err(Unreachable::TooLarge(excess));
    assert_eq!(taken("key", json!("near")), Ok(()));
    let (is, most) = (length("48 in"), length("47 in"));
    assert_eq!(taken("longest", json!("47 in")), over(Excess::Length { is, most }));
    let (is, most) = (length("108 in"), length("107 in"));
    assert_eq!(taken("length_and_girth", json!("107 in")), over(Excess::LengthAndGirth { is, most }));
    assert_eq!(taken("heaviest", json!(30)), over(Excess::Weight { is: 31, most: 30 }));
    let short = |to: u32| json!([{ "to": to, "price": "50" }]);
    assert_eq!(taken("bands", short(74)), over(Excess::ChargedWeight { is: 75, most: 74 }));
    // Charged by its weight where that is more: at 1000 cu in a pound its space is 11 lb.
    let mut book = serde_json::to_value(worked(&[])).unwrap();
    book["delivery"]["cartons"] = cartons;
    book["delivery"]["parcels"] = json!([{ "key": "near", "divisor": 1000, "longest": "48 in", "length_and_girth": "108 in", "heaviest": 31,
        "bands": [{ "to": 20, "price": "50" }], "home_delivery": "0", "fuel": "0", "days_least": 1, "days_most": 2 }]);
    book["regions"][0]["parcel"] = json!("near");
    let estimate = bench(&crate::start::sound(&book), NEW_YORK);
    assert_eq!(way(&estimate, Mode::Parcel), Err(&Unreachable::TooLarge(Excess::Weight { is: 31, most: 20 })));
}

#[test]
fn a_way_that_is_asked_for_and_not_to_be_had_says_why_with_its_figures() {
    let asked = r#"{"scantling_brief": 1, "design": "trestle-table", "delivery": "parcel",
        "destination": {"country": "US", "postal_code": "60601"}}"#;
    let problems = estimate(&demo(), &brief(asked)).unwrap_err();
    let said = problems[0].to_string();
    assert!(said.contains("and its carriers take 165 in"), "{said}");
    // As the file has it.
    let written = serde_json::to_value(Unreachable::TooLarge(Excess::Weight { is: 112, most: 111 })).unwrap();
    assert_eq!(written, json!({ "too-large": { "weight": { "is": 112, "most": 111 } } }));
}
