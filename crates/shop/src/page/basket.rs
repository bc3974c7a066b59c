//! The basket: each piece before and after what was edited, in figures and as bars, always beside the book.

use leptos::prelude::*;
use rust_decimal::Decimal;
use scantling_pricing::book::document::Node;
use scantling_pricing::money::Money;

use super::grid;
use super::little::options;
use super::scrolled::scrolled;
use crate::basket::{Figures, Piece, Priced, places_in};
use crate::desk::Desk;
use crate::percent::{percent_of, signed};
use crate::sheet::{Edit, Path};

/// Where the book holds the places its basket is delivered to.
const PLACES: &str = "watched_places";

/// Beside the book: price and pay for an hour, before and after.
pub(crate) fn aside(desk: &Desk) -> impl IntoView + use<> {
    let rows = desk.clone();
    let list = move || {
        let (before, now) = (rows.before.get(), rows.judged.with(|judged| judged.now.clone())?);
        Some(now.pieces.iter().map(|(piece, figures)| line(piece, figures, before.as_deref())).collect_view())
    };
    view! {
        <aside aria-label="Basket">
            <h2>{"Basket"}</h2>
            <p class="note">{"What the book does to each design at its defaults, before the edits and now."}</p>
            {reckoned(desk)}
            {nothing(desk)}
            <ul class="basket">{list}</ul>
            {anew(desk)}
        </aside>
    }
}

/// What stands where prices will, until there are any.
fn reckoned(desk: &Desk) -> impl IntoView + use<> {
    let desk = desk.clone();
    move || (!desk.is_told()).then(|| view! { <p class="note">{"The prices are being reckoned."}</p> })
}

/// Why there is no price, where there is none.
fn nothing(desk: &Desk) -> impl IntoView + use<> {
    let desk = desk.clone();
    let why = Memo::new(move |_| {
        let pieces = desk.judged.with(|judged| judged.now.as_ref().map(|now| now.pieces.len()));
        match pieces {
            _ if !desk.is_told() => None,
            None => Some("There are prices once what is not right yet, named at the top, is put right."),
            Some(0) => Some("The book has no design to price yet. Begin one under Designs."),
            Some(_) => None,
        }
    });
    move || why.get().map(|why| view! { <p class="note">{why}</p> })
}

/// Takes the prices of now for what later edits are compared with.
fn anew(desk: &Desk) -> impl IntoView + use<> {
    let desk = desk.clone();
    view! { <button type="button" on:click=move |_| desk.start_anew()>{"Compare from here on"}</button> }
}

fn line(piece: &Piece, figures: &Result<Figures, String>, before: Option<&Priced>) -> AnyView {
    let name = piece.name.clone();
    match figures {
        Err(why) => view! { <li><b>{name}</b> <span class="fault">{why.clone()}</span></li> }.into_any(),
        Ok(now) => {
            let before = before.and_then(|before| before.of(piece));
            // In another currency nothing can be said of more or less.
            let was =
                before.filter(|before| before.price != now.price && before.price.currency() == now.price.currency());
            let from = was.map(|before| view! { <s>{before.price.to_string()}</s> " " });
            let change = was.map(|before| change(before.price, now.price));
            let pay = now.pay.map(|pay| format!("{pay} an hour, {} % left over cost", now.margin));
            view! {
                <li>
                    <b>{name}</b>
                    <span class="figure">{from} {now.price.to_string()} {change}</span>
                    <span class="note">{pay}</span>
                </li>
            }
            .into_any()
        }
    }
}

/// How much a price rose or fell, in percent.
fn change(before: Money, now: Money) -> String {
    format!(" ({})", signed(percent_of((now - before).amount(), before.amount(), 1)))
}

/// The basket whole: with what is delivered where.
pub(crate) fn section(desk: &Desk) -> impl IntoView + use<> {
    let table = desk.clone();
    let body = move || {
        let (before, now) = (table.before.get(), table.judged.with(|judged| judged.now.clone())?);
        let most = now.pieces.iter().filter_map(|(_, figures)| Some(figures.as_ref().ok()?.price.amount())).max();
        let places = now.pieces.iter().filter_map(|(_, figures)| Some(figures.as_ref().ok()?.delivered.len())).max();
        let rows = now.pieces.iter().map(|(piece, figures)| {
            row(piece, figures, before.as_deref(), most.unwrap_or_default(), places.unwrap_or_default())
        });
        Some(rows.collect_view())
    };
    let heads = {
        let desk = desk.clone();
        let named = Memo::new(move |_| named_places(&desk));
        move || {
            named
                .get()
                .into_iter()
                .map(|place| view! { <th scope="col">{format!("Delivered to {place}")}</th> }.into_any())
                .collect_view()
        }
    };
    let table = view! {
        <table class="grid">
            <thead>
                <tr>
                    <th scope="col">{"Piece"}</th>
                    <th scope="col">{"Before"}</th>
                    <th scope="col">{"Now"}</th>
                    <th scope="col">{"Side by side"}</th>
                    <th scope="col">{"Left over cost"}</th>
                    <th scope="col">{"Left, of the price"}</th>
                    <th scope="col">{"Pay an hour"}</th>
                    {heads}
                </tr>
            </thead>
            <tbody>{body}</tbody>
        </table>
    };
    view! {
        <section aria-label="Basket">
            <h2>{"Basket"}</h2>
            {places(desk)}
            {reckoned(desk)}
            {nothing(desk)}
            {scrolled("Prices of the basket", table)}
            {anew(desk)}
            {chosen(desk)}
        </section>
    }
}

