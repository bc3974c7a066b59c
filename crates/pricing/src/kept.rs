//! A kept estimate: a brief, what its buyer was told it comes to and when, as a record in the buyer's own browser.
//!
//! **Invariant:** a record that can't be read, or is of a later version, is told apart from one that can; nothing here changes it.

use serde::Serialize;

use crate::book::PriceBook;
use crate::book::document::{DocumentError, Node};
use crate::book::read::reads;
use crate::book::values::{Day, Text};
use crate::brief::Brief;
use crate::estimate::Estimate;
use crate::request::Told;

/// The key that says a record's version.
const VERSION_KEY: &str = "scantling_kept";

/// What turns a record of an earlier version into one of the next, the oldest first; the version of what is written is one more than
/// there are of them. Each must set the version, and gets a record of its version in `tests/kept`, which must open for ever.
const UPGRADES: [Upgrade; 0] = [];

/// Turns a record into one of the next version.
type Upgrade = fn(Node) -> Node;

/// A kept estimate.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Kept {
    /// The format's version: 1.
    pub scantling_kept: u32,
    /// The maker's name: pages of several makers may share one storage.
    pub shop: Text,
    /// The day it was kept.
    pub day: Day,
    /// What was asked for.
    pub brief: Brief,
    /// What the buyer was told.
    pub told: Told,
}

reads!(Kept { scantling_kept, shop, day, brief, told });

/// Why a record can't be opened. It is left as it is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum KeptFault {
    /// Of a later version than this program reads.
    Newer,
    /// Not a record, or not whole: where and what.
    Damaged(DocumentError),
}

impl Kept {
    /// A record of an estimate; nothing when the price is more than an amount may be.
    #[must_use]
    pub fn new(book: &PriceBook, brief: Brief, estimate: &Estimate, day: Day) -> Option<Self> {
        Some(Self { scantling_kept: 1, shop: book.shop.name.clone(), day, brief, told: Told::of(estimate)? })
    }

    /// The record as it is stored.
    #[must_use]
    pub fn json(&self) -> String {
        // Writing text into memory has nothing that could fail.
        serde_json::to_string(self).unwrap_or_default()
    }

    /// Reads a record of this version or an earlier one.
    ///
    /// # Errors
    /// When it is of a later version, or no record.
    pub fn read(text: &str) -> Result<Self, KeptFault> {
        let node = upgraded(Node::read(text).map_err(KeptFault::Damaged)?, &UPGRADES)?;
        match node.under("brief").and_then(|brief| brief.whole_number("scantling_brief")) {
            Some(version) if version > 1 => Err(KeptFault::Newer),
            _ => node.read_as().map_err(KeptFault::Damaged),
        }
    }
}

/// A record brought up to the version that all the upgrades lead to.
fn upgraded(node: Node, upgrades: &[Upgrade]) -> Result<Node, KeptFault> {
    let newest = upgrades.len().saturating_add(1);
    match node.whole_number(VERSION_KEY).and_then(|version| usize::try_from(version).ok()) {
        Some(version) if version > newest => Err(KeptFault::Newer),
        Some(version) if version > 0 => {
            Ok(upgrades.iter().skip(version.saturating_sub(1)).fold(node, |node, upgrade| upgrade(node)))
        }
        _ => {
            let why = format!("this is no kept estimate: the key “{VERSION_KEY}” with its version is missing");
            Err(KeptFault::Damaged(DocumentError::unusable("", why)))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two made-up upgrades: from version 1, which held `width`, over 2, which calls it `wide`, to 3, which adds `high`.
    const MADE_UP: [Upgrade; 2] = [
        |node| {
            let Node::Table(mut entries) = node else { return node };
            for (key, value) in &mut entries {
                match key.as_str() {
                    VERSION_KEY => *value = Node::Int(2),
                    "width" => "wide".clone_into(key),
                    _ => {}
                }
            }
            Node::Table(entries)
        },
        |node| {
            let Node::Table(mut entries) = node else { return node };
            entries.retain(|(key, _)| key != VERSION_KEY);
            entries.extend([(VERSION_KEY.to_owned(), Node::Int(3)), ("high".to_owned(), Node::Null)]);
            Node::Table(entries)
        },
    ];

    #[test]
    fn a_record_goes_through_every_upgrade_since_its_version_and_no_other() {
        let through = |text: &str| upgraded(Node::read(text).unwrap(), &MADE_UP);
        let third = Node::read(r#"{"wide": 7, "scantling_kept": 3, "high": null}"#).unwrap();
        assert_eq!(through(r#"{"scantling_kept": 1, "width": 7}"#), Ok(third.clone()));
        assert_eq!(through(r#"{"scantling_kept": 2, "wide": 7}"#), Ok(third.clone()));
        assert_eq!(through(r#"{"wide": 7, "scantling_kept": 3, "high": null}"#), Ok(third));
        assert_eq!(through(r#"{"scantling_kept": 4}"#), Err(KeptFault::Newer));
        for none in ["{}", "[]", r#"{"scantling_kept": 0}"#, r#"{"scantling_kept": -1}"#, r#"{"scantling_kept": "1"}"#]
        {
            assert!(matches!(through(none), Err(KeptFault::Damaged(_))), "{none}");
        }
    }
}
