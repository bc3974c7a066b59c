//! Rows of a table: a line each, found by a word, moved about in with the arrow keys, filled by pasting from a spreadsheet.

mod pasting;
mod stepping;

use leptos::ev::{ClipboardEvent, KeyboardEvent};
use leptos::prelude::*;
use scantling_pricing::book::document::Node;
use wasm_bindgen::JsCast;

use super::cell::cell;
use super::little::{Room, growing};
use super::paged::{pages, part};
use super::{focus, record};
use crate::desk::Desk;
use crate::form::{Field, Kind};
use crate::sheet::{Edit, Path};
use crate::units;

/// Rows above one that was gone to, so that it is seen what it stands among.
const ABOVE: usize = 2;

/// Cells that are made in one frame; each is a field with what is wrong with it.
const CELLS: usize = 40;

/// The grid of a list of tables.
pub(crate) fn grid(desk: &Desk, place: &Path, row: &Kind) -> AnyView {
    let Kind::Table(fields) = row else { return ().into_any() };
    let columns: Vec<Field> = fields.iter().filter(|field| field.kind.fits_a_cell()).cloned().collect();
    let wanted = RwSignal::new(String::new());
    let gone_to = desk.row_gone_to(place);
    let open: RwSignal<Option<usize>> = RwSignal::new(gone_to);
    let from = RwSignal::new(gone_to.unwrap_or(0).saturating_sub(ABOVE));
    let found = {
        let (desk, place) = (desk.clone(), place.clone());
        Memo::new(move |_| found(&desk, &place, &wanted.get()))
    };
    let heads = columns
        .iter()
        .map(|column| {
            let hint = units::explained(&column.label, &column.hint, desk.length_unit());
            view! { <th scope="col" title=hint>{column.label.clone()}</th> }
        })
        .collect_view();
    let rows = growing(move || found.with(|found| part(found, from.get())), room(columns.len()));
    let body = {
        let (desk, place, columns) = (desk.clone(), place.clone(), columns.clone());
        move |index: usize| line(&desk, &place, &columns, index, open)
    };
    let empty = {
        let (desk, place) = (desk.clone(), place.clone());
        move || found.with(Vec::is_empty).then(|| view! { <p class="note">{nothing(desk.rows_at(&place))}</p> })
    };
    let keys = move |event: KeyboardEvent| stepping::step(&event, found, from);
    let paste = {
        let (desk, place, columns) = (desk.clone(), place.clone(), columns);
        move |event: ClipboardEvent| pasting::pasted(&desk, &place, &columns, found, &event)
    };
    let opened = {
        let (desk, place, row) = (desk.clone(), place.clone(), row.clone());
        move || open.get().map(|index| opened(&desk, &place.index(index), &row, index, open))
    };
    let add = {
        let (desk, place) = (desk.clone(), place.clone());
        move |_| add_row(&desk, &place)
    };
    view! {
        <div class="above">
            <label>{"Find "}<input type="search" on:input=move |event| { from.set(0); wanted.set(event_target_value(&event)) } /></label>
            {move || pages(found.with(Vec::len), from)}
            <button type="button" on:click=add>{"Add a row"}</button>
        </div>
        {empty}
        <div class="scroll" hidden=move || found.with(Vec::is_empty)>
            <table class="grid" on:keydown=keys on:paste=paste>
                <thead><tr><th scope="col">{"Row"}</th>{heads}</tr></thead>
                <tbody><For each=move || rows.get() key=|index| *index children=body /></tbody>
            </table>
        </div>
        {opened}
    }
    .into_any()
}

/// What stands in place of a table that has no row to show, of so many there are.
const fn nothing(rows: usize) -> &'static str {
    if rows == 0 { "Nothing stands here yet. “Add a row” begins it." } else { "No row has that word in it." }
}

/// Rows with a word in them; all of them for no word.
fn found(desk: &Desk, place: &Path, wanted: &str) -> Vec<usize> {
    let wanted = wanted.trim().to_lowercase();
    desk.sheet.with(|sheet| {
        let Some(Node::List(rows)) = sheet.at(place) else { return Vec::new() };
        let has = |row: &Node| match row {
            Node::Table(entries) => entries.iter().any(|(_, value)| match value {
                Node::Text(text) => text.to_lowercase().contains(&wanted),
                Node::Int(number) => number.to_string().contains(&wanted),
                _ => false,
            }),
            _ => false,
        };
        let kept = rows.iter().enumerate().filter(|(_, row)| wanted.is_empty() || has(row));
        kept.map(|(index, _)| index).collect()
    })
}

