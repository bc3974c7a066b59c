//! Hours by operation, typed or counted by a clock.

use std::time::Duration;

use leptos::prelude::*;
use scantling_pricing::book::document::Node;
use scantling_pricing::work_names::{ON_THE_WAY, WorkNames, key_of};

use super::super::fields::bare;
use super::super::scrolled::scrolled;
use super::clock::{elapsed, note_seen, running, start, stop};
use crate::desk::Desk;
use crate::sheet::{Edit, Path};

/// The hours of a job: a row for all that was said or worked, with a clock each.
pub(super) fn hours(desk: &Desk, job: &Path) -> AnyView {
    let names = names(desk);
    let keys = {
        let (desk, job) = (desk.clone(), job.clone());
        Memo::new(move |_| names.with(|names| keys(&desk, &job, names)))
    };
    let tick = ticking();
    let rows = {
        let (desk, job) = (desk.clone(), job.clone());
        move || {
            let words = |key: &str| names.with_untracked(|names| words(names, key));
            keys.get().iter().map(|key| row(&desk, &job, (key, &words(key)), tick)).collect_view()
        }
    };
    let table = view! {
                <table class="grid">
                    <thead><tr><th scope="col">{"Operation"}</th><th scope="col">{"Said"}</th><th scope="col">{"Hours"}</th><th scope="col">{"Clock"}</th></tr></thead>
                    <tbody>{rows}</tbody>
                </table>
    };
    view! {
        <fieldset tabindex="-1">
            <legend>{"Hours by operation"}</legend>
            {scrolled("Hours by operation", table)}
            {other_work(desk, job, names, keys)}
        </fieldset>
    }
    .into_any()
}

/// What the work of the book goes by; as it last was, while the book is not right.
fn names(desk: &Desk) -> Memo<WorkNames> {
    let desk = desk.clone();
    Memo::new(move |before: Option<&WorkNames>| {
        desk.book().map_or_else(|| before.cloned().unwrap_or_default(), |book| WorkNames::new(&book))
    })
}

fn words(names: &WorkNames, key: &str) -> String {
    scantling_pricing::book::Key::new(key).map_or_else(|_| key.to_owned(), |key| names.words(&key).to_owned())
}

/// A second that comes round while the job is open.
fn ticking() -> RwSignal<()> {
    let tick = RwSignal::new(());
    if let Ok(handle) = set_interval_with_handle(move || tick.notify(), Duration::from_secs(1)) {
        on_cleanup(move || handle.clear());
    }
    tick
}

/// The keys of all that was said or worked, in the order of the book.
fn keys(desk: &Desk, job: &Path, names: &WorkNames) -> Vec<String> {
    let places = [job.key("said").key("hours"), job.key("hours")];
    let held: Vec<String> = desk.sheet.with(|sheet| {
        let each = places.iter().filter_map(|place| match sheet.at(place) {
            Some(Node::Table(entries)) => Some(entries.iter().map(|(key, _)| key.clone())),
            _ => None,
        });
        each.flatten().collect()
    });
    let at = |key: &String| {
        let stage = names.stages().iter().position(|(stage, _)| stage.as_str() == key);
        let own = || names.iter().position(|named| named.key.as_str() == key);
        (own().or(stage).unwrap_or(usize::MAX), key.clone())
    };
    let mut keys = held;
    keys.sort_by_key(at);
    keys.dedup();
    keys
}

fn row(desk: &Desk, job: &Path, (key, words): (&str, &str), tick: RwSignal<()>) -> impl IntoView + use<> {
    let said = {
        let (desk, place) = (desk.clone(), job.key("said").key("hours").key(key));
        move || desk.words_at(&place)
    };
    let runs = {
        let (desk, job, key) = (desk.clone(), job.clone(), key.to_owned());
        Memo::new(move |_| running(&desk, &job, &key).map(|(_, since)| since))
    };
    let press = {
        let (desk, job, key, words) = (desk.clone(), job.clone(), key.to_owned(), words.to_owned());
        move |_| {
            let press = if runs.get_untracked().is_some() { stop } else { start };
            press(&desk, &job, &key, &words);
        }
    };
    let label = move || if runs.get().is_some() { "Stop" } else { "Start" };
    let long = move || {
        tick.track();
        runs.get().map(|since| {
            note_seen(since);
            elapsed(since)
        })
    };
    let name = format!("Hours of {words}");
    let of = words.to_owned();
    let described = move || format!("{} the clock: {of}", label());
    view! {
        <tr>
            <th scope="row">{words.to_owned()}</th>
            <td class="figure">{said}</td>
            <td>{bare(desk, &job.key("hours").key(key), &name)}</td>
            <td>
                <button type="button" class="clock" aria-label=described on:click=press>{label}</button>
                {" "}
                <span class="figure">{long}</span>
            </td>
        </tr>
    }
}

/// Work that nothing was said of.
fn other_work(desk: &Desk, job: &Path, names: Memo<WorkNames>, keys: Memo<Vec<String>>) -> AnyView {
    let wanted = RwSignal::new(String::new());
    let options = move || {
        let held = keys.get();
        let all: Vec<(String, String)> = names.with(|names| {
            let own = names.iter().map(|named| (named.key.to_string(), named.name.to_string()));
            let way = key_of(ON_THE_WAY).map(|key| (key.to_string(), ON_THE_WAY.to_owned()));
            own.chain(way).filter(|(key, _)| !held.contains(key)).collect()
        });
        let each = all.into_iter().map(|(key, words)| view! { <option value=key>{words}</option> });
        each.collect_view()
    };
    let (desk, place) = (desk.clone(), job.key("hours"));
    let add = move |_| {
        let key = wanted.get_untracked();
        if !key.is_empty() {
            desk.edit("Adding work", vec![Edit::set(place.key(&key), Node::Text("0.01".to_owned()))]);
        }
    };
    view! {
        <div class="above">
            <label for="other-work">{"Other work"}</label>
            <select id="other-work" on:change=move |event| wanted.set(event_target_value(&event))>
                <option value="">{"(choose)"}</option>
                {options}
            </select>
            <button type="button" on:click=add>{"Add it"}</button>
        </div>
    }
    .into_any()
}
