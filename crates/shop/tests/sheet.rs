//! The book as it is edited: undone and done again to the letter, whatever the edits.

#![expect(clippy::unwrap_used, reason = "a test stops where its own set-up fails")]

/// The book that the tests in browsers are timed with.
#[path = "../../../tests/src/large.rs"]
#[expect(unreachable_pub, reason = "it is a part of another crate")]
mod large;

use proptest::prelude::*;
use scantling_pricing::book::ShopBook;
use scantling_pricing::book::document::Node;
use scantling_shop::sheet::{Edit, Path, Sheet, Step};

const DEMO: &str = include_str!("../../../shared/books/demo-shop.json");

fn demo() -> Sheet {
    Sheet::open(DEMO).unwrap()
}

/// A place that is there: a number says which way to turn at each table and list on the way, and now and then to stop on it.
fn place(root: &Node, way: u128) -> Path {
    let (mut at, mut node, mut way) = (Path::whole(), root, way);
    let mut turn = |ways: usize| {
        let ways = u128::try_from(ways).unwrap();
        let turn = way.checked_rem(ways).and_then(|turn| usize::try_from(turn).ok());
        way = way.checked_div(ways).unwrap_or_default();
        turn
    };
    loop {
        let inside: Vec<(Path, &Node)> = match node {
            Node::Table(entries) => entries.iter().map(|(key, value)| (at.key(key), value)).collect(),
            Node::List(items) => items.iter().enumerate().map(|(index, item)| (at.index(index), item)).collect(),
            Node::Null | Node::Bool(_) | Node::Int(_) | Node::Float | Node::Text(_) => Vec::new(),
        };
        // The tables of the book itself stay: what goes there takes a large part of it along.
        let stops = turn(16) == Some(0) && at.steps().len() > 1;
        let Some(next) = turn(inside.len()).filter(|_| !stops) else { return at };
        (at, node) = inside.into_iter().nth(next).unwrap();
    }
}

/// An edit that can be made at a place that is there, and changes something: `n` is of no other edit.
fn edit(kind: u8, place: &Path, root: &Node, n: usize) -> Edit {
    let number = Node::Int(i64::try_from(n).unwrap());
    let (_, step) = place.last().unwrap();
    match (kind, step, place.find(root)) {
        (0 | 1, _, Some(Node::Table(_))) => Edit::set(place.key(&format!("new-{n}")), number),
        (0 | 1, _, Some(Node::List(rows))) => Edit::Insert(place.index(rows.len()), number),
        (2, Step::Index(_), _) => Edit::Insert(place.clone(), Node::Table(vec![("key".into(), number)])),
        (3, Step::Index(_), _) => Edit::Remove(place.clone()),
        (3, Step::Key(_), _) => Edit::Clear(place.clone()),
        _ => Edit::set(place.clone(), Node::Text(format!("edit {n}"))),
    }
}

/// Makes an edit for each of these, each drawn from the document as it stands by then; says what the document was after every so many.
fn thousand(sheet: &mut Sheet, drawn: &[(u8, u128, Option<u8>)], every: usize) -> Vec<(usize, Node)> {
    let mut states = Vec::new();
    for (n, (kind, way, beside)) in drawn.iter().enumerate() {
        let first = edit(*kind, &place(sheet.root(), *way), sheet.root(), n);
        // Some are made together with another, which is there for good, or with one that can't be made: then neither is.
        let mark = Edit::set(Path::whole().key("mark"), Node::Int(i64::try_from(n).unwrap()));
        if *beside == Some(0) {
            let before = sheet.root().clone();
            let nowhere = Edit::Remove(Path::read("nowhere[0]"));
            assert!(!sheet.edit("both", vec![first.clone(), mark.clone(), nowhere]));
            assert_eq!(*sheet.root(), before, "an edit that can't be made changes nothing");
        }
        let together = if beside.is_some() { vec![first, mark] } else { vec![first] };
        assert!(sheet.edit(&format!("edit {n}"), together.clone()), "{together:?} can't be made");
        assert_eq!(sheet.last_done(), Some(format!("edit {n}").as_str()), "{together:?} changes nothing");
        if n % every == 0 {
            states.push((n, sheet.root().clone()));
        }
    }
    states
}

/// Undoes all of them and does them again: each state as it was, to the letter.
fn there_and_back(sheet: &mut Sheet, start: &str, states: &[(usize, Node)], made: usize) {
    let end = sheet.text();
    let mut left = states.iter().rev().peekable();
    for n in (0..made).rev() {
        if let Some((_, state)) = left.next_if(|(at, _)| *at == n) {
            assert_eq!(sheet.root(), state, "before edit {n} is undone");
        }
        assert_eq!(sheet.last_done(), Some(format!("edit {n}").as_str()));
        sheet.undo();
    }
    assert_eq!((sheet.text().as_str(), sheet.last_done()), (start, None));
    let mut left = states.iter().peekable();
    for n in 0..made {
        sheet.redo();
        if let Some((_, state)) = left.next_if(|(at, _)| *at == n) {
            assert_eq!(sheet.root(), state, "after edit {n} is done again");
        }
    }
    assert_eq!((sheet.text(), sheet.last_undone()), (end, None));
}

/// What a thousand edits are drawn by.
fn drawn() -> impl Strategy<Value = Vec<(u8, u128, Option<u8>)>> {
    prop::collection::vec((0_u8..5, any::<u128>(), prop::option::of(0_u8..16)), 1000)
}

#[test]
fn a_thousand_edits_are_undone_and_done_again_to_the_letter() {
    let mut runner = proptest::test_runner::TestRunner::new(ProptestConfig { cases: 8, ..ProptestConfig::default() });
    runner
        .run(&drawn(), |drawn| {
            let mut sheet = demo();
            let start = sheet.text();
            let states = thousand(&mut sheet, &drawn, 1);
            prop_assert_eq!(states.len(), 1000);
            there_and_back(&mut sheet, &start, &states, 1000);
            Ok(())
        })
        .unwrap();
}

#[test]
fn a_thousand_edits_of_a_book_of_5_000_rows_are_undone_to_the_letter() {
    let mut runner = proptest::test_runner::TestRunner::new(ProptestConfig { cases: 1, ..ProptestConfig::default() });
    runner
        .run(&drawn(), |drawn| {
            let mut sheet = Sheet::open(&large::large_book().unwrap()).unwrap();
            let start = sheet.text();
            let states = thousand(&mut sheet, &drawn, 100);
            prop_assert_eq!(states.len(), 10);
            there_and_back(&mut sheet, &start, &states, 1000);
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
