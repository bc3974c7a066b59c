//! What the engine says of a book is the same whether this thread or another is asked.

use scantling_pricing::book::values::Key;
use scantling_pricing::brief::Brief;
use scantling_shop::basket::Piece;
use scantling_shop::judge::{Answer, Question, judge};

const DEMO: &str = include_str!("../../../shared/books/demo-shop.json");

fn asked() -> Question {
    let piece =
        |(name, design): (&str, &str)| Some(Piece { name: name.into(), brief: Brief::new(Key::new(design).ok()?) });
    let pieces = [("Our bench", "hall-bench"), ("Gone", "no-such-design")];
    Question { places: "60601, CA K1A 0B1".into(), basket: Some(pieces.into_iter().filter_map(piece).collect()) }
}

#[test]
fn a_question_and_its_answer_come_through_text_as_they_were() {
    let question = asked();
    assert_eq!(Question::read(&question.write()), Some(question.clone()));
    let answer = judge(DEMO, &question);
    assert!(answer.sound && answer.faults.is_empty());
    let pieces = &answer.priced.as_ref().unwrap().pieces;
    assert!(pieces[0].1.is_ok() && pieces[1].1.is_err(), "a piece that can't be built says so and spoils no other");
    assert_eq!(Answer::read(&answer.write()), Some(answer));
    // Without pieces of the maker's own it is every design.
    let usual = judge(DEMO, &Question { basket: None, ..question });
    assert_eq!(usual.priced.unwrap().pieces.len(), 6);
}

#[test]
fn what_is_wrong_is_told_with_its_place_through_text_too() {
    let answer = judge(&DEMO.replace("\"1.35\"", "\"dear\""), &asked());
    assert!(!answer.sound && answer.priced.is_none());
    assert_eq!(answer.faults[0].0.to_string(), "hardware[0].price");
    assert_eq!(Answer::read(&answer.write()), Some(answer));
    assert_eq!(Answer::read("no answer"), None);
    assert_eq!(Question::read("{}"), None);
}
