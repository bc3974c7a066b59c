//! What jobs would correct: by hand, against simulated shops whose truth is known, and what must never move.

use rust_decimal::Decimal;
use rust_decimal::prelude::{FromPrimitive, ToPrimitive};
use scantling_pricing::book::ShopBook;
use scantling_pricing::book::values::Key;
use scantling_pricing::brief::Brief;
use scantling_pricing::estimate::estimate;
use scantling_pricing::publish::{Basis, fold};
use scantling_pricing::suggestions::{Subject, Suggestion, effects, learned_range, suggestions};
use serde_json::{Value, json};
use statrs::distribution::{ContinuousCDF, Normal};

use crate::start::{demo_shop, demo_value, sound};
use crate::thousand::Numbers;

fn decimal(text: &str) -> Decimal {
    text.parse().unwrap()
}

/// A job on the bench of the worked book: hours of its one stage of milling, and board feet of plain oak.
fn job(number: usize, milling: &str, bought: &str) -> Value {
    json!({ "key": format!("job-{number}"), "design": "bench", "finished": "2026-10-01", "quantity": 1,
        "brief": { "scantling_brief": 1, "design": "bench" }, "estimated": "570", "paid": "570", "hours_estimated": "4",
        "hours": { "milling": milling }, "bought": { "plain-oak": bought }, "materials": "140", "carriage": "0" })
}

fn shop(jobs: Vec<Value>) -> ShopBook {
    crate::delivered::worked(&[("/jobs", json!(jobs))])
}

fn of_stage(found: &[Suggestion]) -> &Suggestion {
    found.iter().find(|one| matches!(one.subject, Subject::Stage(_))).unwrap()
}

fn of_timber(found: &[Suggestion]) -> &Suggestion {
    found.iter().find(|one| matches!(one.subject, Subject::Timber(_))).unwrap()
}

#[test]
fn one_job_is_drawn_two_thirds_of_the_way_back_by_hand() {
    // The bench's milling is 73.50 minutes as expected (worked.rs), 1.225 h. Two hours and 27 minutes are twice that: ln 2 = 0.6931. How far
    // apart jobs lie is 0.20 as is usual, counted as four, and how far this one is out: (4 x 0.04 + 1/2 x 0.6931²) / 5 = 0.08005. The habit,
    // by 0.20 before: (0.6931 / 0.08005) / (25 + 1 / 0.08005) = 8.659 / 37.49 = 0.2310, e^ of it 1.26. The next: 0.2310 +- 1.28155 x
    // root(1 / 37.49 + 0.08005) = 0.4187: 0.83 to 1.91.
    let found = suggestions(&shop(vec![job(1, "2.45", "13")])).unwrap();
    let milling = of_stage(&found);
    assert_eq!((milling.jobs, milling.seen, milling.factor), (1, decimal("2"), decimal("1.26")));
    assert_eq!(milling.next, (decimal("0.83"), decimal("1.91")));
    // 9.75 board feet are in its blanks (worked.rs). 13 bought are a yield of 0.75, as the book's three points have it: no change.
    assert_eq!(of_timber(&found).factor, Decimal::ONE);
}

#[test]
fn no_job_and_no_brief_suggest_nothing() {
    assert_eq!(suggestions(&shop(Vec::new())).unwrap(), []);
    let mut bare = job(1, "2.45", "20");
    bare.as_object_mut().unwrap().remove("brief");
    assert_eq!(suggestions(&shop(vec![bare])).unwrap(), []);
}

#[test]
fn one_wild_job_among_twenty_moves_little() {
    let mut jobs: Vec<Value> = (0..20).map(|i| job(i, "1.225", "13")).collect();
    let even = suggestions(&shop(jobs.clone())).unwrap();
    assert_eq!(of_stage(&even).factor, Decimal::ONE);
    jobs.push(job(20, "900", "13"));
    // As in learning.rs by hand: a slip of the pen counts as ten times, and moves the habit to 1.09.
    assert_eq!(of_stage(&suggestions(&shop(jobs)).unwrap()).factor, decimal("1.09"));
}

