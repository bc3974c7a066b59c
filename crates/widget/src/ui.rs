//! What every part of one widget shares once it can be changed: the form, what it reads as, and how it tells the page.

use std::rc::Rc;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use leptos::prelude::*;
use rust_decimal::Decimal;
use scantling_pricing::alternatives::{Alternative, Change};
use scantling_pricing::design::Design;
use scantling_pricing::money::whole_percent;
use send_wrapper::SendWrapper;

use crate::base::Base;
use crate::fields::memo;
use crate::first::{First, Price, Shown};
use crate::form::{Fault, Form, Reading, asks_the_way};
use crate::rest::painted;
use crate::result::told;
use crate::undo::Taken;

/// One widget that can be changed.
#[derive(Clone)]
pub(crate) struct Ui {
    base: Base,
    /// What is typed and chosen. This and what it comes to, below, are written together, by [`Ui::change`] alone.
    pub(crate) form: ArcRwSignal<Form>,
    /// The fields that can't be taken.
    faults: ArcRwSignal<Vec<Fault>>,
    /// The last estimate that could be made.
    pub(crate) shown: ArcRwSignal<Option<Shown>>,
    /// Where the price of it stands.
    price: SendWrapper<Rc<Price>>,
    /// Whether those who follow the form are yet to be told of a change.
    telling: Arc<AtomicBool>,
    /// Whether the buyer has changed something the page has not heard of: it hears of those changes only.
    touched: Arc<AtomicBool>,
    /// Whether the page has heard of an estimate.
    heard: Arc<AtomicBool>,
    /// Every brief one choice away, priced once typing rests.
    pub(crate) neighbours: ArcRwSignal<Vec<Alternative>>,
    /// What was taken with one press each, for undoing it.
    pub(crate) taken: ArcRwSignal<Vec<Taken>>,
    /// Told when a link or a kept estimate has been opened in the form.
    pub(crate) opened: ArcTrigger,
    /// Told when printing starts.
    pub(crate) printing: ArcTrigger,
    /// Whether something besides the form, such as what was kept, needs to know where postal codes lie.
    pub(crate) far: ArcRwSignal<u32>,
}

impl std::ops::Deref for Ui {
    type Target = Base;

    fn deref(&self) -> &Base {
        &self.base
    }
}

impl Ui {
    /// A widget that goes on from what stands there first.
    pub(crate) fn new(first: &First) -> Self {
        // Counted signals, since the owner that mounting makes is not there yet.
        Self {
            base: first.base.clone(),
            form: ArcRwSignal::new(first.form()),
            faults: ArcRwSignal::new(first.faults()),
            shown: ArcRwSignal::new(first.shown()),
            price: SendWrapper::new(Rc::clone(&first.price)),
            telling: Arc::default(),
            touched: Arc::default(),
            heard: Arc::default(),
            neighbours: ArcRwSignal::new(Vec::new()),
            taken: ArcRwSignal::new(Vec::new()),
            opened: ArcTrigger::new(),
            printing: ArcTrigger::new(),
            far: ArcRwSignal::new(0),
        }
    }

    /// Changes the form by the buyer's hand.
    pub(crate) fn edit(&self, change: impl FnOnce(&mut Form)) {
        self.touched.store(true, Ordering::Relaxed);
        self.change(change);
    }

    /// Changes the form and shows its price at once. All who follow them are told once that has been painted, so as not to hold it up.
    pub(crate) fn change(&self, change: impl FnOnce(&mut Form)) {
        self.form.update_untracked(change);
        let Reading { priced, faults } = self.form.with_untracked(|form| form.read(&self.book, &self.words));
        self.faults.update_untracked(|before| *before = faults);
        self.shown.update_untracked(|shown| {
            *shown = Shown::of(priced, shown.take());
            if let Some(shown) = shown {
                self.price.show(shown);
            }
        });
        if !self.telling.swap(true, Ordering::Relaxed) {
            let ui = self.clone();
            painted(move || ui.tell());
        }
    }

    /// Tells all who follow the form of its change, if they have not been told; and the page, if the change is the buyer's own.
    fn tell(&self) {
        if !self.telling.swap(false, Ordering::Relaxed) {
            return;
        }
        self.form.notify();
        self.faults.notify();
        self.shown.notify();
        // While a field can't be taken, what stands there is an estimate from before.
        let brought = self.shown.get_untracked().filter(|shown| shown.current);
        if let Some(shown) = brought.filter(|_| self.touched.swap(false, Ordering::Relaxed)) {
            self.heard.store(true, Ordering::Relaxed);
            self.dispatch(&shown);
        }
    }

    /// Prices anew, since it has become known where postal codes lie: what the page has heard was without the way there.
    pub(crate) fn located(&self) {
        self.touched.fetch_or(self.heard.load(Ordering::Relaxed), Ordering::Relaxed);
        self.change(|_| {});
    }

    /// Whether a change has been made that those who follow the form are yet to be told of.
    pub(crate) fn is_telling(&self) -> bool {
        self.telling.load(Ordering::Relaxed)
    }

