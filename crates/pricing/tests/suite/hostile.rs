//! Books with one value swapped for something no maker means: read and priced in order, or refused, but never a panic, and never
//! an amount below zero; and a book with everything at its limit at once.

use proptest::prelude::*;
use rust_decimal::Decimal;
use scantling_pricing::book::values::Count;
use scantling_pricing::book::{PriceBook, ShopBook};
use scantling_pricing::brief::Brief;
use scantling_pricing::estimate::{Estimate, Line, estimate};
use serde_json::{Value, json};

use crate::properties::ordered;
use crate::random::{destination, holds};
use crate::start::{demo, demo_value, selling};

/// JSON pointers to everything in a document but itself.
pub(crate) fn places(value: &Value, at: &str, found: &mut Vec<String>) {
    let mut inner = |key: &str, value: &Value| {
        let place = format!("{at}/{}", key.replace('~', "~0").replace('/', "~1"));
        found.push(place.clone());
        places(value, &place, found);
    };
    match value {
        Value::Object(entries) => entries.iter().for_each(|(key, value)| inner(key, value)),
        Value::Array(items) => items.iter().enumerate().for_each(|(i, value)| inner(&i.to_string(), value)),
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}

/// What a slip, a wrong unit or a wrong program may leave behind.
fn wrong_values() -> Vec<Value> {
    let texts =
        ["0", "1", "10", "0.0001", "0.9", "1000000", "10000000", "x", "", "-1 in", "0 in", "1000 in", "0.000001 mm"];
    let others = [json!(null), json!(true), json!(0), json!(-1), json!(100_000), json!(1.5), json!([]), json!({})];
    texts.into_iter().map(Value::from).chain(others).collect()
}

/// One of each design, sent near, far, and where only a question goes.
fn everything_asked_for() -> Vec<Brief> {
    let towns = ["54601", "10001", "99501"].into_iter().cycle();
    let asked = |(design, town): (&scantling_pricing::design::Design, &str)| {
        let mut brief = Brief::new(design.key.clone());
        brief.destination = destination("US", town);
        brief
    };
    demo().designs.iter().zip(towns).map(asked).collect()
}

fn in_order(estimate: &Estimate) -> bool {
    let none_below_zero = |lines: &[Line]| lines.iter().all(|line| line.amount.amount() >= Decimal::ZERO);
    let ways = estimate.ways.iter().filter_map(|way| way.outcome.as_ref().ok());
    none_below_zero(&estimate.lines)
        && ordered(&estimate.works)
        && estimate.weight_pounds >= Decimal::ZERO
        && ways.into_iter().all(|way| none_below_zero(&way.lines) && ordered(&way.price))
}

#[test]
fn no_single_wrong_value_panics_or_makes_an_amount_below_zero() {
    let sound = demo_value();
    let mut all = Vec::new();
    places(&sound, "", &mut all);
    let asked = everything_asked_for();
    holds(350, &(prop::sample::select(all), prop::sample::select(wrong_values())), |(place, wrong)| {
        let mut book = sound.clone();
        *book.pointer_mut(&place).unwrap() = wrong.clone();
        let Ok(shop) = ShopBook::read(&book.to_string()) else { return Ok(()) };
        let book = selling(&shop);
        for priced in asked.iter().filter_map(|brief| estimate(&book, brief).ok()) {
            prop_assert!(in_order(&priced), "{} = {}: {:?}", place, wrong, priced);
        }
        Ok(())
    });
}

/// The most, or for a divisor the least, a price book may hold under a key.
fn limit(key: &str, value: &Value) -> Option<Value> {
    let most = match key {
        "rate" | "price" | "worth" | "leftover_worth" | "per_order" | "least_job" | "per_mile" | "per_trip"
        | "least" => {
            json!("10000000")
        }
        "per_square_foot" | "per_crate" | "per_hundredweight" | "home_delivery" | "liftgate" | "residential"
        | "limited_access" | "tolls" | "each" | "4/4" | "5/4" | "6/4" | "8/4" | "12/4" => {
            json!("10000000")
        }
        "low" | "likely" | "high" => json!("10000000"),
        "loss" | "overage" | "adds" | "fuel" | "work_factor" => json!("10"),
        "coverage" => json!("0.0001"),
        "coats" | "count" | "miles" | "farthest_miles" => json!(100_000),
        "panel_weight" | "batten_weight" | "runner_weight" | "weight" | "quantity" => json!("1000000"),
        "density" => json!("20"),
        "specific_gravity" => json!("1.5"),
        "correlation" | "carriage" => json!("1"),
        "rounding_step" => json!("0.01"),
        _ => return None,
    };
    let is_number = value.is_number() || value.as_str().is_some_and(|text| text.parse::<Decimal>().is_ok());
    is_number.then_some(most)
}

fn to_the_limit(value: &mut Value) {
    match value {
        Value::Object(entries) => {
            for (key, value) in entries {
                match limit(key, value) {
                    Some(most) => *value = most,
                    None if key == "tax" => value["rate"] = json!("1"),
                    None if key == "currencies" => value[0]["rate"] = json!("1000000"),
                    None if key == "yields" => *value = json!({ "low": "0.05", "likely": "0.05", "high": "0.05" }),
                    None => to_the_limit(value),
                }
            }
        }
        Value::Array(items) => items.iter_mut().for_each(to_the_limit),
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}

#[test]
fn a_book_at_all_its_limits_is_still_added_up() {
    let mut value = serde_json::to_value(demo()).unwrap();
    to_the_limit(&mut value);
    let book = PriceBook::read(&value.to_string()).unwrap_or_else(|faults| panic!("{faults:?}"));
    for mut brief in everything_asked_for() {
        brief.quantity = Count::new(50).unwrap();
        let design = book.design(&brief.design).unwrap();
        brief.dimensions = design.dimensions.iter().map(|d| (d.key.clone(), d.most)).collect();
        match estimate(&book, &brief) {
            Ok(priced) => {
                assert!(in_order(&priced), "{priced:?}");
                assert!(priced.works.likely.amount() > Decimal::from(10_000_000));
            }
            // Fifty consoles can't be cut from one slab.
            Err(problems) => assert_eq!(brief.design.as_str(), "slab-console", "{problems:?}"),
        }
    }
}

/// What a browser reads is not checked again: from tables that don't fit together, a brief is priced or refused. One that took for
/// ever would never let this end.
#[test]
fn a_published_book_with_a_wrong_value_never_panics_where_no_check_has_looked_at_it() {
    let sound = serde_json::to_value(demo()).unwrap();
    let mut all = Vec::new();
    places(&sound, "", &mut all);
    let asked = everything_asked_for();
    holds(350, &(prop::sample::select(all), prop::sample::select(wrong_values())), |(place, wrong)| {
        let mut book = sound.clone();
        *book.pointer_mut(&place).unwrap() = wrong;
        let Ok(book) = PriceBook::read_published(&book.to_string()) else { return Ok(()) };
        for brief in &asked {
            let _ = estimate(&book, brief);
        }
        Ok(())
    });
}
