//! What every part of one widget shares once it can be changed: the form, what it reads as, and how it tells the page.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use leptos::prelude::*;
use rust_decimal::Decimal;
use scantling_pricing::alternatives::{Alternative, Change};
use scantling_pricing::design::Design;
use scantling_pricing::money::whole_percent;

use crate::base::Base;
use crate::fields::memo;
use crate::first::Shown;
use crate::form::{Fault, Form, Reading};
use crate::rest::painted;
use crate::result::told;
use crate::undo::Taken;

/// One widget that can be changed.
#[derive(Clone)]
pub(crate) struct Ui {
    base: Base,
    /// What is typed and chosen.
    pub(crate) form: ArcRwSignal<Form>,
    /// What it reads as.
    pub(crate) reading: ArcMemo<Reading>,
    /// The last estimate that could be made.
    pub(crate) shown: ArcMemo<Option<Shown>>,
    /// How often the buyer has changed something: the page hears of those changes only.
    touched: ArcRwSignal<u32>,
    /// Every brief one choice away, priced once typing rests.
    pub(crate) neighbours: ArcRwSignal<Vec<Alternative>>,
    /// What was taken with one press each, for undoing it.
    pub(crate) taken: ArcRwSignal<Vec<Taken>>,
    /// Told once a change of the price has been painted: what stands beside the price follows then, so as not to hold it up.
    pub(crate) beside: ArcTrigger,
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
    /// A widget whose form stands as it does.
    pub(crate) fn new(base: Base, form: Form) -> Self {
        // Counted signals, since the owner that mounting makes is not there yet.
        let form = ArcRwSignal::new(form);
        let reading = {
            let (book, form, words) = (Arc::clone(&base.book), form.clone(), Arc::clone(&base.words));
            ArcMemo::new(move |_| form.with(|form| form.read(&book, &words)))
        };
        let shown = {
            let reading = reading.clone();
            ArcMemo::new(move |before: Option<&Option<Shown>>| {
                reading.with(|reading| Shown::of(reading.clone(), before.cloned().flatten()))
            })
        };
        Self {
            base,
            form,
            reading,
            shown,
            touched: ArcRwSignal::new(0),
            neighbours: ArcRwSignal::new(Vec::new()),
            taken: ArcRwSignal::new(Vec::new()),
            beside: ArcTrigger::new(),
            opened: ArcTrigger::new(),
            printing: ArcTrigger::new(),
            far: ArcRwSignal::new(0),
        }
    }

    /// Changes the form by the buyer's hand.
    pub(crate) fn edit(&self, change: impl FnOnce(&mut Form)) {
        self.form.update(change);
        self.touched.update(|count| *count = count.wrapping_add(1));
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
            if ui.reading.with(Reading::asks_the_way) || ui.far.get() > 0 {
                ui.base.ask_the_way();
            }
        });
    }

    /// Takes an attribute of the element; the page is not told of what it did itself.
    pub(crate) fn set_attribute(&self, name: &str, value: &str) {
        self.form.update(|form| form.take_attribute(&self.base.book, name, value));
    }

    /// Something of the form, told of only when it becomes another: there is much on the screen that one key does not change.
    pub(crate) fn of_form<T: PartialEq + Send + Sync + 'static>(
        &self,
        read: impl Fn(&Form) -> T + Send + Sync + 'static,
    ) -> ArcMemo<T> {
        let form = self.form.clone();
        memo(move || form.with(&read))
    }

    /// What is built from the estimate on display and stands beside its price: anew once a change of that has been painted, and for
    /// nothing else it reads.
    pub(crate) fn beside<V>(&self, build: impl FnOnce(&Shown) -> Option<V>) -> Option<V> {
        self.beside.track();
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
        self.reading.with(|reading| {
            reading.faults.iter().find(|fault: &&Fault| fault.field == field).map(|fault| fault.message.clone())
        })
    }

    /// Tells what stands beside the price of every change, once that has painted the price.
    pub(crate) fn tell_beside(&self) {
        let (form, beside, waiting) = (self.form.clone(), self.beside.clone(), Arc::new(AtomicBool::new(false)));
        Effect::new(move |before: Option<()>| {
            form.track();
            if before.is_some() && !waiting.swap(true, Ordering::Relaxed) {
                let (beside, waiting) = (beside.clone(), Arc::clone(&waiting));
                painted(move || {
                    waiting.store(false, Ordering::Relaxed);
                    beside.notify();
                });
            }
        });
    }

    /// Tells the page of every estimate the buyer's own changes bring: `scantling-estimate`, without the postal code.
    pub(crate) fn tell_the_page(&self) {
        let ui = self.clone();
        Effect::new(move |before: Option<u32>| {
            ui.beside.track();
            let (touched, shown) = (ui.touched.get_untracked(), ui.shown.get_untracked());
            if let Some(shown) = shown.filter(|_| before.is_some_and(|before| before != touched)) {
                ui.dispatch(&shown);
            }
            touched
        });
    }

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
        let sound = self.reading.with_untracked(|reading| reading.faults.is_empty());
        self.shown.get_untracked().filter(|shown| shown.current && sound)
    }
}

/// A part of a whole in whole percents, as a length of a bar.
pub(crate) fn percent(part: Decimal, whole: Decimal) -> String {
    format!("{}%", whole_percent(part, whole))
}
