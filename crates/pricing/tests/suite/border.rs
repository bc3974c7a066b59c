//! What crosses a border: timber of crates marked where the rule asks it, duty, terms; on the book of round figures (`worked.rs`) and on the
//! demo. A carrier's cost is sold 1.10 times itself on the former.

use rust_decimal::Decimal;
use scantling_pricing::book::ShopBook;
use scantling_pricing::cost::LineKind;
use scantling_pricing::delivery::{CarriageQuote, Mode, Rule, Unreachable};
use scantling_pricing::estimate::{Estimate, Line, estimate};
use scantling_pricing::profit::Rates;
use serde_json::{Value, json};

use crate::delivered::{at, bench, lines, way, worked};
use crate::start::{brief, demo as demo_price, demo_shop, selling};

const LONDON: &str = r#""country": "GB", "postal_code": "SW1A 1AA""#;
const MUNICH: &str = r#""country": "DE", "postal_code": "80331""#;

/// The worked shop in Berlin, its crates battened, with more changed.
fn in_berlin(changes: &[(&str, Value)]) -> ShopBook {
    let moved = [
        ("/shop/country", json!("DE")),
        ("/shop/postal_code", json!("10115")),
        ("/delivery/crating/size/batten_weight", json!("0.5")),
    ];
    worked(&moved.into_iter().chain(changes.iter().cloned()).collect::<Vec<_>>())
}

fn kinds(lines: &[Line]) -> Vec<LineKind> {
    lines.iter().map(|line| line.kind).collect()
}

#[test]
fn freight_across_a_border_goes_in_marked_timber_where_the_rule_asks_it() {
    let shop = in_berlin(&[("/delivery/marked_timber", json!("40"))]);
    let freight = |shop: &ShopBook, to: &str| way(&bench(shop, to), Mode::Freight).unwrap().clone();
    // One crate: 40.00, sold 44.00. Within the Union there is no such line.
    let london = freight(&shop, LONDON);
    assert_eq!(lines(&london)[1], at(LineKind::MarkedTimber, "44.00"));
    assert_eq!(london.lines[1].quantity.unwrap().to_string(), "1");
    assert!(!kinds(&freight(&shop, MUNICH).lines).contains(&LineKind::MarkedTimber));
    // Battens glued up of plies are no solid wood, and neither are slats of 6 mm; a crate without battens has none.
    let plies = in_berlin(&[("/delivery/crating/size/solid_wood", json!("0 in"))]);
    let slats = in_berlin(&[("/delivery/crating/size/solid_wood", json!("6 mm"))]);
    let panels = worked(&[("/shop/country", json!("DE")), ("/shop/postal_code", json!("10115"))]);
    for (shop, of) in [(plies, "plies"), (slats, "slats"), (panels, "panels")] {
        assert!(!kinds(&freight(&shop, LONDON).lines).contains(&LineKind::MarkedTimber), "{of}");
    }
}

#[test]
fn where_no_charge_for_marking_is_named_no_carrier_is_offered_across_that_border() {
    let shop = in_berlin(&[]);
    assert_eq!(way(&bench(&shop, LONDON), Mode::Freight), Err(&Unreachable::NotOffered));
    assert!(way(&bench(&shop, MUNICH), Mode::Freight).is_ok());
}

