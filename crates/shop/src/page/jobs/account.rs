//! The account of a job: what is left, and line by line and hour by hour what was said and what it took.

use leptos::prelude::*;
use scantling_pricing::book::ShopBook;
use scantling_pricing::jobs::{Account, Against, Left, Of, Variance, account as reckoned};
use scantling_pricing::measure::{LengthUnit, Quantity};
use scantling_pricing::money::Money;
use scantling_pricing::profit::Rates;

use super::super::fields::mend_first;
use super::super::picture::{Caption, Row, said_and_took};
use super::super::scrolled::scrolled;
use crate::desk::Desk;

/// The account of the job at an index, anew whenever the book is.
pub(super) fn account(desk: &Desk, index: usize) -> impl IntoView + use<> {
    let desk = desk.clone();
    move || match desk.book() {
        Some(book) => shown(&book, index),
        None => mend_first(&desk),
    }
}

fn shown(book: &ShopBook, index: usize) -> AnyView {
    let (Some(job), Ok(rates)) = (book.jobs.get(index), Rates::new(book)) else { return ().into_any() };
    let account = reckoned(book, &rates, job);
    let against = match account.against {
        Against::Then => "Held against what was said as it was begun.",
        Against::Now => "What was said was not written down: held against what the book says of its brief now.",
        Against::Nothing => {
            "Nothing was said of it, and it has no brief the book can fill: there is nothing to hold it against."
        }
    };
    let (currency, unit) = (book.shop.currency.to_string(), book.shop.units.length_unit());
    let lines: Vec<Row> = account.lines.iter().map(|one| line(one, unit)).collect();
    let worked = account.worked.iter().map(|row| Row {
        what: row.what.clone(),
        said: row.said,
        took: row.took,
        aside: String::new(),
    });
    let worked: Vec<Row> = worked.collect();
    let on_the_bench = job.finished.is_none().then_some(" So far: it is on the bench still.");
    view! {
        <h3>{"What it came to"}</h3>
        <p class="note">{against}{on_the_bench}</p>
        {left(&account)}
        {said_and_took(&Caption { title: "Costs line by line".into(), unit: currency }, &lines)}
        {said_and_took(&Caption { title: "Hours by operation".into(), unit: "hours".into() }, &worked)}
    }
    .into_any()
}

fn line(line: &Variance, unit: LengthUnit) -> Row {
    let (kind, counted) = match line.of {
        Of::Timber => (Some(Quantity::Timber), Quantity::Timber.unit(unit)),
        Of::Resin => (Some(Quantity::Resin), Quantity::Resin.unit(unit)),
        Of::Slab => (None, "of its face"),
        Of::Work => (None, "hours"),
        Of::Materials | Of::Carriage => (None, ""),
    };
    let much = |held| kind.map_or(held, |kind| kind.shown(held, unit));
    let told = |(said, took)| format!("{} said, {} taken, {counted}", much(said), much(took));
    let aside = line.quantity.map_or_else(String::new, told);
    Row { what: line.what.clone(), said: line.said.amount(), took: line.took.amount(), aside }
}

fn left(account: &Account) -> impl IntoView + use<> {
    let pay = |left: &Left| left.pay_per_hour.map_or_else(|| "no hour worked".to_owned(), |pay| pay.to_string());
    let money = |money: Money| money.to_string();
    let (said, took) = (&account.said, &account.took);
    let rows = [
        ("Price, tax apart", money(said.price), money(took.price)),
        ("Fees", money(said.fees), money(took.fees)),
        ("Cost, work with it", money(said.cost), money(took.cost)),
        ("Profit", money(said.profit), money(took.profit)),
        ("Hours", said.hours.to_string(), took.hours.to_string()),
        ("Pay an hour", pay(said), pay(took)),
    ];
    let rows = rows.map(|(what, said, took)| {
        view! { <tr><th scope="row">{what}</th><td class="figure">{said}</td><td class="figure">{took}</td></tr> }
    });
    let table = view! {
        <table class="grid came-to">
            <caption>{"What is left"}</caption>
            <thead><tr><th scope="col">{"Of what"}</th><th scope="col">{"Said"}</th><th scope="col">{"Came to"}</th></tr></thead>
            <tbody>{rows.into_iter().collect_view()}</tbody>
        </table>
    };
    scrolled("What is left", table)
}
