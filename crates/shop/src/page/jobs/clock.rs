//! Starting and stopping a clock. Where it was started stands in the book; how far the computer's clock has been seen to go stands in the
//! browser, so that one that is set back is noticed even over a reload.

use std::cell::RefCell;
use std::collections::BTreeMap;

use gloo_storage::{LocalStorage, Storage};
use leptos::prelude::*;
use rust_decimal::Decimal;
use scantling_pricing::book::document::Node;
use scantling_pricing::book::moment::Moment;
use scantling_pricing::book::read::Read;
use scantling_pricing::jobs::{LONG, counted};

use super::super::today::now;
use crate::desk::Desk;
use crate::sheet::{Edit, Path};

/// What the keys start with under which it is kept how far a clock has been seen.
const SEEN: &str = "scantling-clock";

thread_local! {
    /// The latest moment read off the computer's clock, by when a clock was started.
    static LATEST: RefCell<BTreeMap<Moment, Moment>> = const { RefCell::new(BTreeMap::new()) };
}

fn key(since: Moment) -> String {
    format!("{SEEN}-{since}")
}

/// The store, where the browser has one for the page.
fn store() -> Option<web_sys::Storage> {
    web_sys::window()?.local_storage().ok().flatten()
}

/// The latest moment the computer's clock has been seen at since a clock was started.
fn latest(since: Moment) -> Moment {
    let here = LATEST.with_borrow(|latest| latest.get(&since).copied());
    let kept = store().and_then(|store| store.get_item(&key(since)).ok().flatten());
    let kept = kept.and_then(|text| Moment::read(&Node::Text(text)).ok());
    here.max(kept).unwrap_or(since)
}

/// Notes how far the computer's clock has come while a clock runs.
pub(super) fn note_seen(since: Moment) {
    let Some(now) = now() else { return };
    let before = latest(since);
    if now > before {
        LATEST.with_borrow_mut(|latest| latest.insert(since, now));
        // Without a store, or with a full one, a set-back is still noticed while the page is open.
        let _kept = store().map(|store| store.set_item(&key(since), &now.to_string()));
    }
}

fn forget(since: Moment) {
    LATEST.with_borrow_mut(|latest| latest.remove(&since));
    if store().is_some() {
        LocalStorage::delete(key(since));
    }
}

/// The row of the running clock of some work, and when it was started.
pub(super) fn running(desk: &Desk, job: &Path, work: &str) -> Option<(usize, Moment)> {
    let place = job.key("running");
    desk.sheet.with(|sheet| match sheet.at(&place) {
        Some(Node::List(rows)) => rows.iter().enumerate().find_map(|(index, row)| {
            let Node::Table(entries) = row else { return None };
            let held = |key: &str| entries.iter().find(|(known, _)| known == key).map(|(_, value)| value);
            let own = matches!(held("work"), Some(Node::Text(text)) if text == work);
            own.then(|| Moment::read(held("since")?).ok().map(|since| (index, since))).flatten()
        }),
        _ => None,
    })
}

/// Starts a clock.
pub(super) fn start(desk: &Desk, job: &Path, work: &str, words: &str) {
    let Some(since) = now() else { return desk.say("The computer does not say what time it is: type the hours.") };
    let place = job.key("running");
    let there = desk.sheet.with_untracked(|sheet| sheet.at(&place).is_some());
    let rows = untrack(|| desk.rows_at(&place));
    let row = [("work", work.to_owned()), ("since", since.to_string())];
    let row = Node::Table(row.map(|(key, text)| (key.to_owned(), Node::Text(text))).to_vec());
    let list = (!there).then(|| Edit::set(place.clone(), Node::List(Vec::new())));
    let edits = list.into_iter().chain(std::iter::once(Edit::Insert(place.index(rows), row))).collect();
    if !desk.edited(&format!("Starting the clock: {words}"), edits) {
        return;
    }
    note_seen(since);
    desk.say(format!("The clock runs: {words}. It runs on while the page is closed."));
}

/// Stops a clock and adds what it counted to the hours. One that was set back is told, and nothing is counted.
pub(super) fn stop(desk: &Desk, job: &Path, work: &str, words: &str) {
    let Some((row, since)) = untrack(|| running(desk, job, work)) else { return };
    let Some(now) = now() else { return desk.say("The computer does not say what time it is: type the hours.") };
    let mut edits = vec![Edit::Remove(job.key("running").index(row))];
    let said = match counted(since, latest(since), now) {
        Ok(hours) => {
            let place = job.key("hours").key(work);
            let before = untrack(|| desk.words_at(&place)).parse::<Decimal>().unwrap_or_default();
            let sum = before.saturating_add(hours).normalize();
            if !hours.is_zero() {
                edits.push(Edit::set(place, Node::Text(sum.to_string())));
            }
            let long = now.since(since).is_some_and(|seconds| seconds > LONG);
            let doubt =
                if long { " That is long for one stretch: type over it if the clock was forgotten." } else { "" };
            forget(since);
            let hours = hours.normalize();
            if hours.is_zero() {
                format!("The clock is stopped: {words}, less than a hundredth of an hour. Nothing is counted.")
            } else {
                format!("The clock is stopped: {words}, {hours} h; {sum} h in all.{doubt}")
            }
        }
        // How far it was seen stays noted: undone, the clock runs again, and still counts nothing.
        Err(back) => format!(
            "The computer's clock was set back by at least {} while this ran: nothing is counted. Type the hours of {words}.",
            for_people(back.by)
        ),
    };
    if desk.edited(&format!("Stopping the clock: {words}"), edits) {
        desk.say(said);
    }
}

/// How long a clock has run, as far as the computer's clock can be believed.
pub(super) fn elapsed(since: Moment) -> String {
    match now().filter(|now| *now >= latest(since)).and_then(|now| now.since(since)) {
        Some(seconds) => for_people(seconds),
        None => "the computer's clock was set back".to_owned(),
    }
}

/// `1 h 02 min 14 s`.
fn for_people(seconds: u64) -> String {
    let minutes = seconds.checked_div(60).unwrap_or(0);
    let (hours, minutes, seconds) = (minutes.checked_div(60).unwrap_or(0), minutes % 60, seconds % 60);
    format!("{hours} h {minutes:02} min {seconds:02} s")
}

#[cfg(test)]
mod tests {
    use super::for_people;

    #[test]
    fn time_is_read_by_people() {
        assert_eq!(
            [for_people(0), for_people(3734), for_people(90_000)],
            ["0 h 00 min 00 s", "1 h 02 min 14 s", "25 h 00 min 00 s"]
        );
    }
}
