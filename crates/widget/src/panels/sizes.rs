//! How large, in the buyer's unit, and how many.

use std::sync::Arc;

use leptos::prelude::*;
use scantling_pricing::brief::MOST_PIECES;
use scantling_pricing::design::Dimension;
use scantling_pricing::measure::LengthUnit;

use crate::fields::{Choice, Offer, TextField, choice, text_field};
use crate::ui::Ui;
use crate::wording;

/// A field for every dimension, the unit, and how many.
pub(crate) fn sizes(ui: Ui) -> impl IntoView {
    let fields =
        ui.for_design(|ui, design| design.dimensions.iter().map(|dimension| size(ui, dimension)).collect_view());
    view! {
        <fieldset class="sizes">
            <legend>{ui.say(wording::SIZES)}</legend>
            {unit(&ui)}
            <p class="note">{ui.say(wording::SIZES_HINT)}</p>
            <div class="row">{fields} {quantity(&ui)}</div>
            {general_fault(&ui)}
        </fieldset>
    }
}

/// What is wrong with no one size but with all of them together, such as a part longer than any board.
fn general_fault(ui: &Ui) -> impl IntoView + use<> {
    let ui = ui.clone();
    move || ui.fault("dimensions").map(|fault| view! { <p class="fault" role="alert">{fault}</p> })
}

fn unit(ui: &Ui) -> impl IntoView + use<> {
    let offer = |(value, name)| Offer {
        value: String::from(value),
        label: ui.say(name),
        note: String::new(),
        swatch: None,
        change: None,
    };
    choice(
        ui,
        Choice {
            name: "units".into(),
            legend: ui.say(wording::UNITS),
            offers: [("inch", wording::INCHES), ("metric", wording::MILLIMETRES)].map(offer).to_vec(),
            chosen: Box::new(|form| if form.unit == LengthUnit::Inch { "inch" } else { "metric" }.to_owned()),
            choose: |_, form, _, value| {
                form.switch_unit(if value == "inch" { LengthUnit::Inch } else { LengthUnit::Millimetre });
            },
        },
    )
}

fn size(ui: &Ui, dimension: &Dimension) -> impl IntoView + use<> {
    let Dimension { key, label, least, most, default, .. } = dimension.clone();
    let (unit, words) = (ui.of_form(|form| form.unit), Arc::clone(&ui.words));
    let hint = move || {
        let unit = unit.get();
        if least == most {
            wording::size_fixed(&words, &words.length(least, unit))
        } else {
            wording::size_limits(&words, &words.length(least, unit), &words.length(most, unit))
        }
    };
    let (shown, typed, stepped, book) = (key.clone(), key.clone(), key.clone(), Arc::clone(&ui.book));
    text_field(
        ui,
        TextField {
            field: format!("dimensions.{key}"),
            label: label.to_string(),
            hint: Box::new(hint),
            text: Box::new(move |form| form.size_text(&shown, default)),
            typed: Box::new(move |form, text| form.type_size(&typed, text)),
            stepped: Some(Box::new(move |form, steps| form.step_size(&book, &stepped, steps))),
            autocomplete: "off",
        },
    )
}

fn quantity(ui: &Ui) -> impl IntoView + use<> {
    let hint = wording::quantity_hint(&ui.words, &MOST_PIECES.to_string());
    text_field(
        ui,
        TextField {
            field: "quantity".into(),
            label: ui.say(wording::QUANTITY),
            hint: Box::new(move || hint.clone()),
            text: Box::new(|form| form.quantity.clone()),
            typed: Box::new(|form, text| text.clone_into(&mut form.quantity)),
            stepped: Some(Box::new(|form, steps| form.step_quantity(steps))),
            autocomplete: "off",
        },
    )
}
