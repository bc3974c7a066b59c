//! What comes second in a form: folded away behind a line that says what is chosen there, until it is asked for.

use leptos::prelude::*;

use super::memo;
use crate::form::Form;
use crate::out;
use crate::ui::Ui;

/// A part of the form that is folded away.
pub(crate) struct Folded {
    /// Its name among the ids of this widget.
    pub(crate) name: &'static str,
    /// What is chosen there, in words; with none, there is nothing to choose, and the line is not shown either.
    pub(crate) said: Box<dyn Fn(&Form) -> String + Send + Sync>,
    /// Whether something else is chosen there than what it starts with.
    pub(crate) is_other: fn(&Ui, &Form) -> bool,
    /// The field in it that may be one that can't be taken, as a path into the brief.
    pub(crate) field: Option<&'static str>,
}

/// The line, and what it hides.
///
/// It unfolds by itself where a link or a kept estimate has chosen something else there, and for a field that can't be taken, which it
/// never hides. What one press on a proposal has chosen stands in the line: unfolding would push the button away from under the finger.
pub(crate) fn fold(ui: &Ui, folded: Folded, inside: AnyView) -> AnyView {
    let Folded { name, said, is_other, field } = folded;
    let (id, said) = (ui.id(name), ui.of_form(said));
    let open = ui.form.with_untracked(|form| is_other(ui, form));
    let unfold = {
        let (ui, id) = (ui.clone(), id.clone());
        move || {
            if let Some(details) = out::element(ui.host(), &id) {
                // Setting an attribute by this name can't fail.
                drop(details.set_attribute("open", ""));
            }
        }
    };
    {
        let (ui, unfold) = (ui.clone(), unfold.clone());
        Effect::new(move |before: Option<()>| {
            ui.opened.track();
            if before.is_some() && ui.form.with_untracked(|form| is_other(&ui, form)) {
                unfold();
            }
        });
    }
    let at_fault = {
        let ui = ui.clone();
        move || field.is_some_and(|field| ui.fault(field).is_some())
    };
    {
        let (at_fault, unfold) = (memo(at_fault.clone()), unfold.clone());
        Effect::new(move |_| {
            if at_fault.get() {
                unfold();
            }
        });
    }
    // Asked anew, since whoever mends a field may fold it away before that is told.
    let folding = move |_| {
        if untrack(&at_fault) {
            unfold();
        }
    };
    let nothing = said.clone();
    view! {
        <details class="folded" id=id open=open hidden=move || nothing.with(String::is_empty) on:toggle=folding>
            <summary>{move || said.get()}</summary>
            {inside}
        </details>
    }
    .into_any()
}
