//! A list of what goes by keys: requests, quotes, pieces with offers, jobs; one of them is open.

use leptos::prelude::*;
use scantling_pricing::book::document::Node;

use super::fields::{keys_of, row_with};
use crate::desk::Desk;
use crate::sheet::Path;

/// What a list is called, and what stands there while nothing is in it.
pub(crate) struct Names {
    /// The key of the list in the book.
    pub(crate) list: &'static str,
    /// What it is called.
    pub(crate) title: &'static str,
    /// What stands there while it is empty.
    pub(crate) empty: &'static str,
}

/// The list, each row a button that opens it, and the one that is open. What is open is built anew only when another is, or its place moves.
pub(crate) fn listed(
    desk: &Desk,
    names: &'static Names,
    line: impl Fn(&Node) -> String + Clone + Send + Sync + 'static,
    open: fn(&Desk, usize) -> AnyView,
) -> AnyView {
    let rows = {
        let desk = desk.clone();
        Memo::new(move |_| keys_of(&desk, names.list))
    };
    let list = {
        let desk = desk.clone();
        move || {
            let keys = rows.get();
            if keys.is_empty() {
                return view! { <p class="note">{names.empty}</p> }.into_any();
            }
            let each = keys.into_iter().enumerate().rev();
            let each = each.map(|(index, key)| row(&desk, names, (index, key), line.clone()));
            view! { <ul class="entries picks" aria-label=names.title>{each.collect_view()}</ul> }.into_any()
        }
    };
    let at = {
        let desk = desk.clone();
        Memo::new(move |_| desk.opened.with(|key| row_with(&desk, names.list, key)))
    };
    let desk = desk.clone();
    let opened = move || at.get().map(|index| open(&desk, index));
    view! {
        {list}
        {opened}
    }
    .into_any()
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
