//! What is asked of the browser for passing an estimate on: the day, the clipboard, sharing, files, sending.

mod page;
mod print;
mod send;

pub(crate) use page::{address, fragment, here, today};
pub(crate) use print::print;
pub(crate) use send::{Shared, can_share, copy, go, online, post, save, select, share};

use std::pin::Pin;

use wasm_bindgen::JsCast;
use wasm_bindgen_futures::JsFuture;

/// Waits so many milliseconds.
pub(crate) async fn after(milliseconds: u32) {
    let wait = js_sys::Promise::new(&mut |done, _| {
        let milliseconds = i32::try_from(milliseconds).unwrap_or(i32::MAX);
        let set = web_sys::window()
            .map(|window| window.set_timeout_with_callback_and_timeout_and_arguments_0(&done, milliseconds));
        if !matches!(set, Some(Ok(_))) {
            // Without a clock there is nothing to wait for.
            drop(done.call0(&wasm_bindgen::JsValue::UNDEFINED));
        }
    });
    drop(JsFuture::from(wait).await);
}

/// The element with this id in a widget's shadow root.
pub(crate) fn element(host: &web_sys::HtmlElement, id: &str) -> Option<web_sys::HtmlElement> {
    host.shadow_root()?.get_element_by_id(id)?.dyn_into().ok()
}

/// Runs what has to wait for something.
pub(crate) fn later(work: impl Future<Output = ()> + 'static) {
    // In a box, each work is of one kind to the library, whose code a buyer fetches once for each.
    let work: Pin<Box<dyn Future<Output = ()>>> = Box::pin(work);
    wasm_bindgen_futures::spawn_local(work);
}

/// The text in a field.
pub(crate) fn typed(field: &web_sys::HtmlElement) -> String {
    let value = js_sys::Reflect::get(field, &wasm_bindgen::JsValue::from_str("value"));
    value.ok().and_then(|value| value.as_string()).unwrap_or_default()
}

/// Whether a box is ticked.
pub(crate) fn ticked(field: &web_sys::HtmlElement) -> bool {
    js_sys::Reflect::get(field, &wasm_bindgen::JsValue::from_str("checked")).is_ok_and(|value| value.is_truthy())
}

/// Brings the keyboard to an element, once what was changed is on the page.
pub(crate) fn focus(host: &web_sys::HtmlElement, id: &str) {
    let (host, id) = (host.clone(), id.to_owned());
    later(async move {
        after(0).await;
        if let Some(element) = element(&host, &id) {
            drop(element.focus());
        }
    });
}
