//! That something is wrong in a document, and no more: for whoever reads only what `publish` has written, where the words and the paths
//! would weigh a quarter of what a buyer's browser fetches.

use std::fmt;

use super::document::Node;
use super::json::NotJson;

/// In place of the words that say what is wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Why;

impl From<&str> for Why {
    fn from(_: &str) -> Self {
        Self
    }
}

impl From<String> for Why {
    fn from(_: String) -> Self {
        Self
    }
}

impl fmt::Display for Why {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("it can't be read")
    }
}

/// Something is wrong in a document.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DocumentError(());

impl DocumentError {
    /// A value at a path that can't be used, and why.
    #[must_use]
    pub fn unusable(_: impl Into<String>, _: impl Into<Why>) -> Self {
        Self(())
    }

    pub(crate) fn wrong_shape(_: &Node, _: Why) -> Self {
        Self(())
    }

    pub(crate) fn repeated(_: &str) -> Self {
        Self(())
    }

    pub(crate) fn too_large(_: usize) -> Self {
        Self(())
    }

    pub(super) fn not_json(_: &str, _: NotJson) -> Self {
        Self(())
    }

    pub(crate) fn under_key(self, _: &str) -> Self {
        self
    }

    pub(crate) fn under_index(self, _: usize) -> Self {
        self
    }
}

impl fmt::Display for DocumentError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("it can't be read; the command `scantling check` says where, and how to mend it")
    }
}

impl std::error::Error for DocumentError {}

/// In place of the candidate most like a word.
pub(crate) fn nearest<'a>(_: &str, _: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    None
}
