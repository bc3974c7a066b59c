//! How large, in the buyer's unit, and how many.

use std::sync::Arc;

use leptos::prelude::*;
use scantling_pricing::brief::MOST_PIECES;
use scantling_pricing::design::Dimension;
use scantling_pricing::measure::LengthUnit;

use crate::fields::{Choice, Folded, Offer, TextField, choice, fold, text_field};
use crate::form::Form;
use crate::ui::Ui;
use crate::wording;
use crate::words::Word;

/// The units, the words that choose them and their names.
const UNITS: [(LengthUnit, &str, Word); 2] =
    [(LengthUnit::Inch, "inch", wording::INCHES), (LengthUnit::Millimetre, "metric", wording::MILLIMETRES)];

/// A field for every dimension, the unit, and how many.
pub(crate) fn sizes(ui: Ui) -> impl IntoView {
    let fields =
        ui.for_design(|ui, design| design.dimensions.iter().map(|dimension| size(ui, dimension)).collect_view());
    view! {
        <fieldset class="sizes">
            <legend>{ui.say(wording::SIZES)}</legend>
            <p class="note">{ui.say(wording::SIZES_HINT)}</p>
            <div class="row">{fields}</div>
            {general_fault(&ui)}
            {unit_and_quantity(&ui)}
        </fieldset>
    }
}

/// What is wrong with no one size but with all of them together, such as a part longer than any board.
fn general_fault(ui: &Ui) -> impl IntoView + use<> {
    let ui = ui.clone();
    move || ui.fault("dimensions").map(|fault| view! { <p class="fault" role="alert">{fault}</p> })
}

/// The unit and how many, which most leave as they are.
fn unit_and_quantity(ui: &Ui) -> AnyView {
    let words = Arc::clone(&ui.words);
    let said = move |form: &Form| {
        let name = UNITS.iter().find(|(unit, ..)| *unit == form.unit).map(|(.., name)| words.say(*name));
        let unit = wording::change(&words, &words.say(wording::UNITS), &name.unwrap_or_default());
        let many = wording::change(&words, &words.say(wording::QUANTITY), &form.quantity);
        [unit, many].join(" · ")
    };
    let folded = Folded {
        name: "unit-and-quantity",
        said: Box::new(said),
        is_other: |_, form| form.quantity.trim() != "1",
        field: Some("quantity"),
    };
    let inside = view! { <div class="row">{unit(ui)} {quantity(ui)}</div> };
    fold(ui, folded, inside.into_any())
}

fn unit(ui: &Ui) -> impl IntoView + use<> {
    let offer = |(_, value, name): (LengthUnit, &str, Word)| Offer {
        value: value.to_owned(),
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
            offers: UNITS.map(offer).to_vec(),
            chosen: Box::new(|form| if form.unit == LengthUnit::Inch { "inch" } else { "metric" }.to_owned()),
            choose: |_, form, _, value| {
                form.switch_unit(if value == "inch" { LengthUnit::Inch } else { LengthUnit::Millimetre });
            },
        },
    )
}

fn size(ui: &Ui, dimension: &Dimension) -> impl IntoView + use<> {
    let Dimension { key, label, least, most, step, default, why } = dimension.clone();
    let (unit, words) = (ui.of_form(|form| form.unit), Arc::clone(&ui.words));
    let hint = move || {
        let unit = unit.get();
        let show = |length| words.length(length, unit);
        let limits = if least == most {
            wording::size_fixed(&words, &show(least))
        } else {
            wording::size_limits(&words, &show(least), &show(most), &show(step))
        };
        wording::with_why(limits, why.as_ref())
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
