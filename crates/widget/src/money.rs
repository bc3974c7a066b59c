//! Amounts as the reader's own platform writes them. The number goes over as text, so that no cent passes through a float.

use scantling_pricing::money::Money;

/// An amount in the page's language: whole where it has no cents, else to the minor unit.
#[must_use]
pub(crate) fn show(amount: Money, language: &str) -> String {
    platform(amount, language).unwrap_or_else(|| amount.to_string())
}

#[cfg(target_arch = "wasm32")]
fn platform(amount: Money, language: &str) -> Option<String> {
    use js_sys::{Array, Intl::NumberFormat, Object, Reflect};
    use wasm_bindgen::JsValue;

    let options = Object::new();
    let digits = if amount.amount().fract().is_zero() { 0 } else { amount.currency().minor_digits() };
    for (name, value) in [
        ("style", JsValue::from_str("currency")),
        ("currency", JsValue::from_str(amount.currency().code())),
        ("minimumFractionDigits", JsValue::from(digits)),
        ("maximumFractionDigits", JsValue::from(digits)),
    ] {
        Reflect::set(&options, &JsValue::from_str(name), &value).ok()?;
    }
    let format = NumberFormat::new(&Array::of1(&JsValue::from_str(language)), &options).format();
    let text = JsValue::from_str(&amount.amount().normalize().to_string());
    format.call1(&JsValue::UNDEFINED, &text).ok()?.as_string()
}

#[cfg(not(target_arch = "wasm32"))]
fn platform(_: Money, _: &str) -> Option<String> {
    None
}
