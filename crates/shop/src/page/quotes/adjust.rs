//! Lines brought to another sum, each with its reason.

use leptos::prelude::*;
use scantling_pricing::book::document::Node;
use scantling_pricing::book::read::Read;
use scantling_pricing::book::values::{Amount, Text};
use scantling_pricing::quote::ONE_MORE;

use super::super::fields::{bare, button};
use super::super::scrolled::scrolled;
use super::firm;
use crate::comma::{plain, unclear};
use crate::desk::Desk;
use crate::sheet::{Edit, Path};

/// What is adjusted, and the form for one more.
pub(super) fn form(desk: &Desk, place: &Path, index: usize) -> AnyView {
    let own = place.key("adjusted");
    let count = {
        let (desk, own) = (desk.clone(), own.clone());
        Memo::new(move |_| desk.rows_at(&own))
    };
    let rows = {
        let (desk, own) = (desk.clone(), own.clone());
        move || (count.get() > 0).then(|| adjusted(&desk, &own, count.get()))
    };
    view! {
        <fieldset tabindex="-1">
            <legend>{"Lines brought to another sum"}</legend>
            {rows}
            {one_more(desk, &own, index)}
        </fieldset>
    }
    .into_any()
}

fn adjusted(desk: &Desk, own: &Path, count: usize) -> AnyView {
    let row = |at: usize| {
        let place = own.index(at);
        let name = untrack(|| desk.words_at(&place.key("line")));
        let (away, out) = (desk.clone(), place.clone());
        let take_out = move |_| away.edit("Taking out an adjustment", vec![Edit::Remove(out.clone())]);
        view! {
            <tr>
                <th scope="row">{name.clone()}</th>
                <td>{bare(desk, &place.key("amount"), &format!("What {name} comes to"))}</td>
                <td>{bare(desk, &place.key("reason"), &format!("Why {name} is adjusted"))}</td>
                <td>{bare(desk, &place.key("shown"), &format!("Tell the buyer of {name}"))}</td>
                <td><button type="button" aria-label=format!("Take out {name}") on:click=take_out>{"Take out"}</button></td>
            </tr>
        }
    };
    let rows = (0..count).map(row).collect_view();
    let table = view! {
            <table class="grid">
                <thead>
                    <tr>
                        <th scope="col">{"Line"}</th>
                        <th scope="col">{"Comes to"}</th>
                        <th scope="col">{"Why"}</th>
                        <th scope="col">{"Told to the buyer"}</th>
                        <th scope="col">{"Row"}</th>
                    </tr>
                </thead>
                <tbody>{rows}</tbody>
            </table>
    };
    scrolled("Lines that are adjusted", table)
}

/// What is typed for one more.
#[derive(Clone, Copy)]
struct Wanted {
    line: RwSignal<String>,
    name: RwSignal<String>,
    amount: RwSignal<String>,
    reason: RwSignal<String>,
    told: RwSignal<bool>,
    /// What is wrong with the name, the sum and the reason.
    wrong: RwSignal<[String; 3]>,
}

