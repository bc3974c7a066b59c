//! Reading JSON documents strictly, with the path of every error and what to do about it.
//!
//! The text is first read into a [`Node`] tree, which keeps repeated keys; the derived readers of the tables then run over
//! the tree, and every error gathers its path on the way out. Unknown keys and variants name the nearest known one.

use std::fmt;

use serde::de::{
    self, DeserializeOwned, DeserializeSeed, Deserializer, EnumAccess, MapAccess, SeqAccess, VariantAccess, Visitor,
};
use serde::{Deserialize, forward_to_deserialize_any};

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
    RepeatedKey(&'static str),
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

    fn bare(fault: Fault) -> Self {
        Self { path: String::new(), fault }
    }

    fn under_key(mut self, key: &str) -> Self {
        let dot = if self.path.is_empty() || self.path.starts_with('[') { "" } else { "." };
        self.path = format!("{key}{dot}{}", self.path);
        self
    }

    fn under_index(mut self, index: usize) -> Self {
        let dot = if self.path.is_empty() || self.path.starts_with('[') { "" } else { "." };
        self.path = format!("[{index}]{dot}{}", self.path);
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

impl de::Error for DocumentError {
    fn custom<T: fmt::Display>(message: T) -> Self {
        Self::bare(Fault::Unusable(message.to_string()))
    }

    fn invalid_type(found: de::Unexpected<'_>, expected: &dyn de::Expected) -> Self {
        let found = match found {
            de::Unexpected::Map => "a table",
            de::Unexpected::Seq => "a list",
            de::Unexpected::Str(_) => "words",
            _ => "another value",
        };
        Self::bare(Fault::WrongShape { found: found.into(), expected: expected.to_string() })
    }

    fn unknown_field(field: &str, expected: &'static [&'static str]) -> Self {
        let fault = Fault::UnknownKey { key: field.to_owned(), nearest: nearest(field, expected.iter().copied()) };
        Self::bare(fault).under_key(field)
    }

    fn unknown_variant(word: &str, expected: &'static [&'static str]) -> Self {
        Self::bare(Fault::UnknownWord { word: word.to_owned(), accepted: expected.to_vec() })
    }

    fn missing_field(field: &'static str) -> Self {
        Self::bare(Fault::MissingKey(field))
    }

    fn duplicate_field(field: &'static str) -> Self {
        Self::bare(Fault::RepeatedKey(field))
    }
}

