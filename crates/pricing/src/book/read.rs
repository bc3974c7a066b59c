//! Reading tables from a document tree: every key known, every value checked, every error with its path.
//!
//! A derived reader of the serialisation library would do, but each of its structs adds two kilobytes to what a buyer's browser
//! fetches, four times what these do (measured in DEVELOPERS.md), and it can't name the nearest key.

#[cfg(feature = "explain")]
use super::document::Fault;
use super::document::{DocumentError, Node};
use super::fault::why;
use crate::map::Map;

/// Something a document can hold.
pub trait Read: Sized {
    /// Reads it from a node.
    ///
    /// # Errors
    /// What is wrong with the node, and where in it.
    fn read(node: &Node) -> Result<Self, DocumentError>;

    /// What a key that is not there stands for; nothing when it must be there.
    #[must_use]
    fn absent() -> Option<Self> {
        None
    }
}

/// A table whose keys are all known and stand there once each.
#[derive(Debug)]
pub struct Table<'n> {
    entries: &'n [(String, Node)],
    /// How many of them have been read.
    #[cfg(not(feature = "explain"))]
    taken: std::cell::Cell<usize>,
}

#[cfg(feature = "explain")]
impl<'n> Table<'n> {
    /// Opens a node as a table with these keys.
    ///
    /// # Errors
    /// When it is no table, or a key is unknown or written twice.
    pub fn open(node: &'n Node, known: &[&'static str]) -> Result<Self, DocumentError> {
        let Node::Table(entries) = node else { return Err(node.wrong("a table")) };
        for (i, (key, _)) in entries.iter().enumerate() {
            if !known.contains(&key.as_str()) {
                let nearest = super::told::nearest(key, known.iter().copied());
                return Err(DocumentError::at(key.as_str(), Fault::UnknownKey { key: key.clone(), nearest }));
            }
            if entries.iter().take(i).any(|(earlier, _)| earlier == key) {
                return Err(DocumentError::repeated(key));
            }
        }
        Ok(Self { entries })
    }

    /// Reads what stands under a key.
    ///
    /// # Errors
    /// When it is missing and must not be, or can't be read.
    pub fn field<T: Read>(&self, key: &'static str) -> Result<T, DocumentError> {
        match self.entries.iter().find(|(known, _)| known == key) {
            Some((_, node)) => T::read(node).map_err(|error| error.under_key(key)),
            None => T::absent().ok_or_else(|| DocumentError::at("", Fault::MissingKey(key))),
        }
    }

    /// Has nothing left to say: what is unknown or repeated was told as the table was opened.
    pub(crate) const fn close(&self) -> Result<(), DocumentError> {
        Ok(())
    }
}

/// The same without words: a key that is not there reads as nothing, and a table with an unknown or repeated key has more entries
/// than were read.
#[cfg(not(feature = "explain"))]
impl<'n> Table<'n> {
    /// Opens a node as a table.
    ///
    /// # Errors
    /// When it is no table.
    pub fn open(node: &'n Node, _: &[&'static str]) -> Result<Self, DocumentError> {
        let Node::Table(entries) = node else { return Err(node.wrong("a table")) };
        Ok(Self { entries, taken: std::cell::Cell::new(0) })
    }

    /// Reads what stands under a key.
    ///
    /// # Errors
    /// When it is missing and must not be, or can't be read.
    #[inline]
    pub fn field<T: Read>(&self, key: &'static str) -> Result<T, DocumentError> {
        T::read(self.take(key))
    }

    #[inline(never)]
    fn take(&self, key: &str) -> &'n Node {
        let found = self.entries.iter().find(|(known, _)| known == key);
        self.taken.set(self.taken.get().saturating_add(found.iter().len()));
        found.map_or(&Node::Null, |(_, node)| node)
    }

    /// Makes sure that every entry was read.
    ///
    /// # Errors
    /// When one was not.
    pub(crate) fn close(&self) -> Result<(), DocumentError> {
        if self.taken.get() == self.entries.len() { Ok(()) } else { Err(DocumentError::repeated("")) }
    }
}

/// Keeps what was read until the whole table is.
#[cfg(feature = "explain")]
pub(crate) const fn kept<T>(value: T) -> T {
    value
}

/// Gives out what was kept.
#[cfg(feature = "explain")]
pub(crate) fn given<T>(kept: T) -> T {
    kept
}

