//! `<scantling-quote>`: a buyer chooses a piece and reads what it costs, delivered, at every keystroke.
//!
//! The element's script (`element/scantling-quote.js`) defines the tag and calls [`mount`]; what is typed lives in [`form`]
//! as plain data; components only show it. No component does arithmetic on money or knows a rule of the trade.

mod app;
mod bits;
mod compare;
mod country;
mod fields;
pub mod form;
pub mod incoming;
pub mod letter;
pub mod opening;
mod out;
pub mod outbox;
mod panels;
mod passing;
mod platform;
mod rest;
mod result;
pub mod shelf;
pub mod store;
mod summary;
mod ui;
mod wording;
pub mod words;

use std::sync::Arc;

use leptos::mount::{UnmountHandle, mount_to};
use scantling_pricing::book::PriceBook;
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::wasm_bindgen;

use ui::Ui;
use words::Words;

/// A widget on a page. Dropping it (`free` in the script) takes it off the page with everything it holds.
#[wasm_bindgen]
pub struct Mounted {
    ui: Ui,
    _handle: Box<dyn std::any::Any>,
}

impl std::fmt::Debug for Mounted {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Mounted").finish_non_exhaustive()
    }
}

#[wasm_bindgen]
impl Mounted {
    /// Takes an attribute of the element that changed. An unknown name or value changes nothing.
    pub fn set(&self, name: &str, value: &str) {
        self.ui.set_attribute(name, value);
    }

    /// Takes where postal codes lie: the text of `postal-points.csv`, which the widget has asked for.
    pub fn locate(&self, points: String) {
        self.ui.locate(points);
    }
}

/// Shows a widget in an element's shadow root, for a page in `language`, in the words of a table (`element/words`). `ask_the_way` is
/// called once a destination needs to know where postal codes lie.
///
/// # Errors
/// When the book can't be read, the words are no table, or the root belongs to no document.
#[wasm_bindgen]
#[expect(clippy::too_many_arguments, reason = "the element's script hands over all it has fetched at once")]
pub fn mount(
    root: &web_sys::ShadowRoot,
    host: web_sys::HtmlElement,
    book: &str,
    language: String,
    words: &str,
    ask_the_way: js_sys::Function,
) -> Result<Mounted, wasm_bindgen::JsError> {
    let failed = |message: String| wasm_bindgen::JsError::new(&message);
    let book = PriceBook::read_published(book).map_err(|fault| failed(fault.to_string()))?;
    let words = Words::read(words, language).map_err(|fault| failed(fault.to_string()))?;
    let document = root.owner_document().ok_or_else(|| failed("the element is in no document".into()))?;
    let place = document.create_element("div").map_err(|_| failed("the page takes no element".into()))?;
    let place: web_sys::HtmlElement =
        place.dyn_into().map_err(|_| failed("the page gave no element of its own".into()))?;
    place.set_class_name("scantling");
    // The page may be in a language there are no words in.
    place.set_lang(words.language());
    root.append_child(&place).map_err(|_| failed("the shadow root takes no element".into()))?;
    let ui = Ui::new(Arc::new(book), host, words).ok_or_else(|| failed("the book has no design".into()))?;
    let shown = ui.clone();
    let handle: UnmountHandle<_> = mount_to(place.clone(), move || {
        shown.ask_the_way(ask_the_way);
        app::app(shown)
    });
    Ok(Mounted { ui, _handle: Box::new((handle, Removed(place))) })
}

/// Takes the widget's own element out of the root when it is dropped.
struct Removed(web_sys::HtmlElement);

impl Drop for Removed {
    fn drop(&mut self) {
        self.0.remove();
    }
}
