//! What is wrong in a document, in words: where, what, and how to mend it.

use std::fmt;

use super::document::{LARGEST_BYTES, Node};
use super::json::NotJson;

/// Words that say what is wrong and how to mend it.
pub type Why = String;

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
    /// Not JSON at all: line, column and what is wrong there.
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

    pub(crate) fn wrong_shape(node: &Node, expected: Why) -> Self {
        Self::at("", Fault::WrongShape { found: node.found(), expected })
    }

    pub(crate) fn repeated(key: &str) -> Self {
        Self::at("", Fault::RepeatedKey(key.to_owned()))
    }

    pub(crate) fn too_large(bytes: usize) -> Self {
        Self::at("", Fault::TooLarge(bytes))
    }

    pub(super) fn not_json(text: &str, NotJson { what, at }: NotJson) -> Self {
        let before = text.get(..at).unwrap_or(text);
        let (line, column) = before
            .rsplit_once('\n')
            .map_or((0, before), |(lines, last)| (lines.matches('\n').count().saturating_add(1), last));
        let (line, column) = (line.saturating_add(1), column.chars().count().saturating_add(1));
        Self::at("", Fault::NotJson(format!("line {line}, column {column}: {what}")))
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
                let [there, most] = [*bytes, LARGEST_BYTES].map(|bytes| bytes.div_ceil(1024));
                write!(
                    f,
                    "the document is of {there} kB, and at most {most} are read; take out of it what is done with, as old jobs"
                )
            }
            Self::NotJson(words) => write!(
                f,
                "this does not read as JSON, which books, requests and estimates are written in: {words}; mend it there, or save it again where \
                 it came from"
            ),
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
