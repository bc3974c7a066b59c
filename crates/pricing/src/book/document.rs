//! Reading JSON documents strictly, with the path of every error and what to do about it.
//!
//! The text is first read into a [`Node`] tree, which keeps repeated keys; [`super::read`] then reads tables from the tree, and
//! every error gathers its path on the way out.

use std::fmt;

use serde::de::{self, Deserialize, Deserializer, MapAccess, SeqAccess, Visitor};
use serde::{Serialize, Serializer};

use super::read::Read;

/// The largest document that is read: 2 MiB.
pub const LARGEST_BYTES: usize = 2 * 1024 * 1024;

/// What is wrong in a document, and where.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DocumentError {
    /// The place, as `timbers[3].rates.8/4`; empty for the document as a whole.
    pub path: String,
    /// What is wrong there.
    pub fault: Fault,
}

/// One kind of mistake in a document. Its text says what was read and how to mend it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Fault {
    /// Larger than [`LARGEST_BYTES`].
    TooLarge(usize),
    /// Not JSON at all; the parser's words, with line and column.
    NotJson(String),
    /// A key the format does not have.
    UnknownKey {
        /// The key read.
        key: String,
        /// The nearest one the format has.
        nearest: Option<&'static str>,
    },
    /// A word where only certain words may stand.
    UnknownWord {
        /// The word read.
        word: String,
        /// The words that may stand there.
        accepted: Vec<&'static str>,
    },
    /// A key that must be there and is not.
    MissingKey(&'static str),
    /// The same key twice in one table.
    RepeatedKey(String),
    /// A value of the wrong shape.
    WrongShape {
        /// What stands there.
        found: String,
        /// What was expected.
        expected: String,
    },
    /// A value that reads but can't be used; the text says why and what to do.
    Unusable(String),
}

impl DocumentError {
    /// An error at a path.
    #[must_use]
    pub fn at(path: impl Into<String>, fault: Fault) -> Self {
        Self { path: path.into(), fault }
    }

    /// A value at a path that can't be used, and why.
    #[must_use]
    pub fn unusable(path: impl Into<String>, why: impl Into<String>) -> Self {
        Self::at(path, Fault::Unusable(why.into()))
    }

    pub(crate) fn under_key(self, key: &str) -> Self {
        self.under(key)
    }

    pub(crate) fn under_index(self, index: usize) -> Self {
        self.under(&format!("[{index}]"))
    }

    fn under(mut self, place: &str) -> Self {
        let dot = if self.path.is_empty() || self.path.starts_with('[') { "" } else { "." };
        self.path = format!("{place}{dot}{}", self.path);
        self
    }
}

impl fmt::Display for DocumentError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.path.is_empty() { write!(f, "{}", self.fault) } else { write!(f, "{}: {}", self.path, self.fault) }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLarge(bytes) => {
                write!(
                    f,
                    "the document is {bytes} bytes; at most {LARGEST_BYTES} are read: take pictures or old jobs out"
                )
            }
            Self::NotJson(words) => write!(f, "this is not JSON: {words}; mend it there, or export the file again"),
            Self::UnknownKey { key, nearest: Some(nearest) } => {
                write!(f, "“{key}” is not a key here; did you mean “{nearest}”? Rename it or take it out")
            }
            Self::UnknownKey { key, nearest: None } => write!(f, "“{key}” is not a key here; take it out"),
            Self::UnknownWord { word, accepted } => {
                write!(f, "“{word}” can't stand here; use one of: {}", accepted.join(", "))
            }
            Self::MissingKey(key) => write!(f, "the key “{key}” is missing; add it"),
            Self::RepeatedKey(key) => write!(f, "the key “{key}” is written twice; keep one of them"),
            Self::WrongShape { found, expected } => write!(f, "expected {expected}, found {found}; replace it"),
            Self::Unusable(why) => f.write_str(why),
        }
    }
}

impl std::error::Error for DocumentError {}

/// The candidate most like `word`, when one is close enough to be a slip of the pen.
pub(crate) fn nearest<'a>(word: &str, candidates: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    // No slip of the pen is longer, and comparing takes the product of both lengths.
    if word.len() > 60 {
        return None;
    }
    let alike = |candidate: &&str| strsim::damerau_levenshtein(word, candidate);
    candidates.filter(|c| alike(c).saturating_mul(2) <= c.chars().count().max(4)).min_by_key(alike)
}

