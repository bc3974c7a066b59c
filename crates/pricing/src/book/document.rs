//! Reading JSON documents strictly, with the path of every error and what to do about it.
//!
//! The text is first read into a [`Node`] tree, which keeps repeated keys; [`super::read`] then reads tables from the tree, and
//! every error gathers its path on the way out.

use std::fmt;

use serde::de::{self, Deserialize, Deserializer, MapAccess, SeqAccess, Visitor};
use serde::{Serialize, Serializer};

use super::read::Read;

pub use super::fault::*;

/// The largest document that is read: 2 MiB.
pub const LARGEST_BYTES: usize = 2 * 1024 * 1024;

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
    /// When it is larger, or no JSON.
    pub fn read(text: &str) -> Result<Self, DocumentError> {
        if text.len() > LARGEST_BYTES {
            return Err(DocumentError::too_large(text.len()));
        }
        serde_json::from_str(text).map_err(|error| DocumentError::not_json(&error))
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
    #[cfg(feature = "explain")]
    pub(super) fn found(&self) -> String {
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
    pub fn wrong(&self, expected: impl Into<Why>) -> DocumentError {
        DocumentError::wrong_shape(self, expected.into())
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
