//! Jobs by hand, on the bench of the book of round figures brought by van (`worked.rs`, `profit.rs`): timber 125.00, oil and abrasive 11.32,
//! milling 73.50 minutes, joinery 80, finishing 90.53, 140 minutes and 60.00 on the road, at 1.00 a minute, 0.80 of it the wage; 820 asked.

use rust_decimal::Decimal;
use scantling_pricing::book::ShopBook;
use scantling_pricing::book::job::Job;
use scantling_pricing::book::values::{Amount, Day, Key, Text};
use scantling_pricing::jobs::{Account, Against, Begun, Left, account, begin, job_lines, jobs};
use scantling_pricing::learning::from_jobs;
use scantling_pricing::money::Money;
use scantling_pricing::profit::Rates;
use scantling_pricing::suggestions::suggestions;
use serde_json::{Value, json};

use crate::delivered::worked;
use crate::start::{brief, demo_value, sound};

fn begun(shop: &ShopBook, quote: Option<(Key, Amount, Amount)>) -> Job {
    let by_van = r#"{"scantling_brief": 1, "design": "bench", "destination": {"country": "US", "postal_code": "10001"}, "delivery": "van"}"#;
    let begun = Begun {
        key: Key::new("job-1").unwrap(),
        day: Day::new("2026-11-26").unwrap(),
        buyer: Some(Text::new("Invented, buyer").unwrap()),
        quote,
        quoted: None,
    };
    begin(shop, &brief(by_van), begun).unwrap()
}

/// The account of a job with these places filled in.
fn with(shop: &ShopBook, job: &Job, more: &Value) -> (Account, ShopBook) {
    let mut value = serde_json::to_value(job).unwrap();
    value.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
    let mut book = serde_json::to_value(shop).unwrap();
    book["jobs"] = json!([value]);
    let book = sound(&book);
    (account(&book, &Rates::new(&book).unwrap(), &book.jobs[0]), book)
}

fn left(left: &Left) -> [String; 6] {
    let amount = |money: Money| money.amount().to_string();
    let pay = left.pay_per_hour.map_or_else(String::new, amount);
    [amount(left.price), amount(left.fees), amount(left.cost), left.hours.to_string(), amount(left.profit), pay]
}

fn lines(account: &Account) -> Vec<[String; 3]> {
    let row = |line: &scantling_pricing::jobs::Variance| {
        [line.what.clone(), line.said.amount().to_string(), line.took.amount().to_string()]
    };
    account.lines.iter().map(row).collect()
}

fn worked_hours(account: &Account) -> Vec<(String, String, String)> {
    account.worked.iter().map(|row| (row.key.to_string(), row.said.to_string(), row.took.to_string())).collect()
}

#[test]
fn a_job_is_begun_with_what_was_said_and_nothing_taken() {
    let shop = worked(&[]);
    let (account, _) = with(&shop, &begun(&shop, None), &json!({}));
    assert_eq!(account.against, Against::Then);
    // As profit.rs has the estimate: 820 - 1 - 580.35 = 238.65, 85.29 an hour.
    assert_eq!(left(&account.said), ["820.00", "1.00", "580.35", "6.4", "238.65", "85.29"]);
    assert_eq!(left(&account.took), ["0.00", "0.00", "0.00", "0", "0.00", ""]);
    assert_eq!(
        lines(&account),
        [
            ["Plain oak", "125.00", "0.00"],
            ["Other materials", "11.32", "0.00"],
            ["Milling", "73.50", "0.00"],
            ["Joinery", "80.00", "0.00"],
            ["Finishing", "90.53", "0.00"],
            ["Packing and carriage", "140.00", "0.00"],
            ["Carriage", "60.00", "0.00"],
        ]
        .map(|row| row.map(String::from))
    );
}

#[test]
fn what_it_took_is_held_against_what_was_said_line_by_line() {
    let shop = worked(&[]);
    let job = begun(&shop, None);
    let keys: Vec<String> = job.said.as_ref().unwrap().hours.keys().map(ToString::to_string).collect();
    // Milling is written down as a stage, finishing by its operations, the road by its own name.
    let (account, book) = with(
        &shop,
        &job,
        &json!({
            "finished": "2026-12-20", "paid": "570", "carriage_paid": "250", "fees": "1.40",
            "bought": { "plain-oak": "15" }, "timber_paid": { "plain-oak": "140.25" }, "materials": "9.90",
            "hours": { "milling": "2", "joint": "1.25", "sand": "1.5", "wipe": "0.5", "packing-and-carriage": "2" },
            "carriage": "71.05"
        }),
    );
    assert!(keys.contains(&"packing-and-carriage".to_owned()), "{keys:?}");
    // Work at 60.00 an hour: 120, 75, 120, 120. Cost 140.25 + 9.90 + 120 + 75 + 120 + 120 + 71.05 = 656.20.
    // 820 - 1.40 - 656.20 = 162.40; the wage is 48 an hour: (162.40 + 48 x 7.25) / 7.25 = 70.40.
    assert_eq!(left(&account.took), ["820.00", "1.40", "656.20", "7.25", "162.40", "70.40"]);
    assert_eq!(
        lines(&account),
        [
            ["Plain oak", "125.00", "140.25"],
            ["Other materials", "11.32", "9.90"],
            ["Milling", "73.50", "120.00"],
            ["Joinery", "80.00", "75.00"],
            ["Finishing", "90.53", "120.00"],
            ["Packing and carriage", "140.00", "120.00"],
            ["Carriage", "60.00", "71.05"],
        ]
        .map(|row| row.map(String::from))
    );
    assert_eq!(account.lines[0].quantity, Some(("13.54".parse().unwrap(), Decimal::from(15))));
    let cost: Decimal = account.lines.iter().map(|line| line.took.amount()).sum();
    assert_eq!(cost, account.took.cost.amount());
    // The minutes of worked.rs in hundredths of an hour: 73.5 are 1.23, 80 1.33, 60.4 1.01, 30.2 0.50; the rest of 6.40 is the road.
    assert_eq!(
        worked_hours(&account),
        [
            ("milling", "1.23", "2"),
            ("joint", "1.33", "1.25"),
            ("sand", "1.01", "1.5"),
            ("wipe", "0.50", "0.5"),
            ("packing-and-carriage", "2.33", "2"),
        ]
        .map(|(key, said, took)| (
            key.to_owned(),
            said.parse::<Decimal>().unwrap().normalize().to_string(),
            took.to_owned()
        ))
    );
    // Sanding and wiping count for finishing: two hours over the 90.53 minutes of the book.
    let found = suggestions(&book).unwrap();
    assert_eq!(found.iter().filter(|one| one.jobs == 1).count(), 4, "three stages and a timber: {found:?}");
}

