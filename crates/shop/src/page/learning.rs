//! What the jobs teach: each suggestion with its evidence and what it would do, taken or left one by one. One that was left comes back with
//! the next job that speaks of the same thing.

use std::sync::Arc;

use leptos::prelude::*;
use rust_decimal::Decimal;
use scantling_pricing::book::document::Node;
use scantling_pricing::book::{DocumentError, ShopBook};
use scantling_pricing::estimate::PriceRange;
use scantling_pricing::suggestions::{
    Effect as Moved, LearnedRange, Lessons, Ranged, Refused, Subject, Suggestion, Unchanged, learned_range,
};

use super::fields::{mend_first, node_of};
use super::focus::goes_to_section;
use super::progress::progress;
use crate::basket::watched;
use crate::desk::Desk;
use crate::percent::percent_of;
use crate::sheet::{Edit, Path, Sheet};
use crate::slices::{Far, Slices};

/// What was reckoned of a book.
#[derive(Debug, Clone)]
struct Lesson {
    /// Each suggestion with what it would do.
    found: Vec<(Suggestion, Vec<Moved>)>,
    /// What the jobs make of ranges by themselves.
    range: Option<LearnedRange>,
}

/// The same, or why it could not be.
type Taught = Result<Lesson, String>;

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
        Some(Ok(lesson)) => cards(&desk, &lesson, &desk.book().map(|book| book.refused.clone()).unwrap_or_default()),
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
    Done(Lesson),
}

