//! The ranking: what each offer leaves, part by part, and why the highest is not the best where it is not.

use leptos::prelude::*;
use scantling_pricing::book::ShopBook;
use scantling_pricing::book::ledger::Weighed;
use scantling_pricing::book::values::Day;
use scantling_pricing::measure::LengthUnit;
use scantling_pricing::money::Money;
use scantling_pricing::offers::{Offers, Ranked, Ranking, Unreckoned};

use super::super::scrolled::scrolled;
use super::super::today::today;
use crate::basket::why_not;
use crate::currency::is_old;

/// What is left comes first: it is what offers are ranked by. What went off follows.
const HEADS: [&str; 13] = [
    "From",
    "Offers",
    "Left after delivery, fees and tax",
    "Left over full cost",
    "Left over what is still to be spent",
    "Pay an hour",
    "By",
    "Worth",
    "Kept back against the currency",
    "Carriage paid besides",
    "Tax in it",
    "Fees",
    "Carriage costs",
];

/// Offers for a piece by what each leaves.
pub(super) fn ranked(book: &ShopBook, weighed: &Weighed) -> AnyView {
    let offers = Offers { scantling_offers: 1, brief: weighed.brief.clone(), offers: weighed.offers.clone() };
    let design = book.designs.iter().find(|design| design.key == weighed.brief.design);
    let name = design.map_or_else(|| weighed.brief.design.to_string(), |design| design.name.to_string());
    let body = match offers.rank(book) {
        Ok(ranking) => table(&ranking, book.shop.units.length_unit()),
        Err(fault) => view! { <p class="fault">{fault.to_string()}</p> }.into_any(),
    };
    view! {
        <h3>{format!("{}: {name}", weighed.key)}</h3>
        {body}
    }
    .into_any()
}

fn table(ranking: &Ranking, unit: LengthUnit) -> AnyView {
    let told = explained(ranking).map(|words| view! { <p class="said">{words}</p> });
    let rows = ranking.ranked.iter().map(row).collect_view();
    let left_out = ranking.unranked.iter().map(|one| {
        let why = match &one.why {
            Unreckoned::NoRate(code) => format!("the book has no rate of {code}; add one to Currencies"),
            Unreckoned::Problems(problems) => why_not(problems, unit),
        };
        view! { <li>{format!("{}: {why}", one.from)}</li> }
    });
    let left_out = left_out.collect_view();
    let table = view! {
            <table class="grid">
                <caption>{"Offers, the best first; in the book's currency but for the sum as it was named"}</caption>
                <thead><tr>{HEADS.map(|head| view! { <th scope="col">{head}</th> }).into_iter().collect_view()}</tr></thead>
                <tbody>{rows}</tbody>
            </table>
    };
    view! {
        {told}
        {scrolled("Offers, the best first", table)}
        <ul class="fault">{left_out}</ul>
    }
    .into_any()
}

/// What is left of the sum once the way, fees, tax and what the currency may lose are taken off.
fn left(one: &Ranked) -> Money {
    one.outcome.paid - one.outcome.fees - one.carriage_cost
}

fn row(one: &Ranked) -> impl IntoView + use<> {
    let cell = |amount: Money| view! { <td class="figure">{amount.to_string()}</td> };
    let outcome = &one.outcome;
    let is_left = [left(one), outcome.profit, outcome.over_outlay].map(cell);
    let went_off = [one.worth, one.kept_back, one.carriage_paid, one.tax, outcome.fees, one.carriage_cost].map(cell);
    let old = |day: &Day| today().is_some_and(|today| is_old(day, &today));
    let rate = one.rate_of.as_ref().map(|day| {
        let words = format!(" (rate of {}{})", day.as_str(), if old(day) { ", which is old" } else { "" });
        view! { <span class:fault=old(day)>{words}</span> }
    });
    view! {
        <tr>
            <th scope="row">{one.from.to_string()}</th>
            <td class="figure">{format!("{} {}", one.offered, one.currency)} {rate}</td>
            {is_left.into_iter().collect_view()}
            <td class="figure">{outcome.pay_per_hour.map(|pay| pay.to_string())}</td>
            <td>{one.mode.map_or("collect", scantling_pricing::delivery::Mode::word)}</td>
            {went_off.into_iter().collect_view()}
        </tr>
    }
}

/// Why the highest offer is not the best, when it is not.
fn explained(ranking: &Ranking) -> Option<String> {
    let (highest, best) = (ranking.highest_but_not_best()?, ranking.ranked.first()?);
    let off = |one: &Ranked| {
        let parts = [
            ("carriage", one.carriage_cost),
            ("tax", one.tax),
            ("fees", one.outcome.fees),
            ("what the currency may lose", one.kept_back),
        ];
        let parts = parts.iter().filter(|(_, amount)| !amount.amount().is_zero());
        let parts: Vec<String> = parts.map(|(what, amount)| format!("{what} {amount}")).collect();
        if parts.is_empty() { "nothing".to_owned() } else { parts.join(", ") }
    };
    Some(format!(
        "{} offers most, {}, and leaves {} over full cost; {} leaves {}, {} more. From the highest go {}; from the best, {}.",
        highest.from,
        highest.worth,
        highest.outcome.profit,
        best.from,
        best.outcome.profit,
        best.outcome.profit - highest.outcome.profit,
        off(highest),
        off(best)
    ))
}
