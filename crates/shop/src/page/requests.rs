//! Requests: opened, dropped or pasted as they came, priced again with the shop book, told from those that were altered or are old; with what
//! is cut, bought and worked for each.

use leptos::prelude::*;
use scantling_pricing::book::ShopBook;
use scantling_pricing::book::document::Node;
use scantling_pricing::book::ledger::{KeptRequest, Quote};
use scantling_pricing::book::values::{Day, Key};
use scantling_pricing::money::Money;
use scantling_pricing::profit::{Costs, Rates};
use scantling_pricing::quote::line_name;
use scantling_pricing::request::{Request, Told};

use super::carrier::carrier;
use super::cutting::cutting;
use super::fields::{button, figures, mend_first, next_key, node_of, text_of};
use super::jobs::begin_from;
use super::listed::{Names, listed};
use super::offers::weigh_offers;
use super::scrolled::scrolled;
use super::taken_in::{request_in, taking_in};
use super::today::today;
use crate::basket::why_not;
use crate::desk::{Desk, Section};
use crate::sheet::{Edit, Path};

const NAMES: Names = Names {
    list: "requests",
    title: "Requests that came in",
    empty: "None yet. Open one, drop its file here, or paste it.",
};

/// The section.
pub(crate) fn section(desk: &Desk) -> AnyView {
    let take = {
        let desk = desk.clone();
        move |text: String| take_in(&desk, &text)
    };
    view! {
        <section aria-label="Requests">
            <h2>{"Requests"}</h2>
            <p class="note">{"Open, drop or paste a request as it came, mail and all, or the link to an estimate. It is kept in this book and priced again from it."}</p>
            {taking_in("request", "a request", take)}
            {listed(desk, &NAMES, line, open)}
        </section>
    }
    .into_any()
}

/// Who asks, for what.
fn line(row: &Node) -> String {
    let Node::Table(entries) = row else { return String::new() };
    let request = entries.iter().find(|(key, _)| key == "request").map(|(_, request)| request);
    let inner = |part: &str, key: &str| {
        let Some(Node::Table(parts)) = request else { return String::new() };
        let part = parts.iter().find(|(known, _)| known == part).map(|(_, part)| part);
        part.and_then(|part| text_of(part, key)).unwrap_or_default().to_owned()
    };
    let day = text_of(row, "received").unwrap_or_default();
    format!("{}: {}, {day}", inner("from", "name"), inner("brief", "design"))
}

/// Keeps a request and opens it. The same one is not kept twice.
fn take_in(desk: &Desk, text: &str) {
    let request = match request_in(desk, text) {
        Ok(request) => request,
        Err(why) => return desk.say(why),
    };
    let node = node_of(&request);
    let place = Path::whole().key(NAMES.list);
    let known = desk.sheet.with_untracked(|sheet| match sheet.at(&place) {
        Some(Node::List(rows)) => rows.iter().find_map(|row| match row {
            Node::Table(entries)
                if entries.iter().any(|(key, held)| key == "request" && Some(held) == node.as_ref()) =>
            {
                text_of(row, "key").map(str::to_owned)
            }
            _ => None,
        }),
        _ => None,
    });
    if let Some(key) = known {
        desk.say(format!("That request is kept already, as {key}."));
        return desk.go(Section::Requests, &key);
    }
    let key = next_key(desk, NAMES.list, "r");
    let (Ok(own), Some(received)) = (Key::new(&key), today()) else { return };
    let Some(row) = node_of(&KeptRequest { key: own, received, request }) else { return };
    if !add(desk, NAMES.list, row, &format!("Keeping request {key}")) {
        return;
    }
    desk.go(Section::Requests, &key);
    desk.say(format!("Kept as {key}."));
}

/// Puts a row at the end of a list of the book, which need not be there yet.
pub(crate) fn add(desk: &Desk, list: &str, row: Node, what: &str) -> bool {
    let place = Path::whole().key(list);
    let rows = untrack(|| desk.rows_at(&place));
    let there = desk.sheet.with_untracked(|sheet| sheet.at(&place).is_some());
    let mut edits = Vec::new();
    if !there {
        edits.push(Edit::set(place.clone(), Node::List(Vec::new())));
    }
    edits.push(Edit::Insert(place.index(rows), row));
    let made = desk.edited(what, edits);
    // What is opened next waits for it.
    desk.judge();
    made
}

