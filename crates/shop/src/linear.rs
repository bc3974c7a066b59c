//! A linear measure as it is filled in: a fraction of each dimension, and a length on top.

use scantling_pricing::book::document::Node;

use crate::comma::plain;

/// A measure in the parts a form shows.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Linear {
    /// Each dimension it takes a fraction of, with the fraction as it was written: `1/2`.
    pub of: Vec<(String, String)>,
    /// The length on top; empty for none.
    pub plus: String,
}

impl Linear {
    /// What stands at a place of the book.
    #[must_use]
    pub fn read(node: Option<&Node>) -> Self {
        match node {
            Some(Node::Text(text)) => Self { of: Vec::new(), plus: text.clone() },
            Some(table @ Node::Table(_)) => {
                let of = match table.under("of") {
                    Some(Node::Table(entries)) => {
                        entries.iter().filter_map(|(key, value)| Some((key.clone(), text_of(value)?))).collect()
                    }
                    _ => Vec::new(),
                };
                Self { of, plus: table.under("plus").and_then(text_of).unwrap_or_default() }
            }
            _ => Self::default(),
        }
    }

    /// The fraction of a dimension; empty for none of it.
    #[must_use]
    pub fn fraction(&self, dimension: &str) -> String {
        self.of.iter().find(|(key, _)| key == dimension).map(|(_, fraction)| fraction.clone()).unwrap_or_default()
    }

    /// The same with another fraction of a dimension: of an empty one or nothing, the dimension goes.
    #[must_use]
    pub fn with_fraction(mut self, dimension: &str, fraction: &str) -> Self {
        let fraction = fraction.trim();
        let at = self.of.iter().position(|(key, _)| key == dimension);
        match (at, fraction.is_empty() || fraction == "0") {
            (Some(at), true) => drop(self.of.remove(at)),
            (Some(at), false) => {
                if let Some((_, held)) = self.of.get_mut(at) {
                    fraction.clone_into(held);
                }
            }
            (None, false) => self.of.push((dimension.to_owned(), fraction.to_owned())),
            (None, true) => {}
        }
        self
    }

    /// The same with another length on top. A bare number is in the unit the shop works in.
    #[must_use]
    pub fn with_plus(mut self, plus: &str, unit: &str) -> Self {
        let plus = &*plain(plus.trim());
        let bare = !plus.is_empty() && plus.chars().all(|c| c.is_ascii_digit() || "-./ ".contains(c));
        self.plus = if bare { format!("{plus} {unit}") } else { plus.to_owned() };
        self
    }

    /// As the book holds it: a length alone where no dimension is in it.
    #[must_use]
    pub fn node(&self) -> Node {
        let text = |text: &str| Node::Text(text.to_owned());
        if self.of.is_empty() {
            return text(&self.plus);
        }
        let of = self.of.iter().map(|(key, fraction)| (key.clone(), text(fraction))).collect();
        let plus = (!self.plus.is_empty()).then(|| ("plus".to_owned(), text(&self.plus)));
        Node::Table(std::iter::once(("of".to_owned(), Node::Table(of))).chain(plus).collect())
    }
}

fn text_of(node: &Node) -> Option<String> {
    match node {
        Node::Text(text) => Some(text.clone()),
        Node::Int(number) => Some(number.to_string()),
        Node::Null | Node::Bool(_) | Node::Float | Node::List(_) | Node::Table(_) => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(json: &str) -> Linear {
        Linear::read(Some(&Node::read(json).unwrap()))
    }

    fn written(linear: &Linear) -> String {
        serde_json::to_string(&linear.node()).unwrap()
    }

    #[test]
    fn what_is_read_is_written_again() {
        for json in [r#""28 in""#, r#"{"of":{"length":"1"}}"#, r#"{"of":{"width":"1/2","height":"-1"},"plus":"-2 in"}"#]
        {
            assert_eq!(written(&read(json)), json);
        }
        assert_eq!(Linear::read(None), Linear::default());
    }

    #[test]
    fn a_fraction_comes_changes_and_goes() {
        let measure = read(r#""28 in""#).with_fraction("width", " 1/2 ");
        assert_eq!(written(&measure), r#"{"of":{"width":"1/2"},"plus":"28 in"}"#);
        let measure = measure.with_fraction("width", "1/3").with_fraction("length", "0");
        assert_eq!(written(&measure), r#"{"of":{"width":"1/3"},"plus":"28 in"}"#);
        assert_eq!(written(&measure.with_fraction("width", "")), r#""28 in""#);
    }

    #[test]
    fn a_bare_number_is_in_the_unit_of_the_shop() {
        let plus = |text: &str| Linear::default().with_plus(text, "mm").plus;
        assert_eq!(plus("724"), "724 mm");
        assert_eq!(plus("-1 1/2"), "-1 1/2 mm");
        assert_eq!(plus("724,5"), "724.5 mm");
        assert_eq!(plus("1,724"), "1,724", "of what can be read two ways neither is taken");
        assert_eq!(plus("28 in"), "28 in");
        assert_eq!(plus("some"), "some");
        assert_eq!(plus(" "), "");
    }
}
