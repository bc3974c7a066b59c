//! A firm quote on paper: drawing, what is built, price, delivery, tax, payments, terms, until when it stands, what is left out.

use leptos::prelude::*;
use scantling_drawing::{Paper, Scale, Seen, described, measured};
use scantling_pricing::book::delivery::Shown;
use scantling_pricing::book::ledger::Revision;
use scantling_pricing::book::values::Count;
use scantling_pricing::book::{PriceBook, ShopBook};
use scantling_pricing::brief::Brief;
use scantling_pricing::delivery::{Mode, Terms};
use scantling_pricing::design::{Resolved, resolve};
use scantling_pricing::money::{Currency, Money};
use scantling_pricing::request::Contact;

use super::designs::pictured;
use crate::draft::Picture;

/// A revision on paper, for a buyer. The drawing is of its brief by the designs of the book; a revision whose design is gone has none.
pub(crate) fn paper(
    book: &ShopBook,
    prices: &PriceBook,
    buyer: &Contact,
    revision: &Revision,
    sent: Option<usize>,
) -> Option<AnyView> {
    let resolved = resolve(prices, &revision.brief).ok();
    let name = resolved.as_ref().map_or_else(|| revision.brief.design.to_string(), |own| own.design.name.to_string());
    let print = |_| {
        // A browser that can't print says so itself.
        let _said = web_sys::window().map(|window| window.print());
    };
    let which = sent.map_or_else(
        || "As it would go out today".to_owned(),
        |at| format!("Revision {}, as it went out", at.saturating_add(1)),
    );
    let unit = book.shop.units.length_unit();
    let body = resolved.as_ref().map(|resolved| {
        let sizes = resolved.envelope().map(|size| size.show(unit)).join(" x ");
        view! {
            {drawing(prices, resolved)}
            <h3>{"What is built"}</h3>
            <p>{built(resolved, &revision.brief, &sizes)}</p>
        }
    });
    Some(
        view! {
            <p class="above">
                <button type="button" on:click=print>{"Print the quote"}</button>
                {which}
            </p>
            <article class="quote">
                <h2>{format!("Quote: {name}")}</h2>
                <p>{format!("{}, {}, {}", book.shop.name, book.shop.place, book.shop.contact)}</p>
                <p>{format!("For {}, {}", buyer.name, buyer.mail)}</p>
                <p>{format!("Written: {}", revision.written.as_str())}</p>
                <p>{format!("Stands until: {}", revision.until.as_str())}</p>
                {body}
                {agreed(prices.currency(), revision)}
                {sums(prices.currency(), revision)}
                {terms(prices, revision)}
                {closing(prices.currency(), revision)}
            </article>
        }
        .into_any(),
    )
}

fn built(resolved: &Resolved<'_>, brief: &Brief, sizes: &str) -> String {
    let options = resolved
        .design
        .options
        .iter()
        .filter_map(|group| Some(format!("{}: {}", group.label, group.chosen(brief)?.label)));
    let of = resolved.materials.iter().map(|material| {
        let role = resolved.design.role(material.role).map_or_else(String::new, |role| role.label.to_string());
        format!("{role}: {}", material.stock.name())
    });
    let of: Vec<String> = of.chain(options).collect();
    format!(
        "{} x {}, {sizes}. {}. Finish: {}.",
        resolved.quantity,
        resolved.design.name,
        of.join(". "),
        resolved.finish.name
    )
}

/// Lines the buyer is told of, with the reason.
fn agreed(currency: Currency, revision: &Revision) -> Option<AnyView> {
    let told: Vec<_> = revision.lines.iter().filter(|line| line.shown).collect();
    if told.is_empty() {
        return None;
    }
    let each = told.into_iter().map(|line| {
        let (_, name) = line.line.as_str().split_once(": ").unwrap_or(("", line.line.as_str()));
        let reason = line.reason.as_ref().map_or_else(String::new, |reason| format!(": {reason}"));
        let amount = Money::rounded(line.amount.value(), currency);
        view! { <li>{format!("{name}, {amount} of the price{reason}")}</li> }
    });
    let each = each.collect_view();
    Some(view! { <h3>{"Other than in the estimate"}</h3><ul>{each}</ul> }.into_any())
}

