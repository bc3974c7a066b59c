//! The shop as a form, whose currency is no field like the others: another one is asked about before it is taken.

use leptos::prelude::*;
use scantling_pricing::book::document::Node;
use scantling_pricing::money::Currency;

use super::fields::button;
use super::record;
use crate::desk::Desk;
use crate::form::{Field, Kind};
use crate::recurrency::{multiplied, rate_of, renamed, went_out};
use crate::sheet::{Edit, Path};

/// The key of the currency among the fields of the shop.
const CURRENCY: &str = "currency";

/// The section.
pub(crate) fn section(desk: &Desk, field: &Field) -> AnyView {
    let place = Path::whole().key(&field.key);
    let Kind::Table(fields) = &field.kind else { return ().into_any() };
    let each = fields.iter().map(|own| {
        if own.key == CURRENCY {
            currency(desk, &place.key(CURRENCY), own)
        } else {
            record::labelled(desk, &place, own)
        }
    });
    view! {
        <section aria-label=field.label.clone()>
            <h2>{field.label.clone()}</h2>
            {each.collect_view()}
        </section>
    }
    .into_any()
}

/// What was typed in place of the book's currency, until it is taken or left.
type Wanted = RwSignal<Option<String>>;

fn currency(desk: &Desk, place: &Path, field: &Field) -> AnyView {
    let wanted: Wanted = RwSignal::new(None);
    let (id, hint) = (format!("f-{place}"), format!("f-{place}-hint"));
    let held = {
        let (desk, place) = (desk.clone(), place.clone());
        Memo::new(move |_| desk.words_at(&place))
    };
    let typed = {
        let (desk, place) = (desk.clone(), place.clone());
        move |event| {
            let code = event_target_value(&event).trim().to_uppercase();
            let now = held.get_untracked();
            if Currency::from_code(&now).is_none() && Currency::from_code(&code).is_some() {
                // What has no currency yet is in none that it could be brought from.
                desk.edit("Currency", vec![Edit::set(place.clone(), Node::Text(code))]);
                wanted.set(None);
            } else {
                wanted.set((code != now).then_some(code));
            }
        }
    };
    let wrong = {
        let (desk, place) = (desk.clone(), place.clone());
        Memo::new(move |_| wanted.with(|wanted| wanted.as_deref().and_then(unknown)).or_else(|| desk.wrong_at(&place)))
    };
    let asked = {
        let desk = desk.clone();
        move || wanted.get().and_then(|code| Some(ask(&desk, wanted, &held.get(), Currency::from_code(&code)?)))
    };
    let fault = format!("{id}-fault");
    view! {
        <div class="field">
            <label for=id.clone()>{field.label.clone()}</label>
            <span class="cell">
                <span class="note" id=hint.clone()>{field.hint.clone()}</span>
                <input
                    id=id
                    type="text"
                    class="words"
                    autocomplete="off"
                    spellcheck="false"
                    aria-describedby=format!("{hint} {fault}")
                    aria-invalid=move || if wrong.with(Option::is_some) { "true" } else { "false" }
                    readonly=desk.is_held()
                    prop:value=move || wanted.get().unwrap_or_else(|| held.get())
                    on:change=typed
                />
                <span class="fault" id=fault>{move || wrong.get()}</span>
            </span>
        </div>
        <div aria-live="polite">{asked}</div>
    }
    .into_any()
}

fn unknown(code: &str) -> Option<String> {
    Currency::from_code(code)
        .is_none()
        .then(|| format!("“{code}” is not a currency that is known; write its ISO 4217 code, as USD"))
}

/// What is to become of the amounts when the book is to be in another currency.
fn ask(desk: &Desk, wanted: Wanted, from: &str, to: Currency) -> AnyView {
    let code = to.code();
    let (out, rate) = desk.sheet.with(|sheet| (went_out(sheet.root()), rate_of(sheet.root(), code)));
    let stay = button(&format!("Stay with {from}"), move || wanted.set(None));
    let choices = if out > 0 {
        let quotes = if out == 1 { "A quote".to_owned() } else { format!("{out} quotes") };
        let words = format!(
            "{quotes} went out in {from}, and what went out is never changed: this book stays in {from}. Copy it under Shops, take the quotes \
             out of the copy, and change the currency there."
        );
        view! { <p class="fault">{words}</p> }.into_any()
    } else {
        let multiply = rate.map(|(_, rate)| {
            let (desk, label) = (desk.clone(), format!("At {rate} {code} for one {from}: multiply every amount"));
            button(&label, move || multiply(&desk, wanted, to))
        });
        let no_rate = rate.is_none().then(|| {
            format!("The currencies of the book have no rate of {code}: put one there first to have every amount multiplied by it.")
        });
        let leave = {
            let desk = desk.clone();
            button(&format!("Leave the figures: they are in {code} as they stand"), move || leave(&desk, wanted, to))
        };
        view! {
            <p>{format!("Every amount of the book is in {from}. What is to become of them in {code}?")}</p>
            {no_rate.map(|words| view! { <p class="note">{words}</p> })}
            {multiply}
            {leave}
        }
        .into_any()
    };
    view! { <fieldset tabindex="-1"><legend>{format!("From {from} to {code}")}</legend>{choices} {stay}</fieldset> }
        .into_any()
}

fn multiply(desk: &Desk, wanted: Wanted, to: Currency) {
    let code = to.code();
    let Some((_, edits)) = desk.sheet.with_untracked(|sheet| multiplied(sheet.root(), &desk.kind, to)) else {
        return desk.say(format!("An amount is too large to be told in {code}: nothing was changed."));
    };
    if desk.edited(&format!("Bringing the book into {code}"), edits) {
        let step = desk.words_untracked("shop.rounding_step");
        desk.say(format!(
            "Every amount is in {code} now, and the rates of the other currencies with it. Prices are rounded up to {step} {code}: write \
             another step where that is odd. Undo brings all of it back."
        ));
        wanted.set(None);
    }
}

fn leave(desk: &Desk, wanted: Wanted, to: Currency) {
    let code = to.code();
    let edits = desk.sheet.with_untracked(|sheet| renamed(sheet.root(), to));
    if desk.edited(&format!("Calling the amounts {code}"), edits) {
        desk.say(format!(
            "The amounts stand as they did, and are {code} now. Look at the rates of the other currencies."
        ));
        wanted.set(None);
    }
}
