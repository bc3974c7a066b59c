//! The book as it is edited: undone and done again to the letter, whatever the edits.

#![expect(clippy::unwrap_used, reason = "a test stops where its own set-up fails")]

use proptest::prelude::*;
use scantling_pricing::book::ShopBook;
use scantling_pricing::book::document::Node;
use scantling_shop::sheet::{Edit, Path, Sheet};

const DEMO: &str = include_str!("../../../shared/books/demo-shop.json");

fn demo() -> Sheet {
    Sheet::open(DEMO).unwrap()
}

/// Every place of a document.
fn places(node: &Node, at: &Path, found: &mut Vec<Path>) {
    found.push(at.clone());
    match node {
        Node::Table(entries) => entries.iter().for_each(|(key, value)| places(value, &at.key(key), found)),
        Node::List(items) => items.iter().enumerate().for_each(|(i, item)| places(item, &at.index(i), found)),
        Node::Null | Node::Bool(_) | Node::Int(_) | Node::Float | Node::Text(_) => {}
    }
}

/// An edit of some kind at some place; many of them can't be made.
fn edit(kind: u8, place: &Path, number: i64) -> Edit {
    match kind {
        0 => Edit::set(place.clone(), Node::Text(number.to_string())),
        1 => Edit::set(place.key("new"), Node::Int(number)),
        2 => Edit::Clear(place.clone()),
        3 => Edit::Insert(place.clone(), Node::Table(vec![("key".into(), Node::Int(number))])),
        _ => Edit::Remove(place.clone()),
    }
}

#[test]
fn a_thousand_edits_are_undone_and_done_again_to_the_letter() {
    let mut all = Vec::new();
    places(demo().root(), &Path::whole(), &mut all);
    let some = (0_u8..5, prop::sample::select(all), any::<i64>());
    let edits = prop::collection::vec(prop::collection::vec(some, 1..3), 1000);
    let mut runner = proptest::test_runner::TestRunner::new(ProptestConfig { cases: 8, ..ProptestConfig::default() });
    runner
        .run(&edits, |edits| {
            let mut sheet = demo();
            let (start, mut states, mut made) = (sheet.root().clone(), vec![sheet.root().clone()], 0);
            for together in edits {
                let before = sheet.root().clone();
                let done =
                    sheet.edit("an edit", together.iter().map(|(kind, place, n)| edit(*kind, place, *n)).collect());
                if !done {
                    prop_assert_eq!(sheet.root(), &before, "an edit that can't be made changes nothing");
                } else if *sheet.root() != before {
                    made += 1;
                    states.push(sheet.root().clone());
                }
            }
            prop_assert!(made > 50, "{} edits could be made", made);
            for state in states.iter().rev().skip(1) {
                sheet.undo();
                prop_assert_eq!(sheet.root(), state);
            }
            prop_assert_eq!((sheet.root(), sheet.last_done()), (&start, None));
            for state in states.iter().skip(1) {
                sheet.redo();
                prop_assert_eq!(sheet.root(), state);
            }
            prop_assert_eq!(sheet.last_undone(), None);
            Ok(())
        })
        .unwrap();
}

#[test]
fn a_book_is_written_as_it_was_read_and_reads_again() {
    let sheet = demo();
    assert_eq!(Sheet::open(&sheet.text()).unwrap().root(), sheet.root());
    assert_eq!(ShopBook::read(&sheet.text()).unwrap(), ShopBook::read(DEMO).unwrap());
}

#[test]
fn an_error_of_the_engine_leads_to_the_place_it_is_at() {
    let mut sheet = demo();
    let place = Path::read("timbers[3].rates.8/4");
    assert!(matches!(sheet.at(&place), Some(Node::Text(_))));
    assert!(sheet.edit("rate", vec![Edit::set(place.clone(), Node::Text("a lot".into()))]));
    let fault = ShopBook::read(&sheet.text()).unwrap_err().remove(0);
    assert_eq!(Path::read(&fault.path), place);
    sheet.undo();
    assert!(ShopBook::read(&sheet.text()).is_ok());
}

