//! Payments that came in, by hand: a quote of 820.00 in stages of 273.31, 273.30 and 273.39, as `quotes.rs` has them.

use proptest::prelude::*;
use rust_decimal::Decimal;
use scantling_pricing::book::ShopBook;
use scantling_pricing::book::ledger::{CameIn, Quote};
use scantling_pricing::book::values::{Amount, Count, Day};
use scantling_pricing::jobs::{account, jobs};
use scantling_pricing::money::{Currency, Money};
use scantling_pricing::owed::{DayDoubt, Owed};
use scantling_pricing::profit::Rates;
use serde_json::{Value, json};

use crate::random::holds;
use crate::start::{demo_value, sound};

/// A quote that went out on 26 November 2026, and these payments: stage, day, amount.
fn quote(came_in: &Value) -> Value {
    let stages = ["273.31", "273.30", "273.39"].map(|amount| json!({ "when": "when it is due", "amount": amount }));
    json!({ "key": "q-1", "request": "r-1", "came_in": came_in, "revisions": [{
        "written": "2026-11-26", "until": "2026-12-26", "edition": "2026-11-25", "brief": { "scantling_brief": 1, "design": "hall-bench" },
        "lines": [{ "line": "work: Joinery", "estimated": "820", "amount": "820" }], "piece": "820", "carriage": "0", "to_pay": "820",
        "stages": stages, "terms": "Invented terms", "full_cost": "580.35" }] })
}

fn payment(stage: u32, day: &str, amount: &str) -> Value {
    json!({ "stage": stage, "day": day, "amount": amount })
}

fn book(came_in: &Value) -> Value {
    let mut book = demo_value();
    let told = json!({ "edition": "2026-11-25", "currency": "USD", "low": "1", "likely": "1", "high": "1" });
    book["requests"] = json!([{ "key": "r-1", "received": "2026-11-20", "request": { "scantling_request": 1,
        "brief": { "scantling_brief": 1, "design": "hall-bench" }, "told": told,
        "from": { "name": "Invented buyer", "mail": "buyer@home.example" } } }]);
    book["quotes"] = json!([quote(came_in)]);
    book
}

fn owed(came_in: &Value) -> Owed {
    sound(&book(came_in)).quotes[0].owed(Currency::USD).unwrap()
}

fn amount(money: Money) -> String {
    money.amount().to_string()
}

fn stages(owed: &Owed) -> Vec<[String; 3]> {
    owed.stages.iter().map(|stage| [stage.due, stage.came_in, stage.owed].map(amount)).collect()
}

#[test]
fn what_came_in_is_taken_off_its_stage_and_off_the_whole() {
    let nothing = owed(&json!([]));
    assert_eq!([nothing.to_pay, nothing.came_in, nothing.owed].map(amount), ["820.00", "0.00", "820.00"]);
    assert_eq!((nothing.stages[0].last.clone(), amount(nothing.besides)), (None, "0.00".into()));
    // The first stage as it was due; of the second 100.00, then 73.30: 820 - 273.31 - 173.30 = 373.39.
    let some = owed(&json!([
        payment(1, "2026-11-27", "273.31"),
        payment(2, "2026-12-20", "73.3"),
        payment(2, "2026-12-10", "100"),
    ]));
    assert_eq!(
        stages(&some),
        [["273.31", "273.31", "0.00"], ["273.30", "173.30", "100.00"], ["273.39", "0.00", "273.39"]]
            .map(|row| row.map(String::from))
    );
    assert_eq!([some.came_in, some.owed].map(amount), ["446.61", "373.39"]);
    // The later of the two days, whichever stands first.
    assert_eq!(some.stages[1].last.as_ref().unwrap().as_str(), "2026-12-20");
}

#[test]
fn more_than_was_asked_leaves_less_than_nothing_and_a_stage_that_is_gone_counts_all_the_same() {
    let over = owed(&json!([payment(3, "2026-12-24", "300")]));
    assert_eq!((stages(&over)[2][2].as_str(), amount(over.owed)), ("-26.61", "520.00".into()));
    // Stage 5 of a revision before; the last one has three. 820 - 50.05 = 769.95, of which no stage is any less.
    let gone = owed(&json!([payment(5, "2026-11-27", "50.05")]));
    assert_eq!([gone.came_in, gone.owed, gone.besides].map(amount), ["50.05", "769.95", "50.05"]);
    assert_eq!(stages(&gone).iter().map(|row| row[2].clone()).collect::<Vec<_>>(), ["273.31", "273.30", "273.39"]);
}

#[test]
fn a_book_without_payments_reads_as_before_and_one_with_them_is_written_as_it_was() {
    let none = sound(&book(&json!([])));
    assert!(serde_json::to_value(&none.quotes[0]).unwrap().get("came_in").is_none());
    let one = json!([payment(1, "2026-11-27", "273.31")]);
    assert_eq!(serde_json::to_value(&sound(&book(&one)).quotes[0]).unwrap()["came_in"], one);
    let mut unsent = sound(&book(&json!([]))).quotes.remove(0);
    unsent.revisions.clear();
    assert_eq!(unsent.owed(Currency::USD), None);
}

