//! The few rows of a book that one design is made of: a book of their own, small enough to be read and priced at every keystroke.
//!
//! However many timbers, slabs and jobs a shop has, a design names a handful of them. What it comes to from this book is what it comes to
//! from the whole one, but for what past jobs teach, which is passed along.

use std::collections::BTreeSet;

use scantling_pricing::book::document::Node;

use crate::sheet::{Path, Step};

/// Tables of which only what the design names is kept.
const NAMED: [&str; 5] = ["timbers", "slabs", "sheets", "resins", "hardware"];
/// Tables a piece at the workshop is priced without.
const LEFT_OUT: [&str; 3] = ["jobs", "regions", "currencies"];

/// A small book and where its rows stand in the whole one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Slim {
    /// The small book.
    pub root: Node,
    /// By table, the index in the whole book of each row that was kept.
    rows: Vec<(String, Vec<usize>)>,
}

impl Slim {
    /// The book of one design, with the materials that are wanted: without any named, with all that its roles may be of.
    #[must_use]
    pub fn of(root: &Node, design: usize, wanted: Option<&[&str]>) -> Option<Self> {
        let Node::Table(entries) = root else { return None };
        let own = rows(root.under("designs")?).get(design)?;
        let mut keep = named(own);
        if let Some(wanted) = wanted {
            let hardware = keep.split_off(&Use::Hardware(String::new()));
            keep = wanted.iter().map(|key| Use::Material((*key).to_owned())).chain(hardware).collect();
        }
        // A slab is priced and worked as the timber it is of.
        let of = |slab: &&Node| slab.text("key").is_some_and(|key| keep.contains(&Use::Material(key.to_owned())));
        let slabs = root.under("slabs").map_or(&[][..], rows).iter().filter(of);
        let timbers: Vec<Use> = slabs.filter_map(|slab| Some(Use::Material(slab.text("timber")?.to_owned()))).collect();
        keep.extend(timbers);
        let mut kept = Vec::new();
        let small = entries.iter().map(|(key, value)| {
            let chosen = match (key.as_str(), value) {
                ("designs", Node::List(_)) => vec![design],
                (key, Node::List(_)) if LEFT_OUT.contains(&key) => Vec::new(),
                (name, Node::List(items)) if NAMED.contains(&name) => {
                    let wanted = |row: &Node| row.text("key").is_some_and(|key| keep.contains(&Use::of(name, key)));
                    items.iter().enumerate().filter(|(_, row)| wanted(row)).map(|(i, _)| i).collect()
                }
                _ => return (key.clone(), value.clone()),
            };
            let items = rows(value);
            let value = Node::List(chosen.iter().filter_map(|i| items.get(*i).cloned()).collect());
            kept.push((key.clone(), chosen));
            (key.clone(), value)
        });
        let root = Node::Table(small.collect());
        Some(Self { root, rows: kept })
    }

    /// A place of the small book as a place of the whole one.
    #[must_use]
    pub fn in_whole(&self, place: &Path) -> Path {
        let mut steps = place.steps().iter();
        let (Some(Step::Key(table)), Some(Step::Index(row))) = (steps.next(), steps.next()) else {
            return place.clone();
        };
        let there = self.rows.iter().find(|(key, _)| key == table).and_then(|(_, kept)| kept.get(*row));
        let start = Path::whole().key(table).index(there.copied().unwrap_or(*row));
        steps.fold(start, |path, step| match step {
            Step::Key(key) => path.key(key),
            Step::Index(index) => path.index(*index),
        })
    }
}

/// What a design names.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
enum Use {
    /// What a role may be of.
    Material(String),
    /// Hardware.
    Hardware(String),
}

impl Use {
    fn of(table: &str, key: &str) -> Self {
        if table == "hardware" { Self::Hardware(key.to_owned()) } else { Self::Material(key.to_owned()) }
    }
}

fn named(design: &Node) -> BTreeSet<Use> {
    let list = |node: &Node, key: &str| node.under(key).map_or_else(Vec::new, |list| rows(list).to_vec());
    let mut keep = BTreeSet::new();
    for role in list(design, "roles") {
        let materials = list(&role, "materials").into_iter();
        keep.extend(
            materials
                .filter_map(|material| if let Node::Text(key) = material { Some(Use::Material(key)) } else { None }),
        );
    }
    let choices = list(design, "options").into_iter().flat_map(|group| list(&group, "choices"));
    let hardware = choices.flat_map(|choice| list(&choice, "hardware")).chain(list(design, "hardware"));
    keep.extend(hardware.filter_map(|used| Some(Use::Hardware(used.text("item")?.to_owned()))));
    keep
}

/// The rows of a list; none of anything else.
pub(crate) const fn rows(node: &Node) -> &[Node] {
    match node {
        Node::List(items) => items.as_slice(),
        Node::Null | Node::Bool(_) | Node::Int(_) | Node::Float | Node::Text(_) | Node::Table(_) => &[],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn demo() -> Node {
        Node::read(crate::DEMO).unwrap()
    }

    fn keys(slim: &Slim, table: &str) -> Vec<String> {
        let keys = rows(slim.root.under(table).unwrap()).iter().filter_map(|row| row.text("key"));
        keys.map(str::to_owned).collect()
    }

    #[test]
    fn only_what_a_design_names_is_kept() {
        let demo = demo();
        // The console is of a slab: its timber comes along, though no role names it.
        let slab =
            rows(demo.under("designs").unwrap()).iter().position(|design| design.text("key") == Some("slab-console"));
        let slim = Slim::of(&demo, slab.unwrap(), None).unwrap();
        assert_eq!(keys(&slim, "designs"), ["slab-console"]);
        assert!(keys(&slim, "slabs").contains(&"walnut-slab-17".to_owned()));
        assert!(keys(&slim, "timbers").contains(&"black-walnut".to_owned()));
        assert!(rows(slim.root.under("jobs").unwrap()).is_empty());
        let only = Slim::of(&demo, 0, Some(&["white-oak"])).unwrap();
        assert_eq!(keys(&only, "timbers"), ["white-oak"]);
        assert_eq!(keys(&only, "hardware"), ["top-fixing"]);
        assert_eq!(Slim::of(&demo, 99, None), None);
    }

    #[test]
    fn a_place_is_found_again_in_the_whole_book() {
        let demo = demo();
        let slim = Slim::of(&demo, 2, Some(&["white-oak"])).unwrap();
        let oak =
            rows(demo.under("timbers").unwrap()).iter().position(|timber| timber.text("key") == Some("white-oak"));
        let place = slim.in_whole(&Path::read("timbers[0].rates.4/4"));
        assert_eq!(place.to_string(), format!("timbers[{}].rates.4/4", oak.unwrap()));
        assert_eq!(slim.in_whole(&Path::read("designs[0].parts.shelf")).to_string(), "designs[2].parts.shelf");
        assert_eq!(slim.in_whole(&Path::read("pricing.margin")).to_string(), "pricing.margin");
    }
}
