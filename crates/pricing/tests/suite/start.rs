//! What the tests start from: the demo book, and books made from it by changing one place.

use scantling_pricing::book::{PriceBook, ShopBook};
use scantling_pricing::brief::Brief;
use scantling_pricing::measure::{DecimalMark, Length, LengthUnit, read_length};
use scantling_pricing::publish::{Basis, fold};
use serde_json::Value;

pub(crate) const DEMO: &str = include_str!("../../../../shared/books/demo-shop.json");

pub(crate) fn demo_value() -> Value {
    serde_json::from_str(DEMO).unwrap()
}

pub(crate) fn demo_shop() -> ShopBook {
    ShopBook::read(DEMO).unwrap()
}

pub(crate) fn selling(shop: &ShopBook) -> PriceBook {
    fold(shop, Basis::Selling).unwrap()
}

pub(crate) fn demo() -> PriceBook {
    selling(&demo_shop())
}

/// A shop book read from a changed demo book, which must be sound.
pub(crate) fn sound(value: &Value) -> ShopBook {
    ShopBook::read(&value.to_string()).unwrap_or_else(|faults| panic!("{faults:?}"))
}

pub(crate) fn length(text: &str) -> Length {
    read_length(text, LengthUnit::Inch, DecimalMark::Point).unwrap()
}

pub(crate) fn brief(json: &str) -> Brief {
    Brief::read(json).unwrap()
}