/// Hears every job, then reckons what each suggestion would do, a little at a time: a book may have thousands of jobs.
fn reckon(slices: &Slices, book: Arc<ShopBook>, taught: RwSignal<Option<Taught>>) {
    let basket: Vec<_> = watched(&book).into_iter().map(|piece| piece.brief).collect();
    let (mut lessons, mut heard) = (None, 0_usize);
    let (mut waiting, mut told) = (None::<(Unchanged, std::vec::IntoIter<Suggestion>)>, Vec::new());
    let jobs = book.jobs.len();
    let mut step = move || -> Result<Step, DocumentError> {
        if let Some((unchanged, left)) = &mut waiting {
            let Some(one) = left.next() else {
                let range = learned_range(&book, &basket)?;
                return Ok(Step::Done(Lesson { found: std::mem::take(&mut told), range }));
            };
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

/// A card for each suggestion, what is borne out as it stands, and what was left as it is.
fn cards(desk: &Desk, lesson: &Lesson, refused: &[Refused]) -> AnyView {
    let Lesson { found, range } = lesson;
    if found.is_empty() && range.is_none() {
        return view! { <p>{"No finished job says yet what it took. Begin a job from a quote, a request or by hand, record its hours and its timber, and finish it under Jobs."}</p> }.into_any();
    }
    let (left, open): (Vec<_>, Vec<_>) =
        found.iter().filter(|(one, _)| moves(one)).partition(|(one, _)| one.is_left(refused));
    let cards = open.into_iter().map(|(one, effects)| card(desk, one, effects.clone())).collect_view();
    let borne_out: Vec<String> =
        found.iter().filter(|(one, _)| !moves(one)).map(|(one, _)| subject(&one.subject).to_lowercase()).collect();
    let as_it_is = (!borne_out.is_empty())
        .then(|| view! { <p>{format!("Borne out as the book has it: {}.", borne_out.join(", "))}</p> });
    let left: Vec<Suggestion> = left.into_iter().map(|(one, _)| one.clone()).collect();
    view! { {cards} {ranges(range.as_ref())} {as_it_is} {left_alone(desk, &left)} }.into_any()
}

/// What the jobs make of ranges by themselves, once there are enough of them.
fn ranges(range: Option<&LearnedRange>) -> AnyView {
    let Some(range) = range else {
        return view! { <p class="note">{"From three finished jobs on they also shift and widen the ranges that you publish, by themselves."}</p> }
            .into_any();
    };
    let row = |piece: &Ranged| {
        let span = |range: &PriceRange| format!("{} to {}", range.low, range.high);
        let (without, with) = (span(&piece.without), span(&piece.with));
        view! { <tr><th scope="row">{piece.design.to_string()}</th><td class="figure">{without}</td><td class="figure">{with}</td></tr> }
    };
    let rows = range.pieces.iter().map(row).collect_view();
    let miss = percent_of(range.past_jobs.miss_by.value(), Decimal::ONE, 0);
    let told = format!(
        "{} took {} times the hours that were said, as a rule, and a single one misses that by {miss} %. What you publish reckons with it \
         already: there is nothing to take, and the likely price stays.",
        jobs(range.jobs),
        range.past_jobs.hours_take.value()
    );
    view! {
        <article class="card ranges">
            <h3>{"Range"}</h3>
            <p>{told}</p>
            <details>
                <summary>{"What it does to the ranges"}</summary>
                <table class="grid"><thead><tr><th scope="col">{"Piece"}</th><th scope="col">{"Without the jobs"}</th><th scope="col">{"As published"}</th></tr></thead><tbody>{rows}</tbody></table>
            </details>
        </article>
    }
    .into_any()
}

/// What was left as it is, each with the way back.
fn left_alone(desk: &Desk, left: &[Suggestion]) -> Option<AnyView> {
    let row = |one: &Suggestion| {
        let (what, again, of) = (subject(&one.subject), desk.clone(), one.subject.clone());
        let look = {
            let what = what.clone();
            move |_| {
                if again.edited(&format!("Looking again at {what}"), vec![keep_refused(&again, &of, None)]) {
                    again.say(format!("{what} is looked at again."));
                }
                goes_to_section();
            }
        };
        let said = format!("{what}: {}, suggested {} times. ", jobs(one.jobs), one.factor);
        view! {
            <li>
                {said}
                <button type="button" aria-label=format!("Look at it again: {what}") on:click=look>{"Look at it again"}</button>
            </li>
        }
    };
    let rows = left.iter().map(row).collect_view();
    (!left.is_empty()).then(|| {
        view! {
            <section class="left" tabindex="-1" aria-label="Left as it is">
                <h3>{"Left as it is"}</h3>
                <p class="note">{"The next job that speaks of the same thing brings it back."}</p>
                <ul class="entries">{rows}</ul>
            </section>
        }
        .into_any()
    })
}

/// The edit by which what was left of a subject is this, or nothing.
fn keep_refused(desk: &Desk, of: &Subject, now: Option<Refused>) -> Edit {
    let place = Path::whole().key("refused");
    let own = node_of(of);
    let mut rows = desk.sheet.with_untracked(|sheet| match sheet.at(&place) {
        Some(Node::List(rows)) => rows.clone(),
        _ => Vec::new(),
    });
    rows.retain(|row| match row {
        Node::Table(entries) => !entries.iter().any(|(key, held)| key == "subject" && Some(held) == own.as_ref()),
        _ => true,
    });
    rows.extend(now.as_ref().and_then(node_of));
    if rows.is_empty() { Edit::Clear(place) } else { Edit::set(place, Node::List(rows)) }
}

fn subject(subject: &Subject) -> String {
    match subject {
        Subject::Stage(stage) => format!("Minutes of “{stage}”"),
        Subject::Timber(key) => format!("Yield of {key}"),
    }
}

fn jobs(count: usize) -> String {
    if count == 1 { "1 job".to_owned() } else { format!("{count} jobs") }
}

/// What the jobs say of it: a stage took longer or shorter, a timber gave more or less.
fn evidence(one: &Suggestion) -> String {
    let jobs = jobs(one.jobs);
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
        move |_| {
            take(&desk, &one, &what);
            // The cards are made anew once the book has been read again: the focus must not go with them.
            goes_to_section();
        }
    };
    let leave = {
        let (desk, one, what) = (desk.clone(), one.clone(), what.clone());
        move |_| {
            let edit = keep_refused(&desk, &one.subject, one.refused());
            if desk.edited(&format!("Leaving what the jobs teach of {what}"), vec![edit]) {
                desk.say(format!("{what} stays as it is; the next job that speaks of it brings this back."));
            }
            goes_to_section();
        }
    };
    let named = (format!("Take it: {what}"), format!("Leave it: {what}"));
    view! {
        <article class="card">
            <h3>{what}</h3>
            <p>{evidence(one)}</p>
            <details>
                <summary>{"What it would do to the prices"}</summary>
                <table class="grid"><thead><tr><th scope="col">{"Piece"}</th><th scope="col">{"Now"}</th><th scope="col">{"With it"}</th></tr></thead><tbody>{rows}</tbody></table>
            </details>
            <div class="above">
                <button type="button" aria-label=named.0 on:click=take>{"Take it"}</button>
                <button type="button" aria-label=named.1 on:click=leave>{"Leave it"}</button>
            </div>
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
