//! Names of countries as the reader's own platform writes them.

use scantling_pricing::delivery::countries;

/// Every country whose postal codes are known, with its name in the page's language, in the order of the names.
#[must_use]
pub(crate) fn named(language: &str) -> Vec<(&'static str, String)> {
    let mut all: Vec<(&str, String)> = Vec::new();
    // One by one into its place: a few dozen of them, and the library's sort weighs a kilobyte for each kind of thing sorted.
    for code in countries() {
        let name = platform(code, language).unwrap_or_else(|| code.to_owned());
        let place = all.iter().take_while(|(_, other)| *other < name).count();
        all.insert(place, (code, name));
    }
    all
}

#[cfg(target_arch = "wasm32")]
fn platform(code: &str, language: &str) -> Option<String> {
    use js_sys::{Array, Function, Object, Reflect};
    use wasm_bindgen::{JsCast, JsValue};

    let intl = Reflect::get(&js_sys::global(), &JsValue::from_str("Intl")).ok()?;
    let display: Function = Reflect::get(&intl, &JsValue::from_str("DisplayNames")).ok()?.dyn_into().ok()?;
    let options = Object::new();
    Reflect::set(&options, &JsValue::from_str("type"), &JsValue::from_str("region")).ok()?;
    let names = Reflect::construct(&display, &Array::of2(&JsValue::from_str(language), &options)).ok()?;
    let of: Function = Reflect::get(&names, &JsValue::from_str("of")).ok()?.dyn_into().ok()?;
    of.call1(&names, &JsValue::from_str(code)).ok()?.as_string()
}

#[cfg(not(target_arch = "wasm32"))]
fn platform(_: &str, _: &str) -> Option<String> {
    None
}
