//! The price book to publish: what became public, how it differs from what was published last, the file and the lines to paste.

mod last;

use leptos::prelude::*;
use scantling_pricing::book::ShopBook;
use scantling_pricing::book::document::Node;
use scantling_pricing::publish::{Basis, fold};

use super::copied;
use super::demo;
use super::keeping::{NOT_WRITTEN, saved};
use super::today::today;
use crate::desk::Desk;
use crate::public::{private, public};
use crate::sheet::{Edit, Path};
use crate::snippet;
use last::{Last, against, remember};

/// Where the lines for a page stand.
const SNIPPET: &str = "snippet";

/// The price book of a book, as it is written.
fn folded(book: &ShopBook) -> Option<String> {
    serde_json::to_string(&fold(book, Basis::Selling).ok()?).ok()
}

/// The section.
pub(crate) fn section(desk: &Desk) -> impl IntoView + use<> {
    let last = RwSignal::new(Last::remembered());
    let (source, save) = (desk.clone(), desk.clone());
    let price_book = Memo::new(move |_| Node::read(&folded(source.book()?.as_ref())?).ok());
    // What was typed a moment ago is in it, too.
    let write = move |_| match save.book_or_say().map(|book| folded(&book)) {
        Some(Some(text)) if saved("price-book.json", &text) => {
            let known = remember(text);
            // What the one before differed in stays to be read.
            if last.with_untracked(Option::is_none) {
                last.set(Last::remembered());
            }
            save.say(if known { WRITTEN.to_owned() } else { format!("{WRITTEN} {NOT_REMEMBERED}") });
        }
        Some(Some(_)) => save.say(NOT_WRITTEN),
        Some(None) => save.say("A rate is larger than any a price book may hold: mend it first."),
        None => {}
    };
    view! {
        <section aria-label="Publish">
            <h2>{"Publish"}</h2>
            <p>{"The price book is this book with every cost multiplied by what is put on top of it, and the factors left out."}</p>
            {what_becomes_public(desk, price_book)}
            {edition(desk)}
            {demo::still_there(desk)}
            <button type="button" on:click=write>{"Write price-book.json"}</button>
            {against(desk, last, price_book)}
            {on_your_page(desk)}
        </section>
    }
}

const WRITTEN: &str = "The price book is written. Put it beside your page.";
const NOT_REMEMBERED: &str = "This browser has no room to remember it: keep the file, to compare the next one with it.";

/// Every field that the price book as it stands has, and every field that it lacks.
fn what_becomes_public(desk: &Desk, price_book: Memo<Option<Node>>) -> impl IntoView + use<> {
    let desk = desk.clone();
    let lines = |lines: Vec<String>| lines.into_iter().map(|line| view! { <li>{line}</li> }).collect_view();
    move || {
        price_book.with(|price_book| {
            let price_book = price_book.as_ref()?;
            let out = lines(public(price_book, &desk.kind));
            let kept_back = desk.sheet.with_untracked(|sheet| private(sheet.root(), price_book, &desk.kind));
            let kept_back = lines(kept_back);
            Some(view! {
                <details class="inner public" open=true>
                    <summary>{"All that becomes public"}</summary>
                    <div class="inside">
                        <p class="note">{"Amounts and rates stand in it as they are sold, work as money and not as minutes: what they cost you is in no line of it."}</p>
                        <ul>{out}</ul>
                    </div>
                </details>
                <details class="inner private">
                    <summary>{"All that stays in the shop book"}</summary>
                    <div class="inside"><ul>{kept_back}</ul></div>
                </details>
            })
        })
    }
}

/// The lines for the maker's own page, and a page to try them.
fn on_your_page(desk: &Desk) -> impl IntoView + use<> {
    let integrity = integrity();
    let lines = snippet::lines(&integrity);
    let told = if integrity.is_empty() {
        "START.html, which comes with a release of this page, has the same lines with the hash of the script, by which browsers refuse any other script."
    } else {
        "By the word integrity browsers refuse a script that is not the one that came with this page: when you take a newer Scantling, take its lines too."
    };
    let (copy, write, copied) = (desk.clone(), desk.clone(), lines.clone());
    let copy = move |_| {
        let desk = copy.clone();
        copied::copy(&copied, SNIPPET, move |done| {
            desk.say(if done {
                "The lines are copied."
            } else {
                "The browser lets no page copy here: the lines are selected, copy them by hand."
            });
        });
    };
    let write = move |_| {
        let done = saved("page.html", &snippet::page(&integrity));
        write.say(if done {
            "page.html is written. Put it on your host, beside the folder scantling and price-book.json."
        } else {
            NOT_WRITTEN
        });
    };
    view! {
        <h3>{"On your page"}</h3>
        <pre id=SNIPPET tabindex="0">{lines}</pre>
        <p class="note">{told}</p>
        <p>
            <button type="button" on:click=copy>{"Copy the lines"}</button>
            {" "}
            <button type="button" on:click=write>{"Write a test page"}</button>
        </p>
        <p class="note">{"The test page has these lines and nothing else. It shows prices from a host, by its address; opened from disk it shows its words alone."}</p>
    }
}

/// The hash of the script that came with this page, as the page that was built with it says; empty where it was built alone.
fn integrity() -> String {
    let place = web_sys::window().and_then(|window| window.document()).and_then(|page| page.get_element_by_id("shop"));
    place.and_then(|place| place.get_attribute("data-integrity")).unwrap_or_default()
}

/// The day buyers are told the prices are of, and a way to make it this one.
fn edition(desk: &Desk) -> impl IntoView + use<> {
    let desk = desk.clone();
    move || {
        let place = Path::whole().key("edition");
        let edition = desk.words_at(&place);
        let today = today().map_or_else(|| edition.clone(), |day| day.as_str().to_owned());
        let dated = (edition != today).then(|| {
            let (desk, today) = (desk.clone(), today.clone());
            let date = move |_| {
                desk.edit("Dating the prices", vec![Edit::set(place.clone(), Node::Text(today.clone()))]);
                desk.say("The prices are of today.");
            };
            view! { <button type="button" on:click=date>{"Date them today"}</button> }
        });
        view! { <p>{format!("Buyers read that these are the prices of {edition}.")} {" "} {dated}</p> }
    }
}