/// How it comes to the buyer, packed.
const fn carried(way: Mode) -> &'static str {
    match way {
        Mode::Collect => "Packing; collected at the workshop",
        Mode::Van => "Packing and delivery, brought by us",
        Mode::Parcel => "Packing and delivery by parcel",
        Mode::Freight => "Packing and delivery by freight",
        Mode::WhiteGlove => "Packing and delivery, carried in and placed",
        Mode::Abroad => "Packing and delivery abroad",
    }
}

/// Where it is handed over beyond a border, and who pays what is due there, by the book as it stands.
fn terms(prices: &PriceBook, revision: &Revision) -> Option<impl IntoView + use<>> {
    let (to, way) = (revision.brief.destination.as_ref()?, revision.delivery?);
    let terms = Terms::of(prices, to, way)?;
    Some(view! { <p class="note">{format!("Delivery: {}.", terms.explain())}</p> })
}

/// The piece, its way, its tax, and what is paid in all.
fn sums(currency: Currency, revision: &Revision) -> impl IntoView + use<> {
    let money = |amount: scantling_pricing::book::Amount| Money::rounded(amount.value(), currency).to_string();
    let way = revision.delivery.map(|way| (carried(way).to_owned(), money(revision.carriage)));
    let rows = [
        Some(("The piece, at the workshop".to_owned(), money(revision.piece))),
        way,
        revision.tax.as_ref().map(|tax| (tax.name.to_string(), money(tax.amount))),
        Some(("To pay".to_owned(), money(revision.to_pay))),
    ];
    let rows = rows.into_iter().flatten().map(|(what, amount)| {
        view! { <tr><th scope="row">{what}</th><td class="figure">{amount}</td></tr> }
    });
    let left_out = match &revision.tax {
        Some(tax) if tax.shown == Shown::Within => "Tax is in the sum.",
        Some(_) => "Tax is added as shown.",
        None => "No tax is added by us.",
    };
    view! {
        <h3>{"Price"}</h3>
        <table class="grid"><tbody>{rows.collect_view()}</tbody></table>
        <p class="note">{left_out}</p>
    }
}

fn closing(currency: Currency, revision: &Revision) -> impl IntoView + use<> {
    let stages = revision.stages.iter().map(|stage| {
        let amount = Money::rounded(stage.amount.value(), currency);
        view! { <tr><th scope="row">{stage.when.to_string()}</th><td class="figure">{amount.to_string()}</td></tr> }
    });
    let stages = stages.collect_view();
    let weeks = revision.days.map(|[fewest, most]| {
        let weeks = |days: Count| days.value().div_ceil(7);
        let ready = if revision.delivery.is_none_or(|way| way == Mode::Collect) {
            "Ready to collect"
        } else {
            "Ready and with you"
        };
        match (weeks(fewest), weeks(most)) {
            (1, 1) => format!("{ready} in about a week from your order."),
            (fewest, most) if fewest == most => format!("{ready} in about {most} weeks from your order."),
            (fewest, most) => format!("{ready} in about {fewest} to {most} weeks from your order."),
        }
    });
    let note = revision.note.as_ref().map(ToString::to_string);
    let excluded = revision.excluded.as_ref().map(|excluded| {
        view! { <h3>{"Not in the price"}</h3><p>{excluded.to_string()}</p> }
    });
    view! {
        <h3>{"Payment"}</h3>
        <table class="grid"><tbody>{stages}</tbody></table>
        <p>{weeks}</p>
        {excluded}
        <h3>{"Terms"}</h3>
        <p>{revision.terms.to_string()}</p>
        <p>{note}</p>
        <p class="accepted">{"Accepted, name and date:"}</p>
        <p>{"What it can bear and how it is fixed on the spot is for competent people to judge, by local codes and licensed practice."}</p>
    }
}

/// The measured drawing as a picture.
fn drawing(prices: &PriceBook, resolved: &Resolved<'_>) -> impl IntoView + use<> {
    let name = resolved.design.name.as_str();
    let words = [prices.shop.name.as_str(), name];
    let names = ["Front", "Right-hand end", "From above"];
    let paper = Paper { wide: 720, tall: 560, lettering: 13, names, words: &words, scale: Scale::ThisPiece };
    let unit = prices.shop.units.length_unit();
    let told = described(resolved, unit, Seen::Measured);
    pictured(&Picture::new(&measured(resolved, unit, &paper).drawing, name, &told), &told)
}
