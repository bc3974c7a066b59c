//! Offers for one piece, ranked by what each leaves: any number of buyers, currencies, places, whoever pays the carriage.

mod ranked;

use leptos::prelude::*;
use scantling_pricing::book::document::Node;
use scantling_pricing::book::ledger::Weighed;
use scantling_pricing::book::values::Key;
use scantling_pricing::brief::Brief;
use scantling_pricing::offers::{Offer, Offers};

use super::asked::{Typed, form};
use super::carrier::carrier;
use super::currencies::flag;
use super::fields::{button, field, mend_first, next_key, node_of, text_of};
use super::focus::goes_to;
use super::listed::{Names, listed};
use super::requests::add;
use super::taken_in::taking_in;
use crate::desk::{Desk, Section};
use crate::sheet::{Edit, Path};
use ranked::ranked;

const NAMES: Names = Names {
    list: "offers",
    title: "Pieces with offers",
    empty: "None yet. Begin with a piece, a request, or a table of offers.",
};

/// The section.
pub(crate) fn section(desk: &Desk) -> AnyView {
    let take = {
        let desk = desk.clone();
        move |text: String| match Offers::read(&text) {
            Ok(offers) => weigh_offers(&desk, &offers.brief, offers.offers),
            Err(fault) => desk.say(format!("There is no table of offers in that: {fault}")),
        }
    };
    view! {
        <section aria-label="Offers">
            <h2>{"Offers"}</h2>
            <p class="note">{"Several buyers want one piece. The best offer is the one that leaves most once it is brought, paid and taxed: that is often not the highest."}</p>
            {listed(desk, &NAMES, line, open)}
            <details class="inner">
                <summary>{"Offers for another piece"}</summary>
                {by_hand(desk)}
                {taking_in("offers", "a table of offers", take)}
            </details>
        </section>
    }
    .into_any()
}

fn line(row: &Node) -> String {
    let Node::Table(entries) = row else { return String::new() };
    let held = |key: &str| entries.iter().find(|(known, _)| known == key).map(|(_, value)| value);
    let design = held("brief").and_then(|brief| text_of(brief, "design")).unwrap_or_default();
    let count = match held("offers") {
        Some(Node::List(offers)) => offers.len(),
        _ => 0,
    };
    format!("{design}: {count} offer{}", if count == 1 { "" } else { "s" })
}

/// Begins to weigh offers for a piece, and opens them.
pub(crate) fn weigh_offers(desk: &Desk, brief: &Brief, offers: Vec<Offer>) {
    let key = next_key(desk, NAMES.list, "o");
    let Ok(own) = Key::new(&key) else { return };
    let weighed = Weighed { key: own, brief: brief.clone(), offers };
    let Some(mut row) = node_of(&weighed) else { return };
    if let Node::Table(entries) = &mut row
        && !entries.iter().any(|(key, _)| key == "offers")
    {
        entries.push(("offers".to_owned(), Node::List(Vec::new())));
    }
    if !add(desk, NAMES.list, row, &format!("Weighing offers {key}")) {
        return;
    }
    desk.go(Section::Offers, &key);
    desk.say(format!("Offers for it are kept as {key}."));
}

fn by_hand(desk: &Desk) -> AnyView {
    let typed = RwSignal::new(Typed::default());
    let (own, wrong) = (desk.clone(), desk.clone());
    let begin = move || {
        let Some(book) = own.book_now() else { return };
        match typed.with_untracked(|typed| typed.brief(&book)) {
            Ok(brief) => weigh_offers(&own, &brief, Vec::new()),
            Err(_) => wrong.say("The piece can't be built as typed: what is wrong stands beside its field."),
        }
    };
    view! {
        {form(desk, "offered", typed)}
        {button("Weigh offers for this piece", begin)}
    }
    .into_any()
}

