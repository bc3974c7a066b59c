//! Words put on the clipboard where the browser lets a page; else selected where they stand, to be copied by hand.

use js_sys::{Function, Promise, Reflect};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;

/// Copies a text that stands in the element with an id, then tells whether it could be. It has to be asked at once on a press: some browsers
/// allow it only then.
pub(super) fn copy(text: &str, id: &'static str, told: impl FnOnce(bool) + 'static) {
    let writing = written(text);
    leptos::task::spawn_local(async move {
        let copied = match writing {
            Some(writing) => JsFuture::from(writing).await.is_ok(),
            None => false,
        };
        if !copied {
            select(id);
        }
        told(copied);
    });
}

/// The clipboard is there only where the browser trusts the page, which not every one does from disk.
fn written(text: &str) -> Option<Promise> {
    let clipboard = get(&get(&js_sys::global(), "navigator")?, "clipboard")?;
    let written = method(&clipboard, "writeText")?.call1(&clipboard, &JsValue::from_str(text)).ok()?;
    Some(Promise::resolve(&written))
}

fn select(id: &str) {
    let element =
        web_sys::window().and_then(|window| window.document()).and_then(|document| document.get_element_by_id(id));
    let selected = || {
        let window = js_sys::global();
        let selection = method(&window, "getSelection")?.call0(&window).ok()?;
        method(&selection, "selectAllChildren")?.call1(&selection, &JsValue::from(element?)).ok()
    };
    // Where not even that is to be had, the lines stand there to be read.
    drop(selected());
}

fn get(of: &JsValue, name: &str) -> Option<JsValue> {
    Reflect::get(of, &JsValue::from_str(name)).ok().filter(|value| !value.is_undefined() && !value.is_null())
}

fn method(of: &JsValue, name: &str) -> Option<Function> {
    get(of, name)?.dyn_into().ok()
}
