//! A place in a document, written as the engine's errors write it: `timbers[3].rates.8/4`.

use std::fmt;

use scantling_pricing::book::document::Node;

/// One step from a table or a list into what it holds.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Step {
    /// Under a key of a table.
    Key(String),
    /// At an index of a list.
    Index(usize),
}

/// A place in a document; empty for the whole.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Path(Vec<Step>);

impl Path {
    /// The whole document.
    #[must_use]
    pub const fn whole() -> Self {
        Self(Vec::new())
    }

    /// Under a key of what stands here.
    #[must_use]
    pub fn key(&self, key: &str) -> Self {
        self.step(Step::Key(key.to_owned()))
    }

    /// At an index of what stands here.
    #[must_use]
    pub fn index(&self, index: usize) -> Self {
        self.step(Step::Index(index))
    }

    fn step(&self, step: Step) -> Self {
        Self(self.0.iter().cloned().chain(std::iter::once(step)).collect())
    }

    /// The steps to it.
    #[must_use]
    pub fn steps(&self) -> &[Step] {
        &self.0
    }

    /// The place this one lies in, and the step from there; nothing for the whole.
    #[must_use]
    pub fn last(&self) -> Option<(Self, &Step)> {
        let (step, rest) = self.0.split_last()?;
        Some((Self(rest.to_vec()), step))
    }

    /// The key of the document this place lies under.
    #[must_use]
    pub fn first_key(&self) -> Option<String> {
        match self.0.first()? {
            Step::Key(key) => Some(key.clone()),
            Step::Index(_) => None,
        }
    }

    /// What stands here.
    #[must_use]
    pub fn find<'n>(&self, root: &'n Node) -> Option<&'n Node> {
        self.0.iter().try_fold(root, |node, step| match (step, node) {
            (Step::Key(wanted), Node::Table(entries)) => {
                entries.iter().find(|(key, _)| key == wanted).map(|(_, value)| value)
            }
            (Step::Index(index), Node::List(items)) => items.get(*index),
            _ => None,
        })
    }

    /// What stands here, to be changed.
    pub(super) fn find_mut<'n>(&self, root: &'n mut Node) -> Option<&'n mut Node> {
        self.0.iter().try_fold(root, |node, step| match (step, node) {
            (Step::Key(wanted), Node::Table(entries)) => {
                entries.iter_mut().find(|(key, _)| key == wanted).map(|(_, value)| value)
            }
            (Step::Index(index), Node::List(items)) => items.get_mut(*index),
            _ => None,
        })
    }

    /// Whether this place is that one or lies in it.
    #[must_use]
    pub fn is_in(&self, other: &Self) -> bool {
        self.0.starts_with(&other.0)
    }

    /// Reads a place as the engine writes it. A key of the maker's own never has a point or a bracket in it.
    #[must_use]
    pub fn read(text: &str) -> Self {
        let part = |part: &str| -> Vec<Step> {
            let (key, indices) = part.split_once('[').unwrap_or((part, ""));
            let indices = indices.split('[').filter_map(|index| index.trim_end_matches(']').parse().ok());
            let key = (!key.is_empty()).then(|| Step::Key(key.to_owned()));
            key.into_iter().chain(indices.map(Step::Index)).collect()
        };
        Self(text.split('.').filter(|part| !part.is_empty()).flat_map(part).collect())
    }
}

impl fmt::Display for Path {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, step) in self.0.iter().enumerate() {
            match step {
                Step::Key(key) if i == 0 => f.write_str(key)?,
                Step::Key(key) => write!(f, ".{key}")?,
                Step::Index(index) => write!(f, "[{index}]")?,
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_read_as_they_are_written() {
        for text in ["", "shop.name", "timbers[3].rates.8/4", "[2]", "designs[0].parts[11].at[2].of.width", "slabs"] {
            assert_eq!(Path::read(text).to_string(), text);
        }
        let place = Path::whole().key("timbers").index(3).key("rates").key("8/4");
        assert_eq!(Path::read("timbers[3].rates.8/4"), place);
        assert!(place.is_in(&Path::read("timbers[3]")) && !place.is_in(&Path::read("timbers[2]")));
        assert!(place.is_in(&Path::whole()));
    }
}
