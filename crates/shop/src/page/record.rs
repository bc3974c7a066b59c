//! A value of any kind as a form: fields, tables within tables, lists, keys of the maker's own, one of several shapes.

use leptos::prelude::*;
use scantling_pricing::book::document::Node;

use super::cell::{cell, explained, value_of};
use super::grid;
use super::measure::measure;
use crate::desk::Desk;
use crate::form::{Field, Kind};
use crate::sheet::{Edit, Path};
use crate::units;

/// The form of what a place may hold.
pub(crate) fn value(desk: &Desk, place: &Path, kind: &Kind, label: &str) -> AnyView {
    match kind {
        Kind::Table(fields) => fields.iter().map(|field| labelled(desk, place, field)).collect_view().into_any(),
        Kind::List(row) if matches!(row.as_ref(), Kind::Table(_)) => grid::grid(desk, place, row),
        Kind::List(item) => list(desk, place, item, label),
        Kind::Map(held) => map(desk, place, held, label),
        Kind::OneOf(shapes) => one_of(desk, place, shapes, label),
        Kind::Measure => measure(desk, place, label),
        _ => cell(desk, place, (kind, true), label, format!("f-{place}")),
    }
}

/// A field with its label. What no line can hold is folded away until it is wanted.
pub(crate) fn labelled(desk: &Desk, place: &Path, field: &Field) -> AnyView {
    let own = place.key(&field.key);
    if field.kind == Kind::Measure && field.required {
        return measure(desk, &own, &field.label);
    }
    let hint = units::explained(&field.label, &field.hint, desk.length_unit());
    if field.kind.fits_a_cell() {
        let id = format!("f-{own}");
        return view! {
            <div class="field">
                <label for=id.clone()>{field.label.clone()}</label>
                {explained(desk, &own, (&field.kind, field.required), (&field.label, &hint), id)}
            </div>
        }
        .into_any();
    }
    let there = {
        let (desk, own) = (desk.clone(), own.clone());
        Memo::new(move |_| desk.sheet.with(|sheet| !matches!(sheet.at(&own), None | Some(Node::Null))))
    };
    let body = {
        let (desk, own, field) = (desk.clone(), own.clone(), field.clone());
        move || if there.get() { present(&desk, &own, &field) } else { missing(&desk, &own, &field) }
    };
    let label = field.label.clone();
    let inside = move || {
        let hint = (!hint.is_empty()).then(|| view! { <p class="note">{hint.clone()}</p> });
        (hint, body.clone()).into_any()
    };
    folded(desk, &own, move || label.clone(), inside)
}

/// What is folded away until it is wanted, and made only then: a row with all its tables is more than a page shows at once.
pub(crate) fn folded(
    desk: &Desk,
    place: &Path,
    label: impl Fn() -> String + Send + 'static,
    inside: impl Fn() -> AnyView + Send + 'static,
) -> AnyView {
    let on_the_way = desk.leads_through(place);
    let opened = RwSignal::new(on_the_way);
    let (desk, own) = (desk.clone(), place.clone());
    // Made once: making it anew would take the focus out of it.
    let make = move |_| {
        if !opened.get_untracked() {
            opened.set(true);
        }
    };
    let wrong = move || desk.wrong_at(&own).map(|what| view! { <span class="mark" title=what>{"!"}</span> });
    view! {
        <details class="inner" open=on_the_way on:toggle=make>
            <summary>{label} {" "} {wrong}</summary>
            <div class="inside">{move || opened.get().then(&inside)}</div>
        </details>
    }
    .into_any()
}

fn present(desk: &Desk, place: &Path, field: &Field) -> AnyView {
    let away = (!field.required).then(|| {
        let (desk, place, label) = (desk.clone(), place.clone(), field.label.clone());
        let take = move |_| desk.edit(&format!("Taking out {label}"), vec![Edit::Clear(place.clone())]);
        view! { <button type="button" on:click=take>{format!("Take out: {}", field.label.to_lowercase())}</button> }
    });
    view! {
        {away}
        {value(desk, place, &field.kind, &field.label)}
    }
    .into_any()
}

fn missing(desk: &Desk, place: &Path, field: &Field) -> AnyView {
    let (desk, place, kind, label) = (desk.clone(), place.clone(), field.kind.clone(), field.label.clone());
    let add = move |_| desk.edit(&format!("Adding {label}"), vec![Edit::set(place.clone(), value_of(&kind, ""))]);
    view! { <button type="button" on:click=add>{"Add it"}</button> }.into_any()
}

/// A list of lines or of shapes.
fn list(desk: &Desk, place: &Path, item: &Kind, label: &str) -> AnyView {
    let count = {
        let (desk, place) = (desk.clone(), place.clone());
        Memo::new(move |_| desk.rows_at(&place))
    };
    let (desk, place, item, label) = (desk.clone(), place.clone(), item.clone(), label.to_owned());
    let add = {
        let (desk, place, item) = (desk.clone(), place.clone(), item.clone());
        move |_| {
            let last = desk.rows_at(&place);
            desk.edit("Adding an entry", vec![Edit::Insert(place.index(last), value_of(&item, ""))]);
        }
    };
    let rows = move || {
        let row = |index: usize| {
            let own = place.index(index);
            let (away, out) = (desk.clone(), own.clone());
            let name = format!("{label} {}", index.saturating_add(1));
            view! {
                <li>
                    {value(&desk, &own, &item, &name)}
                    <button type="button" aria-label=format!("Take out {name}") on:click=move |_| away.edit("Taking out an entry", vec![Edit::Remove(out.clone())])>{"Take out"}</button>
                </li>
            }
        };
        (0..count.get()).map(row).collect_view()
    };
    view! {
        <ul class="entries">{rows}</ul>
        <button type="button" on:click=add>{"Add an entry"}</button>
    }
    .into_any()
}

