//! A line of text with its label, its hint and, when it can't be taken, what is wrong with it.

use leptos::ev::{Event, KeyboardEvent};
use leptos::prelude::*;

use super::memo;
use crate::form::Form;
use crate::ui::Ui;

/// Takes what is typed.
type Typed = Box<dyn Fn(&mut Form, &str) + Send + Sync>;
/// Takes so many steps.
type Stepped = Box<dyn Fn(&mut Form, i64) + Send + Sync>;

/// A field to type in.
pub(crate) struct TextField {
    /// The path of what it holds in a brief: errors find the field by it.
    pub(crate) field: String,
    /// What it is called.
    pub(crate) label: String,
    /// What may be typed; changes with the unit.
    pub(crate) hint: Box<dyn Fn() -> String + Send + Sync>,
    /// The text the form holds.
    pub(crate) text: Box<dyn Fn(&Form) -> String + Send + Sync>,
    /// Takes what is typed.
    pub(crate) typed: Typed,
    /// Takes an arrow key: one step up or down.
    pub(crate) stepped: Option<Stepped>,
    /// What the browser may fill in by itself.
    pub(crate) autocomplete: &'static str,
}

/// The field.
pub(crate) fn text_field(ui: &Ui, text_field: TextField) -> AnyView {
    let TextField { field, label, hint, text, typed, stepped, autocomplete } = text_field;
    let id = ui.id(&field.replace('.', "-"));
    let (hint_id, fault_id) = (format!("{id}-hint"), format!("{id}-fault"));
    let value = ui.of_form(text);
    let fault = {
        let (ui, field) = (ui.clone(), field);
        memo(move || ui.fault(&field))
    };
    let hint = memo(hint);
    let invalid = {
        let fault = fault.clone();
        move || if fault.with(Option::is_some) { "true" } else { "false" }
    };
    let described = format!("{fault_id} {hint_id}");
    let input = {
        let ui = ui.clone();
        move |event: Event| ui.edit(|form| typed(form, &event_target_value(&event)))
    };
    let keys = {
        let ui = ui.clone();
        move |event: KeyboardEvent| {
            let steps = match event.key().as_str() {
                "ArrowUp" => 1,
                "ArrowDown" => -1,
                _ => return,
            };
            if let Some(stepped) = &stepped {
                event.prevent_default();
                ui.edit(|form| stepped(form, steps));
            }
        }
    };
    view! {
        <div class="field">
            <label for=id.clone()>{label}</label>
            <input
                type="text"
                id=id
                autocomplete=autocomplete
                spellcheck="false"
                aria-describedby=described
                aria-invalid=invalid
                prop:value=move || value.get()
                on:input=input
                on:keydown=keys
            />
            <p class="fault" id=fault_id>{move || fault.get()}</p>
            <p class="note" id=hint_id>{move || hint.get()}</p>
        </div>
    }
    .into_any()
}
