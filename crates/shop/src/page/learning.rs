//! What the jobs teach: each suggestion with its evidence and what it would do, taken or left one by one.

use leptos::prelude::*;
use rust_decimal::Decimal;
use scantling_pricing::suggestions::{Effect, Subject, Suggestion, effects, suggestions};

use super::fields::mend_first;
use crate::basket::watched;
use crate::desk::Desk;
use crate::sheet::{Edit, Path, Sheet};

/// The section.
pub(crate) fn section(desk: &Desk) -> impl IntoView + use<> {
    let source = desk.clone();
    let desk = desk.clone();
    let list = move || {
        let book = source.book();
        let Some(book) = book else { return mend_first(&source) };
        match suggestions(&book) {
            Ok(found) if found.is_empty() => {
                view! { <p>{"No finished job says yet what it took. Begin a job from a quote, a request or by hand, record its hours and its timber, and finish it under Jobs."}</p> }.into_any()
            }
            Ok(found) => {
                // What the jobs bear out as it stands is nothing to take.
                let (moves, borne_out): (Vec<_>, Vec<_>) = found.into_iter().partition(|one| one.factor != Decimal::ONE);
                let basket: Vec<_> = watched(&book).into_iter().map(|piece| piece.brief).collect();
                let effects = effects(&moves, &book, &basket).unwrap_or_else(|_| vec![Vec::new(); moves.len()]);
                let cards = moves.iter().zip(effects).map(|(one, effects)| card(&desk, one, effects)).collect_view();
                let borne_out: Vec<String> = borne_out.iter().map(|one| subject(&one.subject).to_lowercase()).collect();
                let as_it_is = (!borne_out.is_empty())
                    .then(|| view! { <p>{format!("Borne out as the book has it: {}.", borne_out.join(", "))}</p> });
                view! { {cards} {as_it_is} }.into_any()
            }
            Err(fault) => view! { <p class="fault">{fault.to_string()}</p> }.into_any(),
        }
    };
    view! {
        <section aria-label="What jobs teach">
            <h2>{"What jobs teach"}</h2>
            <p class="note">{"Nothing here changes the book by itself. Few jobs move little; take one suggestion, look at the basket, take the next."}</p>
            {list}
        </section>
    }
}

fn subject(subject: &Subject) -> String {
    match subject {
        Subject::Stage(stage) => format!("Minutes of “{stage}”"),
        Subject::Timber(key) => format!("Yield of {key}"),
    }
}

/// What the jobs say of it: a stage took longer or shorter, a timber gave more or less.
fn evidence(one: &Suggestion) -> String {
    let jobs = if one.jobs == 1 { "1 job".to_owned() } else { format!("{} jobs", one.jobs) };
    let Suggestion { seen, factor, next: (low, high), .. } = one;
    match &one.subject {
        Subject::Stage(_) => format!(
            "{jobs} took {seen} times the minutes the book says. Suggested: {factor} times; 8 of the next 10 should lie from {low} to {high}."
        ),
        Subject::Timber(_) => format!(
            "Of what was bought for {jobs}, {seen} times as much ended in the piece as the book says: above 1 less timber is needed, below 1 more. \
             Suggested: {factor} times; 8 of the next 10 should lie from {low} to {high}."
        ),
    }
}

fn card(desk: &Desk, one: &Suggestion, effects: Vec<Effect>) -> impl IntoView + use<> {
    let what = subject(&one.subject);
    let moved = effects.into_iter().filter(|effect| effect.before != effect.after);
    let rows = moved.map(|effect| {
        view! { <tr><th scope="row">{effect.design.to_string()}</th><td class="figure">{effect.before.to_string()}</td><td class="figure">{effect.after.to_string()}</td></tr> }
    });
    let rows = rows.collect_view();
    let take = {
        let (desk, one, what) = (desk.clone(), one.clone(), what.clone());
        move |_| take(&desk, &one, &what)
    };
    view! {
        <article class="card">
            <h3>{what}</h3>
            <p>{evidence(one)}</p>
            <details>
                <summary>{"What it would do to the prices"}</summary>
                <table class="grid"><thead><tr><th scope="col">{"Piece"}</th><th scope="col">{"Now"}</th><th scope="col">{"With it"}</th></tr></thead><tbody>{rows}</tbody></table>
            </details>
            <button type="button" on:click=take>{"Take it"}</button>
        </article>
    }
}

/// Takes a suggestion as edits of the sheet, so that it can be undone like any other.
fn take(desk: &Desk, one: &Suggestion, what: &str) {
    let Some(book) = desk.book_now() else { return };
    let Ok(text) = serde_json::to_string(&one.applied(&book)) else { return };
    let Ok(after) = Sheet::open(&text) else { return };
    let part = match one.subject {
        Subject::Stage(_) => "operations",
        Subject::Timber(_) => "timbers",
    };
    let place = Path::whole().key(part);
    if let Some(rows) = after.at(&place) {
        desk.edit(&format!("Taking what the jobs teach of {what}"), vec![Edit::set(place, rows.clone())]);
    }
}
