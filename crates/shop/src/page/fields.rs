//! A field of the book by its place alone: its label, what it may hold out of the schema, what is wrong beside it.

use leptos::prelude::*;
use scantling_pricing::book::document::Node;

use super::cell::cell;
use crate::desk::Desk;
use crate::form::Kind;
use crate::sheet::{Path, Step};

/// What a place of the book may hold, and whether it must.
pub(crate) fn kind_at(desk: &Desk, place: &Path) -> Option<(Kind, bool)> {
    let Some((parent, step)) = place.last() else { return Some((desk.kind.as_ref().clone(), true)) };
    let (within, _) = kind_at(desk, &parent)?;
    match (step, within) {
        (Step::Key(key), Kind::Table(fields)) => {
            fields.into_iter().find(|field| field.key == *key).map(|field| (field.kind, field.required))
        }
        // What stands under a key of the maker's own may be taken away by emptying it.
        (Step::Key(_), Kind::Map(held)) => Some((*held, false)),
        (Step::Index(_), Kind::List(row)) => Some((*row, true)),
        _ => None,
    }
}

/// A labelled field.
pub(crate) fn field(desk: &Desk, place: &Path, label: &str) -> AnyView {
    let id = format!("f-{place}");
    view! {
        <div class="field">
            <label for=id>{label.to_owned()}</label>
            {bare(desk, place, label)}
        </div>
    }
    .into_any()
}

/// A field in a cell of a table, which says by itself what it is.
pub(crate) fn bare(desk: &Desk, place: &Path, name: &str) -> AnyView {
    match kind_at(desk, place) {
        Some((kind, required)) => cell(desk, place, (&kind, required), name, format!("f-{place}")),
        None => ().into_any(),
    }
}

/// The index of the row of a list that has a key.
pub(crate) fn row_with(desk: &Desk, list: &str, key: &str) -> Option<usize> {
    let place = Path::whole().key(list);
    desk.sheet.with(|sheet| match sheet.at(&place) {
        Some(Node::List(rows)) => rows.iter().position(|row| text_of(row, "key") == Some(key)),
        _ => None,
    })
}

/// The text under a key of a table.
pub(crate) fn text_of<'n>(node: &'n Node, key: &str) -> Option<&'n str> {
    match node {
        Node::Table(entries) => entries.iter().find_map(|(known, value)| match value {
            Node::Text(text) if known == key => Some(text.as_str()),
            _ => None,
        }),
        _ => None,
    }
}

/// The keys of the rows of a list, in their order.
pub(crate) fn keys_of(desk: &Desk, list: &str) -> Vec<String> {
    let place = Path::whole().key(list);
    desk.sheet.with(|sheet| match sheet.at(&place) {
        Some(Node::List(rows)) => rows.iter().map(|row| text_of(row, "key").unwrap_or_default().to_owned()).collect(),
        _ => Vec::new(),
    })
}

/// A key no row of a list has yet: `r-1`, `r-2`, ...
pub(crate) fn next_key(desk: &Desk, list: &str, start: &str) -> String {
    let taken = untrack(|| keys_of(desk, list));
    let number = |key: &String| key.strip_prefix(start)?.strip_prefix('-')?.parse::<u32>().ok();
    let next = taken.iter().filter_map(number).max().unwrap_or(0).saturating_add(1);
    format!("{start}-{next}")
}

/// A value of the engine's as a node of the sheet.
pub(crate) fn node_of(value: &impl serde::Serialize) -> Option<Node> {
    Node::read(&serde_json::to_string(value).ok()?).ok()
}

/// A button.
pub(crate) fn button(label: &str, press: impl Fn() + 'static) -> AnyView {
    view! { <button type="button" on:click=move |_| press()>{label.to_owned()}</button> }.into_any()
}

/// Rows of words and figures.
pub(crate) fn figures<const N: usize>(caption: &str, rows: [(&str, String); N]) -> AnyView {
    let rows = rows.map(|(what, figure)| {
        view! { <tr><th scope="row">{what.to_owned()}</th><td class="figure">{figure}</td></tr> }
    });
    view! {
        <table class="grid">
            <caption>{caption.to_owned()}</caption>
            <tbody>{rows.into_iter().collect_view()}</tbody>
        </table>
    }
    .into_any()
}

/// What stands where the book has to be right first; before anything has been said of it, that it is reckoned.
pub(crate) fn mend_first(desk: &Desk) -> AnyView {
    if !desk.is_told() {
        return view! { <p class="note">{"The book is being reckoned: what follows from it stands here in a moment."}</p> }.into_any();
    }
    view! { <p class="fault">{"The book is not right yet: mend it first, and what follows from it stands here."}</p> }
        .into_any()
}