/// Keeps what was read until the whole table is. Where the rest can't be read, what was is left lying: one bad book leaves a few
/// kilobytes behind, and tidying up after every field of every table would weigh more than that in everyone's browser.
#[cfg(not(feature = "explain"))]
pub(crate) const fn kept<T>(value: T) -> std::mem::ManuallyDrop<T> {
    std::mem::ManuallyDrop::new(value)
}

/// Gives out what was kept.
#[cfg(not(feature = "explain"))]
pub(crate) fn given<T>(kept: std::mem::ManuallyDrop<T>) -> T {
    std::mem::ManuallyDrop::into_inner(kept)
}

/// Reads a struct from a table with a key for each of its fields. `field = value` says what a field that is not there stands
/// for; `or value` behind the fields says the same of the struct as a whole; `beside { field = value }` fills fields that no document has.
macro_rules! reads {
    (
        $name:ident $(<$inner:ident>)? { $($field:ident $(= $default:expr)?),* $(,)? }
        $(or $absent:expr)?
        $(; beside { $($own:ident = $value:expr),* })?
    ) => {
        impl $(<$inner: $crate::book::read::Read>)? $crate::book::read::Read for $name $(<$inner>)? {
            fn read(
                node: &$crate::book::document::Node,
            ) -> Result<Self, $crate::book::document::DocumentError> {
                $(if cfg!(not(feature = "explain")) && matches!(node, $crate::book::document::Node::Null) {
                    return Ok($absent);
                })?
                let table = $crate::book::read::Table::open(node, &[$(stringify!($field)),*])?;
                $(let $field = $crate::book::read::kept($crate::book::read::field!(table, $field $(= $default)?));)*
                table.close()?;
                Ok(Self {
                    $($field: $crate::book::read::given($field),)*
                    $($($own: $value,)*)?
                })
            }

            $(fn absent() -> Option<Self> {
                Some($absent)
            })?
        }

        #[cfg(feature = "schema")]
        $crate::book::schema::describes!($name $(<$inner>)? { $($field $(= $default)?),* });
    };
}

/// One field of a table, with or without something it stands for when it is not there.
macro_rules! field {
    ($table:ident, $field:ident) => {
        $table.field(stringify!($field))?
    };
    ($table:ident, $field:ident = $default:expr) => {
        $table.field::<Option<_>>(stringify!($field))?.unwrap_or($default)
    };
}

