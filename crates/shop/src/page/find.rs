//! A word looked for in every table, a little at a time, and the way to where it was found.

use std::sync::Arc;

use leptos::prelude::*;

use super::progress::progress;
use crate::desk::Desk;
use crate::find::{Found, MOST_FOUND, Search};
use crate::slices::{Far, Slices};

/// The section.
pub(crate) fn section(desk: &Desk) -> AnyView {
    let found: RwSignal<Option<Arc<Search>>> = RwSignal::new(None);
    let slices = Slices::default();
    let ending = slices.clone();
    on_cleanup(move || ending.end());
    let bar = progress(&slices, "The book is being looked through");
    let look = {
        let desk = desk.clone();
        move |event| {
            let (desk, kind) = (desk.clone(), Arc::clone(&desk.kind));
            let wanted = event_target_value(&event);
            let nothing = wanted.trim().is_empty();
            let mut search = Search::new(&wanted);
            slices.run(move || {
                let far =
                    desk.sheet.with_untracked(|sheet| search.step(sheet.root(), &kind).then(|| search.far(&kind)));
                if far.is_none() {
                    found.set((!nothing).then(|| Arc::new(std::mem::take(&mut search))));
                }
                far.map(|(done, all)| Far { done, all, of: "tables" })
            });
        }
    };
    let desk = desk.clone();
    let rows = move || found.get().map(|search| told(&desk, &search));
    view! {
        <section aria-label="Find in the book">
            <h2>{"Find in the book"}</h2>
            <div class="field">
                <label for="find">{"All of these words, in any table: walnut 8/4"}</label>
                <input id="find" type="search" autocomplete="off" on:input=look />
            </div>
            {bar}
            <div aria-live="polite">{rows}</div>
        </section>
    }
    .into_any()
}

fn told(desk: &Desk, search: &Search) -> AnyView {
    let words = match search.found.len() {
        0 => "Nothing in the book has all of these words.".to_owned(),
        1 => "One place.".to_owned(),
        _ if search.is_full() => format!("The first {MOST_FOUND} places; another word finds fewer."),
        count => format!("{count} places."),
    };
    let row = |found: &Found| {
        let (desk, place) = (desk.clone(), found.place.clone());
        view! {
            <li>
                <button type="button" on:click=move |_| desk.go_to(place.clone())>{found.trail.clone()}</button>
                <span>{found.value.clone()}</span>
            </li>
        }
    };
    let rows = search.found.iter().map(row).collect_view();
    view! {
        <p class="note">{words}</p>
        <ul class="entries">{rows}</ul>
    }
    .into_any()
}
