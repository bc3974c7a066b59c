//! Where it goes, and how it gets there.

use leptos::prelude::*;
use scantling_pricing::brief::Site;
use scantling_pricing::delivery::{Mode, Unreachable, postal_example};
use scantling_pricing::estimate::{Estimate, PriceRange, Way};

use crate::country;
use crate::fields::{TextField, text_field};
use crate::form::ELSEWHERE;
use crate::ui::Ui;
use crate::wording;

/// The country and the postal code.
pub(crate) fn destination(ui: Ui) -> impl IntoView {
    let id = ui.id("country");
    let country = ui.of_form(|form| form.country.clone());
    let change = {
        let ui = ui.clone();
        move |event| ui.edit(|form| form.country = event_target_value(&event))
    };
    let postal_code = TextField {
        field: "destination.postal_code".into(),
        label: ui.say(wording::POSTAL_CODE),
        hint: Box::new({
            let (country, words) = (country.clone(), ui.words.clone());
            move || country.with(|country| wording::postal_code_hint(&words, postal_example(country)))
        }),
        text: Box::new(|form| form.postal_code.clone()),
        typed: Box::new(|form, text| text.clone_into(&mut form.postal_code)),
        stepped: None,
        autocomplete: "postal-code",
    };
    let mut countries = country::named(&ui.words);
    countries.push((ELSEWHERE, ui.say(wording::ANOTHER_COUNTRY)));
    view! {
        <fieldset class="destination">
            <legend>{ui.say(wording::DESTINATION)}</legend>
            <div class="row">
                <div class="field">
                    <label for=id.clone()>{ui.say(wording::COUNTRY)}</label>
                    <select id=id prop:value=move || country.get() on:change=change>
                        {countries.into_iter().map(|(code, name)| view! { <option value=code>{name}</option> }).collect_view()}
                    </select>
                </div>
                {text_field(&ui, postal_code)}
            </div>
            {place(&ui)}
        </fieldset>
    }
}

/// What a carrier asks of the place, once one can be had or would stay outside.
fn place(ui: &Ui) -> impl IntoView + use<> {
    let asked = {
        let ui = ui.clone();
        let by_carrier =
            |way: &Way| way.mode == Mode::Freight && matches!(way.outcome, Ok(_) | Err(Unreachable::StaysOutside));
        ArcMemo::new(move |_| ui.beside(|shown| shown.estimate.ways.iter().any(by_carrier).then_some(())).is_some())
    };
    let (site_id, inside_id) = (ui.id("site"), ui.id("inside"));
    let (site, inside) = (ui.of_form(|form| form.site.word()), ui.of_form(|form| form.inside));
    let (pick, tick) = (ui.clone(), ui.clone());
    let sites = Site::ALL.map(|site| view! { <option value=site.word()>{ui.say(wording::site(site))}</option> });
    let choose = move |event| {
        let word = event_target_value(&event);
        pick.edit(|form| form.site = Site::ALL.into_iter().find(|site| site.word() == word).unwrap_or_default());
    };
    view! {
        <div class="place" hidden=move || !asked.get()>
            <div class="field">
                <label for=site_id.clone()>{ui.say(wording::SITE)}</label>
                <select id=site_id prop:value=move || site.get() on:change=choose>
                    {sites.into_iter().collect_view()}
                </select>
            </div>
            <div class="tick">
                <input
                    type="checkbox"
                    id=inside_id.clone()
                    prop:checked=move || inside.get()
                    on:change=move |event| tick.edit(|form| form.inside = event_target_checked(&event))
                />
                <label for=inside_id>{ui.say(wording::INSIDE)}</label>
            </div>
        </div>
    }
}

/// Every way there is, the cheapest first, to pick from.
pub(crate) fn ways(ui: Ui) -> impl IntoView {
    move || ui.beside(|shown| offered(&ui, &shown.estimate))
}

fn offered(ui: &Ui, estimate: &Estimate) -> Option<impl IntoView + use<>> {
    if estimate.ways.is_empty() {
        return None;
    }
    let offers = estimate.ways_by_price().into_iter().map(|way| offer(ui, way, estimate.chosen)).collect_view();
    let fault = ui.fault("delivery").map(|fault| view! { <p class="fault">{fault}</p> });
    let note = estimate.region.as_ref().and_then(|region| region.note.as_ref());
    let note = note.map(|note| view! { <p class="note">{note.to_string()}</p> });
    Some(view! {
        <fieldset class="choice ways">
            <legend>{ui.say(wording::DELIVERY)}</legend>
            {offers}
            {fault}
            {note}
        </fieldset>
    })
}

fn offer(ui: &Ui, way: &Way, chosen: Option<Mode>) -> impl IntoView + use<> {
    let mode = way.mode;
    let id = ui.id(&format!("way-{}", mode.word()));
    let (price, about) = match &way.outcome {
        Ok(delivered) => {
            let days = wording::days(&ui.words, delivered.days).unwrap_or_default();
            let PriceRange { low, likely, high } = delivered.price;
            let span = wording::range(&ui.words, &ui.money(low), &ui.money(high));
            (Some((ui.money(likely), span)), [ui.say(wording::mode_includes(mode)), days].join(" "))
        }
        Err(reason) => (None, wording::unreachable(&ui.words, reason, ui.form.with_untracked(|form| form.unit))),
    };
    let pick = {
        let ui = ui.clone();
        move |_| ui.edit(|form| form.delivery = Some(mode))
    };
    let note_id = format!("{id}-note");
    view! {
        <div class="offer">
            <input
                type="radio"
                id=id.clone()
                name=ui.id("way")
                prop:checked=chosen == Some(mode)
                disabled=price.is_none()
                aria-describedby=note_id.clone()
                on:change=pick
            />
            <label for=id>
                {ui.say(wording::mode(mode))}
                {price.map(|(likely, span)| view! { <b class="figure">{likely}</b> <span class="span-of">{span}</span> })}
            </label>
            <p class="note" id=note_id>{about}</p>
        </div>
    }
}