/// The open request.
fn open(desk: &Desk, index: usize) -> AnyView {
    let place = Path::whole().key(NAMES.list).index(index);
    let told = {
        let desk = desk.clone();
        move || match desk.book() {
            Some(book) => book.requests.get(index).map(|kept| priced(&desk, &book, kept)),
            None => Some(mend_first(&desk)),
        }
    };
    let (away, out) = (desk.clone(), place.clone());
    let take_out = move || {
        if untrack(|| quoted(&away, index)) {
            return away.say("A quote answers this request: take the quote out first.");
        }
        away.edit("Taking out a request", vec![Edit::Remove(out.clone())]);
    };
    view! {
        <section class="record" tabindex="-1" aria-label="The request">
            {told}
            {carrier(desk, &place.key("request"))}
            {button("Take the request out", take_out)}
        </section>
    }
    .into_any()
}

/// Whether a quote answers a request.
fn quoted(desk: &Desk, index: usize) -> bool {
    let key = desk.words_at(&Path::whole().key(NAMES.list).index(index).key("key"));
    let quotes = Path::whole().key("quotes");
    desk.sheet.with(|sheet| match sheet.at(&quotes) {
        Some(Node::List(rows)) => rows.iter().any(|row| text_of(row, "request") == Some(key.as_str())),
        _ => false,
    })
}

fn priced(desk: &Desk, book: &ShopBook, kept: &KeptRequest) -> AnyView {
    let request = &kept.request;
    let who = format!("{}, {}", request.from.name, request.from.mail);
    let message = request.from.message.as_ref().map(|message| view! { <blockquote>{message.to_string()}</blockquote> });
    let rates = Rates::new(book).map_err(|fault| fault.to_string());
    let costs = rates.and_then(|rates| {
        let costs = rates.costs_quoted(&request.brief, request.quoted.as_ref());
        costs.map(|costs| (rates, costs)).map_err(|problems| why_not(&problems, book.shop.units.length_unit()))
    });
    let body = match costs {
        Ok((rates, costs)) => view! {
            {verdict(request, &costs)}
            {answers(desk, kept)}
            {sums(&costs)}
            {lines(&costs)}
            {cutting(&rates, &request.brief, &costs, book.shop.units.length_unit())}
        }
        .into_any(),
        Err(why) => view! { <p class="fault">{format!("It can't be built as asked: {why}")}</p> }.into_any(),
    };
    view! {
        <h3>{format!("{}: {who}", kept.key)}</h3>
        {message}
        {body}
    }
    .into_any()
}

/// What is made of a request: a quote, a job.
fn answers(desk: &Desk, kept: &KeptRequest) -> AnyView {
    let (quote, job) = (desk.clone(), desk.clone());
    let (own, request) = (kept.key.clone(), kept.request.clone());
    let start_quote = move || {
        let key = next_key(&quote, "quotes", "q");
        let fresh = Key::new(&key).ok().map(|key| Quote::fresh(key, own.clone()));
        if let Some(row) = fresh.as_ref().and_then(node_of)
            && add(&quote, "quotes", row, &format!("Starting quote {key}"))
        {
            quote.go(Section::Quotes, &key);
            quote.say(format!("Quote {key} is started."));
        }
    };
    let (weigh, brief) = (desk.clone(), kept.request.brief.clone());
    let start_job = move || begin_from(&job, &request.brief, request.quoted.as_ref(), Some(&request.from.name));
    view! {
        <div class="above">
            {button("Write a quote for it", start_quote)}
            {button("Begin a job from it", start_job)}
            {button("Weigh offers for it", move || weigh_offers(&weigh, &brief, Vec::new()))}
        </div>
    }
    .into_any()
}

/// Whether what they were told is what it comes to.
fn verdict(request: &Request, costs: &Costs) -> AnyView {
    let (stands, words) = compared(&request.told, costs.selling.price().likely, &costs.selling.edition);
    view! { <p class=if stands { "said" } else { "fault" }>{words}</p> }.into_any()
}

