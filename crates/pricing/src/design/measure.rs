//! Linear measures: `84 in` alone, or half the width less 2 in.

use crate::map::Map;
use std::fmt;

use serde::{Serialize, Serializer};

use crate::book::document::{DocumentError, Node};
use crate::book::fault::why;
use crate::book::read::{Read, Table};
use crate::book::values::Key;
use crate::measure::Length;

use super::BOX;

/// The sizes of a piece, by dimension.
pub type Dimensions = Map<Key, Length>;

/// The box a piece of these sizes fills: its length, width and height.
#[must_use]
pub fn envelope(sizes: &Dimensions) -> [Length; 3] {
    let size = |name| sizes.iter().find(|(key, _)| key.as_str() == name).map_or(Length::ZERO, |(_, size)| *size);
    BOX.map(size)
}

/// An exact fraction of a dimension: `1/2`, `-1`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Fraction {
    numerator: i64,
    denominator: i64,
}

impl Fraction {
    /// Reads `1`, `-1/2`, `2/3`; both numbers at most 1000.
    fn parse(text: &str) -> Option<Self> {
        let (top, bottom) = text.split_once('/').unwrap_or((text, "1"));
        let (numerator, denominator) = (top.parse().ok()?, bottom.parse().ok()?);
        let in_bounds = (-1000..=1000).contains(&numerator) && (1..=1000).contains(&denominator);
        in_bounds.then_some(Self { numerator, denominator })
    }
}

impl fmt::Display for Fraction {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.denominator {
            1 => write!(f, "{}", self.numerator),
            bottom => write!(f, "{}/{bottom}", self.numerator),
        }
    }
}

impl Read for Fraction {
    fn read(node: &Node) -> Result<Self, DocumentError> {
        let Node::Text(text) = node else { return Err(node.wrong("a fraction in quotes, as \"1/2\"")) };
        Self::parse(text).ok_or_else(|| {
            DocumentError::unusable("", why!("“{text}” is not a fraction; write it as \"1/2\", \"1\" or \"-1/3\""))
        })
    }
}

impl Serialize for Fraction {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

/// A linear measure: fractions of dimensions and a length, added up.
///
/// Written as a length, `"28 in"`, or as `{"of": {"length": "1"}, "plus": "-12 in"}`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Measure {
    of: Map<Key, Fraction>,
    plus: Length,
}

impl Measure {
    /// A measure that is the same at every size.
    #[must_use]
    pub const fn fixed(length: Length) -> Self {
        Self { of: Map::new(), plus: length }
    }

    /// The dimensions it depends on.
    pub fn depends_on(&self) -> impl Iterator<Item = &Key> {
        self.of.keys()
    }

    /// Its value at these sizes; a dimension that is not among them counts as nothing.
    #[must_use]
    pub fn at(&self, sizes: &Dimensions) -> Length {
        self.of.iter().fold(self.plus, |sum, (key, fraction)| {
            let size = sizes.get(key).copied().unwrap_or(Length::ZERO);
            sum + size.scaled(fraction.numerator, fraction.denominator)
        })
    }
}

impl Read for Measure {
    fn read(node: &Node) -> Result<Self, DocumentError> {
        match node {
            Node::Text(_) => Length::read(node).map(Self::fixed),
            Node::Table(_) => {
                let table = Table::open(node, &["of", "plus"])?;
                let plus: Option<Length> = table.field("plus")?;
                let of = table.field("of")?;
                table.close()?;
                Ok(Self { of, plus: plus.unwrap_or(Length::ZERO) })
            }
            _ => Err(node.wrong("a length, as \"28 in\", or {\"of\": {\"length\": \"1/2\"}, \"plus\": \"-2 in\"}")),
        }
    }
}

/// How a measure that depends on a dimension is written.
#[derive(Serialize)]
struct Written<'m> {
    of: &'m Map<Key, Fraction>,
    #[serde(skip_serializing_if = "Option::is_none")]
    plus: Option<Length>,
}

impl Serialize for Measure {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        if self.of.is_empty() {
            self.plus.serialize(serializer)
        } else {
            let plus = (self.plus != Length::ZERO).then_some(self.plus);
            Written { of: &self.of, plus }.serialize(serializer)
        }
    }
}

#[cfg(feature = "schema")]
mod described {
    use std::borrow::Cow;

    use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

    use super::{Fraction, Key, Length, Map, Measure};

    impl JsonSchema for Measure {
        fn schema_name() -> Cow<'static, str> {
            "Measure".into()
        }

        fn json_schema(generator: &mut SchemaGenerator) -> Schema {
            let length = generator.subschema_for::<Length>();
            let plus = generator.subschema_for::<Option<Length>>();
            let of = generator.subschema_for::<Map<Key, Fraction>>();
            let sum = json_schema!({
                "type": "object", "properties": { "of": of, "plus": plus }, "additionalProperties": false
            });
            json_schema!({ "anyOf": [length, sum] })
        }
    }

    crate::book::schema::describes_text!(Fraction, { "type": "string", "pattern": "^[-+]?[0-9]+(/[-+]?[0-9]+)?$" });
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::document::Node;

    fn read(json: &str) -> Result<Measure, String> {
        Node::read(json).unwrap().read_as().map_err(|error| error.to_string())
    }

    #[test]
    fn half_the_width_less_two_inches() {
        let sizes = Dimensions::from([(Key::new("width").unwrap(), Length::inches(42))]);
        let measure = read(r#"{"of": {"width": "1/2"}, "plus": "-2 in"}"#).unwrap();
        assert_eq!(measure.at(&sizes), Length::inches(19));
        assert_eq!(serde_json::to_string(&measure).unwrap(), r#"{"of":{"width":"1/2"},"plus":"-2 in"}"#);
        assert_eq!(read("\"28 in\"").unwrap().at(&sizes), Length::inches(28));
    }

    #[test]
    fn a_measure_that_does_not_read_says_where_and_how() {
        assert_eq!(read("\"28\"").unwrap_err(), "“28” has no unit; write 28 in or 28 mm");
        assert!(read(r#"{"of": {"width": "half"}}"#).unwrap_err().starts_with("of.width: “half” is not a fraction"));
        assert!(read(r#"{"of": {}, "less": "2 in"}"#).unwrap_err().starts_with("less: “less” is not a key here"));
    }
}
