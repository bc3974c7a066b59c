//! Firm quotes by hand, on the bench of the book of round figures (`worked.rs`): lines of 206.25, 13.69, 5.98, 101.06, 110.00 and 124.48,
//! 561.46 in all, up to 570; by van 258.50 more, up to 820.

use proptest::prelude::*;
use rust_decimal::Decimal;
use scantling_pricing::book::ShopBook;
use scantling_pricing::book::ledger::{Adjustment, Quote};
use scantling_pricing::book::shop::Deposit;
use scantling_pricing::book::values::{Amount, Day, Key, Share, Text};
use scantling_pricing::money::Money;
use scantling_pricing::profit::Rates;
use scantling_pricing::quote::{Difference, Firm, differences};
use scantling_pricing::request::Request;
use serde_json::{Value, json};

use crate::delivered::worked;
use crate::random::{briefs, holds};
use crate::start::{demo_shop, demo_value, sound};

fn request(brief: &Value) -> Request {
    let told = json!({ "edition": "2026-11-25", "currency": "USD", "low": "1", "likely": "1", "high": "1" });
    let from = json!({ "name": "Invented buyer", "mail": "buyer@home.example" });
    Request::read(&json!({ "scantling_request": 1, "brief": brief, "told": told, "from": from }).to_string()).unwrap()
}

fn by_van() -> Request {
    request(
        &json!({ "scantling_brief": 1, "design": "bench", "delivery": "van", "destination": { "country": "US", "postal_code": "10001" } }),
    )
}

/// The book of round figures, without the tax of its one region.
fn untaxed() -> ShopBook {
    worked(&[("/regions/0/tax", Value::Null)])
}

fn adjust(line: &str, amount: &str) -> Adjustment {
    let reason = Text::new("An invented reason").unwrap();
    Adjustment {
        line: Text::new(line).unwrap(),
        amount: Amount::new(amount.parse().unwrap()).unwrap(),
        reason,
        shown: false,
    }
}

fn quote(adjusted: Vec<Adjustment>) -> Quote {
    Quote { adjusted, ..Quote::fresh(Key::new("q-1").unwrap(), Key::new("r-1").unwrap()) }
}

fn firm(shop: &ShopBook, quote: &Quote, request: &Request) -> Firm {
    quote.firm(shop, &Rates::new(shop).unwrap(), request).unwrap()
}

fn amount(money: Money) -> String {
    money.amount().to_string()
}

fn sums(firm: &Firm) -> [String; 4] {
    [firm.piece, firm.carriage, firm.to_pay, firm.rounding].map(amount)
}

#[test]
fn lines_come_to_other_sums_and_the_price_with_them() {
    let shop = untaxed();
    let plain = firm(&shop, &quote(Vec::new()), &by_van());
    assert_eq!(sums(&plain), ["570.00", "250.00", "820.00", "0.04"]);
    // Joinery 110.00 to 84.99, a plaque of 40.50 more, the van 258.50 to 200: 820 - 25.01 + 40.50 - 58.50 = 776.99; piece 570 + 15.49.
    let changed =
        quote(vec![adjust("work: Joinery", "84.99"), adjust("more: A brass plaque", "40.50"), adjust("van", "200")]);
    let changed = firm(&shop, &changed, &by_van());
    assert_eq!(sums(&changed), ["585.49", "191.50", "776.99", "0.04"]);
    assert_eq!(changed.lost, Vec::<Text>::new());
    let joinery = changed.lines.iter().find(|line| line.line == "work: Joinery").unwrap();
    assert_eq!([joinery.estimated, joinery.amount].map(amount), ["110.00", "84.99"]);
    // Left: 776.99 - 1.00 - 580.35 = 195.64.
    assert_eq!(amount(changed.outcome.profit), "195.64");
    // A line the estimate has no more is told, and moves nothing.
    let lost = firm(&shop, &quote(vec![adjust("work: Carving", "9")]), &by_van());
    assert_eq!((lost.lost[0].as_str(), amount(lost.to_pay)), ("work: Carving", "820.00".into()));
}

