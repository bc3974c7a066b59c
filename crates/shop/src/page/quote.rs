//! A firm quote on paper: drawing, what is built, price, delivery, tax, payments, terms, until when it stands, what is left out.

use leptos::prelude::*;
use scantling_drawing::{Paper, Scale, measured, svg};
use scantling_pricing::book::delivery::Shown;
use scantling_pricing::book::values::Day;
use scantling_pricing::book::{PriceBook, ShopBook};
use scantling_pricing::design::{Resolved, resolve};
use scantling_pricing::estimate::Estimate;
use scantling_pricing::request::Request;

/// The quote for a request, at what it comes to by this book.
pub(crate) fn quote(book: &ShopBook, prices: &PriceBook, request: &Request, estimate: &Estimate) -> Option<AnyView> {
    let resolved = resolve(prices, &request.brief).ok()?;
    let unit = book.shop.units.length_unit();
    let sizes = resolved.envelope().map(|size| size.show(unit)).join(" x ");
    let today = today();
    let until = today.as_ref().and_then(|day| day.after(estimate.stands_days));
    let dated = [("Written", today), ("Stands until", until)];
    let dated = dated.map(|(what, day)| day.map(|day| view! { <p>{format!("{what}: {}", day.as_str())}</p> }));
    let print = |_| {
        // A browser that can't print says so itself.
        let _said = web_sys::window().map(|window| window.print());
    };
    Some(
        view! {
            <button type="button" on:click=print>{"Print the quote"}</button>
            <article class="quote">
                <h2>{format!("Quote: {}", resolved.design.name)}</h2>
                <p>{format!("{}, {}, {}", book.shop.name, book.shop.place, book.shop.contact)}</p>
                <p>{format!("For {}, {}", request.from.name, request.from.mail)}</p>
                {dated.into_iter().collect_view()}
                {drawing(prices, &resolved)}
                <h3>{"What is built"}</h3>
                <p>{built(&resolved, &sizes)}</p>
                {sums(estimate)}
                {closing(book, estimate)}
            </article>
        }
        .into_any(),
    )
}

fn built(resolved: &Resolved<'_>, sizes: &str) -> String {
    let of = resolved.materials.iter().map(|material| {
        let role = resolved.design.role(material.role).map_or_else(String::new, |role| role.label.to_string());
        format!("{role}: {}", material.stock.name())
    });
    let of: Vec<String> = of.collect();
    format!(
        "{} x {}, {sizes}. {}. Finish: {}.",
        resolved.quantity,
        resolved.design.name,
        of.join(". "),
        resolved.finish.name
    )
}

/// The piece, its way, its tax, and what is paid in all.
fn sums(estimate: &Estimate) -> impl IntoView + use<> {
    let piece = estimate.works_net();
    let delivered = estimate.delivered();
    let way = estimate.chosen.map_or("", scantling_pricing::delivery::Mode::word);
    let carriage = estimate.net() - piece;
    let tax = estimate.tax().map(|tax| (tax.name.to_string(), tax.amount.to_string()));
    let rows = [
        Some(("The piece, at the workshop".to_owned(), piece.to_string())),
        delivered.map(|_| (format!("Packing and delivery: {way}"), carriage.to_string())),
        tax,
        Some(("To pay".to_owned(), estimate.to_pay().to_string())),
    ];
    let rows = rows.into_iter().flatten().map(|(what, amount)| {
        view! { <tr><th scope="row">{what}</th><td class="figure">{amount}</td></tr> }
    });
    let left_out = match estimate.tax() {
        Some(tax) if tax.shown == Shown::Within => "Tax is in the sum.",
        Some(_) => "Tax is added as shown.",
        None => "No tax is added by us.",
    };
    view! {
        <table class="grid"><tbody>{rows.collect_view()}</tbody></table>
        <p class="note">{left_out}</p>
    }
}

fn closing(book: &ShopBook, estimate: &Estimate) -> impl IntoView + use<> {
    let stages = estimate.payments.iter().map(|stage| format!("{} {}", stage.amount, stage.when));
    let stages: Vec<String> = stages.collect();
    let weeks = estimate.days().map(|(fewest, most)| {
        format!("Ready and with you in about {} to {} weeks from your order.", fewest.div_ceil(7), most.div_ceil(7))
    });
    let note = estimate.region.as_ref().and_then(|region| region.note.as_ref()).map(ToString::to_string);
    view! {
        <h3>{"Payment"}</h3>
        <p>{stages.join(", ")}</p>
        <p>{weeks}</p>
        <h3>{"Terms"}</h3>
        <p>{book.shop.terms.to_string()}</p>
        <p>{note}</p>
        <p>{"What it can bear and how it is fixed on the spot is for competent people to judge, by local codes and licensed practice."}</p>
    }
}

/// The measured drawing as a picture.
fn drawing(prices: &PriceBook, resolved: &Resolved<'_>) -> impl IntoView + use<> {
    let name = resolved.design.name.as_str();
    let words = [prices.shop.name.as_str(), name];
    let names = ["Front", "Right-hand end", "From above"];
    let paper = Paper { wide: 720, tall: 560, lettering: 13, names, words: &words, scale: Scale::ThisPiece };
    let drawn = svg::write(&measured(resolved, prices.shop.units.length_unit(), &paper).drawing, name, name);
    let escaped = String::from(js_sys::encode_uri_component(&drawn));
    view! { <img class="drawn" src=format!("data:image/svg+xml,{escaped}") alt=format!("{name} to scale, with its sizes") /> }
}

/// The day it is where the maker is.
pub(crate) fn today() -> Option<Day> {
    let now = js_sys::Date::new_0();
    let text = format!("{:04}-{:02}-{:02}", now.get_full_year(), now.get_month().saturating_add(1), now.get_date());
    Day::new(&text).ok()
}
