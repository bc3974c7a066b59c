//! Reading JSON documents strictly, with the path of every error and what to do about it.
//!
//! The text is first read into a [`Node`] tree, which keeps repeated keys; [`super::read`] then reads tables from the tree, and
//! every error gathers its path on the way out.

use serde::{Serialize, Serializer};

use super::json::read_json;
use super::read::Read;

pub use super::fault::*;

/// The largest document that is read, 4 MiB: twice a shop book of 5 000 rows.
pub const LARGEST_BYTES: usize = 4 * 1024 * 1024;

/// A JSON document as it was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Node {
    /// `null`
    Null,
    /// `true` or `false`
    Bool(bool),
    /// A whole number.
    Int(i64),
    /// A number with decimals, or too large: its value is not kept, since no amount may pass through it.
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
        read_json(text).map_err(|error| DocumentError::not_json(text, error))
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
            Self::Float => {
                "a number with decimals or too many digits (write it in quotes, as \"12.50\", so that it stays exact)"
                    .into()
            }
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