#[test]
fn tax_follows_what_the_lines_come_to() {
    // A tenth on top, carriage untaxed. Collected by no one: to pay 820 + 10 % of 820 - 258.50 = 561.50: 56.15.
    let tax = |shown: &str| json!({ "name": "Invented tax", "rate": "0.10", "shown": shown, "on_delivery": false });
    let apart = worked(&[("/regions/0/tax", tax("apart"))]);
    assert_eq!(amount(firm(&apart, &quote(Vec::new()), &by_van()).to_pay), "876.15");
    // The plaque of 40.50: 860.50, of which 602.00 is taxed: 60.20.
    let more = firm(&apart, &quote(vec![adjust("more: A brass plaque", "40.50")]), &by_van());
    assert_eq!((amount(more.to_pay), amount(more.tax.as_ref().unwrap().amount)), ("920.70".into(), "60.20".into()));
    assert_eq!(sums(&more)[0], "610.50");
    // Within: 819.96 and a tenth of 561.46, 56.15, are 876.106, up to 880. The plaque adds 44.55: 924.55.
    // Taxed 924.55 - 258.50 = 666.05, net of it 605.50, tax 60.55; left to the shop 864.00.
    let within = worked(&[("/regions/0/tax", tax("within"))]);
    assert_eq!(amount(firm(&within, &quote(Vec::new()), &by_van()).to_pay), "880.00");
    let more = firm(&within, &quote(vec![adjust("more: A brass plaque", "40.50")]), &by_van());
    assert_eq!((amount(more.to_pay), amount(more.tax.as_ref().unwrap().amount)), ("924.55".into(), "60.55".into()));
    assert_eq!(amount(more.outcome.paid), "864.00");
}

#[test]
fn a_quote_has_stages_terms_and_days_of_its_own_and_a_revision_keeps_them() {
    let shop = untaxed();
    let stage = |when: &str, share: &str| Deposit {
        when: Text::new(when).unwrap(),
        share: Share::new(share.parse().unwrap()).unwrap(),
    };
    let own = Quote {
        deposits: vec![stage("now", "0.3333"), stage("later", "0.3333"), stage("last", "0.3334")],
        terms: Some(Text::new("Own terms").unwrap()),
        excluded: Some(Text::new("Fixing to the wall").unwrap()),
        stands_days: scantling_pricing::book::values::Count::new(30),
        ..quote(Vec::new())
    };
    let today = Day::new("2026-11-26").unwrap();
    let reckoned = firm(&shop, &own, &by_van());
    // 820 x 0.3333 = 273.306; 546.612 up to the second: 273.31, 273.30, 273.39.
    assert_eq!(
        reckoned.stages.iter().map(|one| amount(one.amount)).collect::<Vec<_>>(),
        ["273.31", "273.30", "273.39"]
    );
    let first = reckoned.revision(&today).unwrap();
    assert_eq!(
        (first.until.as_str(), first.terms.as_str(), first.to_pay.value()),
        ("2026-12-26", "Own terms", Decimal::from(820))
    );
    let dearer = Quote { adjusted: vec![adjust("work: Joinery", "130")], stands_days: None, ..own };
    let second = firm(&shop, &dearer, &by_van()).revision(&today).unwrap();
    let until = Difference::Until(first.until.clone(), second.until.clone());
    let joinery = Difference::Line(Text::new("work: Joinery").unwrap(), Decimal::from(110), Decimal::from(130));
    assert_eq!(differences(&first, &second)[..2], [joinery, Difference::ToPay(Decimal::from(820), Decimal::from(840))]);
    assert!(differences(&first, &second).contains(&until) && differences(&first, &first).is_empty());
    // Kept in the book it is read again as it was written.
    let mut book = serde_json::to_value(&shop).unwrap();
    book["requests"] = json!([{ "key": "r-1", "received": "2026-11-26", "request": by_van() }]);
    book["quotes"] = json!([Quote { revisions: vec![first.clone(), second], ..dearer }]);
    assert_eq!(sound(&book).quotes[0].revisions[0], first);
}