/// The candidate most like `word`, when one is close enough to be a slip of the pen.
pub(crate) fn nearest<'a>(word: &str, candidates: impl Iterator<Item = &'a str>) -> Option<&'a str> {
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
            return Err(DocumentError::bare(Fault::TooLarge(text.len())));
        }
        serde_json::from_str(text).map_err(|error| DocumentError::bare(Fault::NotJson(error.to_string())))
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

    /// Reads this tree as a `T`.
    ///
    /// # Errors
    /// The first place where the tree is not a `T`.
    pub fn read_as<T: DeserializeOwned>(&self) -> Result<T, DocumentError> {
        T::deserialize(self)
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

impl Node {
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

    fn wrong(&self, expected: &dyn de::Expected) -> DocumentError {
        DocumentError::bare(Fault::WrongShape { found: self.found(), expected: expected.to_string() })
    }
}

/// Each method takes the one shape it is asked for, and nothing else: a struct never reads from a list, and the code for the
/// shapes that can't be is not built, which halves what reading adds to the widget.
impl<'de> Deserializer<'de> for &'de Node {
    type Error = DocumentError;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, DocumentError> {
        match self {
            Node::Int(value) => visitor.visit_i64(*value),
            Node::Text(value) => visitor.visit_borrowed_str(value),
            Node::Table(_) => self.deserialize_map(visitor),
            Node::Null | Node::Bool(_) | Node::Float | Node::List(_) => Err(self.wrong(&visitor)),
        }
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, DocumentError> {
        if let Node::Bool(value) = self { visitor.visit_bool(*value) } else { Err(self.wrong(&visitor)) }
    }

    fn deserialize_i64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, DocumentError> {
        if let Node::Int(value) = self { visitor.visit_i64(*value) } else { Err(self.wrong(&visitor)) }
    }

    fn deserialize_str<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, DocumentError> {
        if let Node::Text(value) = self { visitor.visit_borrowed_str(value) } else { Err(self.wrong(&visitor)) }
    }

    fn deserialize_string<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, DocumentError> {
        self.deserialize_str(visitor)
    }

    fn deserialize_identifier<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, DocumentError> {
        self.deserialize_str(visitor)
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, DocumentError> {
        let Node::List(items) = self else { return Err(self.wrong(&visitor)) };
        visitor.visit_seq(ListReader { items: items.iter(), index: 0 })
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, length: usize, visitor: V) -> Result<V::Value, DocumentError> {
        match self {
            Node::List(items) if items.len() != length => Err(DocumentError::bare(Fault::WrongShape {
                found: format!("a list of {}", items.len()),
                expected: format!("a list of {length}"),
            })),
            _ => self.deserialize_seq(visitor),
        }
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, DocumentError> {
        let Node::Table(entries) = self else { return Err(self.wrong(&visitor)) };
        visitor.visit_map(TableReader { entries: entries.iter(), current: None })
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, DocumentError> {
        self.deserialize_map(visitor)
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, DocumentError> {
        if *self == Node::Null { visitor.visit_none() } else { visitor.visit_some(self) }
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, DocumentError> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        words: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, DocumentError> {
        match self.choice() {
            Some(choice) => visitor.visit_enum(choice),
            None => Err(self.wrong(&format!("one of: {}", words.join(", ")).as_str())),
        }
    }

    forward_to_deserialize_any! {
        i8 i16 i32 i128 u8 u16 u32 u64 u128 f32 f64 char bytes byte_buf unit unit_struct tuple_struct ignored_any
    }
}

impl Node {
    /// A word alone, or a table with the word as its one key.
    fn choice(&self) -> Option<ChoiceReader<'_>> {
        match self {
            Self::Text(word) => Some(ChoiceReader { word, content: None }),
            Self::Table(entries) => match entries.as_slice() {
                [(word, content)] => Some(ChoiceReader { word, content: Some(content) }),
                _ => None,
            },
            Self::Null | Self::Bool(_) | Self::Int(_) | Self::Float | Self::List(_) => None,
        }
    }
}

struct ListReader<'de> {
    items: std::slice::Iter<'de, Node>,
    index: usize,
}

impl<'de> SeqAccess<'de> for ListReader<'de> {
    type Error = DocumentError;

    fn next_element_seed<T: DeserializeSeed<'de>>(&mut self, seed: T) -> Result<Option<T::Value>, DocumentError> {
        let Some(item) = self.items.next() else { return Ok(None) };
        let index = self.index;
        self.index = index.saturating_add(1);
        seed.deserialize(item).map(Some).map_err(|error| error.under_index(index))
    }
}

struct TableReader<'de> {
    entries: std::slice::Iter<'de, (String, Node)>,
    current: Option<&'de (String, Node)>,
}

impl<'de> MapAccess<'de> for TableReader<'de> {
    type Error = DocumentError;

    fn next_key_seed<K: DeserializeSeed<'de>>(&mut self, seed: K) -> Result<Option<K::Value>, DocumentError> {
        self.current = self.entries.next();
        let Some((key, _)) = self.current else { return Ok(None) };
        seed.deserialize(de::value::BorrowedStrDeserializer::new(key)).map(Some)
    }

    fn next_value_seed<T: DeserializeSeed<'de>>(&mut self, seed: T) -> Result<T::Value, DocumentError> {
        let Some((key, value)) = self.current else { return Err(DocumentError::bare(Fault::MissingKey("value"))) };
        seed.deserialize(value).map_err(|error| error.under_key(key))
    }
}

struct ChoiceReader<'de> {
    word: &'de str,
    content: Option<&'de Node>,
}

impl<'de> EnumAccess<'de> for ChoiceReader<'de> {
    type Error = DocumentError;
    type Variant = ContentReader<'de>;

    fn variant_seed<T: DeserializeSeed<'de>>(self, seed: T) -> Result<(T::Value, Self::Variant), DocumentError> {
        let choice = seed.deserialize(de::value::BorrowedStrDeserializer::new(self.word))?;
        Ok((choice, ContentReader { word: self.word, content: self.content }))
    }
}

struct ContentReader<'de> {
    word: &'de str,
    content: Option<&'de Node>,
}

impl ContentReader<'_> {
    fn wrong(&self, expected: &str) -> DocumentError {
        let found = if self.content.is_some() { "a table" } else { "the word alone" };
        DocumentError::bare(Fault::WrongShape {
            found: format!("{found} “{}”", self.word), expected: expected.into()
        })
    }
}

impl<'de> VariantAccess<'de> for ContentReader<'de> {
    type Error = DocumentError;

    fn unit_variant(self) -> Result<(), DocumentError> {
        if self.content.is_none() { Ok(()) } else { Err(self.wrong("the word alone, in quotes")) }
    }

    fn newtype_variant_seed<T: DeserializeSeed<'de>>(self, seed: T) -> Result<T::Value, DocumentError> {
        let content = self.content.ok_or_else(|| self.wrong("a table with the word as its one key"))?;
        seed.deserialize(content).map_err(|error| error.under_key(self.word))
    }

    fn tuple_variant<V: Visitor<'de>>(self, _: usize, _: V) -> Result<V::Value, DocumentError> {
        Err(self.wrong("a table with the word as its one key"))
    }

    fn struct_variant<V: Visitor<'de>>(
        self,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, DocumentError> {
        let content = self.content.ok_or_else(|| self.wrong("a table with the word as its one key"))?;
        content.deserialize_map(visitor).map_err(|error| error.under_key(self.word))
    }
}
