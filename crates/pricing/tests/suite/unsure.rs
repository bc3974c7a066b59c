//! Which lines of a price are unsure, and which of them most: a buyer is told why the price is a range.

use rust_decimal::Decimal;
use scantling_pricing::book::values::{Amount, Share};
use scantling_pricing::cost::LineKind;
use scantling_pricing::estimate::{Estimate, estimate};
use serde_json::json;

use crate::start::{brief, demo, demo_value, selling, sound};

const TO_CHICAGO: &str = include_str!("../../../../shared/briefs/table-to-chicago.json");

fn sum(estimate: &Estimate) -> Decimal {
    estimate.unsure().iter().map(|line| line.doubt).sum()
}

/// Source: variances of guesses that have nothing to do with each other add up, and 8 in 10 of a normal distribution lie within
/// 1.28155 deviations of its mean; `shared/reference/trade/estimate_range.md`, sections 2 and 5.
#[test]
fn the_doubts_of_lines_that_share_nothing_add_up_to_the_range() {
    let mut book = demo();
    book.uncertainty.correlation = Share::new(Decimal::ZERO).unwrap();
    book.shop.rounding_step = Amount::new(Decimal::new(1, 2)).unwrap();
    book.past_jobs = None;
    let priced = estimate(&book, &brief(TO_CHICAGO)).unwrap();
    let price = priced.price();
    let half = (price.high.amount() - price.low.amount()) / Decimal::TWO;
    let deviations = Decimal::new(128_155, 5);
    let variance = half * half / (deviations * deviations);
    assert!((sum(&priced) - variance).abs() < variance / Decimal::from(1000), "{} is not {variance}", sum(&priced));
}

#[test]
fn the_least_sure_comes_first_and_what_is_sure_is_left_out() {
    let priced = estimate(&demo(), &brief(TO_CHICAGO)).unwrap();
    let unsure = priced.unsure();
    assert!(unsure.len() > 3, "{unsure:?}");
    assert!(unsure.windows(2).all(|pair| pair[0].doubt >= pair[1].doubt), "{unsure:?}");
    let may_miss = [LineKind::Timber, LineKind::Work, LineKind::Van, LineKind::Freight, LineKind::Parcel];
    assert!(unsure.iter().all(|line| may_miss.contains(&line.kind)), "{unsure:?}");
    let carried = priced.delivered().unwrap().lines.iter().filter(|line| line.doubt > Decimal::ZERO).count();
    assert!(carried > 0, "carriage may end off its table too");
    assert_eq!(priced.lines.iter().filter(|line| line.doubt > Decimal::ZERO).count() + carried, unsure.len());
}

#[test]
fn a_single_guess_makes_the_whole_range() {
    let mut book = demo_value();
    book["uncertainty"]["carriage"] = json!("0");
    for timber in book["timbers"].as_array_mut().unwrap() {
        timber["yields"] = json!({ "low": "0.7", "likely": "0.7", "high": "0.7" });
    }
    for operation in book["operations"].as_array_mut().unwrap() {
        let guessed = operation["name"] == "Mortise and tenon";
        for guess in ["each", "set_up"] {
            if !guessed {
                let likely = operation[guess]["likely"].clone();
                operation[guess] = json!({ "low": likely, "likely": likely, "high": likely });
            }
        }
    }
    book.as_object_mut().unwrap().remove("jobs");
    let priced =
        estimate(&selling(&sound(&book)), &brief(r#"{"scantling_brief": 1, "design": "hall-bench"}"#)).unwrap();
    let unsure: Vec<&str> = priced.unsure().iter().map(|line| line.name.as_str()).collect();
    assert_eq!(unsure, ["Joinery"]);
    assert_ne!(priced.works.low, priced.works.high);
}