#[test]
fn a_book_says_what_is_wrong_with_a_payment() {
    let refused = |book: &Value| -> Vec<(String, String)> {
        let faults = ShopBook::read(&book.to_string()).unwrap_err();
        faults.iter().map(|fault| (fault.path.clone(), fault.fault.to_string())).collect()
    };
    let wrong = |rows: Value| refused(&book(&rows));
    let told =
        wrong(json!([payment(0, "2026-11-27", "1"), payment(1, "2026-11-27", "0"), payment(1, "2026-11-27", "1.005")]));
    assert_eq!(
        told,
        [
            ("quotes[0].came_in[0].stage", "there is no stage 0; the first one is 1"),
            ("quotes[0].came_in[1].amount", "nothing came in; write how much, or take the payment out"),
            ("quotes[0].came_in[2].amount", "1.005 has a part of a coin; write at most 2 decimals"),
        ]
        .map(|(path, what)| (path.to_owned(), what.to_owned()))
    );
    let no_day = wrong(json!([payment(1, "2026-02-30", "1")]));
    assert_eq!(no_day[0].0, "quotes[0].came_in[0].day");
    let below = wrong(json!([payment(1, "2026-11-27", "-1")]));
    assert_eq!(below[0].0, "quotes[0].came_in[0].amount");
    let mut unsent = book(&json!([payment(1, "2026-11-27", "1")]));
    unsent["quotes"][0].as_object_mut().unwrap().remove("revisions");
    assert!(refused(&unsent)[0].1.contains("nothing has gone out yet"));
}

#[test]
fn a_day_that_is_yet_to_come_or_before_the_quote_is_doubted() {
    let quote = sound(&book(&json!([]))).quotes.remove(0);
    let day = |text: &str| Day::new(text).unwrap();
    let doubt = |of: &str| {
        let one = CameIn { stage: Count::ONE, day: day(of), amount: Amount::MOST };
        one.doubt(&quote, &day("2026-12-01"))
    };
    assert_eq!(doubt("2026-12-02"), Some(DayDoubt::YetToCome));
    assert_eq!(doubt("2026-12-01"), None);
    assert_eq!(doubt("2026-11-26"), None);
    assert_eq!(doubt("2026-11-25"), Some(DayDoubt::BeforeItWentOut(day("2026-11-26"))));
}

#[test]
fn a_job_s_account_says_what_is_owed_of_its_quote() {
    let mut book = book(&json!([payment(1, "2026-11-27", "273.31")]));
    book["jobs"][0]["quote"] = json!("q-1");
    let shop = sound(&book);
    let of = |at: usize| account(&shop, &Rates::new(&shop).unwrap(), &shop.jobs[at]).owed;
    assert_eq!(of(0).map(|owed| amount(owed.owed)), Some("546.69".into()));
    assert_eq!(of(1), None);
    let text = jobs(&shop).unwrap();
    let cells = |row: usize| text.split("\r\n").nth(row).unwrap().split(',').map(str::to_owned).collect::<Vec<_>>();
    let at = cells(0).iter().position(|head| head == "still owed").unwrap();
    assert_eq!(
        (&cells(1)[at - 1..=at], &cells(2)[at - 1..=at]),
        (&["273.31".into(), "546.69".into()][..], &["".into(), "".into()][..])
    );
}

#[test]
fn whatever_comes_in_stages_and_what_is_besides_add_up_to_what_is_owed() {
    let rows = prop::collection::vec((1..6u32, 1..400_000i64), 0..8);
    let quote: Quote = sound(&book(&json!([]))).quotes.remove(0);
    holds(200, &rows, |rows| {
        let came_in = rows.iter().map(|(stage, cents)| CameIn {
            stage: Count::new(*stage).unwrap(),
            day: Day::new("2026-11-27").unwrap(),
            amount: Amount::new(Decimal::new(*cents, 2)).unwrap(),
        });
        let owed = Quote { came_in: came_in.collect(), ..quote.clone() }.owed(Currency::USD).unwrap();
        let sum = |of: fn(&scantling_pricing::owed::StageOwed) -> Money| -> Decimal {
            owed.stages.iter().map(|stage| of(stage).amount()).sum()
        };
        prop_assert_eq!(sum(|stage| stage.owed) - owed.besides.amount(), owed.owed.amount());
        prop_assert_eq!(sum(|stage| stage.came_in) + owed.besides.amount(), owed.came_in.amount());
        let cents: i64 = rows.iter().map(|(_, cents)| cents).sum();
        prop_assert_eq!(Decimal::from(820) - owed.owed.amount(), Decimal::new(cents, 2));
        Ok(())
    });
}
