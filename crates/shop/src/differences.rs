//! What differs between two books, or two price books, told by the places that stand on the page.
//!
//! A row is known again by its key or its name, wherever it stands by now: a row that was put in front changes none of those behind it.

use std::collections::BTreeMap;

use scantling_pricing::book::document::Node;

use crate::form::Kind;
use crate::named::named;
use crate::sheet::Path;

/// Differences that are listed at most.
const MOST_LISTED: usize = 60;

/// The longest that is told of a value, in letters: a design has thousands.
const LONGEST: usize = 120;

/// What a row may be known by, the surest first.
const KNOWN_BY: [&str; 8] = ["key", "name", "label", "currency", "when", "item", "work", "kind"];

/// Every place whose value is another, in words; one line that nothing differs where none is.
#[must_use]
pub fn differences(before: &Node, now: &Node, kind: &Kind) -> Vec<String> {
    let mut found = Found::default();
    found.compare((before, &Path::whole()), (now, &Path::whole()));
    let count = found.0.len();
    if count == 0 {
        return vec!["Nothing differs.".to_owned()];
    }
    let words = |Difference { place, in_now, what }: Difference| {
        format!("{}: {what}", named(if in_now { now } else { before }, kind, &place))
    };
    let more = count.saturating_sub(MOST_LISTED);
    let rest = (more > 0).then(|| format!("and {more} more"));
    found.0.into_iter().take(MOST_LISTED).map(words).chain(rest).collect()
}

/// A place that differs.
struct Difference {
    place: Path,
    /// Whether the place is one of the book as it is now; else of the one before.
    in_now: bool,
    /// What became of it.
    what: String,
}

/// What differs so far.
#[derive(Default)]
struct Found(Vec<Difference>);

/// A value and where it stands.
type At<'a> = (&'a Node, &'a Path);

impl Found {
    fn compare(&mut self, was: At<'_>, is: At<'_>) {
        match (was.0, is.0) {
            // Most of two books is the same.
            (before, now) if before == now => {}
            (Node::Table(before), Node::Table(now)) => {
                self.compare_tables((before.as_slice(), was.1), (now.as_slice(), is.1));
            }
            (Node::List(before), Node::List(now)) if !(all_plain(before) && all_plain(now)) => {
                let (was, is) = ((before.as_slice(), was.1), (now.as_slice(), is.1));
                match known(before).zip(known(now)) {
                    Some(rows) => self.compare_rows(rows, was, is),
                    None => self.compare_in_order(was, is),
                }
            }
            (before, now) => self.tell(is.1, format!("{} to {}", told(before), told(now))),
        }
    }

    fn compare_tables(&mut self, was: (&[(String, Node)], &Path), is: (&[(String, Node)], &Path)) {
        for (key, value) in is.0.iter().filter(|(_, value)| is_there(value)) {
            match under(was.0, key) {
                Some(before) => self.compare((before, &was.1.key(key)), (value, &is.1.key(key))),
                None => self.tell(&is.1.key(key), new(value)),
            }
        }
        for (key, _) in was.0.iter().filter(|(key, value)| is_there(value) && under(is.0, key).is_none()) {
            self.tell_gone(&was.1.key(key));
        }
    }

    /// Rows that are known by their keys.
    fn compare_rows(&mut self, rows: (Rows<'_>, Rows<'_>), was: (&[Node], &Path), is: (&[Node], &Path)) {
        let (before, now) = rows;
        let mut kept = Vec::new();
        for (index, (row, key)) in is.0.iter().zip(&now.order).enumerate() {
            let place = is.1.index(index);
            match before.index.get(key).and_then(|at| Some((*at, was.0.get(*at)?))) {
                Some((at, old)) => {
                    kept.push(at);
                    self.compare((old, &was.1.index(at)), (row, &place));
                }
                None => self.tell(&place, new(row)),
            }
        }
        for (index, _) in before.order.iter().enumerate().filter(|(_, key)| !now.index.contains_key(*key)) {
            self.tell_gone(&was.1.index(index));
        }
        // The first region that fits a place counts, and the first design is shown first.
        if !kept.is_sorted() {
            self.tell(is.1, "its rows stand in another order".to_owned());
        }
    }

