//! A word looked for in every table of the book, a row at a time: a large book must not hold up who types.

use scantling_pricing::book::document::Node;

use crate::form::Kind;
use crate::sheet::Path;
use crate::slim::rows;
use crate::trail::Trail;

/// More places than this are not told: a longer word finds fewer.
pub const MOST_FOUND: usize = 60;

/// A place that was found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Found {
    /// Where it is.
    pub place: Path,
    /// What leads there, in words.
    pub trail: String,
    /// What stands there.
    pub value: String,
}

/// A search that is under way.
#[derive(Debug, Clone, Default)]
pub struct Search {
    /// Every word that must be there, in small letters.
    words: Vec<String>,
    /// The table and the row that are next.
    next: (usize, usize),
    /// What was found so far.
    pub found: Vec<Found>,
    done: bool,
}

impl Search {
    /// A search for all of some words, in any order, in what stands at a place or leads to it.
    #[must_use]
    pub fn new(wanted: &str) -> Self {
        let words: Vec<String> = wanted.split_whitespace().map(str::to_lowercase).collect();
        Self { done: words.is_empty(), words, ..Self::default() }
    }

    /// Whether more was found than is told.
    #[must_use]
    pub const fn is_full(&self) -> bool {
        self.found.len() >= MOST_FOUND
    }

    /// How many tables of the book were looked through, and how many there are.
    #[must_use]
    pub fn far(&self, kind: &Kind) -> (usize, usize) {
        let Kind::Table(fields) = kind else { return (0, 0) };
        (self.next.0.min(fields.len()), fields.len())
    }

    /// Looks through the next row; says whether there may be more.
    pub fn step(&mut self, root: &Node, kind: &Kind) -> bool {
        let Kind::Table(fields) = kind else { return false };
        let (table, row) = self.next;
        let Some(field) = fields.get(table).filter(|_| !self.done && !self.is_full()) else {
            self.done = true;
            return false;
        };
        let place = Path::whole().key(&field.key);
        let trail = Trail { table: field.label.clone(), ..Trail::default() };
        let more = match (root.under(&field.key), &field.kind) {
            (Some(list @ Node::List(_)), Kind::List(held)) => {
                let items = rows(list);
                if let Some(item) = items.get(row) {
                    self.row((item, held), &place.index(row), &trail.with_row(item, row));
                }
                row.saturating_add(1) < items.len()
            }
            (Some(node), kind) => {
                self.within((node, kind), &place, &trail);
                false
            }
            (None, _) => false,
        };
        self.next = if more { (table, row.saturating_add(1)) } else { (table.saturating_add(1), 0) };
        true
    }

    /// A row whose own name has all the words is told once; of any other, each place that has them.
    fn row(&mut self, held: (&Node, &Kind), place: &Path, trail: &Trail) {
        let named = trail.words();
        if self.all_in(&named) {
            self.found.push(Found { place: place.clone(), trail: named, value: String::new() });
        } else {
            self.within(held, place, trail);
        }
    }

    fn all_in(&self, text: &str) -> bool {
        let text = text.to_lowercase();
        self.words.iter().all(|word| text.contains(word.as_str()))
    }

    fn within(&mut self, (node, kind): (&Node, &Kind), place: &Path, trail: &Trail) {
        if self.is_full() {
            return;
        }
        match (node, kind) {
            (Node::Table(entries), _) => {
                for (key, value) in entries {
                    let (label, held) = match kind {
                        Kind::Map(held) => (key.clone(), held.as_ref()),
                        _ => match kind.field(key) {
                            Some(field) => (field.label.clone(), &field.kind),
                            // A table that is one of several shapes: its keys are named as they are written.
                            None => (key.clone(), &Kind::Line),
                        },
                    };
                    self.within((value, held), &place.key(key), &trail.with_field(&label));
                }
            }
            (Node::List(items), _) => {
                for (index, item) in items.iter().enumerate() {
                    let held = kind.rows().unwrap_or(&Kind::Line);
                    self.within((item, held), &place.index(index), &trail.with_row(item, index));
                }
            }
            (Node::Text(text), _) => self.look(text, place, trail),
            (Node::Int(number), _) => self.look(&number.to_string(), place, trail),
            (Node::Null | Node::Bool(_) | Node::Float, _) => {}
        }
    }

    fn look(&mut self, value: &str, place: &Path, trail: &Trail) {
        let trail = trail.words();
        if self.all_in(&format!("{trail} {value}")) {
            self.found.push(Found { place: place.clone(), trail, value: value.to_owned() });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn search(wanted: &str) -> Search {
        let kind = Kind::of_document(&serde_json::from_str(crate::SCHEMA).unwrap());
        let root = Node::read(crate::DEMO).unwrap();
        let mut search = Search::new(wanted);
        while search.step(&root, &kind) {}
        search
    }

    #[test]
    fn words_are_found_wherever_they_stand() {
        let found = search("walnut 8/4").found;
        assert!(
            found.iter().any(|one| one.place.to_string() == "timbers[0].rates.8/4" && one.value == "15.40"),
            "{found:?}"
        );
        let found = search("MARGIN").found;
        assert!(found.iter().any(|one| one.place.to_string() == "pricing.margin"));
        let found = search("stretcher mortise").found;
        assert!(found.iter().any(|one| one.place.to_string() == "designs[0].parts[4].joints[0].kind"), "{found:?}");
    }

    #[test]
    fn it_says_how_far_it_is_and_ends_with_the_last_table() {
        let kind = Kind::of_document(&serde_json::from_str(crate::SCHEMA).unwrap());
        let root = Node::read(crate::DEMO).unwrap();
        let mut search = Search::new("no such thing anywhere");
        let (mut last, all) = search.far(&kind);
        assert_eq!(last, 0);
        while search.step(&root, &kind) {
            let far = search.far(&kind);
            assert!(far.0 >= last && far.1 == all, "{far:?} after {last}");
            last = far.0;
        }
        assert_eq!((last, true), (all, all > 10));
    }

    #[test]
    fn a_row_that_is_meant_by_its_name_is_told_once() {
        let found = search("slab no. 17").found;
        let rows: Vec<_> =
            found.iter().map(|one| one.place.to_string()).filter(|place| place.starts_with("slabs[0]")).collect();
        assert_eq!(rows, ["slabs[0]"]);
    }

    #[test]
    fn nothing_finds_nothing_and_too_much_is_cut_off() {
        assert!(search("  ").found.is_empty());
        assert!(search("no such thing anywhere").found.is_empty());
        let all = search("e");
        assert!(all.is_full() && all.found.len() == MOST_FOUND);
    }
}