#[test]
fn one_wild_job_alone_moves_little_too() {
    // Held to ten times, ln 10 = 2.303: it lies so far out that it tells more of how far apart jobs lie than of a habit. By hand:
    // (4 x 0.04 + 1/2 x 2.303²) / 5 = 0.562; (2.303 / 0.562) / (25 + 1 / 0.562) = 4.096 / 26.78 = 0.153, e^0.153 = 1.17.
    let found = suggestions(&shop(vec![job(1, "900", "13")])).unwrap();
    let milling = of_stage(&found);
    assert_eq!((milling.seen, milling.factor), (decimal("10"), decimal("1.17")));
    // The same from two of them is a habit: (0.16 + 2/3 x 2.303²) / 6 = 0.616; 2 x 2.303 / 0.616 / (25 + 2 / 0.616) = 0.265, e^ of it 1.30.
    let found = suggestions(&shop(vec![job(1, "900", "13"), job(2, "900", "13")])).unwrap();
    assert_eq!(of_stage(&found).factor, decimal("1.30").normalize());
}

#[test]
fn simulated_shops_are_found_out() {
    // Ratios drawn from a log-normal of known median by an independent library; with 60 jobs 0.15 apart the posterior's own deviation is
    // 0.15 / root 60 = 0.019, so that 4 of them are 0.08.
    let standard = Normal::new(0.0, 1.0).unwrap();
    let mut numbers = Numbers(20_261_126);
    for truth in [0.7_f64, 1.0, 1.35, 2.0] {
        let mut draw = || {
            let share = (f64::from(numbers.next()) + 0.5) / (f64::from(Numbers::MOST) + 1.0);
            truth * (0.15 * standard.inverse_cdf(share)).exp()
        };
        let jobs = (0..60).map(|i| job(i, &format!("{:.4}", 1.225 * draw()), &format!("{:.4}", 13.0 / draw())));
        let found = suggestions(&shop(jobs.collect())).unwrap();
        for one in [of_stage(&found), of_timber(&found)] {
            let log = (one.factor.to_f64().unwrap() / truth).ln();
            assert!(log.abs() < 0.08, "{one:?} of {truth}");
            assert!(one.next.0 < one.factor && one.factor < one.next.1);
        }
    }
}

#[test]
fn taking_one_changes_what_it_names_and_nothing_else() {
    let shop = demo_shop();
    let found = suggestions(&shop).unwrap();
    assert!(found.len() >= 5, "{found:?}");
    for one in &found {
        let (mut before, mut after) = (json!(shop), json!(one.applied(&shop)));
        match &one.subject {
            Subject::Stage(stage) => {
                let rows = before["operations"]
                    .as_array_mut()
                    .unwrap()
                    .iter_mut()
                    .zip(after["operations"].as_array_mut().unwrap());
                for (old, new) in rows.filter(|(old, _)| old["stage"] == json!(stage)) {
                    let likely = |row: &Value| decimal(row["each"]["likely"].as_str().unwrap());
                    let (expected, got) = (likely(old) * one.factor, likely(new));
                    assert!((expected - got).abs() <= decimal("0.005"), "{stage}: {expected}, {got}");
                    (*old, *new) = (Value::Null, Value::Null);
                }
            }
            Subject::Timber(key) => {
                let place = shop.timbers.iter().position(|timber| timber.key == *key).unwrap();
                before["timbers"][place]["yields"] = Value::Null;
                after["timbers"][place]["yields"] = Value::Null;
            }
        }
        assert_eq!(before, after, "{:?}", one.subject);
        // A suggestion to work longer, or to get less out of a board, never makes a piece cheaper.
        let basket: Vec<Brief> = shop.designs.iter().map(|design| Brief::new(design.key.clone())).collect();
        let dearer = matches!(one.subject, Subject::Stage(_)) == (one.factor > Decimal::ONE);
        for effect in effects(std::slice::from_ref(one), &shop, &basket).unwrap().remove(0) {
            let (before, after) = (effect.before.amount(), effect.after.amount());
            assert!(if dearer { after >= before } else { after <= before }, "{:?}: {before} to {after}", one.subject);
        }
    }
}