fn one_more(desk: &Desk, own: &Path, index: usize) -> AnyView {
    let fresh = || RwSignal::new(String::new());
    let wanted = Wanted {
        line: fresh(),
        name: fresh(),
        amount: fresh(),
        reason: fresh(),
        told: RwSignal::new(false),
        wrong: RwSignal::new(Default::default()),
    };
    let lines = {
        let desk = desk.clone();
        Memo::new(move |_| {
            let firm = desk.book().and_then(|book| firm(&book, index).ok());
            firm.map_or_else(Vec::new, |firm| {
                let open = firm.lines.iter().filter(|line| line.reason.is_none());
                open.map(|line| (line.line.clone(), line.amount.to_string())).collect::<Vec<_>>()
            })
        })
    };
    let options = move || {
        let each = lines.get().into_iter().map(|(line, amount)| {
            let words = format!("{line}, {amount}");
            view! { <option value=line>{words}</option> }
        });
        each.collect_view()
    };
    let (desk, own) = (desk.clone(), own.clone());
    let press = move || adjust(&desk, &own, &wanted);
    let more = move || {
        wanted
            .line
            .with(String::is_empty)
            .then(|| typed("adjust-name", "What the line is for", (wanted.name, wanted.wrong, 0)))
    };
    let tick = move |event| wanted.told.set(event_target_checked(&event));
    view! {
        <div class="fields">
            <div class="field">
                <label for="adjust-line">{"Line"}</label>
                <select id="adjust-line" prop:value=move || wanted.line.get() on:change=move |event| wanted.line.set(event_target_value(&event))>
                    <option value="">{"One more line"}</option>
                    {options}
                </select>
            </div>
            {more}
            {typed("adjust-amount", "What it is to come to, tax apart", (wanted.amount, wanted.wrong, 1))}
            {typed("adjust-reason", "Why", (wanted.reason, wanted.wrong, 2))}
            <div class="tick">
                <input id="adjust-told" type="checkbox" prop:checked=move || wanted.told.get() on:change=tick />
                <label for="adjust-told">{"Tell the buyer of it, with the reason"}</label>
            </div>
        </div>
        {button("Bring the line to that sum", press)}
    }
    .into_any()
}

fn typed(
    id: &'static str,
    label: &'static str,
    (held, wrong, at): (RwSignal<String>, RwSignal<[String; 3]>, usize),
) -> AnyView {
    let fault = format!("{id}-fault");
    let told = move || wrong.with(|wrong| wrong.get(at).cloned().unwrap_or_default());
    let invalid = move || if told().is_empty() { "false" } else { "true" };
    view! {
        <div class="field">
            <label for=id>{label}</label>
            <input
                id=id
                type="text"
                autocomplete="off"
                aria-describedby=fault.clone()
                aria-invalid=invalid
                prop:value=move || held.get()
                on:input=move |event| held.set(event_target_value(&event))
            />
            <span class="fault" id=fault>{told}</span>
        </div>
    }
    .into_any()
}

/// Adds the adjustment, when all of it is right.
fn adjust(desk: &Desk, own: &Path, wanted: &Wanted) {
    let held = |signal: RwSignal<String>| signal.get_untracked().trim().to_owned();
    let (line, amount, reason) = (held(wanted.line), held(wanted.amount), held(wanted.reason));
    let name = if line.is_empty() { held(wanted.name) } else { line };
    let words = |text: &str| Text::new(text).err().unwrap_or_default();
    let amount = plain(&amount).into_owned();
    let of_amount = Amount::read(&Node::Text(amount.clone())).err();
    let of_amount = of_amount.map(|fault| unclear(&amount).unwrap_or_else(|| fault.fault.to_string()));
    let wrong = [words(&name), of_amount.unwrap_or_default(), words(&reason)];
    let right = wrong.iter().all(String::is_empty);
    wanted.wrong.set(wrong);
    if !right {
        return;
    }
    let line = if wanted.line.with_untracked(String::is_empty) { format!("{ONE_MORE} {name}") } else { name };
    let told = wanted.told.get_untracked();
    let row = [
        ("line", Node::Text(line.clone())),
        ("amount", Node::Text(amount)),
        ("reason", Node::Text(reason)),
        ("shown", Node::Bool(told)),
    ];
    let row = Node::Table(row.map(|(key, value)| (key.to_owned(), value)).to_vec());
    let (there, rows) = (desk.sheet.with_untracked(|sheet| sheet.at(own).is_some()), untrack(|| desk.rows_at(own)));
    let list = (!there).then(|| Edit::set(own.clone(), Node::List(Vec::new())));
    let edits = list.into_iter().chain(std::iter::once(Edit::Insert(own.index(rows), row))).collect();
    desk.edit(&format!("Adjusting {line}"), edits);
    for signal in [wanted.line, wanted.name, wanted.amount, wanted.reason] {
        signal.set(String::new());
    }
    wanted.told.set(false);
}
