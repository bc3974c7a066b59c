//! Rates of other currencies: which are old, new ones pasted with their day and source, and all of them in a grid.

use leptos::prelude::*;
use scantling_pricing::book::document::Node;
use scantling_pricing::book::values::Day;

use super::record;
use super::today::today;
use crate::currency::{OLD_DAYS, Says, edits, is_old, old_rate, pasted};
use crate::desk::Desk;
use crate::form::Field;
use crate::sheet::Path;
use crate::slim::rows;

/// The section.
pub(crate) fn section(desk: &Desk, field: &Field) -> AnyView {
    let list = Path::whole().key(&field.key);
    view! {
        <section aria-label=field.label.clone()>
            <h2>{field.label.clone()}</h2>
            {old(desk)}
            {paste(desk)}
            <h3>{"All of them"}</h3>
            {record::value(desk, &list, &field.kind, &field.label)}
        </section>
    }
    .into_any()
}

/// The rates that are old today, each with its day.
pub(super) fn old_ones(desk: &Desk) -> Vec<String> {
    let Some(today) = today() else { return Vec::new() };
    desk.sheet.with(|sheet| {
        let held = sheet.root().under("currencies").map_or(&[][..], rows);
        let is_old =
            |row: &&Node| row.text("day").and_then(|day| Day::new(day).ok()).is_some_and(|day| is_old(&day, &today));
        let told = |row: &Node| Some(format!("{} of {}", row.text("currency")?, row.text("day")?));
        held.iter().filter(is_old).filter_map(told).collect()
    })
}

/// What is said of rates that are old today.
fn old(desk: &Desk) -> impl IntoView + use<> {
    let desk = desk.clone();
    let told = move || {
        let old = old_ones(&desk);
        let words = format!(
            "Older than {OLD_DAYS} days: {}. What is offered or told in them may be off by more than is kept against movement: read them anew.",
            old.join(", ")
        );
        (!old.is_empty()).then(|| view! { <p class="fault old">{words}</p> })
    };
    view! { <div aria-live="polite">{told}</div> }
}

/// What is said beside something in a currency whose rate is old today, with the way to the rate; nothing where it is not.
pub(super) fn flag(desk: &Desk, code: impl Fn() -> String + Send + Sync + 'static) -> AnyView {
    let source = desk.clone();
    let old = Memo::new(move |_| {
        let code = code();
        let old = source.sheet.with(|sheet| old_rate(sheet.root(), &code, &today()?))?;
        Some((code, old))
    });
    let desk = desk.clone();
    let flag = move || {
        old.get().map(|(code, old)| {
            let rate = Path::whole().key("currencies").index(old.row).key("day");
            let words = format!(
                "The rate of {code} is of {}, older than {OLD_DAYS} days: read it anew before you rely on it. ",
                old.day.as_str()
            );
            let there = desk.clone();
            view! {
                <p class="fault old">
                    {words}
                    <button type="button" on:click=move |_| there.go_to(rate.clone())>{format!("Go to the rate of {code}")}</button>
                </p>
            }
        })
    };
    flag.into_any()
}

/// Rates typed or pasted, a line each.
fn paste(desk: &Desk) -> impl IntoView + use<> {
    let own = desk.words_untracked("shop.currency");
    let text = RwSignal::new(String::new());
    let day = RwSignal::new(today().map_or_else(String::new, |day| day.as_str().to_owned()));
    let source = RwSignal::new(String::new());
    let ours = RwSignal::new(false);
    let wrong: RwSignal<Option<String>> = RwSignal::new(None);
    let desk = desk.clone();
    let take = move |_| {
        let says = if ours.get_untracked() { Says::OfOurs } else { Says::OfTheOther };
        let read = pasted(&text.get_untracked(), says, &day.get_untracked(), &source.get_untracked());
        match read {
            Ok(read) if read.is_empty() => wrong.set(Some("There is no line yet.".to_owned())),
            Ok(read) => {
                let edits = desk.sheet.with_untracked(|sheet| edits(sheet.root(), &read));
                desk.edit("Taking rates", edits);
                let codes: Vec<&str> = read.iter().map(|one| one.currency.as_str()).collect();
                desk.say(format!("Taken: {}.", codes.join(", ")));
                text.set(String::new());
                wrong.set(None);
            }
            Err(why) => wrong.set(Some(why)),
        }
    };
    let line = |id: &'static str, label: &'static str, value: RwSignal<String>| {
        view! {
            <div class="field">
                <label for=id>{label}</label>
                <input id=id type="text" autocomplete="off" prop:value=move || value.get() on:input=move |event| value.set(event_target_value(&event)) />
            </div>
        }
    };
    let other_way = format!("A rate is what one of it costs in {own}, not what one {own} buys of it");
    view! {
        <details class="inner">
            <summary>{"Type or paste rates"}</summary>
            <div class="inside">
                <div class="field">
                    <label for="rates-text">{"A line each: EUR 0.86, with a day and where it was read if they differ from those below"}</label>
                    <textarea id="rates-text" rows="4" aria-describedby="rates-fault" prop:value=move || text.get() on:input=move |event| text.set(event_target_value(&event))></textarea>
                    <span id="rates-fault" class="fault" role="status">{move || wrong.get()}</span>
                </div>
                {line("rates-day", "The day they are of, as 2026-11-25", day)}
                {line("rates-source", "Where they were read", source)}
                <label class="tick">
                    <input type="checkbox" prop:checked=move || ours.get() on:change=move |event| ours.set(event_target_checked(&event)) />
                    {" "}
                    {other_way}
                </label>
                <p><button type="button" on:click=take>{"Take these rates"}</button></p>
            </div>
        </details>
    }
}
