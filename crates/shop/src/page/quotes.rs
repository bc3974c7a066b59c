//! Quotes: any line brought to another sum with a reason, stages, terms, how long it stands, what is left out; every revision that went out
//! is kept as it went, with what differs from the one before.

mod adjust;
mod trail;

use leptos::prelude::*;
use scantling_pricing::book::ShopBook;
use scantling_pricing::book::document::Node;
use scantling_pricing::book::ledger::Quote;
use scantling_pricing::money::Currency;
use scantling_pricing::profit::Rates;
use scantling_pricing::quote::{Firm, FirmLine};
use scantling_pricing::request::Request;

use super::currencies::flag;
use super::fields::{bare, button, field, figures, mend_first, node_of, text_of};
use super::listed::{Names, listed};
use super::payments::{currency, payments};
use super::quote::paper;
use super::scrolled::scrolled;
use super::today::today;
use crate::basket::why_not;
use crate::desk::Desk;
use crate::owing::in_short;
use crate::sheet::{Edit, Path};

const NAMES: Names = Names {
    list: "quotes",
    title: "Quotes that went out",
    empty: "None yet. Open a request, and write a quote for it.",
};

/// The section.
pub(crate) fn section(desk: &Desk) -> AnyView {
    let currency = currency(desk);
    view! {
        <section aria-label="Quotes">
            <h2>{"Quotes"}</h2>
            <p class="note">{"A quote answers a request. It follows the book until it goes out; a revision that went out is never changed."}</p>
            {listed(desk, &NAMES, move |row| line(row, currency.get()), open)}
        </section>
    }
    .into_any()
}

fn line(row: &Node, currency: Currency) -> String {
    let Node::Table(entries) = row else { return String::new() };
    let sent = entries.iter().find_map(|(key, value)| match value {
        Node::List(sent) if key == "revisions" => sent.last(),
        _ => None,
    });
    let request = text_of(row, "request").unwrap_or_default();
    let last = sent.map_or_else(
        || "not sent yet".to_owned(),
        |last| {
            format!(
                "{} to pay, {}",
                text_of(last, "to_pay").unwrap_or_default(),
                text_of(last, "written").unwrap_or_default()
            )
        },
    );
    let owed = in_short(row, currency);
    format!("for {request}: {last}{}{owed}", if owed.is_empty() { "" } else { "; " })
}

/// A quote of a book, with its request.
pub(crate) fn found(book: &ShopBook, index: usize) -> Option<(&Quote, &Request)> {
    let quote = book.quotes.get(index)?;
    let request = book.requests.iter().find(|request| request.key == quote.request)?;
    Some((quote, &request.request))
}

/// The open quote.
fn open(desk: &Desk, index: usize) -> AnyView {
    let place = Path::whole().key(NAMES.list).index(index);
    let key = untrack(|| desk.words_at(&place.key("key")));
    let shown: RwSignal<Option<usize>> = RwSignal::new(None);
    let (away, out) = (desk.clone(), place.clone());
    let take_out = move || away.edit("Taking out a quote", vec![Edit::Remove(out.clone())]);
    view! {
        <section class="record" tabindex="-1" aria-label="The quote">
            <h3>{format!("Quote {key}")}</h3>
            {reckoned(desk, index)}
            {adjust::form(desk, &place, index)}
            {stages(desk, &place)}
            <div class="fields">
                {field(desk, &place.key("terms"), "Terms; empty: the shop's for quotes")}
                {field(desk, &place.key("stands_days"), "Stands for so many days; empty: the shop's")}
                {field(desk, &place.key("excluded"), "What is left out")}
            </div>
            {trail::trail(desk, &place, index, shown)}
            {payments(desk, &place)}
            {button("Take the quote out", take_out)}
        </section>
        {printed(desk, index, shown)}
    }
    .into_any()
}

/// What a quote comes to by the book as it stands.
pub(crate) fn firm(book: &ShopBook, index: usize) -> Result<Firm, String> {
    let (quote, request) = found(book, index).ok_or("There is no such quote")?;
    let rates = Rates::new(book).map_err(|fault| fault.to_string())?;
    quote.firm(book, &rates, request).map_err(|problems| why_not(&problems, book.shop.units.length_unit()))
}