#[test]
fn a_quote_by_phone_leaves_the_marking_of_timber_where_it_was() {
    let quoted: CarriageQuote = scantling_pricing::book::document::Node::read(
        r#"{"mode": "freight", "charge": "120", "day": "2026-11-20", "by": "Depot, by phone", "days_least": 3, "days_most": 6}"#,
    )
    .unwrap()
    .read_as()
    .unwrap();
    let ordered = |shop: &ShopBook, mode: Mode, to: &str| {
        let asked = format!(
            r#"{{"scantling_brief": 1, "design": "bench", "delivery": "{}", "destination": {{{to}}}}}"#,
            mode.word()
        );
        let quoted = CarriageQuote { mode, ..quoted.clone() };
        let costs = Rates::new(shop).unwrap().costs_quoted(&brief(&asked), Some(&quoted)).unwrap();
        (lines(costs.cost.delivered().unwrap()), lines(costs.selling.delivered().unwrap()))
    };
    let shop = in_berlin(&[("/delivery/marked_timber", json!("40"))]);
    // In place of a table, and where there is none: 40.00 at cost, sold 44.00.
    for mode in [Mode::Freight, Mode::Abroad] {
        let (cost, sold) = ordered(&shop, mode, LONDON);
        assert_eq!((&cost[1], &sold[1]), (&at(LineKind::MarkedTimber, "40.00"), &at(LineKind::MarkedTimber, "44.00")));
        assert_eq!(sold[2], at(LineKind::Quoted, "132.00"));
    }
    assert_eq!(ordered(&shop, Mode::Freight, MUNICH).1.len(), 2);
    // Where the book names no charge, the line says so.
    let (_, sold) = ordered(&in_berlin(&[]), Mode::Abroad, LONDON);
    assert_eq!(sold[1], at(LineKind::MarkedTimber, "0.00"));
}

#[test]
fn the_demo_marks_every_crate_that_leaves_for_europe_and_none_for_canada() {
    let abroad = |country: &str, code: &str| {
        let asked = format!(
            r#"{{"scantling_brief": 1, "design": "trestle-table", "quantity": 2, "delivery": "abroad",
                "destination": {{"country": "{country}", "postal_code": "{code}"}}}}"#
        );
        Rates::new(&demo_shop()).unwrap().costs(&brief(&asked)).unwrap().cost.delivered().unwrap().clone()
    };
    // Two tables, the top of each in one crate and its base in another: four at 45.00.
    let berlin = abroad("DE", "10115");
    let marked = berlin.lines.iter().find(|line| line.kind == LineKind::MarkedTimber).unwrap();
    assert_eq!(
        (marked.quantity.unwrap().to_string().as_str(), marked.amount.to_string().as_str()),
        ("4", "180.00 USD")
    );
    assert!(!kinds(&abroad("CA", "K1A 0B1").lines).contains(&LineKind::MarkedTimber));
}

/// The demo with a table of its own for Britain, whose duty is estimated.
fn with_duty(share: &str) -> ShopBook {
    let mut book = crate::start::demo_value();
    let mut table = book["delivery"]["abroad"][1].clone();
    table["key"] = json!("britain");
    table["duty"] = json!({ "name": "import VAT of 20 %, by the rates of November", "share": share });
    book["delivery"]["abroad"].as_array_mut().unwrap().push(table);
    let britain = book["regions"].as_array_mut().unwrap().iter_mut().find(|region| region["key"] == "united-kingdom");
    britain.unwrap()["abroad"] = json!("britain");
    crate::start::sound(&book)
}

const TO_BRITAIN: &str = r#"{"scantling_brief": 1, "design": "slab-console", "delivery": "abroad",
    "destination": {"country": "GB", "postal_code": "sw1a 1aa"}}"#;

#[test]
fn duty_a_maker_estimates_is_a_line_of_the_price_at_what_it_is_and_else_it_is_left_out() {
    let shop = with_duty("0.2");
    let costs = Rates::new(&shop).unwrap().costs(&brief(TO_BRITAIN)).unwrap();
    let of = |estimate: &Estimate| {
        let line = estimate.delivered().unwrap().lines.iter().find(|line| line.kind == LineKind::Duty);
        line.map(|line| (line.name.clone(), line.amount.amount()))
    };
    // A fifth of the price at the workshop, at cost and as it is sold: nothing is put on it.
    let fifth = costs.selling.works_net().amount() / Decimal::from(5);
    let named = "import VAT of 20 %, by the rates of November".to_owned();
    assert_eq!(of(&costs.selling), Some((named.clone(), fifth)));
    assert_eq!(of(&costs.cost), Some((named, fifth)));
    // It is in the delivered price: lines, rounding and price add up as ever, and it is that much more than without.
    let without = estimate(&selling(&demo_shop()), &brief(TO_BRITAIN)).unwrap();
    assert_eq!(of(&without), None);
    let carried = |estimate: &Estimate| {
        let delivered = estimate.delivered().unwrap();
        let lines: Decimal = delivered.lines.iter().map(|line| line.amount.amount()).sum();
        assert_eq!(
            estimate.works_net().amount() - estimate.rounding.amount() + lines + delivered.rounding.amount(),
            delivered.price.likely.amount()
        );
        lines
    };
    assert_eq!(carried(&costs.selling) - carried(&without), fifth);
    // It may miss as a carrier's charge may: the range is wider by it, by more than both its ends are rounded.
    let width = |estimate: &Estimate| {
        let price = estimate.delivered().unwrap().price;
        price.high.amount() - price.low.amount()
    };
    let all_of_it = estimate(&selling(&with_duty("1")), &brief(TO_BRITAIN)).unwrap();
    assert!(width(&all_of_it) > width(&without) + Decimal::TEN);
    // A larger share never costs less.
    let more = estimate(&selling(&with_duty("0.27")), &brief(TO_BRITAIN)).unwrap();
    assert!(
        more.delivered().unwrap().price.likely.amount() >= costs.selling.delivered().unwrap().price.likely.amount()
    );
}

