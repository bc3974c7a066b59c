//! What stands there first: the price and the drawing of the piece that the page or a link asks for, and room for the rest.
//!
//! What is called from here, a buyer's browser fetches before the first price; everything else comes after it (`later.rs`). So it is
//! painted by hand, without the code of views and signals.

mod laid;
mod price;
mod sheet;

pub(crate) use laid::Laid;
pub(crate) use price::Price;
pub(crate) use sheet::Sheet;

use std::cell::RefCell;
use std::rc::Rc;

use scantling_pricing::brief::Brief;
use scantling_pricing::estimate::Estimate;
use scantling_pricing::link::Link;
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use web_sys::{Element, HtmlElement, ShadowRoot};

use crate::base::Base;
use crate::form::{Fault, Form, Reading, asks_the_way};
use crate::nodes::{Maker, say, set};
use crate::out;
use crate::wording::{self, passing_on};
use crate::words::Word;

/// The attribute by which a page says how much of the widget it wants.
pub(crate) const DETAIL: &str = "detail";

/// Its value for the price and the drawing alone, until the buyer asks for the form.
pub(crate) const PRICE_ALONE: &str = "price";

/// An estimate on display.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Shown {
    /// What was asked.
    pub(crate) brief: Brief,
    /// What it comes to.
    pub(crate) estimate: Estimate,
    /// Whether it is of the form as it stands, or of an earlier one since a field can't be taken.
    pub(crate) current: bool,
}

impl Shown {
    /// What was priced; where nothing could be, what stood there before.
    pub(crate) fn of(priced: Option<(Brief, Estimate)>, before: Option<Self>) -> Option<Self> {
        match priced {
            Some((brief, estimate)) => Some(Self { brief, estimate, current: true }),
            None => before.map(|before| Self { current: false, ..before }),
        }
    }
}

/// A widget before it can be changed.
pub(crate) struct First {
    pub(crate) base: Base,
    form: RefCell<Form>,
    /// The fields that can't be taken.
    faults: RefCell<Vec<Fault>>,
    shown: RefCell<Option<Shown>>,
    /// Everything the widget shows.
    pub(crate) widget: HtmlElement,
    pub(crate) price: Rc<Price>,
    pub(crate) sheet: Rc<Sheet>,
    waiting: Waiting,
    _place: Removed,
}

/// What stands where the rest will be.
struct Waiting {
    /// The row of buttons, which can't be pressed yet: what follows it must not move when they can.
    actions: Element,
    form: Element,
    /// Says what is waited for, or that it can't be had.
    told: Element,
    again: HtmlElement,
    /// What a press of that button does.
    pressed: RefCell<Option<Closure<dyn FnMut()>>>,
}

/// Takes the widget's own element out of the root when it is dropped.
struct Removed(HtmlElement);

impl Drop for Removed {
    fn drop(&mut self) {
        self.0.remove();
    }
}

impl First {
    /// Puts it into a shadow root. Nothing when the book has no design, or where the page takes no element.
    pub(crate) fn new(base: Base, root: &ShadowRoot) -> Option<Self> {
        let form = form_asked_for(&base)?;
        let maker = Maker(root.owner_document()?);
        let place: HtmlElement = maker.0.create_element("div").ok()?.dyn_into().ok()?;
        place.set_class_name("scantling");
        // The page may be in a language there are no words in.
        place.set_lang(base.words.language());
        root.append_child(&place).ok()?;
        let place = Removed(place);
        let widget: HtmlElement = maker.html(&place.0, "div", "widget")?.dyn_into().ok()?;
        for (name, value) in [("part", "widget"), ("role", "group"), ("aria-label", &base.say(wording::WIDGET))] {
            set(&widget, name, value);
        }
        let price = Rc::new(Price::new(&base, &maker, &widget)?);
        let actions = actions(&base, &maker, &widget)?;
        let sheet = Rc::new(Sheet::new(&base, &maker, &widget)?);
        sheet.measure();
        let waiting = Waiting::new(&maker, &widget, actions)?;
        let (form, faults, shown) = (RefCell::new(form), RefCell::default(), RefCell::default());
        let first = Self { base, form, faults, shown, widget, price, sheet, waiting, _place: place };
        first.show();
        Some(first)
    }

    /// The form as it stands.
    pub(crate) fn form(&self) -> Form {
        self.form.borrow().clone()
    }

    /// The fields that can't be taken.
    pub(crate) fn faults(&self) -> Vec<Fault> {
        self.faults.borrow().clone()
    }

