//! What a buyer does on the sheet: pulls a handle by mouse, pen or finger, moves it by keys, clicks a figure and types.

use std::rc::Rc;

use leptos::prelude::*;
use scantling_drawing::Pulled;
use scantling_pricing::book::Key;
use scantling_pricing::design::Dimension;
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use web_sys::{Element, Event, KeyboardEvent, PointerEvent, ResizeObserver};

use super::handles::{Handles, Pull, Typing, limit_at};

/// Steps of the Page keys.
const PAGE: i64 = 10;

/// What is listened to.
const EVENTS: [&str; 9] =
    ["pointerdown", "pointermove", "pointerup", "pointercancel", "touchstart", "keydown", "click", "input", "focusout"];

/// Listens to a sheet and to the width it is shown in, until it is dropped.
pub(super) struct Listening {
    place: Element,
    /// Called again while it runs: giving one element the focus takes it from another.
    heard: Closure<dyn Fn(Event)>,
    observer: Option<ResizeObserver>,
    _resized: Closure<dyn FnMut()>,
}

impl Listening {
    pub(super) fn to(sheet: &Rc<Handles>) -> Self {
        let place = sheet.sheet.place.clone();
        let listener = Rc::clone(sheet);
        let heard = Closure::new(move |event: Event| listener.hear(&event).unwrap_or_default());
        for name in EVENTS {
            // A listener that the page refuses leaves the form, which does the same.
            drop(place.add_event_listener_with_callback(name, heard.as_ref().unchecked_ref()));
        }
        let watcher = Rc::clone(sheet);
        // In the next frame: a sheet that is laid out while its size is still being told is reported as an error to the page.
        let resized = Closure::new(move || {
            let watcher = Rc::clone(&watcher);
            request_animation_frame(move || watcher.resize());
        });
        let observer = ResizeObserver::new(resized.as_ref().unchecked_ref()).ok();
        if let Some(observer) = &observer {
            observer.observe(&place);
        }
        Self { place, heard, observer, _resized: resized }
    }
}

impl Drop for Listening {
    fn drop(&mut self) {
        for name in EVENTS {
            drop(self.place.remove_event_listener_with_callback(name, self.heard.as_ref().unchecked_ref()));
        }
        if let Some(observer) = &self.observer {
            observer.disconnect();
        }
    }
}

impl Handles {
    /// Keeps the width it is shown in; a sheet that is hidden keeps the last.
    fn resize(&self) {
        if self.sheet.measure() {
            self.change();
        }
    }

    /// Takes an event. What is not meant for a handle, a figure or the field comes to nothing.
    fn hear(&self, event: &Event) -> Option<()> {
        let target: Element = event.target()?.dyn_into().ok()?;
        if let Some(event) = event.dyn_ref::<PointerEvent>().filter(|event| event.type_().starts_with("pointer")) {
            return self.point(event, &target);
        }
        let in_the_field = target.eq(&self.input);
        match (event.type_().as_str(), in_the_field) {
            // A click on a handle is the end of a pull.
            ("click", false) => self.start_typing(&self.known(&target.closest(".ask").ok()??)?),
            // A finger on a handle pulls it and does not scroll the page; not every browser takes the style sheet's word for it.
            ("touchstart", false) if target.closest(".handle").ok()?.is_some() => event.prevent_default(),
            ("input", true) => {
                let (key, text) = (self.typed()?, self.input.value());
                self.ui.edit(|form| form.type_size(&key, &text));
            }
            ("focusout", true) => self.stop_typing(),
            ("keydown", true) => return self.key_in_the_field(event.dyn_ref()?),
            ("keydown", false) => return self.key_on_a_handle(event.dyn_ref()?, &target),
            _ => {}
        }
        Some(())
    }

    /// The dimension whose figure or handle this is, or is in.
    fn known(&self, target: &Element) -> Option<Dimension> {
        let key = target.closest("[data-size]").ok()??.get_attribute("data-size")?;
        let design = self.ui.form.with_untracked(|form| form.design.clone());
        self.ui.book.design(&design)?.dimension(&key).cloned()
    }

