//! What the price is made of, in figures and in words.

use std::time::Duration;

use leptos::prelude::*;
use rust_decimal::Decimal;
use scantling_pricing::book::delivery::Shown;
use scantling_pricing::book::shop::Deposit;
use scantling_pricing::book::values::Day;
use scantling_pricing::checks::{Level, way_in};
use scantling_pricing::design::resolve;
use scantling_pricing::estimate::{Estimate, Line, Payment, PriceRange};
use scantling_pricing::measure::{LengthUnit, Quantity};
use scantling_pricing::money::{Money, total};

use super::shares;
use crate::first;
use crate::platform;
use crate::rest::{First, rested};
use crate::ui::Ui;
use crate::wording;
use crate::words::Word;

/// How long after the price: a table of its lines takes longer to lay out than the price, which must be there in the key's own frame.
const LATER: Duration = Duration::from_millis(50);

/// The slot for what the maker adds to the terms in his own words.
const NOTES: &str = "notes";

/// Lines, figures, cautions, terms, and what the page says under them.
pub(crate) fn details(ui: Ui) -> impl IntoView {
    let (shown, follow) = (ui.shown.clone(), ui.shown.clone());
    let all = move |shown: &first::Shown| {
        let estimate = &shown.estimate;
        view! {
            <h3>{ui.say(wording::MADE_OF)}</h3>
            {shares::picture(&ui, estimate)}
            {lines(&ui, estimate)}
            <h3>{ui.say(wording::WHY_RANGE)}</h3>
            <p class="why-range">{why_range(&ui, estimate)}</p>
            <h3>{ui.say(wording::FACTS)}</h3>
            <p>{facts(&ui, estimate)}</p>
            {room(&ui, shown)}
            {cautions(&ui, estimate)}
            {terms(&ui, estimate)}
        }
    };
    let later = RwSignal::new(());
    // A widget that was taken off the page has nowhere to put them.
    rested(
        LATER,
        First::Left,
        move || follow.track(),
        move || {
            let _gone = later.try_set(());
        },
    );
    view! {
        <section class="details" part="details">
            {move || {
                later.track();
                untrack(|| shown.with_untracked(|shown| shown.as_ref().map(&all)))
            }}
            <slot name=NOTES></slot>
        </section>
    }
}

/// The lines that add up to the likely price of the way chosen, or at the workshop.
fn lines(ui: &Ui, estimate: &Estimate) -> impl IntoView + use<> {
    let delivered = estimate.delivered();
    let carried = delivered.map(|delivered| delivered.lines.as_slice()).unwrap_or_default();
    let rounding = delivered.map_or(estimate.rounding, |delivered| delivered.rounding);
    let likely = estimate.price().likely;
    let unit = ui.form.with_untracked(|form| form.unit);
    let rows = estimate.lines.iter().chain(carried).map(|line| row(ui, line, unit)).collect_view();
    let tax = estimate.tax();
    let within =
        tax.filter(|tax| tax.shown == Shown::Within).map(|tax| row_of(&tax.name.to_string(), ui.money(tax.amount)));
    let apart = tax.filter(|tax| tax.shown == Shown::Apart).map(|tax| {
        view! { <p class="note">{ui.say(wording::TAX)} {" "} {tax.name.to_string()} {" "} <span class="figure">{ui.money(tax.amount)}</span></p> }
    });
    let other = estimate.conversion.as_ref().map(|other| {
        let PriceRange { low, likely, high } = other.price;
        let span = wording::range(&ui.words, &ui.money(low), &ui.money(high));
        let rate = ui.words.number(&other.rate.to_string());
        let rate = ["1", estimate.currency.code(), "=", &rate, other.currency.code()].join(" ");
        let guide = wording::conversion(&ui.words, &ui.money(likely), &span, &rate, &ui.words.day(&other.day));
        view! { <p class="note">{guide}</p> }
    });
    view! {
        <table>
            <caption class="quiet">{ui.say(wording::MADE_OF)}</caption>
            <thead><tr><th scope="col">{ui.say(wording::LINE)}</th><th scope="col">{ui.say(wording::AMOUNT)}</th></tr></thead>
            <tbody>{rows} {sum(ui, wording::ROUNDING, rounding, "rounding")} {within}</tbody>
            <tfoot>{sum(ui, wording::TOTAL, likely, "total")}</tfoot>
        </table>
        {apart}
        {other}
    }
}

/// A tax that is in the price: a line of its own, so that the lines add up to what is paid.
fn row_of(name: &str, amount: String) -> impl IntoView + use<> {
    view! {
        <tr>
            <th scope="row">{name.to_owned()}</th>
            <td class="figure">{amount}</td>
        </tr>
    }
}

fn row(ui: &Ui, line: &Line, unit: LengthUnit) -> impl IntoView + use<> {
    view! {
        <tr>
            <th scope="row">{wording::line(&ui.words, line)} {" "} <span class="note">{wording::quantity(&ui.words, line, unit)}</span></th>
            <td class="figure">{ui.money(line.amount)}</td>
        </tr>
    }
}

