//! JSON Schema from the readers themselves: what a table's reader knows, demands and lets be left out is what its schema says, so the two
//! can't drift apart. Only built with the feature `schema`, for the files in `shared/schema`.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde_json::{Map, Value, json};

use super::read::Read;

/// The schema of a table, key by key.
pub(crate) struct Table<'g> {
    generator: &'g mut SchemaGenerator,
    properties: Map<String, Value>,
    required: Vec<Value>,
}

impl<'g> Table<'g> {
    pub(crate) fn new(generator: &'g mut SchemaGenerator) -> Self {
        Self { generator, properties: Map::new(), required: Vec::new() }
    }

    /// One key; its type is that of the field the table's reader fills from it. With a default, it may be null too.
    pub(crate) fn key<S, T: Read + JsonSchema>(&mut self, key: &str, default: &[&str], _: fn(&S) -> &T) {
        let held = if default.is_empty() {
            self.generator.subschema_for::<T>()
        } else {
            self.generator.subschema_for::<Option<T>>()
        };
        self.properties.insert(key.to_owned(), held.to_value());
        if default.is_empty() && T::absent().is_none() {
            self.required.push(json!(key));
        }
    }

    pub(crate) fn finish(self) -> Schema {
        json_schema!({
            "type": "object",
            "properties": self.properties,
            "required": self.required,
            "additionalProperties": false,
        })
    }
}

/// The schema of a word with content: a table with the word as its one key.
pub(crate) fn tagged<A: JsonSchema, R>(generator: &mut SchemaGenerator, tag: &str, _: fn(A) -> R) -> Value {
    let content = generator.subschema_for::<A>();
    json!({ "type": "object", "properties": { tag: content }, "required": [tag], "additionalProperties": false })
}

/// The schema of one of some words, or of one of some tables.
pub(crate) fn choice(words: &[&str], tables: Vec<Value>) -> Schema {
    let words = (!words.is_empty()).then(|| json!({ "enum": words }));
    json_schema!({ "anyOf": words.into_iter().chain(tables).collect::<Vec<_>>() })
}

/// A decimal, in quotes or whole.
pub(crate) fn decimal(what: &str, least: rust_decimal::Decimal, most: rust_decimal::Decimal) -> Schema {
    let number = |value: rust_decimal::Decimal| -> Value {
        serde_json::from_str(&value.normalize().to_string()).unwrap_or(Value::Null)
    };
    json_schema!({
        "description": format!("{what} from {least} to {most}, in quotes, as \"12.50\"; a whole number may stand without them"),
        "anyOf": [
            { "type": "string", "pattern": "^-?[0-9.]{1,20}$" },
            { "type": "integer", "minimum": number(least), "maximum": number(most) },
        ],
    })
}

/// The name of a type in a schema.
pub(crate) fn name(of: &'static str, inner: Option<Cow<'static, str>>) -> Cow<'static, str> {
    inner.map_or(Cow::Borrowed(of), |inner| Cow::Owned(format!("{of}Of{inner}")))
}

/// Describes a table whose reader is made by `reads!`.
macro_rules! describes {
    ($name:ident $(<$inner:ident>)? { $($field:ident $(= $default:expr)?),* }) => {
        impl $(<$inner: $crate::book::read::Read + schemars::JsonSchema>)? schemars::JsonSchema for $name $(<$inner>)? {
            fn schema_name() -> std::borrow::Cow<'static, str> {
                let inner: Option<std::borrow::Cow<'static, str>> = None;
                $(let inner = inner.or(Some($inner::schema_name()));)?
                $crate::book::schema::name(stringify!($name), inner)
            }

            fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
                let mut table = $crate::book::schema::Table::new(generator);
                $(table.key(stringify!($field), &[$(stringify!($default))?], |whole: &Self| &whole.$field);)*
                table.finish()
            }
        }
    };
}

/// Describes an enum whose reader is made by `reads_word!`.
macro_rules! describes_word {
    ($name:ident { $($word:literal),* } { $($tag:literal => $make:expr),* }) => {
        impl schemars::JsonSchema for $name {
            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($name).into()
            }

            fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
                let tables = vec![$($crate::book::schema::tagged(generator, $tag, $make)),*];
                let _ = generator;
                $crate::book::schema::choice(&[$($word),*], tables)
            }
        }
    };
}

/// Describes a value that is read from text.
macro_rules! describes_text {
    ($name:ty, $($schema:tt)*) => {
        impl schemars::JsonSchema for $name {
            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($name).into()
            }

            fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
                schemars::json_schema!($($schema)*)
            }
        }
    };
}

pub(crate) use {describes, describes_text, describes_word};
