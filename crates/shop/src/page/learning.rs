//! What the jobs teach: each suggestion with its evidence and what it would do, taken or left one by one.

use std::sync::Arc;

use leptos::prelude::*;
use rust_decimal::Decimal;
use scantling_pricing::book::{DocumentError, ShopBook};
use scantling_pricing::suggestions::{Effect as Moved, Lessons, Subject, Suggestion, Unchanged};

use super::fields::mend_first;
use super::progress::progress;
use crate::basket::watched;
use crate::desk::Desk;
use crate::sheet::{Edit, Path, Sheet};
use crate::slices::{Far, Slices};

/// What was reckoned of a book, or why it could not be.
type Taught = Result<Vec<(Suggestion, Vec<Moved>)>, String>;

/// The section.
pub(crate) fn section(desk: &Desk) -> impl IntoView + use<> {
    let taught = RwSignal::new(None::<Taught>);
    let slices = Slices::default();
    let ending = slices.clone();
    on_cleanup(move || ending.end());
    let bar = progress(&slices, "What the jobs teach is being reckoned");
    let source = desk.clone();
    Effect::new(move |_| match source.book() {
        Some(book) => reckon(&slices, book, taught),
        None => {
            slices.end();
            taught.set(None);
        }
    });
    let desk = desk.clone();
    let list = move || match taught.get() {
        Some(Ok(found)) => cards(&desk, &found),
        Some(Err(fault)) => view! { <p class="fault">{fault}</p> }.into_any(),
        None if desk.book().is_none() => mend_first(&desk),
        None => view! { <p class="note">{"What the jobs teach is being reckoned."}</p> }.into_any(),
    };
    view! {
        <section aria-label="What jobs teach">
            <h2>{"What jobs teach"}</h2>
            <p class="note">{"Nothing here changes the book by itself. Few jobs move little; take one suggestion, look at the basket, take the next."}</p>
            {bar}
            {list}
        </section>
    }
}

/// What a step of the reckoning comes to.
enum Step {
    Far(Far),
    Done(Vec<(Suggestion, Vec<Moved>)>),
}

/// Hears every job, then reckons what each suggestion would do, a little at a time: a book may have thousands of jobs.
fn reckon(slices: &Slices, book: Arc<ShopBook>, taught: RwSignal<Option<Taught>>) {
    let basket: Vec<_> = watched(&book).into_iter().map(|piece| piece.brief).collect();
    let (mut lessons, mut heard) = (None, 0_usize);
    let (mut waiting, mut told) = (None::<(Unchanged, std::vec::IntoIter<Suggestion>)>, Vec::new());
    let jobs = book.jobs.len();
    let mut step = move || -> Result<Step, DocumentError> {
        if let Some((unchanged, left)) = &mut waiting {
            let Some(one) = left.next() else { return Ok(Step::Done(std::mem::take(&mut told))) };
            // What the jobs bear out as it stands is nothing to take, and does nothing.
            let effects = if moves(&one) { unchanged.with(&one, &book)? } else { Vec::new() };
            told.push((one, effects));
            let all = told.len().saturating_add(left.len());
            return Ok(Step::Far(Far { done: told.len(), all, of: "suggestions tried" }));
        }
        let mut hearing = match lessons.take() {
            Some(lessons) => lessons,
            None => Lessons::new(&book)?,
        };
        if let Some(job) = book.jobs.get(heard) {
            hearing.hear(job, &book);
            heard = heard.saturating_add(1);
            lessons = Some(hearing);
        } else {
            waiting = Some((Unchanged::new(&book, &basket)?, hearing.suggestions().into_iter()));
        }
        Ok(Step::Far(Far { done: heard, all: jobs, of: "jobs heard" }))
    };
    slices.run(move || {
        let done = match step() {
            Ok(Step::Far(far)) => return Some(far),
            Ok(Step::Done(done)) => Ok(done),
            Err(fault) => Err(fault.to_string()),
        };
        taught.set(Some(done));
        None
    });
}

fn moves(one: &Suggestion) -> bool {
    one.factor != Decimal::ONE
}

/// A card for each suggestion, and what is borne out as it stands.
fn cards(desk: &Desk, found: &[(Suggestion, Vec<Moved>)]) -> AnyView {
    if found.is_empty() {
        return view! { <p>{"No finished job says yet what it took. Begin a job from a quote, a request or by hand, record its hours and its timber, and finish it under Jobs."}</p> }.into_any();
    }
    let cards = found.iter().filter(|(one, _)| moves(one)).map(|(one, effects)| card(desk, one, effects.clone()));
    let cards = cards.collect_view();
    let borne_out: Vec<String> =
        found.iter().filter(|(one, _)| !moves(one)).map(|(one, _)| subject(&one.subject).to_lowercase()).collect();
    let as_it_is = (!borne_out.is_empty())
        .then(|| view! { <p>{format!("Borne out as the book has it: {}.", borne_out.join(", "))}</p> });
    view! { {cards} {as_it_is} }.into_any()
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

fn card(desk: &Desk, one: &Suggestion, effects: Vec<Moved>) -> impl IntoView + use<> {
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
