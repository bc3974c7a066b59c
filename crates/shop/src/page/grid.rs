//! Rows of a table: a line each, found by a word, moved about in with the arrow keys, filled by pasting from a spreadsheet.

use leptos::ev::{ClipboardEvent, KeyboardEvent};
use leptos::prelude::*;
use scantling_pricing::book::document::Node;
use wasm_bindgen::JsCast;

use super::cell::{cell, value_of};
use super::{focus, record};
use crate::desk::Desk;
use crate::form::{Field, Kind};
use crate::sheet::{Edit, Path};

/// Rows on the page at once: more would make every keystroke wait.
const AT_ONCE: usize = 40;

/// The grid of a list of tables.
pub(crate) fn grid(desk: &Desk, place: &Path, row: &Kind) -> AnyView {
    let Kind::Table(fields) = row else { return ().into_any() };
    let columns: Vec<Field> = fields.iter().filter(|field| field.kind.fits_a_cell()).cloned().collect();
    let wanted = RwSignal::new(String::new());
    let gone_to = desk.row_gone_to(place);
    let open: RwSignal<Option<usize>> = RwSignal::new(gone_to);
    let from = RwSignal::new(gone_to.unwrap_or(0).saturating_sub(AT_ONCE.div_euclid(2)));
    let found = {
        let (desk, place) = (desk.clone(), place.clone());
        Memo::new(move |_| found(&desk, &place, &wanted.get()))
    };
    let heads = columns
        .iter()
        .map(|column| view! { <th scope="col" title=column.hint.clone()>{column.label.clone()}</th> })
        .collect_view();
    let body = {
        let (desk, place, columns) = (desk.clone(), place.clone(), columns.clone());
        move || {
            let shown: Vec<usize> = found.with(|found| found.iter().skip(from.get()).take(AT_ONCE).copied().collect());
            shown.into_iter().map(|index| line(&desk, &place, &columns, index, open)).collect_view()
        }
    };
    let empty = {
        let (desk, place) = (desk.clone(), place.clone());
        move || found.with(Vec::is_empty).then(|| view! { <p class="note">{nothing(desk.rows_at(&place))}</p> })
    };
    let keys = |event: KeyboardEvent| step(&event);
    let paste = {
        let (desk, place, columns) = (desk.clone(), place.clone(), columns);
        move |event: ClipboardEvent| pasted(&desk, &place, &columns, &event)
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
                <tbody>{body}</tbody>
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

fn pages(count: usize, from: RwSignal<usize>) -> impl IntoView {
    let start = from.get();
    let last = start.saturating_add(AT_ONCE).min(count);
    (count > AT_ONCE).then(|| {
        view! {
            <span class="pages">
                <button type="button" disabled=start == 0 on:click=move |_| from.set(start.saturating_sub(AT_ONCE))>{"Earlier"}</button>
                {format!(" {} to {last} of {count} ", start.saturating_add(1))}
                <button type="button" disabled=last == count on:click=move |_| from.set(last)>{"Later"}</button>
            </span>
        }
    })
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

/// Up, down and Enter go to the same column of the next row.
fn step(event: &KeyboardEvent) {
    let by: i64 = match event.key().as_str() {
        "ArrowUp" => -1,
        "ArrowDown" | "Enter" => 1,
        _ => return,
    };
    let Some(here) = event.target().and_then(|target| target.dyn_into::<web_sys::HtmlInputElement>().ok()) else {
        return;
    };
    let id = here.id();
    let Some((rest, column)) = id.rsplit_once('-') else { return };
    let Some((start, row)) = rest.rsplit_once('-') else { return };
    let Some(row) = row.parse::<i64>().ok().and_then(|row| row.checked_add(by)) else { return };
    let next = format!("{start}-{row}-{column}");
    let there = here.owner_document().and_then(|document| document.get_element_by_id(&next));
    if let Some(there) = there.and_then(|there| there.dyn_into::<web_sys::HtmlElement>().ok()) {
        event.prevent_default();
        // Leaving a field takes what was typed into it.
        let _nowhere = there.focus();
    }
}

/// Cells copied from a spreadsheet, tabs between columns and lines between rows, from the cell they are pasted into on.
fn pasted(desk: &Desk, place: &Path, columns: &[Field], event: &ClipboardEvent) {
    let text = event.clipboard_data().and_then(|data| data.get_data("text/plain").ok()).unwrap_or_default();
    if !text.contains(['\t', '\n']) {
        return;
    }
    let Some(here) = event.target().and_then(|target| target.dyn_into::<web_sys::HtmlElement>().ok()) else { return };
    let id = here.id();
    let mut ends = id.rsplit('-').map(|part| part.parse::<usize>().ok());
    let (Some(Some(column)), Some(Some(row))) = (ends.next(), ends.next()) else { return };
    event.prevent_default();
    let edits = cells_of(&text, (row, column), place, columns, desk.rows_at(place));
    desk.edit("Pasting", edits);
}

/// The edits that pasting is: rows that are not there yet are added, columns beyond the last are left out.
pub(crate) fn cells_of(
    text: &str,
    (row, column): (usize, usize),
    place: &Path,
    columns: &[Field],
    rows: usize,
) -> Vec<Edit> {
    let mut edits = Vec::new();
    for (down, line) in text.trim_end_matches(['\r', '\n']).lines().enumerate() {
        let index = row.saturating_add(down);
        if index >= rows {
            edits.push(Edit::Insert(place.index(index), Node::Table(Vec::new())));
        }
        for (field, written) in columns.iter().skip(column).zip(line.split('\t')) {
            let written = written.trim();
            let value = if field.kind == Kind::Switch { written.to_lowercase() } else { written.to_owned() };
            if !value.is_empty() {
                edits.push(Edit::set(place.index(index).key(&field.key), value_of(&field.kind, &value)));
            }
        }
    }
    edits
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::Sheet;

    #[test]
    fn what_is_pasted_from_a_spreadsheet_fills_cells_and_adds_rows() {
        let field =
            |key: &str, kind| Field { key: key.into(), label: key.into(), hint: String::new(), kind, required: true };
        let columns = [field("name", Kind::Words), field("count", Kind::Whole), field("sold", Kind::Switch)];
        let mut sheet = Sheet::open(r#"{"rows": [{"name": "a", "count": 1}, {"name": "b", "count": 2}]}"#).unwrap();
        let place = Path::read("rows");
        let edits = cells_of("7\tTRUE\tbeyond\r\neight\tfalse\r\n9\r\n", (1, 1), &place, &columns, 2);
        assert!(sheet.edit("pasting", edits));
        let text: String = sheet.text().split_whitespace().collect();
        let expected = r#"{"rows":[{"name":"a","count":1},{"name":"b","count":7,"sold":true},{"count":"eight","sold":false},{"count":9}]}"#;
        assert_eq!(text, expected);
        sheet.undo();
        assert_eq!(sheet.at(&Path::read("rows[1].count")), Some(&Node::Int(2)));
    }
}