#[test]
fn edits_that_belong_together_are_undone_together_and_a_new_one_forgets_what_was_undone() {
    let mut sheet = demo();
    let (name, place) = (Path::read("shop.name"), Path::read("shop.place"));
    let words = |text: &str| Node::Text(text.into());
    assert!(sheet.edit("name and place", vec![Edit::set(name.clone(), words("A")), Edit::set(place, words("B"))]));
    assert_eq!(sheet.last_done(), Some("name and place"));
    sheet.undo();
    assert_eq!(sheet.at(&name), Some(&words("Larkmoor Bench")));
    assert_eq!(sheet.last_undone(), Some("name and place"));
    assert!(sheet.edit("name", vec![Edit::set(name.clone(), words("C"))]));
    assert_eq!(sheet.last_undone(), None);
    // The second can't be made: the first is taken back.
    let nowhere = Edit::Remove(Path::read("timbers[99]"));
    assert!(!sheet.edit("both", vec![Edit::set(name.clone(), words("D")), nowhere]));
    assert_eq!(sheet.at(&name), Some(&words("C")));
    // What changes nothing is no edit.
    assert!(sheet.edit("the same", vec![Edit::set(name, words("C"))]));
    assert_eq!(sheet.last_done(), Some("name"));
}

#[test]
fn what_is_typed_at_one_place_is_undone_at_once_and_exactly() {
    let mut sheet = Sheet::open(include_str!("../../../shared/books/demo-shop.json")).unwrap();
    let start = sheet.clone();
    let place = Path::read("designs[0].parts[0].thickness");
    let text = |text: &str| Edit::set(place.clone(), Node::Text(text.to_owned()));
    for typed in ["1", "1 ", "1 1", "1 1/", "1 1/2", "1 1/2 in"] {
        assert!(sheet.type_at("Thickness", &place, vec![text(typed)]));
    }
    sheet.typed();
    let once = sheet.clone();
    assert!(sheet.type_at("Thickness", &place, vec![text("2 in")]));
    let elsewhere = Path::read("designs[0].parts[0].name");
    assert!(sheet.type_at("Name", &elsewhere, vec![Edit::set(elsewhere.clone(), Node::Text("Leaf".into()))]));
    let all = sheet.text();
    sheet.undo();
    sheet.undo();
    assert_eq!(sheet.text(), once.text());
    sheet.undo();
    assert_eq!((sheet.text(), sheet.last_done()), (start.text(), None));
    for _ in 0..3 {
        sheet.redo();
    }
    assert_eq!((sheet.text(), sheet.last_undone()), (all, None));
}

#[test]
fn another_state_is_gone_to_as_one_edit_and_undone_to_the_letter() {
    let mut now = Sheet::open(DEMO).unwrap();
    let mut then = Sheet::open(DEMO).unwrap();
    let edits = vec![
        Edit::Clear(Path::read("notice")),
        Edit::Remove(Path::read("jobs[0]")),
        Edit::set(Path::read("timbers[0].rates.8/4"), Node::Text("9.99".to_owned())),
        Edit::set(Path::read("requests"), Node::List(Vec::new())),
    ];
    assert!(then.edit("Another state", edits));
    let before = now.text();
    assert!(now.edit("Opening it", now.towards(&then)));
    assert_eq!(ordered(now.root()), ordered(then.root()));
    now.undo();
    assert_eq!(now.text(), before);
    assert_eq!(now.towards(&now.clone()), [], "nothing to do");
}

/// The parts of a document by their keys: a part that was not there before comes last.
fn ordered(root: &Node) -> Vec<(String, String)> {
    let Node::Table(entries) = root else { return Vec::new() };
    let mut all: Vec<_> =
        entries.iter().map(|(key, value)| (key.clone(), serde_json::to_string(value).unwrap())).collect();
    all.sort();
    all
}
