//! What a place of a document may hold, out of the JSON Schema that the engine's own readers make.
//!
//! One list drives reader, schema and form, so that a key the book gains is on the page without a line written here.

use serde_json::Value;

/// What a place may hold.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Kind {
    /// Words, one line.
    Line,
    /// Words, as many as it takes.
    Words,
    /// One of a few words.
    Choice(Vec<String>),
    /// Yes or no.
    Switch,
    /// A whole number.
    Whole,
    /// A number with decimals, written in quotes.
    Decimal,
    /// An amount of money, written as a number with decimals.
    Money,
    /// A length with its unit.
    Length,
    /// A length, or fractions of the dimensions of a design and a length on top.
    Measure,
    /// A day.
    Day,
    /// A colour.
    Colour,
    /// A table with these fields.
    Table(Vec<Field>),
    /// Rows of one kind.
    List(Box<Kind>),
    /// Keys of the maker's own, each with a value of one kind.
    Map(Box<Kind>),
    /// One of several shapes.
    OneOf(Vec<Kind>),
}

/// A field of a table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Field {
    /// Its key.
    pub key: String,
    /// What it is called on the page.
    pub label: String,
    /// What it means, in a sentence; empty where the schema does not say.
    pub hint: String,
    /// What it may hold.
    pub kind: Kind,
    /// Whether it must be there.
    pub required: bool,
}

impl Kind {
    /// What a document of this schema holds.
    #[must_use]
    pub fn of_document(schema: &Value) -> Self {
        of(schema, schema, 0)
    }

    /// Whether a cell of a grid can hold it.
    #[must_use]
    pub const fn fits_a_cell(&self) -> bool {
        !matches!(self, Self::Table(_) | Self::List(_) | Self::Map(_) | Self::OneOf(_) | Self::Measure)
    }

    /// Whether it is a number with decimals.
    #[must_use]
    pub const fn is_decimal(&self) -> bool {
        matches!(self, Self::Decimal | Self::Money)
    }

    /// The field of a table with this key.
    #[must_use]
    pub fn field(&self, key: &str) -> Option<&Field> {
        match self {
            Self::Table(fields) => fields.iter().find(|field| field.key == key),
            _ => None,
        }
    }

    /// What the rows of a list hold.
    #[must_use]
    pub const fn rows(&self) -> Option<&Self> {
        match self {
            Self::List(row) => Some(row),
            _ => None,
        }
    }
}

/// Schemas of a maker's book lie no deeper; a circle of references ends here.
const DEEPEST: usize = 24;

fn of(whole: &Value, schema: &Value, depth: usize) -> Kind {
    if depth > DEEPEST {
        return Kind::Line;
    }
    if let Some(name) = schema["$ref"].as_str() {
        let held = name.strip_prefix('#').and_then(|place| whole.pointer(place)).unwrap_or(&Value::Null);
        return named(name).unwrap_or_else(|| of(whole, held, depth.saturating_add(1)));
    }
    let inner = |schema: &Value| of(whole, schema, depth.saturating_add(1));
    if let Some(words) = words_of(schema) {
        return Kind::Choice(words);
    }
    // Of a few whole numbers a schema need not say that they are numbers.
    if schema["enum"].as_array().is_some_and(|few| few.iter().all(Value::is_u64)) {
        return Kind::Whole;
    }
    if let Some(shapes) = schema["anyOf"].as_array().or_else(|| schema["oneOf"].as_array()) {
        let mut kinds: Vec<Kind> = shapes.iter().filter(|shape| shape["type"] != "null").map(inner).collect();
        return if kinds.len() == 1 { kinds.remove(0) } else { Kind::OneOf(kinds) };
    }
    // A key that may be left out may be of a type or null.
    let types = schema["type"].as_array();
    let kind = types.and_then(|types| types.iter().find(|kind| *kind != "null")).unwrap_or(&schema["type"]);
    match kind.as_str() {
        Some("object") if schema["properties"].is_object() => Kind::Table(fields(schema, &inner)),
        Some("object") => Kind::Map(Box::new(inner(held_in_map(schema)))),
        Some("array") => Kind::List(Box::new(inner(&schema["items"]))),
        Some("boolean") => Kind::Switch,
        Some("integer") => Kind::Whole,
        _ => Kind::Line,
    }
}

/// What a map holds under its keys: where the keys are of one pattern, the schema says it there.
fn held_in_map(schema: &Value) -> &Value {
    let by_pattern = schema["patternProperties"].as_object().and_then(|patterns| patterns.values().next());
    by_pattern.unwrap_or(&schema["additionalProperties"])
}

/// What the values of the books are, by the name the schema gives them.
fn named(reference: &str) -> Option<Kind> {
    Some(match reference.rsplit('/').next()? {
        "Text" => Kind::Words,
        "Key" => Kind::Line,
        "Length" => Kind::Length,
        "Measure" => Kind::Measure,
        "Day" => Kind::Day,
        "Swatch" => Kind::Colour,
        "Count" => Kind::Whole,
        "Amount" => Kind::Money,
        "Share" | "KeptShare" | "Addition" | "Yield" | "Factor" | "RepeatRate" | "Minutes" | "Hours" | "Measured"
        | "Gravity" | "Percent" => Kind::Decimal,
        _ => return None,
    })
}