#[test]
fn what_is_paid_is_told_in_the_currency_of_the_place_with_the_day_of_its_rate() {
    // 820 with a plaque of 40.50 are 860.50. At 1.38, two hundredths of it kept: 1.4076 for one. 860.50 x 1.4076 = 1211.2398, in Canada's
    // smallest coin of five cents 1211.25.
    let rates =
        json!([{ "currency": "CAD", "rate": "1.38", "day": "2026-11-20", "source": "invented", "spread": "0.02" }]);
    let shop =
        worked(&[("/regions/0/tax", Value::Null), ("/currencies", rates), ("/regions/0/currency", json!("CAD"))]);
    let firm = firm(&shop, &quote(vec![adjust("more: A brass plaque", "40.50")]), &by_van());
    let guide = firm.guide.unwrap();
    assert_eq!((amount(firm.to_pay), guide.amount.to_string()), ("860.50".into(), "1211.25 CAD".into()));
    assert_eq!((guide.rate.to_string(), guide.day.as_str()), ("1.4076".into(), "2026-11-20"));
    assert_eq!(self::firm(&untaxed(), &quote(Vec::new()), &by_van()).guide, None);
}

#[test]
fn a_book_says_what_is_wrong_with_a_quote() {
    let mut book = demo_value();
    book["quotes"] = json!([{ "key": "q-1", "request": "r-9", "deposits": [{ "when": "now", "share": "0.5" }],
        "adjusted": [{ "line": "work: Milling", "amount": "12.005", "reason": "x" }, { "line": "work: Milling", "amount": "12", "reason": "x" }] }]);
    let faults = ShopBook::read(&book.to_string()).unwrap_err();
    let told: Vec<(&str, String)> = faults.iter().map(|fault| (fault.path.as_str(), fault.fault.to_string())).collect();
    assert_eq!(
        told,
        [
            ("quotes[0].request", "there is no request “r-9”; name one, or take the quote out"),
            ("quotes[0].deposits", "the shares add up to 0.5; make them add up to 1, the last payment included"),
            ("quotes[0].adjusted[0].amount", "12.005 has a part of a coin; write at most 2 decimals"),
            ("quotes[0].adjusted[1].line", "“work: Milling” is adjusted already; take one of the two out"),
        ]
        .map(|(path, what)| (path, what.to_owned()))
    );
}

#[test]
fn whatever_is_adjusted_lines_add_up_stages_too_and_nothing_adjusted_is_the_estimate() {
    let sums = prop::collection::vec((0..20usize, 0..2_000_000i64), 0..4);
    holds(40, &(briefs(), sums), |(brief, sums)| {
        let shop = demo_shop();
        let rates = Rates::new(&shop).unwrap();
        let asked = request(&serde_json::to_value(&brief).unwrap());
        let Ok(plain) = quote(Vec::new()).firm(&shop, &rates, &asked) else { return Ok(()) };
        prop_assert_eq!(plain.to_pay, plain.costs.selling.to_pay());
        let adjusted: Vec<Adjustment> = sums
            .iter()
            .filter_map(|(at, cents)| Some(adjust(&plain.lines.get(*at)?.line, &Decimal::new(*cents, 2).to_string())))
            .collect();
        let reckoned = quote(adjusted).firm(&shop, &rates, &asked).unwrap();
        let lines: Decimal = reckoned.lines.iter().map(|line| line.amount.amount()).sum();
        prop_assert_eq!(lines + reckoned.rounding.amount(), reckoned.outcome.paid.amount());
        prop_assert_eq!((reckoned.piece + reckoned.carriage).amount(), reckoned.outcome.paid.amount());
        let stages: Decimal = reckoned.stages.iter().map(|stage| stage.amount.amount()).sum();
        prop_assert_eq!(stages, reckoned.to_pay.amount());
        Ok(())
    });
}