/// Keys of the maker's own, each with its value.
fn map(desk: &Desk, place: &Path, held: &Kind, label: &str) -> AnyView {
    let keys = {
        let (desk, place) = (desk.clone(), place.clone());
        Memo::new(move |_| desk.sheet.with(|sheet| keys_of(sheet.at(&place))))
    };
    let new_key = RwSignal::new(String::new());
    let add = {
        let (desk, place, held) = (desk.clone(), place.clone(), held.clone());
        move |_| {
            let key = new_key.get_untracked();
            if !key.trim().is_empty() {
                desk.edit(&format!("Adding {key}"), vec![Edit::set(place.key(key.trim()), value_of(&held, ""))]);
            }
        }
    };
    let (desk, place, held, label) = (desk.clone(), place.clone(), held.clone(), label.to_owned());
    let rows = move || {
        let row = |key: String| {
            let own = place.key(&key);
            let (away, out) = (desk.clone(), own.clone());
            view! {
                <li>
                    <span class="key">{key.clone()}</span>
                    {value(&desk, &own, &held, &format!("{label} {key}"))}
                    <button type="button" aria-label=format!("Take out {key}") on:click=move |_| away.edit("Taking out an entry", vec![Edit::Clear(out.clone())])>{"Take out"}</button>
                </li>
            }
        };
        keys.get().into_iter().map(row).collect_view()
    };
    view! {
        <ul class="entries">{rows}</ul>
        <div class="above">
            <label>{"New key "}<input type="text" on:input=move |event| new_key.set(event_target_value(&event)) /></label>
            <button type="button" on:click=add>{"Add it"}</button>
        </div>
    }
    .into_any()
}

fn keys_of(node: Option<&Node>) -> Vec<String> {
    match node {
        Some(Node::Table(entries)) => entries.iter().map(|(key, _)| key.clone()).collect(),
        _ => Vec::new(),
    }
}

/// One of several shapes: words, a line, or a table with one key that says which it is.
fn one_of(desk: &Desk, place: &Path, shapes: &[Kind], label: &str) -> AnyView {
    let mut names: Vec<(String, Option<Kind>)> = Vec::new();
    for shape in shapes {
        match shape {
            Kind::Choice(words) => names.extend(words.iter().map(|word| (word.clone(), None))),
            Kind::Table(fields) => {
                if let [field] = fields.as_slice() {
                    names.push((field.key.clone(), Some(field.kind.clone())));
                } else {
                    names.push(("sum of".to_owned(), Some(shape.clone())));
                }
            }
            other => names.push(("written".to_owned(), Some(other.clone()))),
        }
    }
    let now = {
        let (desk, place, names) = (desk.clone(), place.clone(), names.clone());
        Memo::new(move |_| desk.sheet.with(|sheet| shape_of(sheet.at(&place), &names)))
    };
    let change = {
        let (desk, place, names, label) = (desk.clone(), place.clone(), names.clone(), label.to_owned());
        move |event| {
            let word = event_target_value(&event);
            let shape = names.iter().find(|(name, _)| *name == word).and_then(|(_, kind)| kind.clone());
            desk.edit(&label, vec![Edit::set(place.clone(), fresh(&word, shape.as_ref()))]);
        }
    };
    let option = |(name, _): &(String, Option<Kind>)| {
        let own = name.clone();
        let chosen = move || now.with(|now| *now == own);
        view! { <option value=name.clone() prop:selected=chosen>{name.clone()}</option> }
    };
    let options = names.iter().map(option).collect_view();
    let (desk, place) = (desk.clone(), place.clone());
    let inside = move || {
        let word = now.get();
        let kind = names.iter().find(|(name, _)| *name == word).and_then(|(_, kind)| kind.clone())?;
        let own = if matches!(word.as_str(), "written" | "sum of") { place.clone() } else { place.key(&word) };
        Some(value(&desk, &own, &kind, &word))
    };
    view! {
        <select aria-label=label.to_owned() on:change=change>{options}</select>
        <div class="inside">{inside}</div>
    }
    .into_any()
}

/// Which of the shapes stands there.
fn shape_of(node: Option<&Node>, names: &[(String, Option<Kind>)]) -> String {
    let known = |word: &str| names.iter().any(|(name, _)| name == word);
    match node {
        Some(Node::Text(word)) if known(word) => word.clone(),
        Some(Node::Table(entries)) => match entries.as_slice() {
            [(key, _)] if known(key) => key.clone(),
            _ => "sum of".to_owned(),
        },
        _ => "written".to_owned(),
    }
}

/// A value of a shape that was just chosen.
fn fresh(word: &str, shape: Option<&Kind>) -> Node {
    match (word, shape) {
        (_, None) => Node::Text(word.to_owned()),
        ("written" | "sum of", Some(kind)) => value_of(kind, ""),
        (_, Some(kind)) => Node::Table(vec![(word.to_owned(), value_of(kind, ""))]),
    }
}
