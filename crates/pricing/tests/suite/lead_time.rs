//! How long it takes: queue, timber, bench, cure, packing, transit, and the day it can be there.

use scantling_pricing::book::values::Day;
use scantling_pricing::estimate::estimate;
use scantling_pricing::lead_time::{LeadTime, Step, Wait};
use scantling_pricing::publish::{Basis, fold, minutes_of_work};
use serde_json::{Value, json};

use crate::start::{brief, demo_value, selling, sound};

fn lead(book: &Value, asked: &Value) -> LeadTime {
    estimate(&selling(&sound(book)), &brief(&asked.to_string())).unwrap().lead_time.unwrap()
}

fn sure(wait: Wait, days: u32) -> Step {
    Step { wait, days: (days, days) }
}

#[test]
fn a_river_table_waits_as_the_pencil_says() {
    // The demo: 7 weeks sold, timber 14 days within them, 1 week at the bench, packing 3 days. Resin 1 1/2 in deep in one pour,
    // 72 h at 22 C in a shop of 19 C: 72 x 2^0.3 = 88.64 h, 4 days. Oil: 1 wait of 18 h between 2 coats, 1 day, and 14 of cure.
    let asked = json!({ "scantling_brief": 1, "design": "river-low-table", "finish": "hardwax-oil" });
    let lead = lead(&demo_value(), &asked);
    let steps = [(Wait::Queue, 49), (Wait::Bench, 7), (Wait::Resin, 4), (Wait::Finish, 15), (Wait::Packing, 3)];
    assert_eq!(lead.steps, steps.map(|(wait, days)| sure(wait, days)));
    assert_eq!(lead.days, (78, 78));
}

#[test]
fn timber_is_waited_for_only_as_far_as_it_outlasts_the_queue() {
    let mut book = demo_value();
    book["workload"]["weeks_sold"] = json!(1);
    let asked = json!({ "scantling_brief": 1, "design": "wall-shelf" });
    assert!(lead(&book, &asked).steps.contains(&sure(Wait::Timber, 7)), "14 days, 7 of them in the queue");
}

#[test]
fn a_colder_shop_and_a_second_pour_wait_longer_and_a_second_piece_takes_the_bench_longer() {
    let asked = |quantity: u32| json!({ "scantling_brief": 1, "design": "river-low-table", "quantity": quantity });
    let wait = |lead: &LeadTime, wait: Wait| lead.steps.iter().find(|step| step.wait == wait).unwrap().days;
    let mut cold = demo_value();
    cold["waits"]["celsius"] = json!(12);
    assert_eq!(wait(&lead(&cold, &asked(1)), Wait::Resin), (6, 6), "twice 72 h");
    let mut shallow = demo_value();
    shallow["resins"][0]["deepest_pour"] = json!("1 in");
    assert_eq!(wait(&lead(&shallow, &asked(1)), Wait::Resin), (8, 8), "2 x 88.64 h is 7.4 days");
    assert_eq!(wait(&lead(&demo_value(), &asked(3)), Wait::Bench), (21, 21));
}

#[test]
fn weeks_at_the_bench_are_the_hours_of_the_design_rounded_outwards() {
    let mut book = demo_value();
    book["workload"]["weekly_hours"] = json!("8");
    let shop = sound(&book);
    let timed = fold(&shop, Basis::Minutes).unwrap();
    for design in &shop.designs {
        let asked = brief(&json!({ "scantling_brief": 1, "design": design.key.as_str() }).to_string());
        let hours = minutes_of_work(&timed, &asked).unwrap().map(|minutes| minutes / rust_decimal::Decimal::from(60));
        let weeks = selling(&shop).bench.design_weeks.get(&design.key).unwrap().map(|weeks| weeks.decimal());
        let eight = rust_decimal::Decimal::from(8);
        for (hours, weeks) in hours.into_iter().zip(weeks) {
            assert!(weeks * eight >= hours && (weeks - rust_decimal::Decimal::ONE) * eight < hours, "{hours} {weeks}");
        }
    }
}

#[test]
fn a_day_so_many_days_on_is_the_calendar_s() {
    // ISO 8601 / Gregorian calendar: leap years by 4, not by 100, but by 400.
    for (from, days, to) in [
        ("2026-11-25", 0, "2026-11-25"),
        ("2026-11-25", 78, "2027-02-11"),
        ("2028-02-28", 1, "2028-02-29"),
        ("2100-02-28", 1, "2100-03-01"),
        ("2000-02-28", 1, "2000-02-29"),
        ("2026-01-01", 365, "2027-01-01"),
        ("2028-01-01", 366, "2029-01-01"),
    ] {
        assert_eq!(Day::new(from).unwrap().after(days).unwrap().as_str(), to, "{from} and {days} days");
    }
    assert_eq!(Day::new("2999-12-31").unwrap().after(1), None);
    assert_eq!(Day::new("2999-12-31").unwrap().after(u32::MAX), None);
}

#[test]
fn a_design_the_book_has_no_weeks_for_is_priced_without_a_lead_time() {
    let mut book = selling(&sound(&demo_value()));
    book.bench.design_weeks.clear();
    let priced = estimate(&book, &brief(r#"{"scantling_brief": 1, "design": "wall-shelf"}"#)).unwrap();
    assert_eq!(priced.lead_time, None);
    assert_eq!(priced.days(), None);
}