/// A JSON document as it was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Node {
    /// `null`
    Null,
    /// `true` or `false`
    Bool(bool),
    /// A whole number.
    Int(i64),
    /// A number with decimals: its value is not kept, since no amount may pass through it.
    Float,
    /// Text.
    Text(String),
    /// A list.
    List(Vec<Node>),
    /// Keys and values, in the order written, repeats included.
    Table(Vec<(String, Node)>),
}

impl Node {
    /// Reads a JSON text of at most [`LARGEST_BYTES`].
    ///
    /// # Errors
    /// [`Fault::TooLarge`] or [`Fault::NotJson`].
    pub fn read(text: &str) -> Result<Self, DocumentError> {
        if text.len() > LARGEST_BYTES {
            return Err(DocumentError::at("", Fault::TooLarge(text.len())));
        }
        serde_json::from_str(text).map_err(|error| DocumentError::at("", Fault::NotJson(error.to_string())))
    }

    /// The whole number under a key of this table, if there is one.
    #[must_use]
    pub fn whole_number(&self, wanted: &str) -> Option<i64> {
        let Self::Table(entries) = self else { return None };
        entries.iter().find_map(|(key, value)| match value {
            Self::Int(number) if key == wanted => Some(*number),
            _ => None,
        })
    }

    /// What stands under a key of this table, if there is one.
    #[must_use]
    pub fn under(&self, wanted: &str) -> Option<&Self> {
        let Self::Table(entries) = self else { return None };
        entries.iter().find(|(key, _)| key == wanted).map(|(_, value)| value)
    }

    /// The text under a key of this table, if there is one.
    #[must_use]
    pub fn text(&self, wanted: &str) -> Option<&str> {
        match self.under(wanted) {
            Some(Self::Text(text)) => Some(text),
            _ => None,
        }
    }

    /// Reads this tree as a `T`.
    ///
    /// # Errors
    /// The first place where the tree is not a `T`.
    pub fn read_as<T: Read>(&self) -> Result<T, DocumentError> {
        T::read(self)
    }

    /// What stands here, in the words of an error.
    fn found(&self) -> String {
        match self {
            Self::Null => "null".into(),
            Self::Bool(value) => format!("{value}"),
            Self::Int(value) => format!("the number {value}"),
            Self::Float => "a number with decimals (write it in quotes, as \"12.50\", so that it stays exact)".into(),
            Self::Text(text) => format!("the words “{}”", text.chars().take(40).collect::<String>()),
            Self::List(_) => "a list".into(),
            Self::Table(_) => "a table".into(),
        }
    }

    /// The error of a node that has another shape than was expected here.
    #[must_use]
    pub fn wrong(&self, expected: &str) -> DocumentError {
        DocumentError::at("", Fault::WrongShape { found: self.found(), expected: expected.to_owned() })
    }
}

/// Written as it was read; a number with decimals, whose value was not kept, as `null`.
impl Serialize for Node {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Null | Self::Float => serializer.serialize_unit(),
            Self::Bool(value) => serializer.serialize_bool(*value),
            Self::Int(value) => serializer.serialize_i64(*value),
            Self::Text(text) => serializer.serialize_str(text),
            Self::List(items) => serializer.collect_seq(items),
            Self::Table(entries) => serializer.collect_map(entries.iter().map(|(key, value)| (key, value))),
        }
    }
}

impl<'de> Deserialize<'de> for Node {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(NodeVisitor)
    }
}

struct NodeVisitor;

impl<'de> Visitor<'de> for NodeVisitor {
    type Value = Node;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("JSON")
    }

    fn visit_unit<E>(self) -> Result<Node, E> {
        Ok(Node::Null)
    }

    fn visit_bool<E>(self, value: bool) -> Result<Node, E> {
        Ok(Node::Bool(value))
    }

    fn visit_i64<E>(self, value: i64) -> Result<Node, E> {
        Ok(Node::Int(value))
    }

    fn visit_u64<E: de::Error>(self, value: u64) -> Result<Node, E> {
        i64::try_from(value).map(Node::Int).map_err(|_| E::custom(format!("{value} is too large a number")))
    }

    fn visit_f64<E>(self, _: f64) -> Result<Node, E> {
        Ok(Node::Float)
    }

    fn visit_str<E>(self, value: &str) -> Result<Node, E> {
        Ok(Node::Text(value.to_owned()))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Node, A::Error> {
        let mut list = Vec::new();
        while let Some(item) = items.next_element()? {
            list.push(item);
        }
        Ok(Node::List(list))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut entries: A) -> Result<Node, A::Error> {
        let mut table = Vec::new();
        while let Some(entry) = entries.next_entry()? {
            table.push(entry);
        }
        Ok(Node::Table(table))
    }
}