fn sum(ui: &Ui, name: Word, amount: Money, class: &'static str) -> impl IntoView + use<> {
    view! {
        <tr class=class>
            <th scope="row">{ui.say(name)}</th>
            <td class="figure">{ui.money(amount)}</td>
        </tr>
    }
}

fn facts(ui: &Ui, estimate: &Estimate) -> String {
    let unit = ui.form.with_untracked(|form| form.unit);
    let much = |kind, held: Decimal| wording::in_units(&ui.words, kind, held.normalize(), unit);
    let mut facts = wording::facts(
        &ui.words,
        &much(Quantity::Timber, estimate.board_feet),
        &much(Quantity::Surface, estimate.finished_square_feet),
        &much(Quantity::Weight, estimate.weight_pounds),
    );
    if let Some((fewest, most)) = estimate.days() {
        let weeks = (fewest.div_ceil(7), most.div_ceil(7));
        let earliest = platform::today().and_then(|today| Day::new(&today).ok()?.after(fewest));
        let told = earliest.map(|day| wording::earliest(&ui.words, &ui.words.day(&day)));
        let until = wording::weeks(&ui.words, weeks, estimate.brought().is_some());
        for more in std::iter::once(until).chain(told) {
            facts.push(' ');
            facts.push_str(&more);
        }
    }
    facts
}

/// Why it is a range, and which lines make this one as wide as it is.
fn why_range(ui: &Ui, estimate: &Estimate) -> String {
    let why = ui.say(wording::WHY_RANGE_TEXT);
    match wording::doubt(&ui.words, &estimate.unsure()) {
        Some(doubt) => [why, doubt].join(" "),
        None => why,
    }
}

/// How many it seats, its height, room for knees, who can lift it and whether it goes through a door. What is wrong with one of them
/// stands among the cautions.
fn room(ui: &Ui, shown: &first::Shown) -> Option<impl IntoView + use<>> {
    let unit = ui.form.with(|form| form.unit);
    let resolved = resolve(&ui.book, &shown.brief).ok()?;
    let way_in = way_in(&resolved);
    let noted = shown.estimate.findings.iter().chain(&way_in).filter(|finding| finding.level == Level::Note);
    let items: Vec<String> = noted.filter_map(|finding| wording::room(&ui.words, finding, unit)).collect();
    (!items.is_empty()).then(|| {
        let items = items.into_iter().map(|item| view! { <li>{item}</li> }).collect_view();
        view! {
            <h3>{ui.say(wording::ROOM)}</h3>
            <ul class="room-for">{items}</ul>
        }
    })
}

/// Cautions, and what the checks warn of.
fn cautions(ui: &Ui, estimate: &Estimate) -> Option<impl IntoView + use<>> {
    let unit = ui.form.with(|form| form.unit);
    let warned = estimate.findings.iter().filter(|finding| finding.level == Level::Warn);
    let warned = warned.map(|finding| wording::finding(&ui.words, finding, unit));
    let items: Vec<String> =
        warned.chain(estimate.cautions.iter().map(|caution| ui.say(wording::caution(*caution)))).collect();
    (!items.is_empty()).then(|| {
        let items = items.into_iter().map(|item| view! { <li>{item}</li> }).collect_view();
        view! {
            <h3>{ui.say(wording::CAUTIONS)}</h3>
            <ul class="cautions">{items}</ul>
        }
    })
}

fn terms(ui: &Ui, estimate: &Estimate) -> impl IntoView + use<> {
    let shop = &ui.book.shop;
    let stages = shop.deposits.iter().zip(&estimate.payments);
    let payment = |(deposit, payment): (&Deposit, &Payment)| {
        let percent = ui.words.number(&deposit.percent());
        wording::payment(&ui.words, &percent, &ui.money(payment.amount), payment.when.as_str())
    };
    let payments: Vec<String> = stages.map(payment).collect();
    let payments = payments.join(", ");
    // What is paid has the tax in it; where the price above has not, it is said what the shares are of.
    let taxed = estimate.tax().filter(|tax| tax.shown == Shown::Apart);
    let payments = if taxed.is_some() {
        let whole = total(estimate.currency, estimate.payments.iter().map(|payment| payment.amount));
        wording::payments_taxed(&ui.words, &ui.money(whole), &payments)
    } else {
        wording::payments(&ui.words, &payments)
    };
    let days = estimate.stands_days.to_string();
    let stands = wording::stands(&ui.words, &days, &days, &ui.words.day(&estimate.edition));
    let notice = estimate.notice.as_ref().map(|notice| view! { <p class="notice">{notice.to_string()}</p> });
    view! {
        <h3>{ui.say(wording::TERMS)}</h3>
        <p>{shop.terms.to_string()} {" "} {stands}</p>
        <p>{payments}</p>
        {notice}
    }
}
