//! The page without a pointer: what takes back and does again, a way past the sections, a way through them, and a way out of a form.

use leptos::ev::{Event, KeyboardEvent};
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlInputElement};

use super::focus::{self, Way};
use crate::desk::Desk;

/// What is told of the keys, beside the sections.
pub(super) const TOLD: &str = "By keys: arrows and first letters go through these sections, Enter opens one. Escape steps out of a form, and in the \
     end comes back here. Control with Z takes an edit back, with Y does it again.";

/// Whether a field is being typed in that has not been left yet: undoing there is the browser's own.
#[derive(Clone, Copy)]
pub(super) struct Typing(StoredValue<bool>);

impl Typing {
    pub(super) fn new() -> Self {
        Self(StoredValue::new(false))
    }

    /// Something was typed. Where each keystroke counts, it is undone with the book.
    pub(super) fn typed(self, event: &Event) {
        let at_once = target(event).is_some_and(|field| field.has_attribute("data-at-once"));
        self.0.set_value(!at_once);
    }

    /// A field was left, or another is gone to.
    pub(super) fn ended(self) {
        self.0.set_value(false);
    }
}

/// What a key does that nothing nearer has used.
pub(super) fn pressed(desk: &Desk, typing: Typing, event: &KeyboardEvent) {
    if event.default_prevented() {
        return;
    }
    if event.key() == "Escape" {
        return step_out(event);
    }
    if (event.ctrl_key() || event.meta_key()) && !event.alt_key() && !typing.0.get_value() {
        undo_or_redo(desk, event);
    }
}

/// Control or command with Z takes back; with Shift or with Y does again. In a field that is being typed in, the browser's own holds.
fn undo_or_redo(desk: &Desk, event: &KeyboardEvent) {
    match (event.key().to_lowercase().as_str(), event.shift_key()) {
        ("z", false) => desk.undo(),
        ("z", true) | ("y", false) => desk.redo(),
        _ => return,
    }
    event.prevent_default();
}

/// Out of a field to the record it is in, out of that to its section, and from there to the list of sections.
fn step_out(event: &KeyboardEvent) {
    let Some(here) = target(event) else { return };
    // What is looked for is emptied first: that is the browser's.
    let busy =
        here.dyn_ref::<HtmlInputElement>().is_some_and(|field| field.type_() == "search" && !field.value().is_empty());
    if !busy && focus::steps_out(&here) {
        event.prevent_default();
    }
}

/// In the list of sections: up, down, first, last, and to the next that starts with a letter.
pub(super) fn through_sections(event: &KeyboardEvent) {
    if event.ctrl_key() || event.meta_key() || event.alt_key() {
        return;
    }
    let key = event.key();
    let mut letters = key.chars();
    let way = match (key.as_str(), letters.next(), letters.next()) {
        ("ArrowDown", ..) => Way::Next,
        ("ArrowUp", ..) => Way::Before,
        ("Home", ..) => Way::First,
        ("End", ..) => Way::Last,
        (_, Some(letter), None) if letter.is_alphanumeric() => Way::Starting(letter),
        _ => return,
    };
    if focus::goes_among(event, way) {
        event.prevent_default();
    }
}

fn target(event: &Event) -> Option<Element> {
    event.target().and_then(|target| target.dyn_into().ok())
}