    /// Rows that nothing is known by: what is the same in front and behind is left out, and the rest is compared one by one.
    fn compare_in_order(&mut self, was: (&[Node], &Path), is: (&[Node], &Path)) {
        let (before, now) = (was.0, is.0);
        let front = before.iter().zip(now).take_while(|(was, is)| was == is).count();
        let rest = before.len().min(now.len()).saturating_sub(front);
        let behind = before.iter().rev().zip(now.iter().rev()).take(rest).take_while(|(was, is)| was == is).count();
        let (end, end_now) = (before.len().saturating_sub(behind), now.len().saturating_sub(behind));
        for index in front..end.max(end_now) {
            let (old, new_row) =
                (before.get(index).filter(|_| index < end), now.get(index).filter(|_| index < end_now));
            match (old, new_row) {
                (Some(old), Some(row)) => self.compare((old, &was.1.index(index)), (row, &is.1.index(index))),
                (None, Some(row)) => self.tell(&is.1.index(index), new(row)),
                (Some(_), None) => self.tell_gone(&was.1.index(index)),
                (None, None) => {}
            }
        }
    }

    fn tell(&mut self, place: &Path, what: String) {
        self.0.push(Difference { place: place.clone(), in_now: true, what });
    }

    fn tell_gone(&mut self, place: &Path) {
        self.0.push(Difference { place: place.clone(), in_now: false, what: "gone".to_owned() });
    }
}

/// The rows of a list by what each is known by.
struct Rows<'a> {
    /// What each is known by, in their order.
    order: Vec<&'a str>,
    /// Where each stands.
    index: BTreeMap<&'a str, usize>,
}

/// What the rows of a list are known by; nothing where some have nothing, or two the same.
fn known(rows: &[Node]) -> Option<Rows<'_>> {
    KNOWN_BY.iter().find_map(|by| {
        let order: Vec<&str> = rows.iter().map(|row| row.text(by)).collect::<Option<_>>()?;
        let index: BTreeMap<&str, usize> = order.iter().enumerate().map(|(at, key)| (*key, at)).collect();
        (index.len() == order.len()).then_some(Rows { order, index })
    })
}

fn under<'a>(entries: &'a [(String, Node)], wanted: &str) -> Option<&'a Node> {
    entries.iter().find(|(key, value)| key == wanted && is_there(value)).map(|(_, value)| value)
}

/// What is written as nothing is as good as left out.
const fn is_there(value: &Node) -> bool {
    !matches!(value, Node::Null)
}

fn all_plain(items: &[Node]) -> bool {
    items.iter().all(|item| !matches!(item, Node::Table(_) | Node::List(_)))
}

fn new(value: &Node) -> String {
    format!("new, {}", told(value))
}

/// A value in a few words.
fn told(value: &Node) -> String {
    let mut words = String::new();
    tell_into(value, &mut words);
    if words.is_empty() {
        return "nothing".to_owned();
    }
    match words.char_indices().nth(LONGEST) {
        Some((end, _)) => {
            words.truncate(end);
            words.push('…');
            words
        }
        None => words,
    }
}