#[test]
fn terms_name_rule_place_and_edition_where_duty_may_be_due() {
    // shared/reference/delivery/insurance_tax_currency.md section 7: DAP unless the maker enters figures, then DDP; "write the term with place and
    // edition".
    let told = |shop: &ShopBook, country: &str, code: &str, mode: Mode| {
        let asked = format!(
            r#"{{"scantling_brief": 1, "design": "wall-shelf", "destination": {{"country": "{country}", "postal_code": "{code}"}}}}"#
        );
        let estimate = estimate(&selling(shop), &brief(&asked)).unwrap();
        way(&estimate, mode).unwrap().terms.as_ref().map(ToString::to_string)
    };
    let demo = demo_shop();
    let page = include_str!("../../../../shared/reference/delivery/insurance_tax_currency.md");
    assert!(page.contains("\"DAP 10115 Berlin, Incoterms 2020\""));
    assert_eq!(told(&demo, "DE", "10115", Mode::Abroad).unwrap(), "DAP 10115 DE, Incoterms 2020");
    assert_eq!(told(&demo, "ca", " k1a 0b1", Mode::Abroad).unwrap(), "DAP k1a 0b1 CA, Incoterms 2020");
    assert_eq!(told(&with_duty("0.2"), "GB", "SW1A 1AA", Mode::Abroad).unwrap(), "DDP SW1A 1AA GB, Incoterms 2020");
    // What is collected is handed over at the workshop; at home and within the Union nothing is due.
    assert_eq!(told(&demo, "DE", "10115", Mode::Collect), None);
    assert_eq!(told(&demo, "US", "60601", Mode::Freight), None);
    let berlin = in_berlin(&[("/delivery/marked_timber", json!("40"))]);
    let freight = |to: &str| way(&bench(&berlin, to), Mode::Freight).unwrap().terms.as_ref().map(|terms| terms.rule);
    assert_eq!((freight(MUNICH), freight(LONDON)), (None, Some(Rule::DeliveredAtPlace)));
    // As the file has it.
    let estimate = estimate(&demo_price(), &brief(TO_BRITAIN)).unwrap();
    assert_eq!(
        serde_json::to_value(&estimate.delivered().unwrap().terms).unwrap(),
        json!({ "rule": "DAP", "incoterms": 2020, "postal_code": "sw1a 1aa", "country": "GB" })
    );
}

#[test]
fn a_duty_is_public_as_it_stands_and_needs_a_border() {
    let published = serde_json::to_value(selling(&with_duty("0.2"))).unwrap();
    let duty = &published["delivery"]["abroad"][2]["duty"];
    assert_eq!(*duty, json!({ "name": "import VAT of 20 %, by the rates of November", "share": "0.2" }));
    let mut book = serde_json::to_value(with_duty("0.2")).unwrap();
    book["shop"]["country"] = json!("GB");
    book["shop"]["postal_code"] = json!("SW1A 1AA");
    let faults = ShopBook::read(&book.to_string()).unwrap_err();
    assert!(
        faults.iter().any(|fault| fault.path == "regions[10].abroad"
            && fault.to_string().contains("no duty is due from GB to GB")
            && fault.to_string().contains("take its duty out")),
        "{faults:?}"
    );
}
