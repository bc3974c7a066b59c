//! One of several, as radio buttons with what a buyer should know about each.

use leptos::prelude::*;
use scantling_pricing::alternatives::{Alternative, Change};

use super::memo;
use crate::form::Form;
use crate::result::by;
use crate::ui::Ui;
use crate::wording;

/// One of the several.
#[derive(Clone)]
pub(crate) struct Offer {
    /// What the form keeps.
    pub(crate) value: String,
    /// What it is called.
    pub(crate) label: String,
    /// What a buyer should know about it; may be empty.
    pub(crate) note: String,
    /// Its colour, for a material.
    pub(crate) swatch: Option<String>,
    /// The change that choosing it is: what it makes of the price stands beside it.
    pub(crate) change: Option<Change>,
}

/// A choice of one.
pub(crate) struct Choice {
    /// Its name among the fields of this widget.
    pub(crate) name: String,
    /// What is chosen.
    pub(crate) legend: String,
    /// The several.
    pub(crate) offers: Vec<Offer>,
    /// Which the form holds now.
    pub(crate) chosen: Box<dyn Fn(&Form) -> String + Send + Sync>,
    /// Takes another.
    pub(crate) choose: fn(&Ui, &mut Form, &str, &str),
}

/// The field.
pub(crate) fn choice(ui: &Ui, field: Choice) -> AnyView {
    let Choice { name, legend, offers, chosen, choose } = field;
    let group = ui.id(&name);
    let coloured = offers.iter().any(|offer| offer.swatch.is_some());
    let chosen = ui.of_form(chosen);
    let each = |offer: Offer| {
        let Offer { value, label, note, swatch, change } = offer;
        let id = format!("{group}-{value}");
        let checked = {
            let (chosen, value) = (chosen.clone(), value.clone());
            move || chosen.with(|chosen| *chosen == value)
        };
        let difference = change.map(|change| {
            let (neighbours, ui) = (ui.neighbours.clone(), ui.clone());
            let other = move |found: &Vec<Alternative>| {
                found.iter().find(|other| other.change == change).map(|other| other.difference)
            };
            let difference = memo(move || neighbours.with(&other));
            move || difference.get().map(|difference| view! { <span class="by note">{by(&ui, difference)}</span> })
        });
        let (ui, name, picked) = (ui.clone(), name.clone(), value.clone());
        let pick = move |_| ui.edit(|form| choose(&ui, form, &name, &picked));
        let note_id = format!("{id}-note");
        let described = (!note.is_empty()).then(|| note_id.clone());
        view! {
            <div class="offer">
                <input type="radio" id=id.clone() name=group.clone() value=value prop:checked=checked on:change=pick aria-describedby=described />
                <label for=id>
                    {swatch.map(|swatch| view! { <span class="swatch" aria-hidden="true" style:background-color=swatch></span> })}
                    {label}
                    {difference}
                </label>
                {(!note.is_empty()).then(|| view! { <p class="note" id=note_id>{note}</p> })}
            </div>
        }
        .into_any()
    };
    let several = offers.iter().filter(|offer| !offer.note.is_empty()).count() > 1;
    let offers = offers.into_iter().map(each).collect_view();
    if !coloured {
        return view! {
            <fieldset class="choice">
                <legend>{legend}</legend>
                <div class="offers">{offers}</div>
            </fieldset>
        }
        .into_any();
    }
    // Only the material that is chosen tells its character, until all are asked to: the list stays short.
    let telling = RwSignal::new(false);
    let tell = several.then(|| {
        let expanded = move || if telling.get() { "true" } else { "false" };
        let press = move |_| telling.update(|telling| *telling = !*telling);
        view! { <button type="button" class="each" aria-expanded=expanded on:click=press>{ui.say(wording::MATERIALS_EACH)}</button> }
    });
    view! {
        <fieldset class=move || if telling.get() { "choice materials telling" } else { "choice materials" }>
            <legend>{legend}</legend>
            <div class="offers">{offers}</div>
            {tell}
        </fieldset>
    }
    .into_any()
}