/// The places the book names, as they are written there.
fn named_places(desk: &Desk) -> Vec<String> {
    let place = Path::whole().key(PLACES);
    (0..desk.rows_at(&place)).map(|index| desk.words_at(&place.index(index))).collect()
}

/// Where the pieces are brought, as one line: it is in the book, so that it is kept, undone and saved with it.
fn places(desk: &Desk) -> impl IntoView + use<> {
    let (shown, read_only, wrong, typed) = (desk.clone(), desk.is_held(), desk.clone(), desk.clone());
    let value = move || named_places(&shown).join(", ");
    let fault = move || wrong.wrong_at(&Path::whole().key(PLACES));
    let invalid = fault.clone();
    let change = move |event| {
        let named: Vec<Node> = places_in(&event_target_value(&event)).into_iter().map(Node::Text).collect();
        let place = Path::whole().key(PLACES);
        let edit = if named.is_empty() { Edit::Clear(place) } else { Edit::set(place, Node::List(named)) };
        typed.edit("Places the basket is delivered to", vec![edit]);
    };
    view! {
        <div class="field">
            <label for="places">{"Delivered to, separated by commas: 60601, 98101, CA K1A 0B1"}</label>
            <input
                id="places"
                type="text"
                readonly=read_only
                aria-invalid=move || invalid().map(|_| "true")
                aria-describedby="places-fault"
                prop:value=value
                on:change=change
            />
            <p class="fault" id="places-fault">{fault}</p>
        </div>
    }
}

/// Which pieces are in it, and one more.
fn chosen(desk: &Desk) -> impl IntoView + use<> {
    let place = Path::whole().key("basket");
    let (rows, list) = (desk.clone(), place.clone());
    let any = Memo::new(move |_| rows.rows_at(&list) > 0);
    let kind = desk.kind.field("basket").and_then(|field| field.kind.rows().cloned());
    let grid = {
        let (desk, place) = (desk.clone(), place.clone());
        move || kind.as_ref().filter(|_| any.get()).map(|row| grid::grid(&desk, &place, row))
    };
    let design = RwSignal::new(String::new());
    let designs = {
        let desk = desk.clone();
        options(move || designs(&desk), move || design.get())
    };
    let add = {
        let desk = desk.clone();
        move |_| add(&desk, &place, &design.get_untracked())
    };
    view! {
        <h3>{"Which pieces"}</h3>
        <p class="note">{"Pieces of your own, in the sizes you sell most. Without any it is each design at its defaults, twelve at most."}</p>
        <div class="above">
            <label for="watch">{"Design"}</label>
            <select id="watch" on:change=move |event| design.set(event_target_value(&event))>
                <option value="">{"(choose one)"}</option>
                {designs}
            </select>
            <button type="button" disabled=move || design.with(String::is_empty) on:click=add>{"Add this piece"}</button>
        </div>
        {grid}
    }
}

/// The designs of the book, by key and name.
fn designs(desk: &Desk) -> Vec<(String, String)> {
    let designs = Path::whole().key("designs");
    let words = |index: usize, key: &str| desk.words_at(&designs.index(index).key(key));
    (0..desk.rows_at(&designs)).map(|index| (words(index, "key"), words(index, "name"))).collect()
}

/// Puts a design at its defaults into the basket, to be changed there.
fn add(desk: &Desk, place: &Path, design: &str) {
    let text = |words: &str| Node::Text(words.to_owned());
    let brief = vec![("scantling_brief".to_owned(), Node::Int(1)), ("design".to_owned(), text(design))];
    let piece = vec![("name".to_owned(), text(design)), ("brief".to_owned(), Node::Table(brief))];
    let rows = desk.rows_at(place);
    let list = (rows == 0).then(|| Edit::set(place.clone(), Node::List(Vec::new())));
    let row = Edit::Insert(place.index(rows), Node::Table(piece));
    desk.edit(&format!("Watching {design}"), list.into_iter().chain([row]).collect());
}

/// Columns of figures before those of the places.
const FIGURES: usize = 6;

fn row(
    piece: &Piece,
    figures: &Result<Figures, String>,
    before: Option<&Priced>,
    most: Decimal,
    places: usize,
) -> AnyView {
    let name = piece.name.clone();
    let now = match figures {
        Ok(now) => now,
        Err(why) => {
            let columns = FIGURES.saturating_add(places);
            return view! { <tr><th scope="row">{name}</th><td colspan=columns class="fault">{why.clone()}</td></tr> }
                .into_any();
        }
    };
    let was = before.and_then(|before| before.of(piece)).map(|before| before.price);
    let was = was.filter(|was| was.currency() == now.price.currency());
    let bar = |price: Money, class: &'static str| {
        let share = price.amount().checked_div(most).unwrap_or_default().saturating_mul(Decimal::ONE_HUNDRED);
        view! { <span class=class style:inline-size=format!("{}%", share.trunc())></span> }
    };
    let delivered: Vec<AnyView> = now
        .delivered
        .iter()
        .map(|price| {
            view! { <td class="figure">{price.map_or_else(|| "by hand".to_owned(), |price| price.to_string())}</td> }
                .into_any()
        })
        .collect();
    view! {
        <tr>
            <th scope="row">{name}</th>
            <td class="figure">{was.map(|was| was.to_string())}</td>
            <td class="figure">{now.price.to_string()}</td>
            <td class="bars" aria-hidden="true">{was.map(|was| bar(was, "was"))} {bar(now.price, "is")}</td>
            <td class="figure">{now.profit.to_string()}</td>
            <td class="figure">{format!("{} %", now.margin)}</td>
            <td class="figure">{now.pay.map(|pay| pay.to_string())}</td>
            {delivered}
        </tr>
    }
    .into_any()
}
