//! What a new design, a new part or a copy starts as: something that can be drawn at once.

use scantling_pricing::book::document::Node;

use crate::sheet::Path;
use crate::slim::rows;

fn text(text: &str) -> Node {
    Node::Text(text.to_owned())
}

fn table<const N: usize>(entries: [(&str, Node); N]) -> Node {
    Node::Table(entries.into_iter().map(|(key, value)| (key.to_owned(), value)).collect())
}

/// A share of a dimension and a length on top.
fn of(dimension: &str, plus: &str) -> Node {
    let of = ("of", table([(dimension, text("1"))]));
    if plus.is_empty() { table([of]) } else { table([of, ("plus", text(plus))]) }
}

/// The keys of the rows of a list.
fn keys<'n>(root: &'n Node, list: &Path) -> Vec<&'n str> {
    list.find(root).map_or(&[][..], rows).iter().filter_map(|row| row.text("key")).collect()
}

/// A key that no row has: the one given, or it with a number.
fn free(key: &str, taken: &[&str]) -> String {
    let numbered = (2..1000_u32).map(|number| format!("{key}-{number}"));
    std::iter::once(key.to_owned()).chain(numbered).find(|key| !taken.contains(&key.as_str())).unwrap_or_default()
}

/// A new design: a plain board of the book's first timber, to be taken further.
#[must_use]
pub fn new(root: &Node) -> Node {
    let list = Path::whole().key("designs");
    let timber = keys(root, &Path::whole().key("timbers")).first().copied().unwrap_or_default();
    let dimension = |key: &str, label: &str, [least, start, most]: [&str; 3]| {
        table([
            ("key", text(key)),
            ("label", text(label)),
            ("least", text(least)),
            ("most", text(most)),
            ("step", text("1/4 in")),
            ("default", text(start)),
        ])
    };
    let design = table([
        ("key", text(&free("new-design", &keys(root, &list)))),
        ("name", text("New design")),
        ("summary", text("A board to start from.")),
        (
            "dimensions",
            Node::List(vec![
                dimension("length", "Length", ["12 in", "24 in", "36 in"]),
                dimension("width", "Width", ["6 in", "8 in", "10 in"]),
                dimension("height", "Height", ["3/4 in", "3/4 in", "3/4 in"]),
            ]),
        ),
        (
            "roles",
            Node::List(vec![table([
                ("key", text("board")),
                ("label", text("Board")),
                ("materials", Node::List(vec![text(timber)])),
            ])]),
        ),
        ("parts", Node::List(Vec::new())),
    ]);
    with_first_part(design)
}

fn with_first_part(mut design: Node) -> Node {
    let board = table([
        ("key", text("board")),
        ("name", text("Board")),
        ("role", text("board")),
        ("length", of("length", "")),
        ("width", of("width", "")),
        ("thickness", of("height", "")),
        ("at", Node::List(vec![text("0 in"), text("0 in"), text("0 in")])),
        ("lies", text("xyz")),
    ]);
    if let Node::Table(entries) = &mut design
        && let Some((_, Node::List(parts))) = entries.iter_mut().find(|(key, _)| key == "parts")
    {
        parts.push(board);
    }
    design
}

/// A new part of a design: a short board of its first role, on the floor at the front left.
#[must_use]
pub fn part(root: &Node, design: &Path) -> Node {
    let role = keys(root, &design.key("roles")).first().copied().unwrap_or_default();
    table([
        ("key", text(&free("new-part", &keys(root, &design.key("parts"))))),
        ("name", text("New part")),
        ("role", text(role)),
        ("length", text("6 in")),
        ("width", text("2 in")),
        ("thickness", text("3/4 in")),
        ("at", Node::List(vec![text("0 in"), text("0 in"), text("0 in")])),
        ("lies", text("xyz")),
    ])
}

/// A copy of a row, with a key that no other row of its list has.
#[must_use]
pub fn copy(root: &Node, row: &Path) -> Option<Node> {
    let mut copy = row.find(root)?.clone();
    let (list, _) = row.last()?;
    let taken = keys(root, &list);
    if let Node::Table(entries) = &mut copy {
        for (key, value) in entries.iter_mut() {
            match (key.as_str(), &value) {
                ("key", Node::Text(own)) => *value = text(&free(own, &taken)),
                ("name", Node::Text(name)) => *value = text(&format!("{name}, copy")),
                _ => {}
            }
        }
    }
    Some(copy)
}

#[cfg(test)]
mod tests {
    use scantling_pricing::book::ShopBook;

    use super::*;
    use crate::sheet::{Edit, Sheet};

    #[test]
    fn a_new_design_and_a_copy_are_right_from_the_start() {
        let mut sheet = Sheet::open(crate::DEMO).unwrap();
        let list = Path::whole().key("designs");
        let count = rows(list.find(sheet.root()).unwrap()).len();
        for _ in 0..2 {
            let design = new(sheet.root());
            assert!(sheet.edit("new", vec![Edit::Insert(list.index(count), design)]));
            let copied = copy(sheet.root(), &list.index(0)).unwrap();
            assert!(sheet.edit("copy", vec![Edit::Insert(list.index(1), copied)]));
        }
        let read = ShopBook::read(&sheet.text()).unwrap();
        let keys: Vec<&str> = read.designs.iter().map(|design| design.key.as_str()).collect();
        for key in ["new-design", "new-design-2", "trestle-table", "trestle-table-2", "trestle-table-3"] {
            assert!(keys.contains(&key), "{key}: {keys:?}");
        }
    }

    #[test]
    fn a_new_part_is_of_a_role_the_design_has() {
        let root = Node::read(crate::DEMO).unwrap();
        let part = part(&root, &Path::read("designs[0]"));
        assert_eq!((part.text("role"), part.text("key")), (Some("top"), Some("new-part")));
    }
}
