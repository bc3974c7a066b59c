//! A quantity of the book in the unit of the shop: one that works in millimetres reads and types cubic metres and litres, and the book holds
//! board feet and cubic inches as ever.

use leptos::prelude::*;
use scantling_pricing::book::document::Node;
use scantling_pricing::book::values::read_digits;
use scantling_pricing::measure::{LengthUnit, Quantity};

use super::fields::bare;
use crate::comma::{plain, unclear};
use crate::desk::Desk;
use crate::sheet::{Edit, Path};

/// A field in a cell of a table.
pub(crate) fn measured(desk: &Desk, place: &Path, quantity: Quantity, name: &str) -> AnyView {
    let unit = desk.length_unit();
    if unit == LengthUnit::Inch {
        return bare(desk, place, name);
    }
    let shown = {
        let (desk, place) = (desk.clone(), place.clone());
        Memo::new(move |_| in_unit(&desk.words_at(&place), quantity, unit))
    };
    let wrong = {
        let (desk, place) = (desk.clone(), place.clone());
        Memo::new(move |_| {
            let wrong = desk.wrong_at(&place)?;
            Some(shown.with(|text| unclear(text)).unwrap_or(wrong))
        })
    };
    let take = {
        let (desk, place, name) = (desk.clone(), place.clone(), name.to_owned());
        move |event| {
            let text = event_target_value(&event);
            // What was not changed is not rounded by being shown.
            if text != shown.get_untracked() {
                desk.edit_with_tables(&name, vec![typed(&place, &text, quantity, unit)]);
            }
        }
    };
    let (id, fault) = (format!("f-{place}"), format!("f-{place}-fault"));
    view! {
        <span class="cell">
            <input
                type="text"
                id=id
                class="figure"
                autocomplete="off"
                spellcheck="false"
                aria-label=name.to_owned()
                aria-describedby=fault.clone()
                aria-invalid=move || if wrong.with(Option::is_some) { "true" } else { "false" }
                readonly=desk.is_held()
                prop:value=move || shown.get()
                on:change=take
            />
            <span class="fault" id=fault>{move || wrong.get()}</span>
        </span>
    }
    .into_any()
}

/// A number of the book in the unit that is shown; what is no number stands as it is.
pub(super) fn in_unit(held: &str, quantity: Quantity, unit: LengthUnit) -> String {
    read_digits(held).map_or_else(|| held.to_owned(), |number| quantity.shown(number, unit).to_string())
}

/// What was typed in the unit that is shown, as the book holds it; what is no number is kept as it was typed, for the engine to say so.
fn typed(place: &Path, text: &str, quantity: Quantity, unit: LengthUnit) -> Edit {
    let text = text.trim();
    if text.is_empty() {
        return Edit::Clear(place.clone());
    }
    let held = read_digits(&plain(text)).map(|number| quantity.held(number, unit).to_string());
    Edit::set(place.clone(), Node::Text(held.unwrap_or_else(|| text.to_owned())))
}