/// The words of a schema that allows nothing else.
fn words_of(schema: &Value) -> Option<Vec<String>> {
    let word = |value: &Value| value.as_str().map(str::to_owned);
    if let Some(words) = schema["enum"].as_array() {
        return words.iter().map(word).collect();
    }
    let each = schema["oneOf"].as_array()?;
    each.iter().map(|one| word(&one["const"])).collect()
}

fn fields(schema: &Value, inner: &impl Fn(&Value) -> Kind) -> Vec<Field> {
    let required = |key: &str| schema["required"].as_array().is_some_and(|keys| keys.iter().any(|known| known == key));
    let field = |(key, held): (&String, &Value)| Field {
        key: key.clone(),
        label: label(key),
        hint: held["description"].as_str().unwrap_or_default().to_owned(),
        kind: inner(held),
        required: required(key),
    };
    let mut held: Vec<(&String, &Value)> = schema["properties"].as_object().into_iter().flatten().collect();
    // A schema lists keys by the alphabet, and says beside each where it stands in the order a maker thinks of them.
    held.sort_by_key(|(_, held)| held["x-order"].as_u64());
    held.into_iter().map(field).collect()
}

/// `per_square_foot` as people write it.
pub(crate) fn label(key: &str) -> String {
    let words = key.replace('_', " ");
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn book() -> Kind {
        let schema = serde_json::from_str(include_str!("../../../shared/schema/shop-book.json")).unwrap();
        Kind::of_document(&schema)
    }

    fn at<'k>(kind: &'k Kind, path: &[&str]) -> &'k Kind {
        path.iter().fold(kind, |kind, key| {
            let kind = kind.rows().unwrap_or(kind);
            &kind.field(key).unwrap_or_else(|| panic!("{key}")).kind
        })
    }

    #[test]
    fn the_book_s_own_schema_says_what_its_places_hold() {
        let book = book();
        assert_eq!(at(&book, &["shop", "stands_days"]), &Kind::Whole);
        assert_eq!(at(&book, &["timbers", "specific_gravity"]), &Kind::Decimal);
        assert_eq!(at(&book, &["timbers", "longest"]), &Kind::Length);
        assert_eq!(at(&book, &["timbers", "swatch"]), &Kind::Colour);
        assert_eq!(at(&book, &["timbers", "rates"]), &Kind::Map(Box::new(Kind::Money)));
        assert_eq!(at(&book, &["shop", "least_job"]), &Kind::Money);
        assert_eq!(at(&book, &["jobs", "fees"]), &Kind::Money, "also where it may be left out");
        assert_eq!(at(&book, &["jobs", "hours"]), &Kind::Map(Box::new(Kind::Decimal)));
        let Kind::Map(slab) = at(&book, &["jobs", "slabs"]) else { panic!("keys of the maker's own") };
        assert_eq!(at(slab, &["share"]), &Kind::Decimal);
        assert_eq!(at(&book, &["designs", "tip_tested"]), &Kind::Switch);
        assert_eq!(at(&book, &["designs", "parts", "joints", "depth"]), &Kind::Length);
        assert_eq!(at(&book, &["jobs", "brief", "quantity"]), &Kind::Whole);
        assert_eq!(at(&book, &["designs", "parts", "finished", "faces"]), &Kind::Whole);
        let Kind::Choice(words) = at(&book, &["slabs", "basis"]) else { panic!("one of six") };
        assert_eq!(words.len(), 6);
        assert!(matches!(at(&book, &["pricing", "shop_rate"]), Kind::OneOf(shapes) if shapes.len() == 2));
    }

    #[test]
    fn every_table_of_the_book_is_on_the_page() {
        let Kind::Table(fields) = book() else { panic!("a book is a table") };
        let keys: Vec<&str> = fields.iter().map(|field| field.key.as_str()).collect();
        for key in [
            "timbers",
            "slabs",
            "sheets",
            "resins",
            "finishes",
            "hardware",
            "consumables",
            "operations",
            "designs",
            "regions",
            "currencies",
            "jobs",
        ] {
            assert!(keys.contains(&key), "{key}");
            let kind = &fields.iter().find(|field| field.key == key).unwrap().kind;
            let Some(Kind::Table(columns)) = kind.rows() else { panic!("{key} has rows") };
            assert!(columns.iter().any(|column| column.kind.fits_a_cell()), "{key}");
        }
    }

    #[test]
    fn a_row_starts_with_what_it_goes_by() {
        let book = book();
        let Some(Kind::Table(columns)) = at(&book, &["timbers"]).rows() else { panic!("rows") };
        assert_eq!([columns[0].key.as_str(), columns[1].label.as_str()], ["key", "Name"]);
        assert_eq!(label("per_square_foot"), "Per square foot");
    }
}
