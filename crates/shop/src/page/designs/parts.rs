//! The parts of a design, each folded away under its name: measures as linear forms, places as distances from left, front and floor.

use leptos::prelude::*;
use scantling_pricing::book::document::Node;

use crate::desk::Desk;
use crate::form::{Field, Kind};
use crate::page::measure::measure;
use crate::page::record::{folded, labelled};
use crate::scaffold;
use crate::sheet::{Edit, Path};

/// The form of the parts.
pub(super) fn parts(desk: &Desk, design: &Path, field: &Field) -> AnyView {
    let Some(Kind::Table(fields)) = field.kind.rows() else { return ().into_any() };
    let list = design.key("parts");
    let count = {
        let (desk, list) = (desk.clone(), list.clone());
        Memo::new(move |_| desk.rows_at(&list))
    };
    let each = {
        let (desk, list, fields) = (desk.clone(), list.clone(), fields.clone());
        move || (0..count.get()).map(|index| part(&desk, &list, index, &fields)).collect_view()
    };
    let add = {
        let (desk, design) = (desk.clone(), design.clone());
        move |_| {
            let part = desk.sheet.with_untracked(|sheet| scaffold::part(sheet.root(), &design));
            let last = desk.rows_at(&list);
            desk.edit("Adding a part", vec![Edit::Insert(list.index(last), part)]);
        }
    };
    view! {
        <section class="parts" aria-label="Parts">
            <h3>{"Parts"}</h3>
            {each}
            <button type="button" on:click=add>{"Add a part"}</button>
        </section>
    }
    .into_any()
}

fn part(desk: &Desk, list: &Path, index: usize, fields: &[Field]) -> AnyView {
    let own = list.index(index);
    let name = {
        let (desk, own) = (desk.clone(), own.clone());
        move || {
            let name = desk.words_at(&own.key("name"));
            if name.is_empty() { format!("Part {}", index.saturating_add(1)) } else { name }
        }
    };
    let body = {
        let (desk, list, fields) = (desk.clone(), list.clone(), fields.to_vec());
        move || form(&desk, &list, index, &fields)
    };
    folded(desk, &own, name, body)
}

fn form(desk: &Desk, list: &Path, index: usize, fields: &[Field]) -> AnyView {
    let own = list.index(index);
    let order =
        ["key", "name", "role", "length", "width", "thickness", "at", "lies", "copies", "joints", "finished", "shaped"];
    let mut fields: Vec<&Field> = fields.iter().collect();
    fields.sort_by_key(|field| order.iter().position(|key| *key == field.key).unwrap_or(order.len()));
    let one = |field: &&Field| match field.key.as_str() {
        "at" => corner(desk, &own),
        "role" => role(desk, list, &own, field),
        _ => labelled(desk, &own, field),
    };
    let (copy, out, from, place) = (desk.clone(), desk.clone(), own.clone(), own.clone());
    let copy = move |_| {
        let copied = copy.sheet.with_untracked(|sheet| scaffold::copy(sheet.root(), &from));
        if let (Some(part), Some((list, _))) = (copied, from.last()) {
            copy.edit("Copying a part", vec![Edit::Insert(list.index(index.saturating_add(1)), part)]);
        }
    };
    let out = move |_| out.edit("Taking out a part", vec![Edit::Remove(place.clone())]);
    view! {
        <div class="above">
            <button type="button" on:click=copy>{"Copy the part"}</button>
            <button type="button" on:click=out>{"Take the part out"}</button>
        </div>
        {fields.iter().map(one).collect_view()}
    }
    .into_any()
}

/// Of which of the design's roles it is.
fn role(desk: &Desk, parts: &Path, own: &Path, field: &Field) -> AnyView {
    let keys = {
        let (desk, roles) = (desk.clone(), parts.last().map_or_else(Path::whole, |(design, _)| design.key("roles")));
        Memo::new(move |_| {
            let key = |index: usize| desk.words_at(&roles.index(index).key("key"));
            (0..desk.rows_at(&roles)).map(key).filter(|key| !key.is_empty()).collect::<Vec<String>>()
        })
    };
    let (desk, own, field) = (desk.clone(), own.clone(), field.clone());
    let form = move || {
        let mut keys = keys.get();
        // A role that is not there, or not any more, is still shown as it is written.
        let held = desk.words_untracked(&own.key("role").to_string());
        if !keys.contains(&held) {
            keys.push(held);
        }
        labelled(&desk, &own, &Field { kind: Kind::Choice(keys), ..field.clone() })
    };
    form.into_any()
}

/// Where its corner stands that is nearest the front left floor.
fn corner(desk: &Desk, part: &Path) -> AnyView {
    let at = part.key("at");
    let there = {
        let (desk, at) = (desk.clone(), at.clone());
        Memo::new(move |_| desk.rows_at(&at) == 3)
    };
    let desk = desk.clone();
    let inside = move || {
        if there.get() {
            let three = [(0, "From the left"), (1, "From the front"), (2, "From the floor")];
            three.map(|(axis, name)| measure(&desk, &at.index(axis), name)).into_iter().collect_view().into_any()
        } else {
            let (desk, at) = (desk.clone(), at.clone());
            let floor = || Node::Text("0 in".to_owned());
            let add = move |_| {
                desk.edit("Placing a part", vec![Edit::set(at.clone(), Node::List(vec![floor(), floor(), floor()]))]);
            };
            view! { <button type="button" on:click=add>{"Place it"}</button> }.into_any()
        }
    };
    view! { <div role="group" aria-label="Where it stands">{inside}</div> }.into_any()
}