/// The open piece.
fn open(desk: &Desk, index: usize) -> AnyView {
    let place = Path::whole().key(NAMES.list).index(index);
    let offers = place.key("offers");
    let ranking = {
        let desk = desk.clone();
        move || match desk.book() {
            Some(book) => book.offers.get(index).map(|weighed| ranked(&book, weighed)),
            None => Some(mend_first(&desk)),
        }
    };
    let count = {
        let (desk, offers) = (desk.clone(), offers.clone());
        Memo::new(move |_| desk.rows_at(&offers))
    };
    let rows = {
        let (desk, offers) = (desk.clone(), offers.clone());
        move || (0..count.get()).map(|at| offer(&desk, &offers.index(at), at)).collect_view()
    };
    let (more, away, whole) = (desk.clone(), desk.clone(), place);
    let add = move || add_offer(&more, &offers);
    let take_out = move || away.edit("Taking out a piece with its offers", vec![Edit::Remove(whole.clone())]);
    view! {
        <section class="record" tabindex="-1" aria-label="The offers">
            {ranking}
            {rows}
            <div class="above">
                {button("Add an offer", add)}
                {button("Take the piece and its offers out", take_out)}
            </div>
        </section>
    }
    .into_any()
}

fn add_offer(desk: &Desk, offers: &Path) {
    let count = untrack(|| desk.rows_at(offers));
    let words = |text: String| Node::Text(text);
    let fresh = [("from", words(format!("Buyer {}", count.saturating_add(1)))), ("amount", words(String::new()))];
    let fresh = fresh.map(|(key, value)| (key.to_owned(), value)).to_vec();
    desk.edit("Adding an offer", vec![Edit::Insert(offers.index(count), Node::Table(fresh))]);
    // All the forms are made anew: the next thing that is typed is who offers.
    goes_to(format!("f-{}", offers.index(count).key("from")));
}

/// One offer as a form.
fn offer(desk: &Desk, place: &Path, at: usize) -> AnyView {
    let (away, out) = (desk.clone(), place.clone());
    let take_out = move || away.edit("Taking out an offer", vec![Edit::Remove(out.clone())]);
    let number = at.saturating_add(1);
    let (source, code) = (desk.clone(), place.key("currency"));
    let old = flag(desk, move || source.words_at(&code));
    view! {
        <fieldset class="offer" tabindex="-1">
            <legend>{format!("Offer {number}")}</legend>
            <div class="fields">
                {field(desk, &place.key("from"), "From")}
                {field(desk, &place.key("amount"), "How much")}
                {field(desk, &place.key("currency"), "Currency, as EUR; empty: the book's")}
                {field(desk, &place.key("carriage"), "Who pays the way; on-top: the buyer besides")}
                {field(desk, &place.key("tax"), "Tax of the place; within: it is in the sum")}
            </div>
            {old}
            {destination(desk, place)}
            {carrier(desk, place)}
            {button(&format!("Take offer {number} out"), take_out)}
        </fieldset>
    }
    .into_any()
}

/// Where it goes; without a place it is collected.
fn destination(desk: &Desk, place: &Path) -> AnyView {
    let own = place.key("destination");
    let there = {
        let (desk, own) = (desk.clone(), own.clone());
        Memo::new(move |_| desk.sheet.with(|sheet| matches!(sheet.at(&own), Some(Node::Table(_)))))
    };
    let (desk, place) = (desk.clone(), place.clone());
    let body = move || {
        let (change, own) = (desk.clone(), own.clone());
        if there.get() {
            let way = place.key("delivery");
            let collected = move || {
                let way =
                    change.sheet.with_untracked(|sheet| sheet.at(&way).is_some()).then(|| Edit::Clear(way.clone()));
                let edits = std::iter::once(Edit::Clear(own.clone())).chain(way).collect();
                change.edit("It is collected", edits);
            };
            let to = place.key("destination");
            view! {
                <div class="fields">
                    {field(&desk, &to.key("country"), "Country, as US")}
                    {field(&desk, &to.key("postal_code"), "Postal code")}
                    {field(&desk, &to.key("site"), "What kind of place")}
                    {field(&desk, &place.key("delivery"), "Which way; empty: the cheapest")}
                </div>
                {button("It is collected", collected)}
            }
            .into_any()
        } else {
            let goes = move || {
                let country = untrack(|| change.words_at(&Path::read("shop.country")));
                let to = Node::Table(vec![("country".to_owned(), Node::Text(country))]);
                change.edit("It is brought", vec![Edit::set(own.clone(), to)]);
            };
            view! {
                <p class="note">{"It is collected at the workshop."}</p>
                {button("It is brought somewhere", goes)}
            }
            .into_any()
        }
    };
    view! {
        <fieldset tabindex="-1">
            <legend>{"Where it goes"}</legend>
            {body}
        </fieldset>
    }
    .into_any()
}