    fn point(&self, event: &PointerEvent, target: &Element) -> Option<()> {
        match event.type_().as_str() {
            "pointerdown" if event.button() == 0 => {
                let handle = target.closest(".handle").ok()??;
                let known = self.known(&handle)?;
                // Held, the handle hears of the pointer wherever it goes. Where it can't be, while it is over the sheet.
                drop(handle.set_pointer_capture(event.pointer_id()));
                let start = self.ui.form.with_untracked(|form| form.size(&known));
                let scale = (self.sheet.laid.borrow().as_ref()?.size().0, self.sheet.wide.get());
                let (pointer, from) = (event.pointer_id(), (event.client_x(), event.client_y()));
                self.pull.replace(Some(Pull { dimension: known.key, pointer, from, start, scale }));
            }
            "pointermove" => self.pull(event)?,
            "pointerup" | "pointercancel" => drop(self.pull.take()),
            _ => {}
        }
        Some(())
    }

    fn pull(&self, event: &PointerEvent) -> Option<()> {
        let held = self.pull.borrow().clone().filter(|held| held.pointer == event.pointer_id())?;
        if event.buttons() == 0 {
            // It was let go where the sheet could not hear of it.
            self.pull.take();
            return None;
        }
        let design = self.ui.form.with_untracked(|form| form.design.clone());
        let known = self.ui.book.design(&design)?.dimension(held.dimension.as_str())?;
        let by = (event.client_x().saturating_sub(held.from.0), event.client_y().saturating_sub(held.from.1));
        // Back where it began, the size is what it was, also one that was typed between two steps.
        let pulled = if by == (0, 0) {
            Pulled { size: held.start, limit: None }
        } else {
            self.sheet.laid.borrow().as_ref()?.grip(known.key.as_str())?.pull(known, held.start, by, held.scale)
        };
        self.set(known, pulled);
        Some(())
    }

    /// Arrows move one step, Page keys ten, Home and End to the limits; Enter types, Escape lets go.
    fn key_on_a_handle(&self, event: &KeyboardEvent, target: &Element) -> Option<()> {
        let known = self.known(target).filter(|_| !(event.ctrl_key() || event.alt_key() || event.meta_key()))?;
        let now = self.ui.form.with_untracked(|form| form.size(&known));
        let stepped = |steps| now + known.step.scaled(steps, 1);
        let size = match event.key().as_str() {
            "ArrowRight" | "ArrowUp" => stepped(1),
            "ArrowLeft" | "ArrowDown" => stepped(-1),
            "PageUp" => stepped(PAGE),
            "PageDown" => stepped(-PAGE),
            "Home" => known.least,
            "End" => known.most,
            "Enter" => {
                event.prevent_default();
                self.start_typing(&known);
                return Some(());
            }
            "Escape" => self.pull.take()?.start,
            _ => return None,
        };
        event.prevent_default();
        let size = size.max(known.least).min(known.most);
        self.set(&known, Pulled { size, limit: limit_at(&known, size) });
        Some(())
    }

    fn start_typing(&self, known: &Dimension) {
        let before = self.ui.form.with_untracked(|form| form.typed(known));
        let text = before.text.clone();
        self.typing.replace(Some(Typing { dimension: known.key.clone(), before }));
        // The field can take the focus only once it is shown; it is written by the same hand as ever after.
        let input = &self.input;
        input.set_hidden(false);
        input.set_value(&text);
        // It stands where the figure was, which is in sight: a page that scrolled would take it away from under the finger.
        let here = web_sys::FocusOptions::new();
        here.set_prevent_scroll(true);
        drop(input.focus_with_options(&here));
        input.select();
        self.change();
    }

    fn stop_typing(&self) {
        if self.typing.take().is_some() {
            self.change();
        }
    }

    /// The dimension that is being typed.
    fn typed(&self) -> Option<Key> {
        self.typing.borrow().as_ref().map(|typing| typing.dimension.clone())
    }

    /// Enter keeps what is typed, Escape brings back what was there, the arrows move by a step.
    fn key_in_the_field(&self, event: &KeyboardEvent) -> Option<()> {
        let key = self.typed()?;
        let steps = match event.key().as_str() {
            "ArrowUp" => 1,
            "ArrowDown" => -1,
            "Enter" => 0,
            "Escape" => {
                let before = self.typing.borrow().as_ref().map(|typing| typing.before.clone())?;
                self.ui.edit(|form| drop(form.sizes.insert(key.clone(), before)));
                0
            }
            _ => return None,
        };
        event.prevent_default();
        if steps != 0 {
            self.ui.edit(|form| form.step_size(&self.ui.book, &key, steps));
            return Some(());
        }
        self.stop_typing();
        // The focus goes on from the handle of the same size.
        let handle = self.sheet.place.query_selector(&format!(".handle[data-size=\"{key}\"]")).ok()??;
        handle.dyn_ref::<web_sys::SvgElement>()?.focus().ok()
    }
}
