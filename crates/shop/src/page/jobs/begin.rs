//! How a job is begun: from a request, from what a quote said last, or by hand.

use leptos::prelude::*;
use scantling_pricing::book::ShopBook;
use scantling_pricing::book::job::Job;
use scantling_pricing::book::values::{Amount, Key, Text};
use scantling_pricing::brief::Brief;
use scantling_pricing::delivery::CarriageQuote;
use scantling_pricing::jobs::{Begun, begin};

use super::super::asked::{Typed, form};
use super::super::fields::{button, next_key, node_of};
use super::super::quotes::found;
use super::super::requests::add;
use super::super::today::today;
use super::NAMES;
use crate::basket::why_not;
use crate::desk::{Desk, Section};

/// Begins a job for a brief, and opens it.
pub(crate) fn begin_from(desk: &Desk, brief: &Brief, quoted: Option<&CarriageQuote>, buyer: Option<&Text>) {
    let Some(book) = desk.book_or_say() else { return };
    begun(desk, &book, brief, (quoted, buyer.cloned(), None));
}

/// Begins a job from the last revision of a quote, and opens it.
pub(crate) fn begin_from_quote(desk: &Desk, index: usize) {
    let Some(book) = desk.book_or_say() else { return };
    let Some((quote, request)) = found(&book, index) else { return };
    let Some(last) = quote.revisions.last() else {
        return desk.say("Nothing has gone out yet: keep a revision first.");
    };
    let sums = (quote.key.clone(), last.piece, last.carriage);
    begun(desk, &book, &last.brief, (request.quoted.as_ref(), Some(request.from.name.clone()), Some(sums)));
}

type From<'a> = (Option<&'a CarriageQuote>, Option<Text>, Option<(Key, Amount, Amount)>);

fn begun(desk: &Desk, book: &ShopBook, brief: &Brief, (quoted, buyer, quote): From<'_>) {
    let name = next_key(desk, NAMES.list, "job");
    let (Ok(key), Some(day)) = (Key::new(&name), today()) else { return };
    match begin(book, brief, Begun { key, day, buyer, quote, quoted }) {
        Ok(job) => keep(desk, &name, &job),
        Err(problems) => {
            desk.say(format!("It can't be built as asked: {}", why_not(&problems, book.shop.units.length_unit())));
        }
    }
}

fn keep(desk: &Desk, name: &str, job: &Job) {
    let Some(row) = node_of(job) else { return };
    if !add(desk, NAMES.list, row, &format!("Beginning {name}")) {
        return;
    }
    desk.go(Section::Jobs, name);
    desk.say(format!("{name} is begun. What was said of it is written down and stays."));
}

/// The form for a job nobody has asked for in writing.
pub(super) fn by_hand(desk: &Desk) -> AnyView {
    let typed = RwSignal::new(Typed::default());
    let buyer = RwSignal::new(String::new());
    let own = desk.clone();
    let press = move || {
        let Some(book) = own.book_or_say() else { return };
        match typed.with_untracked(|typed| typed.brief(&book)) {
            Ok(brief) => {
                let buyer = Text::new(buyer.get_untracked().trim()).ok();
                begun(&own, &book, &brief, (None, buyer, None));
            }
            Err(_) => own.say("The piece can't be built as typed: what is wrong stands beside its field."),
        }
    };
    view! {
        <details class="inner">
            <summary>{"Begin a job by hand"}</summary>
            <div class="field">
                <label for="begun-buyer">{"For whom"}</label>
                <input id="begun-buyer" type="text" autocomplete="off" on:input=move |event| buyer.set(event_target_value(&event)) />
            </div>
            {form(desk, "begun", typed)}
            {button("Begin the job", press)}
        </details>
    }
    .into_any()
}