/// Reads an enum from one of its words or, with content, from a table with a word as its one key. `or value` says what an enum
/// that is not there stands for.
macro_rules! reads_word {
    (
        $name:ident { $($word:literal => $value:expr),* $(,)? }
        $(with { $($tag:literal => $make:expr),* $(,)? })?
        $(or $absent:expr)?
    ) => {
        impl $crate::book::read::Read for $name {
            fn read(
                node: &$crate::book::document::Node,
            ) -> Result<Self, $crate::book::document::DocumentError> {
                $(if cfg!(not(feature = "explain")) && matches!(node, $crate::book::document::Node::Null) {
                    return Ok($absent);
                })?
                let words: &[&'static str] = &[$($word,)* $($($tag,)*)?];
                match $crate::book::read::choice(node) {
                    $(Some(($word, None)) => Ok($value),)*
                    $($(Some(($tag, Some(content))) => {
                        let read = $crate::book::read::Read::read(content).map_err(|error| error.under_key($tag))?;
                        Ok($make(read))
                    })*)?
                    _ => Err($crate::book::read::wrong_word(node, words)),
                }
            }

            $(fn absent() -> Option<Self> {
                Some($absent)
            })?
        }

        #[cfg(feature = "schema")]
        $crate::book::schema::describes_word!($name { $($word),* } { $($($tag => $make),*)? });
    };
}

pub(crate) use {field, reads, reads_word};

/// A word alone, or a table with the word as its one key.
pub(crate) fn choice(node: &Node) -> Option<(&str, Option<&Node>)> {
    match node {
        Node::Text(word) => Some((word, None)),
        Node::Table(entries) => match entries.as_slice() {
            [(word, content)] => Some((word, Some(content))),
            _ => None,
        },
        Node::Null | Node::Bool(_) | Node::Int(_) | Node::Float | Node::List(_) => None,
    }
}

/// The error of a node that is none of these words.
#[cfg(feature = "explain")]
pub(crate) fn wrong_word(node: &Node, words: &[&'static str]) -> DocumentError {
    match choice(node) {
        Some((word, _)) if !words.contains(&word) => {
            DocumentError::at("", Fault::UnknownWord { word: word.to_owned(), accepted: words.to_vec() })
        }
        Some((word, None)) => node.wrong(format!("a table with “{word}” as its one key")),
        Some((word, Some(_))) => node.wrong(format!("the word “{word}” alone, in quotes")),
        None => node.wrong(format!("one of: {}", words.join(", "))),
    }
}

/// The error of a node that is none of these words.
#[cfg(not(feature = "explain"))]
pub(crate) fn wrong_word(node: &Node, _: &[&'static str]) -> DocumentError {
    node.wrong("one of its words")
}

impl Read for bool {
    fn read(node: &Node) -> Result<Self, DocumentError> {
        if let Node::Bool(value) = node { Ok(*value) } else { Err(node.wrong("true or false")) }
    }
}

impl Read for u32 {
    fn read(node: &Node) -> Result<Self, DocumentError> {
        let Node::Int(number) = node else { return Err(node.wrong("a whole number")) };
        Self::try_from(*number).map_err(|_| node.wrong("a whole number, not below zero"))
    }
}

/// Whether a value is what a key that is not there stands for, so that writing may leave the key out.
pub(crate) fn is_default<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}

/// What may be left out.
impl<T: Read> Read for Option<T> {
    fn read(node: &Node) -> Result<Self, DocumentError> {
        if matches!(node, Node::Null) { Ok(None) } else { T::read(node).map(Some) }
    }

    fn absent() -> Option<Self> {
        Some(None)
    }
}

/// More entries than this are in no table of a workshop; reading them would only keep someone waiting.
const LONGEST_LIST: usize = 20_000;

/// The entries of a list that is not too long.
fn items(node: &Node) -> Result<&[Node], DocumentError> {
    match node {
        Node::List(items) if items.len() > LONGEST_LIST => {
            let count = items.len();
            let why = why!("the list has {count} entries; at most {LONGEST_LIST} are read: take some out");
            Err(DocumentError::unusable("", why))
        }
        Node::List(items) => Ok(items),
        Node::Null if cfg!(not(feature = "explain")) => Ok(&[]),
        _ => Err(node.wrong("a list")),
    }
}

/// A list that is left out is empty: where it must not be, the check of the book says so.
impl<T: Read> Read for Vec<T> {
    fn read(node: &Node) -> Result<Self, DocumentError> {
        let mut list = Self::new();
        for (index, item) in items(node)?.iter().enumerate() {
            list.push(T::read(item).map_err(|error| error.under_index(index))?);
        }
        Ok(list)
    }

    fn absent() -> Option<Self> {
        Some(Self::new())
    }
}

impl<T: Read, const N: usize> Read for [T; N] {
    fn read(node: &Node) -> Result<Self, DocumentError> {
        Self::try_from(Vec::read(node)?)
            .map_err(|other: Vec<T>| node.wrong(why!("a list of {N}, not of {}", other.len())))
    }
}

/// More keys than these are in no table of keys: they are kept in order one by one.
const MOST_KEYS: usize = 5000;

/// Keys of the maker's own, such as thickness classes or roles.
impl<K: Read + Ord, V: Read> Read for Map<K, V> {
    fn read(node: &Node) -> Result<Self, DocumentError> {
        let entries = match node {
            Node::Table(entries) if entries.len() > MOST_KEYS => {
                let why = why!("the table has {} keys; at most {MOST_KEYS} are read: take some out", entries.len());
                return Err(DocumentError::unusable("", why));
            }
            Node::Table(entries) => entries.as_slice(),
            Node::Null if cfg!(not(feature = "explain")) => &[],
            _ => return Err(node.wrong("a table")),
        };
        let mut map = Self::new();
        for (key, value) in entries {
            let read = K::read(&Node::Text(key.clone()))?;
            let value = V::read(value).map_err(|error| error.under_key(key))?;
            if map.insert(read, value).is_some() {
                return Err(DocumentError::repeated(key));
            }
        }
        Ok(map)
    }

    fn absent() -> Option<Self> {
        Some(Self::new())
    }
}