    /// The estimate on display.
    pub(crate) fn shown(&self) -> Option<Shown> {
        self.shown.borrow().clone()
    }

    /// Takes an attribute of the element that changed.
    pub(crate) fn set(&self, name: &str, value: &str) {
        self.form.borrow_mut().take_attribute(&self.base.book, name, value);
        self.show();
    }

    /// Prices the form, and shows what it comes to.
    pub(crate) fn show(&self) {
        let form = self.form.borrow();
        let Reading { priced, faults } = form.read(&self.base.book, &self.base.words);
        self.faults.replace(faults);
        let mut shown = self.shown.borrow_mut();
        *shown = Shown::of(priced, shown.take());
        if let Some(shown) = &*shown {
            if asks_the_way(&shown.brief) {
                self.base.ask_the_way();
            }
            self.price.show(shown);
            self.sheet.lay(&shown.brief, form.unit);
        }
    }

    /// Says that the rest is on its way.
    pub(crate) fn wait(&self) {
        let Waiting { told, again, .. } = &self.waiting;
        say(told, &self.base.say(wording::REST_COMING));
        again.set_hidden(true);
    }

    /// Says that the rest can't be had, and offers to try again.
    pub(crate) fn offer_again(&self, press: impl FnMut() + 'static) {
        self.offer(wording::REST_MISSING, wording::REST_AGAIN, Closure::new(press));
    }

    /// Whether the page wants the price alone. A link to this widget is a buyer's, who wants what it opens and what is said of it.
    pub(crate) fn is_price_alone(&self) -> bool {
        let host = self.base.host();
        let linked = || out::address(host).letters(&out::fragment()).is_some();
        host.get_attribute(DETAIL).as_deref() == Some(PRICE_ALONE) && !linked()
    }

    /// Offers the form to those who ask for it. Until then nothing stands there that can't be pressed.
    pub(crate) fn offer_form(&self, press: impl FnMut() + 'static) {
        set(&self.waiting.actions, "hidden", "");
        self.offer(wording::REST_ASKED, wording::REST_ASK, Closure::new(press));
    }

    fn offer(&self, words: Word, on_button: Word, press: Closure<dyn FnMut()>) {
        let Waiting { told, again, pressed, .. } = &self.waiting;
        say(told, &self.base.say(words));
        say(again, &self.base.say(on_button));
        again.set_hidden(false);
        again.set_onclick(Some(press.as_ref().unchecked_ref()));
        pressed.replace(Some(press));
    }

    /// Makes room for the rest, which is there.
    pub(crate) fn make_way(&self) {
        self.waiting.actions.remove();
        self.waiting.form.remove();
    }
}

impl Waiting {
    fn new(maker: &Maker, widget: &Element, actions: Element) -> Option<Self> {
        let form = maker.html(widget, "div", "form waits")?;
        set(&form, "part", "form");
        let told = maker.html(&form, "p", "note")?;
        set(&told, "role", "status");
        let again: HtmlElement = maker.html(&form, "button", "")?.dyn_into().ok()?;
        set(&again, "type", "button");
        again.set_hidden(true);
        Some(Self { actions, form, told, again, pressed: RefCell::default() })
    }
}

/// The buttons under the price, before they can be pressed.
fn actions(base: &Base, maker: &Maker, widget: &Element) -> Option<Element> {
    let section = maker.html(widget, "section", "actions")?;
    set(&section, "part", "actions");
    let buttons = maker.html(&section, "div", "buttons")?;
    for word in [passing_on::KEEP, passing_on::LINK, passing_on::PRINT, passing_on::ASK] {
        let button = maker.html(&buttons, "button", "")?;
        set(&button, "type", "button");
        set(&button, "disabled", "");
        say(&button, &base.say(word));
    }
    maker.html(&section, "p", "said")?;
    Some(section)
}

/// The form by the element's attributes or, where the page was opened by a link to this widget, by that.
fn form_asked_for(base: &Base) -> Option<Form> {
    let host = base.host();
    let attribute = |name: &str| host.get_attribute(name).unwrap_or_default();
    let mut form = Form::new(&base.book, &attribute("design"), base.words.mark())?;
    for name in ["country", "postal-code", "units"] {
        form.take_attribute(&base.book, name, &attribute(name));
    }
    if let Some(Ok(link)) = out::address(host).letters(&out::fragment()).map(Link::read) {
        // What is no longer offered is told once the rest is there.
        drop(form.open(&base.book, &link.brief));
    }
    Some(form)
}
