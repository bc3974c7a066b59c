//! The page: sections beside, the book in the middle, the basket always in sight.

mod asked;
mod basket;
mod carrier;
mod cell;
mod copied;
mod currencies;
mod cutting;
mod demo;
mod designs;
mod fields;
mod find;
mod first_visit;
mod focus;
mod grid;
mod held;
mod jobs;
mod keeping;
mod keys;
mod learning;
mod listed;
mod little;
mod measure;
mod measured;
mod offers;
mod paged;
mod payments;
mod picture;
mod progress;
mod publish;
mod quote;
mod quotes;
mod record;
mod recurrency;
mod requests;
mod scrolled;
mod shops;
mod slabs;
mod sweep;
mod taken_in;
mod today;
mod unkept;

pub(crate) use focus::{goes_to_opened, goes_to_place};
pub(crate) use keeping::{Browser, Whole};
pub(crate) use shops::here;
pub(crate) use today::now;

use leptos::ev::KeyboardEvent;
use leptos::prelude::*;

use crate::desk::{Desk, Section};
use crate::form::{Field, Kind};
use crate::named::named;
use crate::rest::rested;
use crate::sheet::Path;

/// What no one edits by hand, or what has a section of its own.
const APART: [&str; 8] =
    ["scantling_book", "basket", "watched_places", "requests", "quotes", "offers", "jobs", "refused"];

/// The parts of the book in the order a maker thinks of them; a part that is not listed comes last.
const ORDER: [&str; 19] = [
    "shop",
    "pricing",
    "workload",
    "timbers",
    "slabs",
    "sheets",
    "resins",
    "finishes",
    "hardware",
    "consumables",
    "operations",
    "designs",
    "delivery",
    "regions",
    "currencies",
    "waits",
    "allowances",
    "uncertainty",
    "edition",
];

/// Everything on the page.
pub(crate) fn page(desk: Desk) -> impl IntoView {
    judge_and_keep_once_typing_rests(&desk);
    let typing = keys::Typing::new();
    let pressed = {
        let desk = desk.clone();
        move |event: KeyboardEvent| keys::pressed(&desk, typing, &event)
    };
    let body = {
        let desk = desk.clone();
        move || section(&desk, &desk.section.get())
    };
    let said = desk.said.clone();
    // The section shows the basket whole: beside it there is nothing to add.
    let whole = {
        let section = desk.section.clone();
        move || section.with(|section| *section == Section::Basket)
    };
    let beside = {
        let (desk, whole) = (desk.clone(), whole.clone());
        move || (!whole()).then(|| basket::aside(&desk))
    };
    view! {
        <div
            class="desk"
            class:wide=whole
            on:keydown=pressed
            on:input=move |event| typing.typed(&event)
            on:change=move |_| typing.ended()
            on:focusin=move |_| typing.ended()
            on:click:capture=|event| focus::stays_near(&event)
        >
            <button type="button" class="skip" on:click=|_| focus::goes_to_section()>{"To what is open"}</button>
            {head(&desk)}
            <p class="said" role="status">{move || said.get()}</p>
            {contents(&desk)}
            <main tabindex="-1">{body}</main>
            {beside}
        </div>
    }
}

fn judge_and_keep_once_typing_rests(desk: &Desk) {
    let (source, judge) = (desk.clone(), desk.clone());
    let (leave, hide, ask, other) = (desk.clone(), desk.clone(), desk.clone(), desk.clone());
    window_event_listener(leptos::ev::pagehide, move |_| leave.keep_at_once());
    // A window out of sight may be ended without another word.
    window_event_listener(leptos::ev::visibilitychange, move |_| hide.keep_at_once());
    // The browser asks, in its own words, before it lets go of what is kept nowhere.
    window_event_listener(leptos::ev::beforeunload, move |event| {
        if !ask.is_safe() {
            event.prevent_default();
        }
    });
    window_event_listener(leptos::ev::storage, move |_| other.look_at_other_windows());
    let changed = move || source.sheet.with(|_| Some(()));
    rested(changed, move |()| judge.judge());
}

fn head(desk: &Desk) -> impl IntoView + use<> {
    let name = {
        let desk = desk.clone();
        move || desk.shop_name()
    };
    let (undo, redo) = (desk.clone(), desk.clone());
    let can_undo = {
        let sheet = desk.sheet.clone();
        move || sheet.with(|sheet| sheet.last_done().is_none())
    };
    let can_redo = {
        let sheet = desk.sheet.clone();
        move || sheet.with(|sheet| sheet.last_undone().is_none())
    };
    let wrong = {
        let desk = desk.clone();
        move || faults(&desk)
    };
    view! {
        <header tabindex="-1">
            <h1>{name}</h1>
            {shops::which()}
            <div class="tools">
                <button type="button" disabled=can_undo on:click=move |_| undo.undo()>{"Undo"}</button>
                <button type="button" disabled=can_redo on:click=move |_| redo.redo()>{"Do again"}</button>
            </div>
            {first_visit::first_visit(desk)}
            {held::held(desk)}
            {unkept::unkept(desk)}
            {wrong}
        </header>
    }
}

