//! Jobs: begun from a quote, a request or by hand, with what each really took held against what was said.

mod account;
mod begin;
mod clock;
mod cut_out;
mod hours;
mod taken;

pub(crate) use begin::{begin_from, begin_from_quote};

use std::collections::BTreeMap;

use leptos::prelude::*;
use scantling_pricing::book::document::Node;
use scantling_pricing::jobs::{job_lines, jobs};

use super::fields::{button, field, text_of};
use super::keeping::{NOT_WRITTEN, saved};
use super::listed::{Names, listed};
use super::payments::{currency, of_job, payments};
use super::record;
use super::today::today;
use crate::desk::{Desk, Section};
use crate::owing::by_quote;
use crate::sheet::{Edit, Path};

const NAMES: Names =
    Names { list: "jobs", title: "Jobs", empty: "None yet. Begin one below, or from a request or a quote." };

/// The section.
pub(crate) fn section(desk: &Desk) -> AnyView {
    let (all, lines) = (desk.clone(), desk.clone());
    let grid = {
        let (desk, place) = (desk.clone(), Path::whole().key(NAMES.list));
        let (own, at) = (desk.clone(), place.clone());
        let grid = move || match own.kind.field(NAMES.list) {
            Some(field) => record::value(&own, &at, &field.kind, &field.label),
            None => ().into_any(),
        };
        record::folded(&desk, &place, || "All jobs as a grid".to_owned(), grid)
    };
    let owing = owing(desk);
    view! {
        <section aria-label="Jobs">
            <h2>{"Jobs"}</h2>
            <p class="note">{"What a job really took stands beside what was said as it was begun. Once it is finished, What jobs teach reads it."}</p>
            {listed(desk, &NAMES, move |row| owing.with(|owing| line(row, owing)), open)}
            {begin::by_hand(desk)}
            <h3>{"For a spreadsheet"}</h3>
            <div class="above">
                {button("Write jobs.csv, a row a job", move || export(&all, "jobs.csv"))}
                {button("Write job-lines.csv, a row a line", move || export(&lines, "job-lines.csv"))}
            </div>
            {grid}
        </section>
    }
    .into_any()
}

/// What is owed of each quote, by its key.
fn owing(desk: &Desk) -> Memo<BTreeMap<String, String>> {
    let (desk, currency) = (desk.clone(), currency(desk));
    Memo::new(move |_| desk.sheet.with(|sheet| by_quote(sheet.root(), currency.get())))
}

fn line(row: &Node, owing: &BTreeMap<String, String>) -> String {
    let design = text_of(row, "design").unwrap_or_default();
    let buyer = text_of(row, "buyer").map_or_else(String::new, |buyer| format!(" for {buyer}"));
    let done = text_of(row, "finished").map_or_else(|| "on the bench".to_owned(), |day| format!("finished {day}"));
    let Node::Table(entries) = row else { return String::new() };
    let runs =
        entries.iter().any(|(key, value)| key == "running" && matches!(value, Node::List(rows) if !rows.is_empty()));
    let runs = if runs { "; a clock runs" } else { "" };
    let owed = text_of(row, "quote").and_then(|quote| owing.get(quote)).filter(|owed| !owed.is_empty());
    let owed = owed.map_or_else(String::new, |owed| format!("; {owed}"));
    format!("{design}{buyer}, {done}{runs}{owed}")
}

fn export(desk: &Desk, name: &str) {
    let Some(book) = desk.book_or_say() else { return };
    let text = if name == "jobs.csv" { jobs(&book) } else { job_lines(&book) };
    match text {
        Ok(text) if saved(name, &text) => desk.say(format!("{name} is written.")),
        Ok(_) => desk.say(NOT_WRITTEN),
        Err(fault) => desk.say(fault.to_string()),
    }
}

/// The open job.
fn open(desk: &Desk, index: usize) -> AnyView {
    let place = Path::whole().key(NAMES.list).index(index);
    let title = {
        let (desk, place, owing) = (desk.clone(), place.clone(), owing(desk));
        move || {
            desk.sheet.with(|sheet| {
                let row = sheet.at(&place)?;
                Some(format!("{}: {}", text_of(row, "key").unwrap_or_default(), owing.with(|owing| line(row, owing))))
            })
        }
    };
    let (away, out) = (desk.clone(), place.clone());
    let take_out = move || away.edit("Taking out a job", vec![Edit::Remove(out.clone())]);
    view! {
        <section class="record" tabindex="-1" aria-label="The job">
            <h3>{title}</h3>
            {hours::hours(desk, &place)}
            {taken::taken(desk, &place)}
            {money(desk, &place)}
            {of_its_quote(desk, &place)}
            {field(desk, &place.key("note"), "Note")}
            {account::account(desk, index)}
            {button("Take the job out", take_out)}
        </section>
    }
    .into_any()
}

/// The payments of the quote a job comes from, with the way to it.
fn of_its_quote(desk: &Desk, job: &Path) -> impl IntoView + use<> {
    let (desk, quote) = (desk.clone(), of_job(desk, job));
    move || {
        quote.get().map(|quote| {
            let key = untrack(|| desk.words_at(&quote.key("key")));
            let (there, words) = (desk.clone(), format!("Open quote {key}"));
            view! {
                {payments(&desk, &quote)}
                <p>{button(&words, move || there.go(Section::Quotes, &key))}</p>
            }
        })
    }
}

/// What came in, what carriage and payments took, and when it was done.
fn money(desk: &Desk, place: &Path) -> AnyView {
    let (paid, at) = (desk.clone(), place.clone());
    let as_said = move || {
        let words = |place: &Path| untrack(|| paid.words_at(place));
        let mut edits = vec![Edit::set(at.key("paid"), Node::Text(words(&at.key("estimated"))))];
        let carriage = words(&at.key("said").key("carriage_charged"));
        if !carriage.is_empty() && carriage != "0" {
            edits.push(Edit::set(at.key("carriage_paid"), Node::Text(carriage)));
        }
        paid.edit("Paid as said", edits);
    };
    let (done, own) = (desk.clone(), place.clone());
    let finish = move || {
        let Some(day) = today() else { return };
        let runs = untrack(|| done.rows_at(&own.key("running"))) > 0;
        if runs {
            return done.say("A clock runs still: stop it first.");
        }
        if done.edited("Finishing a job", vec![Edit::set(own.key("finished"), Node::Text(day.as_str().to_owned()))]) {
            done.say("Finished. What jobs teach reads it now.");
        }
    };
    view! {
        <fieldset tabindex="-1">
            <legend>{"What came in, and when it was done"}</legend>
            <div class="fields">
                {field(desk, &place.key("paid"), "Paid for the piece, tax apart")}
                {field(desk, &place.key("carriage_paid"), "Paid for carriage besides, tax apart")}
                {field(desk, &place.key("fees"), "Fees of the payments; empty: as the book reckons them")}
                {field(desk, &place.key("carriage"), "Carriage really paid")}
                {field(desk, &place.key("started"), "Begun")}
                {field(desk, &place.key("finished"), "Finished; empty: on the bench still")}
            </div>
            <div class="above">
                {button("Paid as said", as_said)}
                {button("Finished today", finish)}
            </div>
        </fieldset>
    }
    .into_any()
}
