//! The JSON Schema of every document, as the files in `shared/schema` hold them. Only built with the feature `schema`.

use schemars::transform::{RecursiveTransform, Transform};
use schemars::{JsonSchema, Schema, generate::SchemaSettings};
use serde_json::{Value, json};

use crate::book::{PriceBook, ShopBook};
use crate::brief::Brief;
use crate::estimate::Estimate;
use crate::kept::Kept;
use crate::offers::Offers;
use crate::request::Request;

/// Every document: the name of its file, and its schema.
#[must_use]
pub fn all() -> [(&'static str, Schema); 7] {
    [
        ("shop-book", document::<ShopBook>("A shop book", "scantling_book")),
        ("price-book", document::<PriceBook>("A price book", "scantling_price_book")),
        ("brief", document::<Brief>("A brief", "scantling_brief")),
        ("estimate", document::<Estimate>("An estimate", "scantling_estimate")),
        ("request", document::<Request>("A request", "scantling_request")),
        ("offers", document::<Offers>("Offers for a piece", "scantling_offers")),
        ("kept", document::<Kept>("A kept estimate", "scantling_kept")),
    ]
}

fn document<T: JsonSchema>(title: &str, version: &str) -> Schema {
    let settings = SchemaSettings::draft2020_12().for_serialize();
    let mut schema = settings.into_generator().into_root_schema_for::<T>();
    RecursiveTransform(no_other_keys).transform(&mut schema);
    schema.insert("title".into(), json!(title));
    for place in [format!("/properties/{version}"), "/$defs/Brief/properties/scantling_brief".to_owned()] {
        if let Some(held) = schema.pointer_mut(&place) {
            *held = json!({ "const": 1 });
        }
    }
    schema
}

/// What a document writes, it writes under the keys named, and no others.
fn no_other_keys(schema: &mut Schema) {
    if schema.get("properties").is_some_and(Value::is_object) && schema.get("additionalProperties").is_none() {
        schema.insert("additionalProperties".into(), json!(false));
    }
}