#[test]
fn a_quote_s_own_sums_are_what_was_said() {
    let shop = worked(&[]);
    let amount = |text: &str| Amount::new(text.parse().unwrap()).unwrap();
    let (account, _) =
        with(&shop, &begun(&shop, Some((Key::new("q-1").unwrap(), amount("600"), amount("200")))), &json!({}));
    assert_eq!(left(&account.said), ["800.00", "1.00", "580.35", "6.4", "218.65", "82.16"]);
}

#[test]
fn what_is_on_the_bench_teaches_nothing_and_a_later_correction_changes_nothing_of_what_was_said() {
    let mut book = demo_value();
    let finished = sound(&book);
    assert!(from_jobs(&finished.jobs).is_some());
    for job in book["jobs"].as_array_mut().unwrap() {
        job.as_object_mut().unwrap().remove("finished");
    }
    let on_the_bench = sound(&book);
    assert_eq!((from_jobs(&on_the_bench.jobs), suggestions(&on_the_bench).unwrap()), (None, Vec::new()));

    let shop = worked(&[]);
    let job = begun(&shop, None);
    let (before, _) = with(&shop, &job, &json!({ "hours": { "milling": "2" } }));
    let (after, _) = with(
        &worked(&[("/pricing/shop_rate/yearly/wages", json!("144000"))]),
        &job,
        &json!({ "hours": { "milling": "2" } }),
    );
    assert_eq!(before, after);
}

#[test]
fn a_job_without_what_was_said_is_held_against_the_book_and_one_without_a_brief_against_nothing() {
    let shop = worked(&[]);
    let bare = json!({ "key": "old", "design": "bench", "finished": "2026-10-01", "quantity": 1, "estimated": "570", "paid": "570",
        "hours_estimated": "4", "hours": { "milling": "2", "swept-up": "1" }, "materials": "140", "carriage": "0" });
    let mut book = serde_json::to_value(&shop).unwrap();
    let mut named = bare.clone();
    named["key"] = json!("named");
    named["brief"] = json!({ "scantling_brief": 1, "design": "bench" });
    book["jobs"] = json!([bare, named]);
    let book = sound(&book);
    let rates = Rates::new(&book).unwrap();
    let nothing = account(&book, &rates, &book.jobs[0]);
    assert_eq!(nothing.against, Against::Nothing);
    // 570 - 1 - 140 - 180 = 249; work the book has no stage for is counted all the same.
    assert_eq!(left(&nothing.took), ["570.00", "1.00", "320.00", "3", "249.00", "131.00"]);
    assert_eq!(lines(&nothing).last().unwrap(), &["swept-up", "0.00", "60.00"].map(String::from));
    let now = account(&book, &rates, &book.jobs[1]);
    assert_eq!(lines(&now)[0], ["Materials in one sum", "136.32", "140.00"].map(String::from));
    assert_eq!((now.against, now.said.cost.amount().to_string()), (Against::Now, "380.35".to_owned()));
}

#[test]
fn jobs_are_written_as_the_standard_for_comma_separated_values_has_it() {
    let shop = worked(&[]);
    let more = json!({ "finished": "2026-12-20", "paid": "570", "hours": { "milling": "2" }, "note": "Sanded \"twice\",\nthen oiled" });
    let (_, book) = with(&shop, &begun(&shop, None), &more);
    let text = jobs(&book).unwrap();
    // 570 - 1 - 120 = 449; (449 + 96) / 2 = 272.50.
    assert_eq!(
        text.split("\r\n").nth(1).unwrap(),
        "job-1,bench,1,\"Invented, buyer\",,2026-11-26,2026-12-20,USD,820.00,570.00,1.00,1.00,580.35,120.00,6.4,2,238.65,449.00,85.29,272.50,,,\
         \"Sanded \"\"twice\"\",\nthen oiled\""
    );
    assert!(text.ends_with("\r\n") && text.starts_with("job,design,"));
    let lines = job_lines(&book).unwrap();
    assert!(lines.contains("\r\njob-1,2026-12-20,Milling,USD,73.50,120.00,46.50\r\n"), "{lines}");
    assert!(lines.contains("\r\njob-1,2026-12-20,Milling,hours,1.23,2,0.77\r\n"), "{lines}");
}
