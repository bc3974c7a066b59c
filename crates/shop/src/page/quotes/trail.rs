//! What went out: each revision as it was, with its day and what differs from the one before.

use leptos::prelude::*;
use scantling_pricing::book::ShopBook;
use scantling_pricing::book::document::Node;
use scantling_pricing::quote::{Difference, differences};

use super::super::fields::button;
use super::super::jobs::begin_from_quote;
use super::today_s;
use crate::desk::Desk;
use crate::sheet::{Edit, Path};

/// The revisions, and the button that makes one of the quote as it stands.
pub(super) fn trail(desk: &Desk, place: &Path, index: usize, shown: RwSignal<Option<usize>>) -> AnyView {
    let own = place.key("revisions");
    let (source, job) = (desk.clone(), desk.clone());
    let (desk, at) = (desk.clone(), own);
    let send = move || {
        let Some(book) = desk.book_or_say() else { return };
        match today_s(&book, index) {
            Ok(revision) => match said_already(&book, index, &revision) {
                Some(number) => desk.say(format!("Nothing differs from revision {number}: there is nothing to keep.")),
                None => keep(&desk, &at, revision),
            },
            Err(why) => desk.say(why),
        }
        shown.set(None);
    };
    let list = move || {
        let book = source.book()?;
        Some(revisions(&book, index, shown))
    };
    view! {
        <fieldset tabindex="-1">
            <legend>{"What went out"}</legend>
            {list}
            <div class="above">
                {button("Keep it as it goes out today", send)}
                {button("Begin a job from what went out last", move || begin_from_quote(&job, index))}
            </div>
        </fieldset>
    }
    .into_any()
}

/// The number of the last revision, when it says the same.
fn said_already(book: &ShopBook, index: usize, revision: &Node) -> Option<usize> {
    let sent = &book.quotes.get(index)?.revisions;
    (super::super::fields::node_of(sent.last()?)? == *revision).then_some(sent.len())
}

fn keep(desk: &Desk, own: &Path, revision: Node) {
    let (there, rows) = (desk.sheet.with_untracked(|sheet| sheet.at(own).is_some()), untrack(|| desk.rows_at(own)));
    let list = (!there).then(|| Edit::set(own.clone(), Node::List(Vec::new())));
    let edits = list.into_iter().chain(std::iter::once(Edit::Insert(own.index(rows), revision))).collect();
    if !desk.edited("Keeping what went out", edits) {
        return;
    }
    desk.judge();
    desk.say(format!("Kept as revision {}. It is not changed any more.", rows.saturating_add(1)));
}

fn revisions(book: &ShopBook, index: usize, shown: RwSignal<Option<usize>>) -> AnyView {
    let Some(quote) = book.quotes.get(index) else { return ().into_any() };
    if quote.revisions.is_empty() {
        return view! { <p class="note">{"Nothing has gone out yet."}</p> }.into_any();
    }
    let currency = book.shop.currency.to_string();
    let each = quote.revisions.iter().enumerate().map(|(at, revision)| {
        let number = at.saturating_add(1);
        let before = at.checked_sub(1).and_then(|before| quote.revisions.get(before));
        let changed: Vec<String> =
            before.map_or_else(Vec::new, |before| differences(before, revision).iter().map(words).collect());
        let changed = changed.into_iter().map(|what| view! { <li>{what}</li> }).collect_view();
        let current = move || (shown.get() == Some(at)).then_some("true");
        view! {
            <li>
                <button type="button" aria-current=current on:click=move |_| shown.set(Some(at))>
                    {format!("Revision {number}, {}: {} {currency} to pay, stands until {}", revision.written.as_str(), revision.to_pay.value(), revision.until.as_str())}
                </button>
                <ul class="note">{changed}</ul>
            </li>
        }
    });
    let each = each.collect_view();
    let as_now = move |_| shown.set(None);
    view! {
        <ol class="entries trail">{each}</ol>
        <p><button type="button" on:click=as_now>{"Show it as it stands now"}</button></p>
    }
    .into_any()
}

fn words(one: &Difference) -> String {
    match one {
        Difference::Line(line, was, is) => format!("{line}: {was} to {is}"),
        Difference::ToPay(was, is) => format!("to pay: {was} to {is}"),
        Difference::Brief => "what is built, or how it is brought, is another".to_owned(),
        Difference::Until(was, is) => format!("stands until {} instead of {}", is.as_str(), was.as_str()),
        Difference::Stages => "what is paid when is another".to_owned(),
        Difference::Terms => "the terms are others".to_owned(),
        Difference::Excluded => "what is left out is another".to_owned(),
    }
}
