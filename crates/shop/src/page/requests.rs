//! Requests: opened or pasted as they came, priced again with the shop book, told from those that were altered or are old.

use leptos::prelude::*;
use scantling_pricing::book::ShopBook;
use scantling_pricing::estimate::Line;
use scantling_pricing::measure::LengthUnit;
use scantling_pricing::profit::{Costs, Rates};
use scantling_pricing::request::Request;

use super::pasted::{Names, pasted};
use super::quote::quote;
use crate::basket::why_not;
use crate::desk::Desk;

const NAMES: Names = Names {
    title: "Requests",
    hint: "Open a request as it came, mail and all, or paste it. It is priced again from this book, with what it costs you beside what it is sold for.",
    file: ("Open a request", "request-file"),
    text: ("The request", "request-text"),
};

/// The section.
pub(crate) fn section(desk: &Desk) -> AnyView {
    pasted(desk, &NAMES, |book, written| match Request::read_mail(written) {
        Ok(request) => priced(book, &request),
        Err(fault) => view! { <p class="fault">{fault.to_string()}</p> }.into_any(),
    })
}

fn priced(book: &ShopBook, request: &Request) -> AnyView {
    let priced = Rates::new(book).map_err(|fault| fault.to_string()).and_then(|rates| {
        let costs = rates.costs_quoted(&request.brief, request.quoted.as_ref());
        costs.map(|costs| (rates.selling, costs)).map_err(|problems| why_not(&problems, book.shop.units.length_unit()))
    });
    match priced {
        Ok((prices, costs)) => (told(request, &costs), quote(book, &prices, request, &costs.selling)).into_any(),
        Err(why) => view! { <p class="fault">{format!("It can't be built as asked: {why}")}</p> }.into_any(),
    }
}

fn told(request: &Request, costs: &Costs) -> AnyView {
    let now = costs.selling.price().likely;
    let same = request.told.currency.as_str() == now.currency().code() && request.told.likely.value() == now.amount();
    let verdict = if same {
        format!("The price they were told, {now}, is what it comes to.")
    } else if request.told.edition == costs.selling.edition {
        format!(
            "They were told {} {}, and by a book of the same day it comes to {now}: the request was altered, the book has changed, or a carrier has quoted.",
            request.told.likely.value(),
            request.told.currency
        )
    } else {
        format!(
            "They were told {} {} from the book of {}; by this one it comes to {now}.",
            request.told.likely.value(),
            request.told.currency,
            request.told.edition.as_str()
        )
    };
    let outcome = costs.as_estimated();
    let sold = lines(&costs.selling.lines, costs.selling.delivered().map(|way| way.lines.as_slice()));
    let cost = lines(&costs.cost.lines, costs.cost.delivered().map(|way| way.lines.as_slice()));
    let rows = sold.into_iter().enumerate().map(|(i, (name, amount))| {
        let costs = cost.get(i).map(|(_, amount)| amount.clone());
        view! { <tr><th scope="row">{name}</th><td class="figure">{amount}</td><td class="figure">{costs}</td></tr> }
    });
    let rows = rows.collect_view();
    let figures = [
        ("Full cost", costs.full.to_string()),
        ("Floor: below it someone works for nothing", costs.floor.to_string()),
        ("Floor of what is still to be spent", costs.outlay_floor.to_string()),
        ("Left over full cost at that price", outcome.profit.to_string()),
        ("Hours", costs.hours.to_string()),
        ("Pay an hour", outcome.pay_per_hour.map_or_else(String::new, |pay| pay.to_string())),
    ];
    let figures =
        figures.map(|(what, amount)| view! { <tr><th scope="row">{what}</th><td class="figure">{amount}</td></tr> });
    let warned =
        costs.selling.findings.iter().map(|finding| view! { <li>{finding.note(LengthUnit::Inch)}</li> }).collect_view();
    let who = format!("{}, {}", request.from.name, request.from.mail);
    let message = request.from.message.as_ref().map(|message| view! { <blockquote>{message.to_string()}</blockquote> });
    view! {
        <h3>{who}</h3>
        {message}
        <p class=if same { "said" } else { "fault" }>{verdict}</p>
        <div class="scroll">
            <table class="grid">
                <thead><tr><th scope="col">{"Line"}</th><th scope="col">{"Sold for"}</th><th scope="col">{"Costs"}</th></tr></thead>
                <tbody>{rows}</tbody>
            </table>
        </div>
        <table class="grid"><tbody>{figures.into_iter().collect_view()}</tbody></table>
        <h3>{"What the checks note"}</h3>
        <ul>{warned}</ul>
    }
    .into_any()
}

/// Lines of the piece and of its way, each by what it is called.
fn lines(piece: &[Line], way: Option<&[Line]>) -> Vec<(String, String)> {
    let name = |line: &Line| {
        if line.name.is_empty() {
            // The kind's own word, as documents write it.
            serde_json::to_string(&line.kind).unwrap_or_default().trim_matches('"').replace('-', " ")
        } else {
            line.name.clone()
        }
    };
    piece.iter().chain(way.unwrap_or_default()).map(|line| (name(line), line.amount.to_string())).collect()
}
