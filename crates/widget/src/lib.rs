//! `<scantling-quote>`: a buyer chooses a piece and reads what it costs, delivered, at every keystroke.
//!
//! The element's script (`element/scantling-quote.js`) defines the tag and calls [`mount`]; what is typed lives in [`form`]
//! as plain data; components only show it. No component does arithmetic on money or knows a rule of the trade.

mod base;
mod bits;
mod compare;
mod country;
mod fields;
mod first;
pub mod form;
pub mod incoming;
mod later;
pub mod letter;
mod nodes;
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
pub mod undo;
mod wording;
pub mod words;

use std::cell::{Cell, RefCell};
use std::rc::{Rc, Weak};

use scantling_pricing::book::PriceBook;
use wasm_bindgen::prelude::wasm_bindgen;

use base::Base;
use first::{DETAIL, First, PRICE_ALONE};
use later::Living;
use words::Words;

/// A widget on a page. Dropping it (`free` in the script) takes it off the page with everything it holds.
#[wasm_bindgen]
pub struct Mounted(Rc<Widget>);

/// What comes later goes before what stood there first.
struct Widget {
    living: RefCell<Option<Box<dyn Living>>>,
    /// Whether that is on its way, or there.
    coming: Cell<bool>,
    first: Rc<First>,
}

impl std::fmt::Debug for Mounted {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Mounted").finish_non_exhaustive()
    }
}

#[wasm_bindgen]
impl Mounted {
    /// Fetches what the first price does not need, once that has been painted, and puts it on the page; where the page asks for the
    /// price alone, once the buyer asks for more.
    pub fn come_alive(&self) {
        if self.0.first.is_price_alone() {
            let widget = Rc::downgrade(&self.0);
            self.0.first.offer_form(move || asked_for(&widget));
        } else {
            come_alive(&self.0);
        }
    }

    /// Takes an attribute of the element that changed. An unknown name or value changes nothing.
    pub fn set(&self, name: &str, value: &str) {
        if name == DETAIL && value != PRICE_ALONE {
            come_alive(&self.0);
        }
        match &*self.0.living.borrow() {
            Some(living) => living.set(name, value),
            None => self.0.first.set(name, value),
        }
    }

    /// Fits the drawing to another width. Once it is under the buyer's hands it looks after that itself, and no more widths need be told.
    #[must_use]
    pub fn fit(&self) -> bool {
        let waits = self.0.living.borrow().is_none();
        if waits && self.0.first.sheet.measure() {
            self.0.first.show();
        }
        waits
    }

    /// Takes where postal codes lie: the text of `postal-points.csv`, which the widget has asked for.
    pub fn locate(&self, points: String) {
        self.0.first.base.book.atlas.fill(points);
        match &*self.0.living.borrow() {
            Some(living) => living.located(),
            None => self.0.first.show(),
        }
    }
}

/// Shows the price and the drawing in an element's shadow root, for a page in `language`, in the words of a table (`element/words`).
/// `ask_the_way` is called once a destination needs to know where postal codes lie.
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
    let first = First::new(Base::new(book, words, host, ask_the_way), root)
        .ok_or_else(|| failed("the book has no design, or the page takes no element".into()))?;
    Ok(Mounted(Rc::new(Widget { living: RefCell::default(), coming: Cell::default(), first: Rc::new(first) })))
}

fn come_alive(widget: &Rc<Widget>) {
    if widget.coming.replace(true) {
        return;
    }
    widget.first.wait();
    let widget = Rc::downgrade(widget);
    out::later(async move {
        let fetched = later::fetch().await;
        // It may have been taken off the page meanwhile.
        let Some(there) = widget.upgrade() else { return };
        let living = match fetched {
            Ok(()) => later::living(Rc::clone(&there.first)).await,
            Err(fault) => Err(fault),
        };
        match living {
            Ok(living) => drop(there.living.replace(Some(living))),
            Err(_) => {
                there.coming.set(false);
                there.first.offer_again(move || asked_for(&widget));
            }
        }
    });
}

/// The buyer has pressed the button that brings the rest.
fn asked_for(widget: &Weak<Widget>) {
    if let Some(widget) = widget.upgrade() {
        // The button that was pressed goes away.
        out::focus(widget.first.base.host(), &widget.first.base.id("price"));
        come_alive(&widget);
    }
}