/// Every line with what it was brought to, and what is left of the whole: for the maker alone.
fn reckoned(desk: &Desk, index: usize) -> impl IntoView + use<> {
    let desk = desk.clone();
    move || match desk.book() {
        Some(book) => match firm(&book, index) {
            Ok(firm) => view! {
                {lines(&firm)}
                {guide(&desk, &book, &firm)}
            }
            .into_any(),
            Err(why) => view! { <p class="fault">{format!("It can't be built as asked: {why}")}</p> }.into_any(),
        },
        None => mend_first(&desk),
    }
}

/// What the buyer may be told of it in the currency of the place, with what is said of an old rate.
fn guide(desk: &Desk, book: &ShopBook, firm: &Firm) -> Option<impl IntoView + use<>> {
    let guide = firm.guide.as_ref()?;
    let code = guide.amount.currency().code();
    let kept = book.kept_percent(code).unwrap_or_default();
    let words = format!(
        "Where it goes, {} come to about {}: at {} {code} for one {}, of {}, with {kept} % kept against movement, which the buyer is not told. A guide, not what is owed.",
        firm.to_pay,
        guide.amount,
        guide.rate,
        firm.to_pay.currency().code(),
        guide.day.as_str()
    );
    Some(view! {
        <p class="note guide">{words}</p>
        {flag(desk, move || code.to_owned())}
    })
}

fn lines(firm: &Firm) -> AnyView {
    let row = |line: &FirmLine| {
        let changed = line.reason.is_some();
        let reason = line.reason.as_ref().map(|reason| {
            let told = if line.shown { "told to the buyer" } else { "not told to the buyer" };
            format!("{reason} ({told})")
        });
        view! {
            <tr class:changed=changed>
                <th scope="row">{line.line.clone()}</th>
                <td class="figure">{line.estimated.to_string()}</td>
                <td class="figure">{line.amount.to_string()}</td>
                <td>{reason}</td>
            </tr>
        }
    };
    let rows = firm.lines.iter().map(row).collect_view();
    let lost = firm.lost.iter().map(|line| {
        view! { <li>{format!("“{line}” is adjusted, and the estimate has no such line any more: take the adjustment out.")}</li> }
    });
    let lost = lost.collect_view();
    let tax = firm.tax.as_ref().map_or_else(String::new, |tax| format!("{} ({})", tax.amount, tax.name));
    let sums = [
        ("Rounding", firm.rounding.to_string()),
        ("The piece at the workshop", firm.piece.to_string()),
        ("Packing and delivery", firm.carriage.to_string()),
        ("Tax", tax),
        ("To pay", firm.to_pay.to_string()),
        ("Full cost", firm.costs.full.to_string()),
        ("Floor: below it someone works for nothing", firm.costs.floor.to_string()),
        ("Left over full cost", firm.outcome.profit.to_string()),
        ("Pay an hour", firm.outcome.pay_per_hour.map_or_else(String::new, |pay| pay.to_string())),
    ];
    let table = view! {
            <table class="grid">
                <caption>{"Lines of the quote, tax apart: for you alone"}</caption>
                <thead>
                    <tr>
                        <th scope="col">{"Line"}</th>
                        <th scope="col">{"By the book"}</th>
                        <th scope="col">{"In the quote"}</th>
                        <th scope="col">{"Why"}</th>
                    </tr>
                </thead>
                <tbody>{rows}</tbody>
            </table>
    };
    view! {
        {scrolled("Lines of the quote", table)}
        <ul class="fault">{lost}</ul>
        {figures("What the quote comes to", sums)}
    }
    .into_any()
}

/// What is paid when: the shop's, or the quote's own.
fn stages(desk: &Desk, place: &Path) -> AnyView {
    let own = place.key("deposits");
    let count = {
        let (desk, own) = (desk.clone(), own.clone());
        Memo::new(move |_| desk.rows_at(&own))
    };
    let desk = desk.clone();
    let body = move || {
        let count = count.get();
        if count == 0 { shop_s(&desk, &own) } else { of_its_own(&desk, &own, count) }
    };
    view! {
        <fieldset tabindex="-1">
            <legend>{"Deposit and stage payments"}</legend>
            {body}
        </fieldset>
    }
    .into_any()
}

