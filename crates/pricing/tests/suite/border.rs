//! What crosses a border: timber of crates marked where the rule asks it, on the book of round figures (`worked.rs`) and on the demo. A
//! carrier's cost is sold 1.10 times itself on the former.

use scantling_pricing::book::ShopBook;
use scantling_pricing::cost::LineKind;
use scantling_pricing::delivery::{CarriageQuote, Mode, Unreachable};
use scantling_pricing::estimate::Line;
use scantling_pricing::profit::Rates;
use serde_json::{Value, json};

use crate::delivered::{at, bench, lines, way, worked};
use crate::start::{brief, demo_shop};

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
    assert_eq!((marked.quantity.unwrap().to_string().as_str(), marked.amount.to_string().as_str()), ("4", "180.00 USD"));
    assert!(!kinds(&abroad("CA", "K1A 0B1").lines).contains(&LineKind::MarkedTimber));
}
