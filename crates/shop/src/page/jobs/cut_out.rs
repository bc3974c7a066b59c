//! What a job took of its slabs, taken out of what is left of them.

use leptos::prelude::*;
use scantling_pricing::book::document::Node;
use scantling_pricing::book::values::Key;
use scantling_pricing::jobs::slab_cut;

use crate::cuts::percent;
use crate::desk::Desk;
use crate::sheet::{Path, Step};
use crate::taken_out::Stands;

/// Each slab that the job takes of: what is left of it, and the button that takes the cut out.
pub(super) fn cut_out(desk: &Desk, job: &Path) -> impl IntoView + use<> {
    let keys = {
        let (desk, own) = (desk.clone(), job.key("slabs"));
        Memo::new(move |_| {
            desk.sheet.with(|sheet| match sheet.at(&own) {
                Some(Node::Table(entries)) => entries.iter().map(|(key, _)| key.clone()).collect(),
                _ => Vec::new(),
            })
        })
    };
    let (desk, job) = (desk.clone(), job.clone());
    move || keys.get().into_iter().map(|key| one(&desk, &job, key)).collect_view()
}

fn one(desk: &Desk, job: &Path, key: String) -> impl IntoView + use<> {
    let stands = {
        let (desk, job, key) = (desk.clone(), job.clone(), key.clone());
        Memo::new(move |_| desk.sheet.with(|sheet| Some(Stands::new(sheet.root(), sheet.at(&job)?, &key))))
    };
    let out = Memo::new(move |_| stands.with(|stands| stands.as_ref().is_some_and(|one| one.taken_out.is_some())));
    let words = move || stands.with(|stands| stands.as_ref().map(|one| format!("{}: {} ", one.name, one.words())));
    let (desk, job) = (desk.clone(), job.clone());
    let button = move || {
        let label = stands.with_untracked(|stands| stands.as_ref().map(|one| one.name.clone())).unwrap_or_default();
        let (desk, job, key) = (desk.clone(), job.clone(), key.clone());
        (!out.get()).then(|| {
            view! {
                <button
                    type="button"
                    aria-label=format!("Take this cut out of the slab: {label}")
                    on:click=move |_| take_out(&desk, &job, &key)
                >
                    {"Take this cut out of the slab"}
                </button>
            }
        })
    };
    view! {
        <p class="cut-out">
            <span class="note">{words}</span>
            {button}
        </p>
    }
}

/// Takes the cut out of the slab, as the book stands this moment.
fn take_out(desk: &Desk, job: &Path, key: &str) {
    let Some(book) = desk.book_or_say() else { return };
    let row = match job.last() {
        Some((_, Step::Index(row))) => *row,
        Some((_, Step::Key(_))) | None => return,
    };
    let (Some(own), Ok(slab)) = (book.jobs.get(row), Key::new(key)) else { return };
    let cut = match slab_cut(&book, own, &slab) {
        Ok(cut) => cut,
        Err(why) => return desk.say(format!("Nothing is taken out: {}.", why.explain())),
    };
    let made = desk.sheet.with_untracked(|sheet| {
        let stands = Stands::new(sheet.root(), sheet.at(job)?, key);
        Some((stands.edits(sheet.root(), (job, key), cut.share)?, stands.name))
    });
    let Some((edits, name)) = made else { return };
    if desk.edited(&format!("Taking a cut out of {name}"), edits) {
        let [share, after] = [cut.share.value(), cut.after].map(percent);
        desk.say(format!("{share} % is taken out of {name}; {after} % of it is left."));
    }
}