fn shop_s(desk: &Desk, place: &Path) -> AnyView {
    let (desk, place) = (desk.clone(), place.clone());
    let own = move || {
        let shop = Path::read("shop.deposits");
        let Some(rows) = desk.sheet.with_untracked(|sheet| sheet.at(&shop).cloned()) else { return };
        desk.edit("Stages of its own", vec![Edit::set(place.clone(), rows)]);
    };
    view! {
        <p class="note">{"As the shop has it."}</p>
        {button("Give it stages of its own", own)}
    }
    .into_any()
}

fn of_its_own(desk: &Desk, place: &Path, count: usize) -> AnyView {
    let row = |index: usize| {
        let (own, number) = (place.index(index), index.saturating_add(1));
        let (away, out) = (desk.clone(), own.clone());
        let take_out = move |_| away.edit("Taking out a stage", vec![Edit::Remove(out.clone())]);
        view! {
            <tr>
                <td>{bare(desk, &own.key("when"), &format!("When stage {number} is due"))}</td>
                <td>{bare(desk, &own.key("share"), &format!("Share of stage {number}, as 0.40"))}</td>
                <td><button type="button" aria-label=format!("Take out stage {number}") on:click=take_out>{"Take out"}</button></td>
            </tr>
        }
    };
    let rows = (0..count).map(row).collect_view();
    let (more, at, back, whole) = (desk.clone(), place.index(count), desk.clone(), place.clone());
    let add = move || {
        let words = |text: &str| Node::Text(text.to_owned());
        let fresh = [("when", words("when it is done")), ("share", words("0"))];
        let fresh = Node::Table(fresh.map(|(key, value)| (key.to_owned(), value)).to_vec());
        more.edit("Adding a stage", vec![Edit::Insert(at.clone(), fresh)]);
    };
    let as_shop = move || back.edit("Stages as the shop has them", vec![Edit::Clear(whole.clone())]);
    let wrong = {
        let (desk, place) = (desk.clone(), place.clone());
        move || {
            desk.judged.with(|judged| judged.faults.iter().find(|(at, _)| *at == place).map(|(_, what)| what.clone()))
        }
    };
    let table = view! {
        <table class="grid">
            <thead><tr><th scope="col">{"When"}</th><th scope="col">{"Share"}</th><th scope="col">{"Row"}</th></tr></thead>
            <tbody>{rows}</tbody>
        </table>
    };
    view! {
        {scrolled("Stages of payment", table)}
        <p class="fault">{wrong}</p>
        <div class="above">
            {button("Add a stage", add)}
            {button("As the shop has it again", as_shop)}
        </div>
    }
    .into_any()
}

/// The quote on paper: as it would go out today, or a revision as it went out.
fn printed(desk: &Desk, index: usize, shown: RwSignal<Option<usize>>) -> impl IntoView + use<> {
    let desk = desk.clone();
    move || {
        let book = desk.book()?;
        let (quote, request) = found(&book, index)?;
        let rates = Rates::new(&book).ok()?;
        let revision = match shown.get().and_then(|at| quote.revisions.get(at)) {
            Some(sent) => sent.clone(),
            None => firm(&book, index).ok()?.revision(&today()?)?,
        };
        paper(&book, &rates.selling, &request.from, &revision, shown.get())
    }
}

/// A revision as it would go out today, as a row of the book.
fn today_s(book: &ShopBook, index: usize) -> Result<Node, String> {
    let firm = firm(book, index)?;
    if firm.to_pay.amount().is_sign_negative() {
        return Err("The lines come to less than nothing: mend them first".to_owned());
    }
    let day = today().ok_or("The computer does not say what day it is")?;
    let revision = firm.revision(&day).ok_or("A sum of the quote is below nothing, or larger than an amount may be")?;
    node_of(&revision).ok_or_else(|| "The revision can't be written".to_owned())
}
