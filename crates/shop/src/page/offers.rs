//! Offers for one piece, ranked by what each leaves.

use leptos::prelude::*;
use scantling_pricing::measure::LengthUnit;
use scantling_pricing::offers::{Offers, Ranked, Ranking, Unreckoned};

use super::pasted::{Names, pasted};
use crate::basket::why_not;
use crate::desk::Desk;

const NAMES: Names = Names {
    title: "Offers",
    hint: "Open a table of offers, or paste one: a brief, and what each buyer names for it. The best is the one that leaves most once it is brought, paid and taxed.",
    file: ("Open a file of offers", "offers-file"),
    text: ("The offers", "offers-text"),
};

/// The section.
pub(crate) fn section(desk: &Desk) -> AnyView {
    pasted(desk, &NAMES, |book, written| {
        let offers = Offers::read(written).map_err(|fault| fault.to_string());
        match offers.and_then(|offers| offers.rank(book).map_err(|fault| fault.to_string())) {
            Ok(ranking) => ranked(&ranking, book.shop.units.length_unit()),
            Err(fault) => view! { <p class="fault">{fault}</p> }.into_any(),
        }
    })
}

fn ranked(ranking: &Ranking, unit: LengthUnit) -> AnyView {
    let note = ranking.highest_but_not_best().zip(ranking.ranked.first()).map(|(highest, best)| {
        let words = format!(
            "{} offers most, {}, and leaves {}; {} leaves {}.",
            highest.from, highest.worth, highest.outcome.profit, best.from, best.outcome.profit
        );
        view! { <p class="said">{words}</p> }
    });
    let rows = ranking.ranked.iter().map(row).collect_view();
    let left_out = ranking.unranked.iter().map(|one| {
        let why = match &one.why {
            Unreckoned::NoRate(code) => format!("the book has no rate of {code}; add one to Currencies"),
            Unreckoned::Problems(problems) => why_not(problems, unit),
        };
        view! { <li>{format!("{}: {why}", one.from)}</li> }
    });
    let left_out = left_out.collect_view();
    view! {
        {note}
        <div class="scroll">
            <table class="grid">
                <thead>
                    <tr>
                        <th scope="col">{"From"}</th><th scope="col">{"Offers"}</th><th scope="col">{"Worth"}</th><th scope="col">{"Kept back"}</th>
                        <th scope="col">{"Carriage paid besides"}</th><th scope="col">{"Tax in it"}</th><th scope="col">{"Fees"}</th>
                        <th scope="col">{"Carriage costs"}</th><th scope="col">{"Left over full cost"}</th>
                        <th scope="col">{"Left over what is still to be spent"}</th><th scope="col">{"Pay an hour"}</th>
                    </tr>
                </thead>
                <tbody>{rows}</tbody>
            </table>
        </div>
        <ul class="fault">{left_out}</ul>
    }
    .into_any()
}

fn row(one: &Ranked) -> impl IntoView + use<> {
    let figures = [
        one.worth,
        one.kept_back,
        one.carriage_paid,
        one.tax,
        one.outcome.fees,
        one.carriage_cost,
        one.outcome.profit,
        one.outcome.over_outlay,
    ];
    let cells = figures.map(|amount| view! { <td class="figure">{amount.to_string()}</td> });
    view! {
        <tr>
            <th scope="row">{one.from.to_string()}</th>
            <td class="figure">{format!("{} {}", one.offered, one.currency)}</td>
            {cells.into_iter().collect_view()}
            <td class="figure">{one.outcome.pay_per_hour.map(|pay| pay.to_string())}</td>
        </tr>
    }
}