/// What is wrong with the book, each leading to its place.
fn faults(desk: &Desk) -> Option<impl IntoView + use<>> {
    let faults = desk.judged.with(|judged| judged.faults.clone());
    let count = faults.len();
    let row = |(place, what): (Path, String)| {
        let (desk, there) = (desk.clone(), place.clone());
        let words = desk.sheet.with_untracked(|sheet| named(sheet.root(), &desk.kind, &place));
        view! {
            <li>
                <button type="button" on:click=move |_| desk.go_to(there.clone())>{words}</button>
                {" "}
                {what}
            </li>
        }
    };
    (count > 0).then(|| {
        let rows = faults.into_iter().take(12).map(row).collect_view();
        view! {
            <details class="faults" open=true>
                <summary>{if count == 1 { "One place is not right yet".to_owned() } else { format!("{count} places are not right yet") }}</summary>
                <ul>{rows}</ul>
            </details>
        }
    })
}

/// The sections.
fn contents(desk: &Desk) -> impl IntoView + use<> {
    let Kind::Table(fields) = desk.kind.as_ref() else { return ().into_any() };
    let mut parts: Vec<&Field> = fields.iter().filter(|field| !APART.contains(&field.key.as_str())).collect();
    parts.sort_by_key(|field| ORDER.iter().position(|key| *key == field.key).unwrap_or(ORDER.len()));
    let parts: Vec<AnyView> = parts
        .into_iter()
        .map(|field| entry(desk, Section::Part(field.key.clone()), field.label.clone()).into_any())
        .collect();
    let work = [
        (Section::Basket, "Basket"),
        (Section::Requests, "Requests"),
        (Section::Quotes, "Quotes"),
        (Section::Offers, "Offers"),
        (Section::Jobs, "Jobs"),
        (Section::Learning, "What jobs teach"),
        (Section::Sweep, "Sweep and sensitivity"),
        (Section::Find, "Find in the book"),
        (Section::Publish, "Publish"),
        (Section::Keeping, "Files and earlier states"),
        (Section::Shops, "Shops"),
    ];
    let work = work.map(|(section, label)| entry(desk, section, label.to_owned()).into_any());
    view! {
        <nav aria-label="Sections" aria-describedby="by-keys" on:keydown=|event| keys::through_sections(&event)>
            <h2>{"Work"}</h2>
            <ul>{work.into_iter().collect::<Vec<_>>()}</ul>
            <h2>{"Shop book"}</h2>
            <ul>{parts}</ul>
            <p class="note" id="by-keys">{keys::TOLD}</p>
        </nav>
    }
    .into_any()
}

fn entry(desk: &Desk, section: Section, label: String) -> impl IntoView + use<> {
    let current = {
        let (desk, section) = (desk.clone(), section.clone());
        move || if desk.section.with(|now| *now == section) { Some("page") } else { None }
    };
    let wrong = {
        let (desk, section) = (desk.clone(), section.clone());
        move || {
            let part = Path::whole().key(section.part()?);
            desk.wrong_at(&part).map(|_| view! { <span class="mark" title="Something is not right here">{"!"}</span> })
        }
    };
    let go = {
        let desk = desk.clone();
        move |_| {
            focus::goes_to_section();
            desk.section.set(section.clone());
        }
    };
    view! { <li><button type="button" aria-current=current on:click=go>{label} {wrong}</button></li> }
}

fn section(desk: &Desk, section: &Section) -> AnyView {
    match section {
        Section::Part(key) => match desk.kind.field(key) {
            Some(field) => part(desk, field),
            None => ().into_any(),
        },
        Section::Basket => basket::section(desk).into_any(),
        Section::Learning => learning::section(desk).into_any(),
        Section::Offers => offers::section(desk),
        Section::Requests => requests::section(desk),
        Section::Quotes => quotes::section(desk),
        Section::Jobs => jobs::section(desk),
        Section::Publish => publish::section(desk).into_any(),
        Section::Keeping => keeping::section(desk).into_any(),
        Section::Sweep => sweep::section(desk),
        Section::Find => find::section(desk),
        Section::Shops => shops::section(desk),
    }
}

/// A part of the book: a screen of its own, a grid where it is rows, a form where it is not.
fn part(desk: &Desk, field: &Field) -> AnyView {
    match field.key.as_str() {
        "shop" => return recurrency::section(desk, field),
        "designs" => return designs::section(desk, field),
        "slabs" => return slabs::section(desk, field),
        "currencies" => return currencies::section(desk, field),
        _ => {}
    }
    let place = Path::whole().key(&field.key);
    let inside = record::value(desk, &place, &field.kind, &field.label);
    view! {
        <section aria-label=field.label.clone()>
            <h2>{field.label.clone()}</h2>
            {inside}
        </section>
    }
    .into_any()
}
