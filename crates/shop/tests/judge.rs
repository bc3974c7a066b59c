//! What the engine says of a book is the same whether this thread or another is asked.

use scantling_pricing::book::document::Node;
use scantling_shop::judge::{Answer, judge};
use scantling_shop::sheet::{Edit, Path, Sheet};

const DEMO: &str = include_str!("../../../shared/books/demo-shop.json");

/// Two pieces of the maker's own to watch, the second of them of no design.
const WATCHED: &str = r#"[{"name": "Our bench", "brief": {"scantling_brief": 1, "design": "hall-bench", "dimensions": {"length": "50 in"}}},
    {"name": "Gone", "brief": {"scantling_brief": 1, "design": "no-such-design"}}]"#;

#[test]
fn the_maker_s_own_pieces_are_watched_and_the_answer_comes_through_text_as_it_was() {
    let mut sheet = Sheet::open(DEMO).unwrap();
    assert!(sheet.edit("pieces", vec![Edit::set(Path::read("basket"), Node::read(WATCHED).unwrap())]));
    let answer = judge(&sheet.text());
    assert!(answer.sound && answer.faults.is_empty(), "{:?}", answer.faults);
    let pieces = &answer.priced.as_ref().unwrap().pieces;
    assert_eq!(pieces.iter().map(|(piece, _)| piece.name.as_str()).collect::<Vec<_>>(), ["Our bench", "Gone"]);
    // Delivered to the three places the demo's book names, in their order: near by, to the other coast, abroad.
    let delivered = &pieces[0].1.as_ref().unwrap().delivered;
    assert!(delivered.len() == 3 && delivered.iter().all(Option::is_some), "{delivered:?}");
    assert!(pieces[0].1.is_ok() && pieces[1].1.is_err(), "a piece that can't be built says so and spoils no other");
    assert_eq!(Answer::read(&answer.write()), Some(answer));
    // Without pieces of the maker's own it is every design at its defaults.
    assert_eq!(judge(DEMO).priced.unwrap().pieces.len(), 6);
}

#[test]
fn what_is_wrong_is_told_with_its_place_through_text_too() {
    let answer = judge(&DEMO.replace("\"1.35\"", "\"dear\""));
    assert!(!answer.sound && answer.priced.is_none());
    assert_eq!(answer.faults[0].0.to_string(), "hardware[0].price");
    assert_eq!(Answer::read(&answer.write()), Some(answer));
    assert_eq!(Answer::read("no answer"), None);
}
