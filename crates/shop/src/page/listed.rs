//! A list of what goes by keys: requests, quotes, pieces with offers, jobs; one of them is open.

use leptos::prelude::*;
use scantling_pricing::book::document::Node;

use super::fields::{row_with, text_of};
use super::little::{Room, growing};
use super::paged::{AT_ONCE, pages, part};
use crate::desk::Desk;
use crate::sheet::Path;
use crate::slim::rows;

/// What a list is called, and what stands there while nothing is in it.
pub(crate) struct Names {
    /// The key of the list in the book.
    pub(crate) list: &'static str,
    /// What it is called.
    pub(crate) title: &'static str,
    /// What stands there while it is empty.
    pub(crate) empty: &'static str,
}

/// How many entries a frame has room for; each is a button with a line of words.
const ROOM: Room = Room { first: 12, more: 12 };

/// The list, the newest first and a part of a long one at a time, each row a button that opens it, and the one that is open. What is open is
/// built anew only when another is, or its place moves.
pub(crate) fn listed(
    desk: &Desk,
    names: &'static Names,
    line: impl Fn(&Node) -> String + Clone + Send + Sync + 'static,
    open: fn(&Desk, usize) -> AnyView,
) -> AnyView {
    let (wanted, from) = (RwSignal::new(String::new()), RwSignal::new(0));
    let found = {
        let (desk, line) = (desk.clone(), line.clone());
        Memo::new(move |_| found(&desk, names.list, &wanted.get(), &line))
    };
    let count = {
        let (desk, place) = (desk.clone(), Path::whole().key(names.list));
        Memo::new(move |_| desk.rows_at(&place))
    };
    let (any, many) = (Memo::new(move |_| count.get() > 0), Memo::new(move |_| count.get() > AT_ONCE));
    let shown = growing(move || found.with(|found| part(found, from.get())), ROOM);
    let list = {
        let desk = desk.clone();
        move || {
            if !any.get() {
                return view! { <p class="note">{names.empty}</p> }.into_any();
            }
            let (desk, line) = (desk.clone(), line.clone());
            let each = move |entry: (usize, String)| row(&desk, names, entry, line.clone());
            view! {
                <ul class="entries picks" aria-label=names.title>
                    <For each=move || shown.get() key=Clone::clone children=each />
                </ul>
            }
            .into_any()
        }
    };
    let at = {
        let desk = desk.clone();
        Memo::new(move |_| desk.opened.with(|key| row_with(&desk, names.list, key)))
    };
    let desk = desk.clone();
    let opened = move || at.get().map(|index| open(&desk, index));
    view! {
        {move || many.get().then(|| above(found, (wanted, from)))}
        {list}
        {opened}
    }
    .into_any()
}

/// A word to find rows by, and the ways through those that are found.
fn above(
    found: Memo<Vec<(usize, String)>>,
    (wanted, from): (RwSignal<String>, RwSignal<usize>),
) -> impl IntoView + use<> {
    let find = move |event| {
        from.set(0);
        wanted.set(event_target_value(&event));
    };
    view! {
        <div class="above">
            <label>{"Find "}<input type="search" on:input=find /></label>
            {move || pages(found.with(Vec::len), from)}
        </div>
    }
}

/// The rows with a word in what stands in the list of them, the newest first, each with its key; all of them for no word.
fn found(desk: &Desk, list: &str, wanted: &str, line: impl Fn(&Node) -> String) -> Vec<(usize, String)> {
    let wanted = wanted.trim().to_lowercase();
    let place = Path::whole().key(list);
    desk.sheet.with(|sheet| {
        let rows = sheet.at(&place).map_or(&[][..], rows);
        let keyed =
            rows.iter().enumerate().rev().map(|(index, row)| (index, text_of(row, "key").unwrap_or_default(), row));
        let has = |key: &str, row: &Node| {
            wanted.is_empty() || format!("{key} {}", line(row)).to_lowercase().contains(&wanted)
        };
        keyed.filter(|(_, key, row)| has(key, row)).map(|(index, key, _)| (index, key.to_owned())).collect()
    })
}

fn row<L: Fn(&Node) -> String + Send + Sync + 'static>(
    desk: &Desk,
    names: &Names,
    (index, key): (usize, String),
    line: L,
) -> impl IntoView + use<L> {
    let words = {
        let (desk, place) = (desk.clone(), Path::whole().key(names.list).index(index));
        move || desk.sheet.with(|sheet| sheet.at(&place).map(&line))
    };
    let current = {
        let (desk, key) = (desk.clone(), key.clone());
        move || desk.opened.with(|opened| *opened == key).then_some("true")
    };
    let (desk, own) = (desk.clone(), key.clone());
    view! {
        <li>
            <button type="button" aria-current=current on:click=move |_| desk.opened.set(own.clone())>
                <b>{key}</b>
                {" "}
                {words}
            </button>
        </li>
    }
}