    /// Takes changes that were proposed, all with one press.
    pub(crate) fn take(&self, changes: &[Change]) {
        let taken = self.form.with_untracked(|form| Taken::new(changes, form));
        self.taken.update(|all| all.push(taken));
        self.edit(|form| changes.iter().for_each(|change| form.take(change)));
    }

    /// Undoes the last press that still stands; those after it were overtaken by what was chosen by hand. What was typed and chosen
    /// since stays.
    pub(crate) fn undo(&self) {
        while let Some(taken) = self.taken.try_update(Vec::pop).flatten() {
            if self.form.with_untracked(|form| taken.standing(form).next().is_some()) {
                return self.edit(|form| taken.undo(form));
            }
        }
    }

    /// What undoing would undo, in words.
    pub(crate) fn undoable(&self) -> Option<String> {
        self.taken.with(|taken| {
            // Before anything was taken, no key asks for more.
            if taken.is_empty() {
                return None;
            }
            self.form.with(|form| {
                let words = |taken: &Taken| taken.standing(form).map(|change| told(self, change)).collect::<Vec<_>>();
                taken.iter().rev().map(words).find(|words| !words.is_empty()).map(|words| words.join(" · "))
            })
        })
    }

    /// Asks for where postal codes lie, once a postal code is given or something that was kept has one.
    pub(crate) fn ask_the_way(&self) {
        let ui = self.clone();
        Effect::new(move |_| {
            if ui.shown.with(|shown| shown.as_ref().is_some_and(|shown| asks_the_way(&shown.brief))) || ui.far.get() > 0
            {
                ui.base.ask_the_way();
            }
        });
    }

    /// Takes an attribute of the element; the page is not told of what it did itself, but first of what the buyer did before.
    pub(crate) fn set_attribute(&self, name: &str, value: &str) {
        self.tell();
        self.change(|form| form.take_attribute(&self.base.book, name, value));
    }

    /// Something of the form, told of only when it becomes another: there is much on the screen that one key does not change.
    pub(crate) fn of_form<T: PartialEq + Send + Sync + 'static>(
        &self,
        read: impl Fn(&Form) -> T + Send + Sync + 'static,
    ) -> ArcMemo<T> {
        let form = self.form.clone();
        memo(move || form.with(&read))
    }

    /// What is built from the estimate on display: anew with that, and for nothing else it reads.
    pub(crate) fn beside<V>(&self, build: impl FnOnce(&Shown) -> Option<V>) -> Option<V> {
        self.shown.track();
        untrack(|| self.shown.with_untracked(|shown| shown.as_ref().and_then(build)))
    }

    /// What is built from the design, anew only when another is chosen: typing must not take its fields away.
    pub(crate) fn for_design<V, F: Fn(&Self, &Design) -> V>(&self, build: F) -> impl Fn() -> Option<V> + use<V, F> {
        let ui = self.clone();
        let chosen = self.of_form(|form| form.design.clone());
        move || chosen.with(|design| ui.book.design(design).map(|design| build(&ui, design)))
    }

    /// What is wrong with a field, if anything.
    pub(crate) fn fault(&self, field: &str) -> Option<String> {
        self.faults.with(|faults| faults.iter().find(|fault| fault.field == field).map(|fault| fault.message.clone()))
    }

    /// Tells the page of an estimate the buyer's own change brought: `scantling-estimate`, without the postal code.
    fn dispatch(&self, shown: &Shown) {
        let estimate = &shown.estimate;
        let price = estimate.price();
        self.emit(
            "scantling-estimate",
            &[
                ("design", estimate.design.as_str()),
                ("currency", estimate.currency.code()),
                ("low", &price.low.amount().to_string()),
                ("likely", &price.likely.amount().to_string()),
                ("high", &price.high.amount().to_string()),
                ("delivery", estimate.chosen.map_or("", scantling_pricing::delivery::Mode::word)),
            ],
        );
    }

    /// Tells the page of something; nothing personal may be in it.
    pub(crate) fn emit(&self, name: &str, about: &[(&str, &str)]) {
        use wasm_bindgen::JsValue;
        let detail = js_sys::Object::new();
        for (name, value) in about {
            // Setting a property of a fresh object can't fail.
            drop(js_sys::Reflect::set(&detail, &JsValue::from_str(name), &JsValue::from_str(value)));
        }
        let options = web_sys::CustomEventInit::new();
        options.set_bubbles(true);
        options.set_composed(true);
        options.set_detail(&detail);
        if let Ok(event) = web_sys::CustomEvent::new_with_event_init_dict(name, &options) {
            // A page that stops the event is free to.
            drop(self.host().dispatch_event(&event));
        }
    }

    /// The estimate as the form stands; nothing while a field can't be taken, as what is kept or sent must be what is on the screen.
    pub(crate) fn settled(&self) -> Option<Shown> {
        let sound = self.faults.with_untracked(Vec::is_empty);
        self.shown.get_untracked().filter(|shown| shown.current && sound)
    }
}

/// A part of a whole in whole percents, as a length of a bar.
pub(crate) fn percent(part: Decimal, whole: Decimal) -> String {
    format!("{}%", whole_percent(part, whole))
}
