//! What every part of one widget knows and nothing changes: the book, the words, the element it is in.

use std::cell::Cell;
use std::rc::Rc;
use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};

use scantling_pricing::book::PriceBook;
use scantling_pricing::money::Money;
use send_wrapper::SendWrapper;

use crate::words::{Word, Words};

/// Counts widgets, so that ids of two on one page never clash.
static WIDGETS: AtomicU32 = AtomicU32::new(0);

/// One widget's own.
#[derive(Clone)]
pub(crate) struct Base {
    /// The price book.
    pub(crate) book: Arc<PriceBook>,
    /// The words it speaks in.
    pub(crate) words: Arc<Words>,
    number: u32,
    page: SendWrapper<Rc<Page>>,
}

/// What it has of the page.
struct Page {
    host: web_sys::HtmlElement,
    ask_the_way: js_sys::Function,
    asked: Cell<bool>,
}

impl Base {
    /// A widget in an element. `ask_the_way` is called once a destination needs to know where postal codes lie.
    pub(crate) fn new(
        book: PriceBook,
        words: Words,
        host: web_sys::HtmlElement,
        ask_the_way: js_sys::Function,
    ) -> Self {
        Self {
            book: Arc::new(book),
            words: Arc::new(words),
            number: WIDGETS.fetch_add(1, Ordering::Relaxed),
            page: SendWrapper::new(Rc::new(Page { host, ask_the_way, asked: Cell::new(false) })),
        }
    }

    /// An id no other widget on the page has.
    pub(crate) fn id(&self, name: &str) -> String {
        format!("scantling-{}-{name}", self.number)
    }

    /// A text without holes.
    pub(crate) fn say(&self, word: Word) -> String {
        self.words.say(word)
    }

    /// An amount in the page's language.
    pub(crate) fn money(&self, amount: Money) -> String {
        self.words.money(amount)
    }

    /// The element.
    pub(crate) fn host(&self) -> &web_sys::HtmlElement {
        &self.page.host
    }

    /// Asks for where postal codes lie, once, where the van goes by distance.
    pub(crate) fn ask_the_way(&self) {
        if self.book.van_goes_by_distance() && !self.page.asked.replace(true) {
            // A page without the file has no distances: the van's line says so.
            drop(self.page.ask_the_way.call0(&wasm_bindgen::JsValue::UNDEFINED));
        }
    }
}
