//! Past jobs: they shift and widen ranges, and move nothing else. The model itself is checked in `src/learning.rs`.

use proptest::prelude::*;
use rust_decimal::Decimal;
use scantling_pricing::book::PriceBook;
use scantling_pricing::estimate::{Estimate, estimate};
use serde_json::{Value, json};

use crate::random::{briefs, holds};
use crate::start::{demo_value, selling, sound};

/// A demo book with jobs that took so many times the hours estimated.
fn after(ratios: &[&str]) -> PriceBook {
    let mut value = demo_value();
    let job = |(i, ratio): (usize, &&str)| {
        let mut job = value["jobs"][0].clone();
        job["key"] = json!(format!("job-{i}"));
        job["hours_estimated"] = json!("1");
        job["hours"] = json!({ "milling": ratio });
        job
    };
    let jobs: Vec<Value> = ratios.iter().enumerate().map(job).collect();
    value["jobs"] = json!(jobs);
    selling(&sound(&value))
}

fn width(priced: &Estimate) -> Decimal {
    priced.works.high.amount() - priced.works.low.amount()
}

#[test]
fn fewer_than_three_jobs_are_told_to_no_one() {
    assert_eq!(after(&[]).past_jobs, None);
    assert_eq!(after(&["1.7", "0.9"]).past_jobs, None);
    let told = after(&["1.7", "0.9", "1.2"]).past_jobs.unwrap();
    // Whole percents: of a rate with more digits, a job could be worked out.
    assert!(told.hours_take.value().scale() <= 2 && told.miss_by.value().scale() <= 2, "{told:?}");
}

#[test]
fn a_finished_job_whose_hours_nobody_wrote_down_teaches_nothing_of_hours() {
    let mut value = demo_value();
    let told = selling(&sound(&value)).past_jobs;
    let mut silent = value["jobs"][0].clone();
    silent["key"] = json!("silent");
    silent["hours"] = json!({});
    let jobs = value["jobs"].as_array_mut().unwrap();
    jobs.push(silent.clone());
    assert_eq!(selling(&sound(&value)).past_jobs, told);
    // Nor does it count among the fewest that are told.
    let jobs = value["jobs"].as_array_mut().unwrap();
    jobs.truncate(2);
    jobs.push(silent);
    assert_eq!(selling(&sound(&value)).past_jobs, None);
}

#[test]
fn past_jobs_move_the_range_and_nothing_else() {
    let (none, over, even) = (after(&[]), after(&["1.3", "1.4", "1.2", "1.35"]), after(&["1", "1", "1", "1"]));
    holds(60, &briefs(), |brief| {
        let Ok(plain) = estimate(&none, &brief) else { return Ok(()) };
        let (over, even) = (estimate(&over, &brief).unwrap(), estimate(&even, &brief).unwrap());
        for other in [&over, &even] {
            prop_assert_eq!(&plain.lines, &other.lines);
            prop_assert_eq!(plain.works.likely, other.works.likely);
            prop_assert!(other.works.low.amount() <= other.works.likely.amount());
            prop_assert!(other.works.likely.amount() <= other.works.high.amount());
        }
        // Jobs that came out even never narrow what the hours' own guesses say; jobs that ran over push its high end up.
        prop_assert!(width(&even) >= width(&plain) - Decimal::from(5));
        prop_assert!(over.works.high.amount() >= even.works.high.amount());
        Ok(())
    });
}

#[test]
fn one_wild_job_moves_little() {
    let mut jobs = vec!["1"; 20];
    let usual = after(&jobs).past_jobs.unwrap();
    jobs.push("900");
    let wild = after(&jobs).past_jobs.unwrap();
    assert_eq!(usual.hours_take.value(), Decimal::ONE);
    // A slip of the pen counts as ten times, ln 10 = 2.303. By hand: scatter² = (4 x 0.04 + 2.303² x 20/21 + 21/22 x 0.110²) / 25 = 0.209;
    // the habit is (2.303 / 0.209) / (1 / 0.04 + 21 / 0.209) = 11.03 / 125.6 = 0.088, e^0.088 = 1.09.
    assert_eq!(wild.hours_take.value(), Decimal::new(109, 2));
}