#[test]
fn a_yield_stays_a_share_whatever_is_suggested() {
    let mut value = demo_value();
    // A dozen slips of the pen alike: of one alone little is believed.
    let slip = |number: usize| {
        json!({ "key": format!("slip-{number}"), "design": "hall-bench", "finished": "2026-10-01", "quantity": 1,
            "brief": { "scantling_brief": 1, "design": "hall-bench", "materials": { "wood": "white-oak" } }, "estimated": "1", "paid": "1",
            "hours_estimated": "1", "hours": {}, "bought": { "white-oak": "0.1" }, "materials": "1", "carriage": "1" })
    };
    value["jobs"] = (0..12).map(slip).collect();
    let shop = sound(&value);
    let found = suggestions(&shop).unwrap();
    let taken = found[0].applied(&shop);
    let yields = &taken.timbers.iter().find(|timber| timber.key.as_str() == "white-oak").unwrap().yields;
    assert!(found[0].factor > Decimal::from_f64(2.0).unwrap());
    assert_eq!([yields.low, yields.likely, yields.high].map(|share| share.value() <= Decimal::ONE), [true; 3]);
}

#[test]
fn what_was_left_stays_left_until_a_later_job_speaks_of_it() {
    let mut jobs = vec![job(1, "2.45", "20")];
    let found = suggestions(&shop(jobs.clone())).unwrap();
    let (milling, oak) = (of_stage(&found), of_timber(&found));
    let left = json!([milling.refused().unwrap()]);
    assert_eq!(left, json!([{ "subject": { "stage": "Milling" }, "jobs": 1 }]));
    // Left, it is in the book, and the other is not touched by it; nor is any price.
    let with = |jobs: &[Value]| crate::delivered::worked(&[("/jobs", json!(jobs)), ("/refused", left.clone())]);
    let book = with(&jobs);
    assert_eq!(json!(book)["refused"], left);
    assert_eq!(suggestions(&book).unwrap(), found);
    assert_eq!([milling, oak].map(|one| one.is_left(&book.refused)), [true, false]);
    // A job without a word of milling leaves it there, one with it brings it back.
    let mut silent = job(2, "1", "13");
    silent["hours"] = json!({});
    jobs.push(silent);
    let found = suggestions(&with(&jobs)).unwrap();
    assert!(of_stage(&found).is_left(&book.refused));
    jobs.push(job(3, "1.225", "13"));
    let found = suggestions(&with(&jobs)).unwrap();
    assert!(!of_stage(&found).is_left(&book.refused));
}

#[test]
fn what_jobs_make_of_ranges_is_told_with_and_without_them() {
    let basket = [Brief::new(Key::new("bench").unwrap())];
    let jobs = |count: usize| (0..count).map(|i| job(i, "6", "13")).collect::<Vec<_>>();
    assert_eq!(learned_range(&shop(jobs(2)), &basket).unwrap(), None, "two are told to no one");
    let shop = shop(jobs(3));
    let range = learned_range(&shop, &basket).unwrap().unwrap();
    // Six hours where four were said: longer than said, and what is published says so.
    let published = fold(&shop, Basis::Selling).unwrap();
    assert_eq!((range.jobs, Some(&range.past_jobs)), (3, published.past_jobs.as_ref()));
    assert!(range.past_jobs.hours_take.value() > Decimal::ONE);
    let [piece] = range.pieces.as_slice() else { panic!("one piece") };
    assert_eq!(piece.with, estimate(&published, &basket[0]).unwrap().works);
    assert!(piece.with.high.amount() > piece.without.high.amount(), "{piece:?}");
    assert_eq!(piece.with.likely, piece.without.likely);
}
