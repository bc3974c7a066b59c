//! The checks on whole pieces: what is refused, warned of and noted, and for what.

use scantling_pricing::checks::{Check, Figure, Finding, Level, way_in};
use scantling_pricing::design::resolve;
use scantling_pricing::estimate::estimate;
use scantling_pricing::measure::{Length, LengthUnit};
use serde_json::{Value, json};

use crate::start::{brief, demo_value, selling, sound};

fn of_book(book: &Value, asked: &Value) -> Result<Vec<Finding>, String> {
    let priced = estimate(&selling(&sound(book)), &brief(&asked.to_string()));
    priced.map(|estimate| estimate.findings).map_err(|problems| problems.first().unwrap().to_string())
}

fn of_demo(asked: &Value) -> Vec<Finding> {
    of_book(&demo_value(), asked).unwrap()
}

fn found(findings: &[Finding], check: Check) -> &Finding {
    findings.iter().find(|finding| finding.check == check).unwrap_or_else(|| panic!("no {check:?} in {findings:?}"))
}

fn table(dimensions: Value) -> Value {
    json!({ "scantling_brief": 1, "design": "trestle-table", "dimensions": dimensions })
}

#[test]
fn a_dining_table_is_held_against_the_room_people_need() {
    let usual = of_demo(&table(json!({})));
    assert_eq!(found(&usual, Check::Height).level, Level::Note);
    assert_eq!(found(&usual, Check::Seats).figure, Figure::Count(6), "84 in, 24 in a place, two sides");
    let odd = of_demo(&table(json!({ "height": "30 1/2 in", "width": "32 in" })));
    assert_eq!(found(&odd, Check::Height).level, Level::Warn);
    assert_eq!(found(&odd, Check::PlaceDepth).least, Some(Figure::Length(Length::inches(36))));
    assert_eq!(
        found(&odd, Check::Height).explain(LengthUnit::Inch),
        "30 1/2 in is an unusual height for it: 28 in to 30 in is usual"
    );
    assert_eq!(found(&odd, Check::Overhang).figure, Figure::Length(Length::inches(14)), "the trestles stand 14 in in");
}

#[test]
fn a_rail_on_the_way_of_knees_is_warned_of() {
    let mut book = demo_value();
    let parts = book["designs"][0]["parts"].as_array_mut().unwrap();
    let stretcher = parts.iter_mut().find(|part| part["key"] == "stretcher").unwrap();
    stretcher["at"] = json!(["14 in", "4 in", "20 in"]);
    let findings = of_book(&book, &table(json!({}))).unwrap();
    assert_eq!(found(&findings, Check::Knees).level, Level::Warn);
    assert_eq!(found(&findings, Check::Knees).figure, Figure::Length(Length::inches(20)));
    assert_eq!(found(&of_demo(&table(json!({}))), Check::Knees).level, Level::Note);
}

#[test]
fn a_seat_bends_less_with_its_rail_and_is_refused_without() {
    let bench = json!({ "scantling_brief": 1, "design": "hall-bench", "dimensions": { "length": "84 in" } });
    // By hand, black walnut, 1.68 million psi: span 69.5 in, 125 lb/ft = 723.958 lb; I of the 14 x 1 1/4 seat 2.278646 and of
    // the 1 x 3 1/2 rail 3.572917; 5 x 723.958 x 335702 / (384 x 1 680 000 x 5.851563) = 0.3219 in, 21/64 up.
    let findings = of_demo(&bench);
    assert_eq!(found(&findings, Check::Sag).figure, Figure::Length(Length::sixty_fourths(21)));
    assert_eq!(found(&findings, Check::Sag).level, Level::Warn, "over 69.5 in / 240 = 0.29 in");
    let mut alone = demo_value();
    let seat = &mut alone["designs"][1]["parts"][0];
    assert_eq!(seat["key"], "seat");
    seat["carries"].as_object_mut().unwrap().remove("stiffened_by");
    let refused = of_book(&alone, &bench).unwrap_err();
    assert!(refused.starts_with("dimensions: Seat: bends 53/64 in"), "{refused}");
}

#[test]
fn what_lies_on_a_shelf_bends_it_twice_as_far_in_the_long_run() {
    let shelf = json!({ "scantling_brief": 1, "design": "wall-shelf", "dimensions": { "length": "48 in" } });
    let mut passing = demo_value();
    assert_eq!(passing["designs"][2]["key"], "wall-shelf");
    passing["designs"][2]["parts"][0]["carries"]["lasting"] = json!(false);
    let bend = |findings: &[Finding]| match found(findings, Check::Sag).figure {
        Figure::Length(length) => length.nanometres(),
        other => panic!("{other:?}"),
    };
    let (lasting, first) = (bend(&of_demo(&shelf)), bend(&of_book(&passing, &shelf).unwrap()));
    let sixty_fourth = Length::sixty_fourths(1).nanometres();
    assert!((lasting - 2 * first).abs() <= sixty_fourth, "{lasting} and {first}, each rounded up to 1/64 in");
}