/// How many rows a frame has room for. The row that was gone to is among the first.
fn room(columns: usize) -> Room {
    let more = CELLS.checked_div(columns).unwrap_or(1).max(1);
    Room { first: more.max(ABOVE.saturating_add(1)), more }
}

fn line(desk: &Desk, place: &Path, columns: &[Field], index: usize, open: RwSignal<Option<usize>>) -> AnyView {
    let row = place.index(index);
    let cells = columns.iter().enumerate().map(|(column, field)| {
        let name = format!("{}, row {}", field.label, index.saturating_add(1));
        let id = format!("c-{place}-{index}-{column}");
        view! { <td>{cell(desk, &row.key(&field.key), (&field.kind, field.required), &name, id)}</td> }
    });
    let wrong = {
        let (desk, row) = (desk.clone(), row.clone());
        move || desk.wrong_at(&row).map(|what| view! { <span class="mark" title=what>{"!"}</span> })
    };
    let (number, opens) = (index.saturating_add(1), row.clone());
    view! {
        <tr>
            <th scope="row">
                <button
                    type="button"
                    id=format!("b-{row}")
                    aria-label=format!("Open row {number}")
                    on:click=move |_| {
                        focus::goes_to(id_of_record(&opens));
                        open.set(Some(index));
                    }
                >{number}</button>
                {wrong}
            </th>
            {cells.collect_view()}
        </tr>
    }
    .into_any()
}

fn id_of_record(row: &Path) -> String {
    format!("o-{row}")
}

/// A row whole, with what no cell can hold.
fn opened(desk: &Desk, row: &Path, kind: &Kind, index: usize, open: RwSignal<Option<usize>>) -> AnyView {
    let (remove, copy, place) = (desk.clone(), desk.clone(), row.clone());
    let (copied, closed) = (row.clone(), row.clone());
    let number = index.saturating_add(1);
    view! {
        <section class="record" tabindex="-1" id=id_of_record(row) aria-label=format!("Row {number}")>
            <div class="above">
                <h3>{format!("Row {number}")}</h3>
                <button type="button" on:click=move |_| copy_row(&copy, &copied, index)>{"Copy it below"}</button>
                <button
                    type="button"
                    on:click=move |_| {
                        open.set(None);
                        remove.edit(&format!("Taking out row {number}"), vec![Edit::Remove(place.clone())]);
                    }
                >{"Take this row out"}</button>
                <button
                    type="button"
                    on:click=move |_| {
                        focus::goes_to(format!("b-{closed}"));
                        open.set(None);
                    }
                >{"Close"}</button>
            </div>
            {record::value(desk, row, kind, "")}
        </section>
    }
    .into_any()
}

/// A new row, like the last one but for its key: an empty one would be wrong in every column.
fn add_row(desk: &Desk, place: &Path) {
    match desk.rows_at(place) {
        0 => desk.edit("Adding a row", vec![Edit::Insert(place.index(0), Node::Table(Vec::new()))]),
        rows => copy_row(desk, &place.index(rows.saturating_sub(1)), rows.saturating_sub(1)),
    }
}

fn copy_row(desk: &Desk, row: &Path, index: usize) {
    let Some(mut copy) = desk.sheet.with_untracked(|sheet| sheet.at(row).cloned()) else { return };
    if let Node::Table(entries) = &mut copy
        && let Some((_, Node::Text(key))) = entries.iter_mut().find(|(key, _)| key == "key")
    {
        key.push_str("-copy");
    }
    if let Some((list, _)) = row.last() {
        let at = index.saturating_add(1);
        if desk.edited("Copying a row", vec![Edit::Insert(list.index(at), copy)]) {
            let number = at.saturating_add(1);
            let offered = list.first_key().is_some_and(|key| OFFERED.contains(&key.as_str()));
            let offered = if offered { " Buyers are offered it once a design names it, under Designs." } else { "" };
            desk.say(format!("Row {number} is like the one above it: give it a key and a name of its own.{offered}"));
        }
    }
}

/// Tables of what a buyer chooses from, as far as a design names it.
const OFFERED: [&str; 4] = ["timbers", "slabs", "sheets", "resins"];

/// The row and the column of the cell that an event came from, out of its id.
fn cell_of(target: &web_sys::EventTarget) -> Option<(usize, usize)> {
    let id = target.dyn_ref::<web_sys::Element>()?.id();
    let (rest, column) = id.strip_prefix("c-")?.rsplit_once('-')?;
    let (_, row) = rest.rsplit_once('-')?;
    Some((row.parse().ok()?, column.parse().ok()?))
}