/// Whether what they were told stands by the book of this edition, by which it comes to this; and in words. A link tells no price, but the
/// edition of the book its price was seen by.
fn compared(told: &Told, now: Money, edition: &Day) -> (bool, String) {
    let (likely, code) = (told.likely.value(), &told.currency);
    if code.as_str() == now.currency().code() && likely == now.amount() {
        return (true, format!("The price they were told, {now}, is what it comes to."));
    }
    let (seen, same_day) = (told.edition.as_str(), told.edition == *edition);
    let words = match (likely.is_zero(), same_day) {
        (true, true) => format!("No price came with it; by this book it comes to {now}."),
        (true, false) => format!(
            "No price came with it, and it was seen by the book of {seen}, which is {}: by this one, of {}, it comes to {now}.",
            if told.edition < *edition { "outdated" } else { "newer" },
            edition.as_str()
        ),
        (false, true) => format!(
            "They were told {likely} {code}, and by a book of the same day it comes to {now}: the request was altered, the book has changed, or a carrier has quoted."
        ),
        (false, false) => {
            format!("They were told {likely} {code} from the book of {seen}; by this one it comes to {now}.")
        }
    };
    // With no price told there is nothing that does not stand, unless the book is another.
    (likely.is_zero() && same_day, words)
}

fn sums(costs: &Costs) -> AnyView {
    let outcome = costs.as_estimated();
    let rows = [
        ("Full cost", costs.full.to_string()),
        ("Floor: below it someone works for nothing", costs.floor.to_string()),
        ("Floor of what is still to be spent", costs.outlay_floor.to_string()),
        ("Left over full cost at that price", outcome.profit.to_string()),
        ("Hours", costs.hours.to_string()),
        ("Pay an hour", outcome.pay_per_hour.map_or_else(String::new, |pay| pay.to_string())),
    ];
    figures("What it comes to", rows)
}

/// What each line is sold for, and what it costs.
fn lines(costs: &Costs) -> AnyView {
    let all = |estimate: &scantling_pricing::estimate::Estimate| {
        let way = estimate.delivered().map_or(&[][..], |way| way.lines.as_slice());
        estimate.lines.iter().chain(way).map(|line| (line_name(line), line.amount.to_string())).collect::<Vec<_>>()
    };
    let (sold, cost) = (all(&costs.selling), all(&costs.cost));
    let rows = sold.into_iter().map(|(name, amount)| {
        let costs = cost.iter().find(|(other, _)| *other == name).map(|(_, amount)| amount.clone());
        view! { <tr><th scope="row">{name}</th><td class="figure">{amount}</td><td class="figure">{costs}</td></tr> }
    });
    let rows = rows.collect_view();
    let table = view! {
            <table class="grid">
                <caption>{"Line by line"}</caption>
                <thead><tr><th scope="col">{"Line"}</th><th scope="col">{"Sold for"}</th><th scope="col">{"Costs"}</th></tr></thead>
                <tbody>{rows}</tbody>
            </table>
    };
    view! {
        {scrolled("Line by line", table)}
    }
    .into_any()
}

#[cfg(test)]
mod tests {
    use rust_decimal::Decimal;
    use scantling_pricing::book::values::{Amount, Text};
    use scantling_pricing::money::Currency;

    use super::*;

    /// What is said of a price that was told, by a book of that day, of a piece that comes to 1240 dollars by the book of the first of May.
    fn said_of(told: u32, edition: &str) -> (bool, String) {
        let amount = Amount::new(Decimal::from(told)).unwrap();
        let currency = Text::new("USD").unwrap();
        let told = Told { edition: Day::new(edition).unwrap(), currency, low: amount, likely: amount, high: amount };
        let now = Money::rounded(Decimal::from(1240), Currency::from_code("USD").unwrap());
        compared(&told, now, &Day::new("2027-05-01").unwrap())
    }

    #[test]
    fn a_price_and_the_edition_it_was_seen_by_are_held_against_the_book() {
        for (told, edition, stands, words) in [
            (1240, "2027-05-01", true, "is what it comes to"),
            (1240, "2027-04-01", true, "is what it comes to"),
            (1100, "2027-05-01", false, "the request was altered"),
            (1100, "2027-04-01", false, "from the book of 2027-04-01"),
            // As out of a link, which tells no price.
            (0, "2027-05-01", true, "No price came with it; by this book it comes to 1240.00 USD"),
            (
                0,
                "2027-04-01",
                false,
                "it was seen by the book of 2027-04-01, which is outdated: by this one, of 2027-05-01",
            ),
            (0, "2027-06-01", false, "it was seen by the book of 2027-06-01, which is newer"),
        ] {
            let (said, told_of) = said_of(told, edition);
            assert!(said == stands && told_of.contains(words), "{told} of {edition}: {told_of}");
        }
    }
}
