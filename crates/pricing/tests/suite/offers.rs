//! Offers, ranked by what they leave. Worked by hand on the bench of the book of round figures (`worked.rs`, `profit.rs`): it costs 380.35 to
//! build, a payment costs 1.00, and what is still to be spent on it is 136.32.

use rust_decimal::Decimal;
use scantling_pricing::offers::{Offers, Ranking, Unreckoned};
use serde_json::{Value, json};

use crate::delivered::worked;

fn rank(changes: &[(&str, Value)], offers: &Value) -> Ranking {
    let text = json!({ "scantling_offers": 1, "brief": { "scantling_brief": 1, "design": "bench" }, "offers": offers });
    Offers::read(&text.to_string()).unwrap().rank(&worked(changes)).unwrap()
}

fn home(more: Value) -> Value {
    let mut offer = json!({ "destination": { "country": "US", "postal_code": "10001" } });
    offer.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
    offer
}

fn left(ranking: &Ranking) -> Vec<(String, String, String)> {
    let amounts = |one: &scantling_pricing::offers::Ranked| {
        (one.from.to_string(), one.outcome.profit.amount().to_string(), one.outcome.over_outlay.amount().to_string())
    };
    ranking.ranked.iter().map(amounts).collect()
}

fn row(from: &str, profit: &str, over_outlay: &str) -> (String, String, String) {
    (from.to_owned(), profit.to_owned(), over_outlay.to_owned())
}

#[test]
fn the_highest_offer_loses_to_one_that_is_collected() {
    let ranking = rank(
        &[],
        &json!([
            home(json!({ "from": "By freight", "amount": "1000", "delivery": "freight" })),
            { "from": "Collects", "amount": "900" },
            home(json!({ "from": "By van, carriage besides", "amount": "700", "delivery": "van", "carriage": "on-top" })),
            home(json!({ "from": "By van", "amount": "850", "delivery": "van" })),
        ]),
    );
    // COLLECTS: 900 - 1 - 380.35 = 518.65; over what is still to be spent, 900 - 1 - 136.32 = 762.68.
    // BY FREIGHT: crate 40.5 x 3.00 + 30 = 151.50; 80 x 1.25 x 1.12 = 112 and a quarter, 140; lift 20, address 30: 341.50.
    //   1000 - 1 - 380.35 - 341.50 = 277.15. Still to be spent: crate 81.00 (its minutes are the shop's own), 190.00: 1000 - 1 - 136.32 - 271 = 591.68.
    // BY VAN, CARRIAGE BESIDES: 700 + 258.50 charged - 1 - 380.35 - 200 = 377.15; over outlay 958.50 - 1 - 136.32 - 60 = 761.18.
    // BY VAN: 850 - 1 - 380.35 - 200 = 268.65; 850 - 1 - 136.32 - 60 = 652.68.
    assert_eq!(
        left(&ranking),
        [
            row("Collects", "518.65", "762.68"),
            row("By van, carriage besides", "377.15", "761.18"),
            row("By freight", "277.15", "591.68"),
            row("By van", "268.65", "652.68"),
        ]
    );
    let highest = ranking.highest_but_not_best().unwrap();
    assert_eq!((highest.from.as_str(), highest.carriage_cost.amount().to_string()), ("By freight", "341.50".into()));
    // Pay by the hour: building takes 244.03 minutes, 4.07 h, at a wage of 48.00: (518.65 + 195.36) / 4.07 = 175.43.
    assert_eq!(ranking.ranked[0].outcome.pay_per_hour.unwrap().amount().to_string(), "175.43");
}

#[test]
fn other_currencies_are_worth_what_may_arrive_of_them() {
    let rates = json!([
        { "currency": "CAD", "rate": "1.25", "day": "2026-11-20", "source": "made up", "spread": "0.04" },
        { "currency": "JPY", "rate": "160", "day": "2026-11-20", "source": "made up", "spread": "0" },
    ]);
    let ranking = rank(
        &[("/currencies", rates)],
        &json!([
            { "from": "Canada", "amount": "1300", "currency": "CAD" },
            { "from": "Dollars", "amount": "1010" },
            { "from": "Japan", "amount": "144000", "currency": "JPY" },
            { "from": "Norway", "amount": "9000", "currency": "NOK" },
        ]),
    );
    // CAD 1300 / 1.25 = 1040.00 today, / 1.30 = 1000.00 to reckon with: 40.00 kept back, and less is left than of 1010. JPY 144,000 / 160 = 900.
    assert_eq!(
        left(&ranking),
        [row("Dollars", "628.65", "872.68"), row("Canada", "618.65", "862.68"), row("Japan", "518.65", "762.68")]
    );
    let canada = &ranking.ranked[1];
    assert_eq!(
        (canada.worth.amount().to_string(), canada.kept_back.amount().to_string()),
        ("1040.00".into(), "40.00".into())
    );
    assert_eq!(canada.rate_of.as_ref().unwrap().as_str(), "2026-11-20");
    assert_eq!(ranking.highest_but_not_best().unwrap().from.as_str(), "Canada");
    assert!(matches!(&ranking.unranked[0].why, Unreckoned::NoRate(code) if code.as_str() == "NOK"));
}

#[test]
fn tax_in_an_offer_is_not_the_shop_s() {
    let vat = json!({ "name": "VAT", "rate": "0.20", "on_delivery": true, "shown": "within" });
    let ranking = rank(
        &[("/regions/0/tax", vat)],
        &json!([{ "from": "All in", "amount": "1200" }, { "from": "Plus tax", "amount": "1010", "tax": "apart" }]),
    );
    // 1200 at 20 % is 1000.00 and 200.00: 1000 - 1 - 380.35 = 618.65; 1010 - 1 - 380.35 = 628.65.
    assert_eq!(left(&ranking), [row("Plus tax", "628.65", "872.68"), row("All in", "618.65", "862.68")]);
    assert_eq!(ranking.ranked[1].tax.amount(), Decimal::from(200));
    assert_eq!(ranking.highest_but_not_best().unwrap().from.as_str(), "All in");
}

#[test]
fn a_carrier_s_quote_changes_who_wins_and_what_can_t_be_brought_is_said() {
    let quoted = json!({ "mode": "freight", "charge": "40", "day": "2026-11-20", "by": "Depot", "days_least": 2, "days_most": 4 });
    let ranking = rank(
        &[],
        &json!([
            home(json!({ "from": "Near", "amount": "850", "delivery": "van" })),
            home(json!({ "from": "Quoted", "amount": "870", "delivery": "freight", "quoted": quoted })),
            home(json!({ "from": "By parcel", "amount": "2000", "delivery": "parcel" })),
        ]),
    );
    // 870 - 1 - 380.35 - 151.50 - 40.00 = 297.15, over 268.65 by van; still to be spent 136.32 + 81 + 40: 870 - 1 - 257.32 = 611.68.
    assert_eq!(left(&ranking), [row("Quoted", "297.15", "611.68"), row("Near", "268.65", "652.68")]);
    let Unreckoned::Problems(problems) = &ranking.unranked[0].why else { panic!("{ranking:?}") };
    assert_eq!(problems[0].field(), "delivery");
    assert_eq!(ranking.highest_but_not_best(), None, "what can't be reckoned is no one's highest");
}