fn tell_into(value: &Node, words: &mut String) {
    // What stands behind is cut off anyway.
    if words.len() > LONGEST.saturating_mul(4) {
        return;
    }
    let mut part = |name: &str, value: &Node| {
        if !words.is_empty() && !words.ends_with(' ') {
            words.push_str(", ");
        }
        if !name.is_empty() {
            words.push_str(&name.replace('_', " "));
            words.push(' ');
        }
        tell_into(value, words);
    };
    match value {
        Node::Table(entries) => {
            entries.iter().filter(|(_, value)| is_there(value)).for_each(|(key, value)| part(key, value));
        }
        Node::List(items) => items.iter().for_each(|item| part("", item)),
        Node::Text(text) => words.push_str(text),
        Node::Int(number) => words.push_str(&number.to_string()),
        Node::Bool(value) => words.push_str(if *value { "yes" } else { "no" }),
        Node::Null | Node::Float => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::{Edit, Sheet, Step};

    fn kind() -> Kind {
        Kind::of_document(&serde_json::from_str(crate::SCHEMA).unwrap())
    }

    fn read(text: &str) -> Node {
        Node::read(text).unwrap()
    }

    #[track_caller]
    fn differ(before: &str, now: &str, expected: &[&str]) {
        assert_eq!(differences(&read(before), &read(now), &kind()), expected);
    }

    #[test]
    fn what_differs_is_listed_by_its_place() {
        let before = r#"{"edition": "2026-01-01", "timbers": [{"name": "Ash", "rates": {"4/4": "9"}}], "old": true, "none": null}"#;
        let now = r#"{"edition": "2026-01-01", "timbers": [{"name": "Ash", "rates": {"4/4": "9.5", "8/4": "12"}}]}"#;
        differ(before, now, &["Timbers, Ash: rates 4/4: 9 to 9.5", "Timbers, Ash: rates 8/4: new, 12", "old: gone"]);
        differ(now, now, &["Nothing differs."]);
    }

    #[test]
    fn a_row_put_in_front_changes_none_behind_it_and_one_moved_is_told_as_moved() {
        let row = |key: &str, price: &str| format!(r#"{{"key": "{key}", "name": "{key}", "price": "{price}"}}"#);
        let book = |rows: &[String]| format!(r#"{{"hardware": [{}]}}"#, rows.join(", "));
        let before = book(&[row("a", "1"), row("b", "2"), row("c", "3")]);
        differ(
            &before,
            &book(&[row("new", "9"), row("a", "1"), row("b", "2"), row("c", "3")]),
            &["Hardware, new: new, key new, name new, price 9"],
        );
        differ(
            &before,
            &book(&[row("a", "1"), row("c", "3.5")]),
            &["Hardware, c: price: 3 to 3.5", "Hardware, b: gone"],
        );
        differ(
            &before,
            &book(&[row("c", "3"), row("a", "1"), row("b", "2")]),
            &["Hardware: its rows stand in another order"],
        );
        // Two of one key are known by their names; where those are the same too, by where they stand.
        let twice = book(&[row("a", "1"), row("a", "2")]);
        differ(&twice, &book(&[row("a", "1"), row("a", "4")]), &["Hardware, a: price: 2 to 4"]);
        differ(
            &twice,
            &book(&[row("x", "7"), row("a", "1"), row("a", "2")]),
            &["Hardware, x: new, key x, name x, price 7"],
        );
        differ(&book(&[row("x", "7"), row("a", "1"), row("a", "2")]), &twice, &["Hardware, x: gone"]);
    }

    #[test]
    fn lists_of_plain_words_and_values_of_another_shape_are_told_as_a_whole() {
        differ(
            r#"{"regions": [{"key": "us", "states": ["NY"]}]}"#,
            r#"{"regions": [{"key": "us", "states": ["NJ", "NY"]}]}"#,
            &["Regions, us: states: NY to NJ, NY"],
        );
        differ(
            r#"{"at": "28 in"}"#,
            r#"{"at": {"of": {"width": "1/2"}, "plus": "-2 in"}}"#,
            &["at: 28 in to of width 1/2, plus -2 in"],
        );
        differ(r#"{"at": []}"#, r#"{"at": [3, true]}"#, &["at: nothing to 3, yes"]);
        let long = format!(r#"{{"at": "{}"}}"#, "é".repeat(500));
        differ("{}", &long, &[&format!("at: new, {}…", "é".repeat(LONGEST))]);
    }

    /// Whatever single value of the demo's book is changed, that place and no other is told.
    #[test]
    fn one_edit_anywhere_is_one_difference_at_its_place() {
        let (demo, kind) = (read(crate::DEMO), kind());
        let mut places = Vec::new();
        leaves(&demo, &Path::whole(), &mut places);
        assert!(places.len() > 1_000);
        for place in places.iter().step_by(37) {
            let mut sheet = Sheet::of(demo.clone());
            assert!(sheet.edit("", vec![Edit::set(place.clone(), Node::Text("another".into()))]));
            let told = differences(&demo, sheet.root(), &kind);
            // What a row is known by is another row when it is changed.
            let known =
                place.last().is_some_and(|(_, step)| KNOWN_BY.iter().any(|by| *step == Step::Key((*by).into())));
            assert!(told.len() == 1 || known && told.len() <= 3, "{place}: {told:?}");
            assert!(told.iter().any(|line| line.contains("another")), "{place}: {told:?}");
        }
    }

    fn leaves(node: &Node, at: &Path, found: &mut Vec<Path>) {
        match node {
            Node::Table(entries) => entries.iter().for_each(|(key, value)| leaves(value, &at.key(key), found)),
            Node::List(items) => {
                items.iter().enumerate().for_each(|(index, item)| leaves(item, &at.index(index), found));
            }
            _ => found.push(at.clone()),
        }
    }

    #[test]
    fn of_very_many_only_so_many_are_listed() {
        let book = |value: &str| {
            let rows: Vec<String> = (0..200).map(|n| format!(r#"{{"key": "k{n}", "price": "{value}"}}"#)).collect();
            read(&format!(r#"{{"hardware": [{}]}}"#, rows.join(",")))
        };
        let told = differences(&book("1"), &book("2"), &kind());
        assert_eq!((told.len(), told.last().map(String::as_str)), (MOST_LISTED + 1, Some("and 140 more")));
    }
}