#[test]
fn a_wide_top_moves_more_where_the_air_is_damp() {
    let to = |zip: &str, state: &str| {
        let asked = json!({
            "scantling_brief": 1, "design": "trestle-table", "dimensions": { "width": "44 in" },
            "materials": { "top": "white-oak" }, "destination": { "country": "US", "postal_code": zip }
        });
        let findings = of_demo(&asked);
        (found(&findings, Check::Movement).clone(), state.to_owned())
    };
    // By hand: 16 in x 0.00365 x 2 points = 0.1168 in, 8/64 up; x 5 points to 13 % = 0.292 in, 19/64 up.
    let (usual, _) = to("54601", "WI");
    assert_eq!(usual.figure, Figure::Length(Length::sixty_fourths(8)));
    assert_eq!(usual.level, Level::Note);
    let (damp, _) = to("32801", "FL");
    assert_eq!(damp.figure, Figure::Length(Length::sixty_fourths(19)));
    assert_eq!(damp.level, Level::Warn, "over the 3/16 in its fixings give");
    // Dry: down to 4 %, outside the coefficients: 16 x 4 / (3000/10.5 - 30 + 8) = 0.2428 in, 16/64 up.
    let (dry, _) = to("85001", "AZ");
    assert_eq!(dry.figure, Figure::Length(Length::sixty_fourths(16)));
}

#[test]
fn a_narrow_tall_console_tips_sooner_than_a_deep_one() {
    let console = |depth: &str| {
        let asked = json!({ "scantling_brief": 1, "design": "slab-console", "dimensions": { "width": depth, "height": "34 in" } });
        found(&of_demo(&asked), Check::Tipping).clone()
    };
    let pull = |finding: &Finding| match finding.figure {
        Figure::Pounds(pounds) => pounds,
        other => panic!("{other:?}"),
    };
    let (narrow, deep) = (console("12 in"), console("16 in"));
    assert!(pull(&narrow) < pull(&deep), "{narrow:?} {deep:?}");
    assert_eq!(narrow.level, Level::Warn);
}

#[test]
fn storage_for_clothes_is_refused_from_the_size_the_law_names_unless_it_is_tested() {
    let mut book = demo_value();
    let design = &mut book["designs"][0];
    design["purpose"] = json!("clothing-storage");
    let refused = of_book(&book, &table(json!({}))).unwrap_err();
    assert!(refused.contains("must pass the tip-over tests"), "{refused}");
    book["designs"][0]["tip_tested"] = json!(true);
    assert_eq!(found(&of_book(&book, &table(json!({}))).unwrap(), Check::ClothingStorage).level, Level::Note);
}

#[test]
fn a_piece_too_broad_for_a_door_and_too_heavy_for_two_is_warned_of() {
    let mut book = demo_value();
    book["designs"][0].as_object_mut().unwrap().remove("packs");
    let tall = json!({ "height": "30 1/2 in" });
    let findings = of_book(&book, &table(tall.clone())).unwrap();
    assert_eq!(found(&findings, Check::Doorway).figure, Figure::Length(Length::sixty_fourths(61 * 32)));
    assert!(of_demo(&table(tall)).iter().all(|finding| finding.check != Check::Doorway), "it comes apart");
    let heavy = of_demo(&table(json!({ "length": "108 in", "width": "44 in" })));
    assert_eq!(found(&heavy, Check::Lift).level, Level::Warn);
}

#[test]
fn whether_it_goes_through_a_door_is_told_either_way() {
    let way_in_of = |book: &Value, asked: Value| {
        let book = selling(&sound(book));
        let asked = brief(&asked.to_string());
        way_in(&resolve(&book, &asked).unwrap())
    };
    let demo = demo_value();
    let design = |design: &str| json!({ "scantling_brief": 1, "design": design });
    // The bench as it starts is 60 x 14 x 17 1/2 in and travels whole.
    let bench = way_in_of(&demo, design("hall-bench")).unwrap();
    assert_eq!((bench.level, bench.figure), (Level::Note, Figure::Length(Length::inches(14))));
    assert_eq!(bench.most, Some(Figure::Length(Length::inches(30))));
    assert_eq!(way_in_of(&demo, design("wall-shelf")), None, "it hangs where it is wanted");
    let mut whole = demo;
    whole["designs"][0].as_object_mut().unwrap().remove("packs");
    let tall = way_in_of(&whole, table(json!({ "height": "30 1/2 in" }))).unwrap();
    assert_eq!((tall.level, tall.figure), (Level::Warn, Figure::Length(Length::sixty_fourths(61 * 32))));
}

#[test]
fn a_size_past_its_limit_is_refused_with_the_reason_the_maker_gives() {
    let mut book = demo_value();
    let dimension = &mut book["designs"][0]["dimensions"][0];
    dimension["why"] = json!("Longer planks are not to be had.");
    let refused = of_book(&book, &table(json!({ "length": "109 in" }))).unwrap_err();
    let told = "Length is built from 60 in to 108 in; 109 in is outside that, so choose a size between them";
    assert_eq!(refused, format!("dimensions.length: {told}. Longer planks are not to be had"));
    book["designs"][0]["dimensions"][0].as_object_mut().unwrap().remove("why");
    let refused = of_book(&book, &table(json!({ "length": "109 in" }))).unwrap_err();
    assert_eq!(refused, format!("dimensions.length: {told}"));
}

#[test]
fn what_a_check_says_has_its_source() {
    let asked = table(json!({}));
    let priced = estimate(&selling(&sound(&demo_value())), &brief(&asked.to_string())).unwrap();
    let written = serde_json::to_value(&priced).unwrap();
    let findings = written["findings"].as_array().unwrap();
    assert!(findings.len() >= 6, "{findings:?}");
    for finding in findings {
        assert!(finding["source"].as_str().is_some_and(|source| source.len() > 10), "{finding}");
    }
}
