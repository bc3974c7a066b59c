//! Ways out of the page: the clipboard, the system's own sharing, a file, an address that takes requests.

use js_sys::{Array, Function, Object, Promise, Reflect};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;

/// How long an address may take to answer, in milliseconds.
const PATIENCE: u32 = 20_000;

fn get(of: &JsValue, name: &str) -> Option<JsValue> {
    Reflect::get(of, &JsValue::from_str(name)).ok().filter(|value| !value.is_undefined() && !value.is_null())
}

/// Calls a method that may not be there, for its promise.
fn promised(of: &JsValue, method: &str, argument: &JsValue) -> Option<Promise> {
    let method: Function = get(of, method)?.dyn_into().ok()?;
    // What a page has put in its place may promise in a way of its own.
    Some(Promise::resolve(&method.call1(of, argument).ok()?))
}

fn navigator() -> Option<JsValue> {
    get(&js_sys::global(), "navigator")
}

/// Puts text on the clipboard. Called at once on the buyer's click: some browsers allow it only then. When it comes to false, the text
/// has to be selected for copying by hand.
pub(crate) fn copy(text: &str) -> impl Future<Output = bool> + use<> {
    let clipboard = navigator().and_then(|navigator| get(&navigator, "clipboard"));
    let writing = clipboard.and_then(|clipboard| promised(&clipboard, "writeText", &JsValue::from_str(text)));
    async move {
        match writing {
            Some(writing) => JsFuture::from(writing).await.is_ok(),
            None => false,
        }
    }
}

/// Selects the text of a field, and copies it the old way where that still works.
pub(crate) fn select(field: &web_sys::HtmlElement) -> bool {
    let call = |of: &JsValue, name: &str, argument: &JsValue| {
        get(of, name)?.dyn_into::<Function>().ok()?.call1(of, argument).ok()
    };
    drop(field.focus());
    call(field, "select", &JsValue::UNDEFINED);
    let document = get(&js_sys::global(), "document");
    document.and_then(|document| call(&document, "execCommand", &"copy".into())?.as_bool()).unwrap_or(false)
}

/// Whether the system has a sheet for sharing.
pub(crate) fn can_share() -> bool {
    navigator().and_then(|navigator| get(&navigator, "share")).is_some()
}

/// What came of sharing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Shared {
    /// Passed on.
    Done,
    /// Closed by the buyer.
    Left,
    /// The system would not.
    Failed,
}

/// Shows the system's sheet for sharing, at once on the buyer's click.
pub(crate) fn share(title: &str, text: Option<&str>, address: Option<&str>) -> impl Future<Output = Shared> + use<> {
    let what = Object::new();
    for (name, value) in [("title", Some(title)), ("text", text), ("url", address)] {
        if let Some(value) = value {
            // Setting a property of a fresh object can't fail.
            drop(Reflect::set(&what, &JsValue::from_str(name), &JsValue::from_str(value)));
        }
    }
    let sharing = navigator().and_then(|navigator| promised(&navigator, "share", &what));
    async move {
        let Some(sharing) = sharing else { return Shared::Failed };
        match JsFuture::from(sharing).await {
            Ok(_) => Shared::Done,
            Err(error) if get(&error, "name").is_some_and(|name| name == "AbortError") => Shared::Left,
            Err(_) => Shared::Failed,
        }
    }
}

/// A link that stands nowhere: to be clicked.
fn anchor(address: &str) -> Result<web_sys::HtmlElement, JsValue> {
    let document = web_sys::window().and_then(|window| window.document()).ok_or(JsValue::NULL)?;
    let anchor: web_sys::HtmlElement = document.create_element("a")?.unchecked_into();
    anchor.set_attribute("href", address)?;
    Ok(anchor)
}

/// Saves text as a file.
pub(crate) fn save(name: &str, text: &str) -> bool {
    let saved = || -> Result<(), JsValue> {
        let options = web_sys::BlobPropertyBag::new();
        options.set_type("application/json");
        let parts = Array::of1(&JsValue::from_str(text));
        let blob = web_sys::Blob::new_with_str_sequence_and_options(&parts, &options)?;
        let address = web_sys::Url::create_object_url_with_blob(&blob)?;
        let anchor = anchor(&address)?;
        anchor.set_attribute("download", name)?;
        anchor.click();
        super::later(async move {
            // The browser reads the file after the click; some take their time.
            super::after(10_000).await;
            drop(web_sys::Url::revoke_object_url(&address));
        });
        Ok(())
    };
    saved().is_ok()
}

/// Whether the browser knows of a connection; where it does not say, there may be one.
pub(crate) fn online() -> bool {
    navigator().and_then(|navigator| get(&navigator, "onLine")).and_then(|online| online.as_bool()).unwrap_or(true)
}

/// Sends a request to an address; its status, or nothing when there was no answer.
pub(crate) async fn post(address: &str, body: &str) -> Option<u16> {
    let window = web_sys::window()?;
    let abort = web_sys::AbortController::new().ok()?;
    let options = web_sys::RequestInit::new();
    options.set_method("POST");
    options.set_body(&JsValue::from_str(body));
    options.set_credentials(web_sys::RequestCredentials::Omit);
    options.set_signal(Some(&abort.signal()));
    let headers = Array::of1(&Array::of2(&"content-type".into(), &"application/json".into()));
    options.set_headers(&headers);
    let answer = window.fetch_with_str_and_init(address, &options);
    super::later(async move {
        super::after(PATIENCE).await;
        abort.abort();
    });
    let answer: web_sys::Response = JsFuture::from(answer).await.ok()?.dyn_into().ok()?;
    Some(answer.status())
}

/// Opens an address that another program takes, such as a mail link.
pub(crate) fn go(address: &str) {
    // A browser without such a program does nothing, and says nothing either.
    if let Ok(anchor) = anchor(address) {
        anchor.click();
    }
}
