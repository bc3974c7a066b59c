//! What a maker's book still has of the demo's, an invented maker's, that every first book starts from.

use scantling_pricing::book::document::Node;

use crate::slim::rows;

/// Parts that go out to buyers and are seldom the same for two makers. Timbers, designs and finishes are looked at anyway.
const PARTS: [&str; 6] = ["workload", "waits", "pricing", "delivery", "regions", "currencies"];

/// What is left of the demo.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remnants {
    /// Whether the notice is the demo's.
    pub notice: bool,
    /// The demo's jobs, by their place among the book's.
    pub jobs: Vec<usize>,
    /// Parts of the book that are the demo's, by their keys.
    pub parts: Vec<String>,
}

/// What a book has of the demo's; nothing while the shop goes by the demo's own name, since then it is the demo.
#[must_use]
pub fn remnants(book: &Node, demo: &Node) -> Option<Remnants> {
    let name = |book: &Node| book.under("shop").and_then(|shop| shop.text("name")).map(str::to_owned);
    if name(book) == name(demo) {
        return None;
    }
    let same = |key: &str| book.under(key).is_some() && book.under(key) == demo.under(key);
    let [own, invented] = [book, demo].map(|book| book.under("jobs").map_or(&[][..], rows));
    let theirs = own.iter().enumerate().filter(|(_, job)| invented.contains(job)).map(|(i, _)| i).collect();
    let parts = PARTS.iter().filter(|key| same(key)).map(|key| (*key).to_owned()).collect();
    Some(Remnants { notice: same("notice"), jobs: theirs, parts })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::{Edit, Path, Sheet};

    #[test]
    fn a_book_of_another_name_is_told_what_is_left_of_the_demo() {
        let demo = Node::read(crate::DEMO).unwrap();
        assert_eq!(remnants(&demo, &demo), None, "the demo is the demo");
        let mut own = Sheet::open(crate::DEMO).unwrap();
        let text = |text: &str| Node::Text(text.to_owned());
        assert!(own.edit("Naming", vec![Edit::set(Path::read("shop.name"), text("Another Bench"))]));
        let left = remnants(own.root(), &demo).unwrap();
        assert!(left.notice);
        assert_eq!(left.jobs, [0, 1, 2, 3], "the demo's four jobs");
        assert!(left.parts.contains(&"regions".to_owned()), "{left:?}");
        // What is one's own by now, or gone, is told no more.
        let edits = vec![
            Edit::Clear(Path::read("notice")),
            Edit::Remove(Path::read("jobs[1]")),
            Edit::set(Path::read("jobs[0].key"), text("own-1")),
            Edit::set(Path::read("workload.weeks_sold"), Node::Int(3)),
        ];
        assert!(own.edit("Mending", edits));
        let left = remnants(own.root(), &demo).unwrap();
        assert!(!left.notice && !left.parts.contains(&"workload".to_owned()), "{left:?}");
        assert_eq!(left.jobs, [1, 2]);
    }
}
