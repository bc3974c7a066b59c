//! What came in of a quote that went out, stage by stage, and what is still owed: on the quote's screen and on that of its job.

use leptos::prelude::*;
use scantling_pricing::book::document::Node;
use scantling_pricing::book::ledger::{CameIn, Quote};
use scantling_pricing::book::values::{Amount, Count, Day};
use scantling_pricing::money::{Currency, Money};
use scantling_pricing::owed::{Owed, StageOwed};

use super::fields::{bare, node_of, text_of};
use super::scrolled::scrolled;
use super::today::today;
use crate::desk::Desk;
use crate::owing;
use crate::sheet::{Edit, Path};
use crate::slim::rows;

/// What stands on the sheet of one quote.
#[derive(Clone, Copy)]
struct Held {
    /// What went out of it.
    sent: Memo<Option<Quote>>,
    /// What is owed of that; nothing while a payment can't be read.
    owed: Memo<Option<Owed>>,
}

/// The currency of the book, as far as it says one.
pub(super) fn currency(desk: &Desk) -> Memo<Currency> {
    let desk = desk.clone();
    Memo::new(move |_| Currency::from_code(&desk.words_at(&Path::read("shop.currency"))).unwrap_or(Currency::USD))
}

/// The payments of the quote at a place.
pub(super) fn payments(desk: &Desk, quote: &Path) -> AnyView {
    let held = held(desk, quote);
    let stages = {
        let (desk, quote) = (desk.clone(), quote.clone());
        let count = Memo::new(move |_| held.sent.with(|sent| stages_of(sent.as_ref())));
        move || match count.get() {
            0 => view! { <p class="note">{"Nothing has gone out yet: what is paid when stands here once it has."}</p> }
                .into_any(),
            count => by_stage(&desk, &quote, held, count),
        }
    };
    let came_in = {
        let (desk, own) = (desk.clone(), quote.key("came_in"));
        let (counted, place) = (desk.clone(), own.clone());
        let count = Memo::new(move |_| counted.rows_at(&place));
        move || (count.get() > 0).then(|| one_by_one(&desk, &own, held, count.get()))
    };
    view! {
        <fieldset tabindex="-1">
            <legend>{"What came in, and what is still owed"}</legend>
            {stages}
            {came_in}
        </fieldset>
    }
    .into_any()
}

fn held(desk: &Desk, quote: &Path) -> Held {
    let (source, place) = (desk.clone(), quote.clone());
    let sent = Memo::new(move |_| source.sheet.with(|sheet| owing::sent(sheet.at(&place)?)));
    let (source, place, currency) = (desk.clone(), quote.clone(), currency(desk));
    let owed = Memo::new(move |_| {
        let sent = sent.get()?;
        source.sheet.with(|sheet| owing::owed(&sent, sheet.at(&place)?, currency.get()))
    });
    Held { sent, owed }
}

fn stages_of(sent: Option<&Quote>) -> usize {
    sent.and_then(|sent| sent.revisions.last()).map_or(0, |last| last.stages.len())
}

/// Each stage of what went out last, with a button that writes down that it came in.
fn by_stage(desk: &Desk, quote: &Path, held: Held, count: usize) -> AnyView {
    let row = |at: usize| {
        let figure = move |of: fn(&StageOwed) -> AnyView| {
            move || held.owed.with(|owed| owed.as_ref().and_then(|owed| owed.stages.get(at)).map(of))
        };
        let number = at.saturating_add(1);
        let (desk, quote) = (desk.clone(), quote.clone());
        let press = move |_| mark(&desk, &quote, held, at);
        let when = move || {
            held.sent.with(|sent| {
                let stage = sent.as_ref().and_then(|sent| sent.revisions.last()?.stages.get(at));
                stage.map(|stage| format!("{number}: {}", stage.when))
            })
        };
        view! {
            <tr>
                <th scope="row">{when}</th>
                <td class="figure">{figure(|stage| stage.due.to_string().into_any())}</td>
                <td class="figure came-in">{figure(came_in)}</td>
                <td class="figure">{figure(|stage| still(stage.owed).into_any())}</td>
                <td><button type="button" aria-label=format!("Came in today, stage {number}") on:click=press>{"Came in today"}</button></td>
            </tr>
        }
    };
    let sums = move || {
        held.owed.with(|owed| {
            let Some(owed) = owed else {
                return view! { <tr><td colspan="5" class="fault">{"A payment below can't be read: mend it, and what is owed stands here."}</td></tr> }.into_any();
            };
            let besides = (!owed.besides.amount().is_zero()).then(|| {
                view! { <tr><th scope="row">{"For stages that are no more"}</th><td></td><td class="figure">{owed.besides.to_string()}</td><td></td><td></td></tr> }
            });
            view! {
                {besides}
                <tr>
                    <th scope="row">{"In all"}</th>
                    <td class="figure">{owed.to_pay.to_string()}</td>
                    <td class="figure">{owed.came_in.to_string()}</td>
                    <td class="figure">{still(owed.owed)}</td>
                    <td></td>
                </tr>
            }
            .into_any()
        })
    };
    let rows = (0..count).map(row).collect_view();
    let table = view! {
        <table class="grid">
            <caption>{"Stages as they went out last, tax with them"}</caption>
            <thead>
                <tr>
                    <th scope="col">{"When"}</th>
                    <th scope="col">{"Due"}</th>
                    <th scope="col">{"Came in"}</th>
                    <th scope="col">{"Still owed"}</th>
                    <th scope="col">{"Paid"}</th>
                </tr>
            </thead>
            <tbody>{rows}{sums}</tbody>
        </table>
    };
    scrolled("Stages and what is owed", table)
}

fn came_in(stage: &StageOwed) -> AnyView {
    let last = stage.last.as_ref().map(|day| {
        let words = format!("on {}", day.as_str());
        view! {
            {stage.came_in.to_string()}
            {" "}
            <span class="note">{words}</span>
        }
    });
    last.into_any()
}

fn still(owed: Money) -> String {
    if owed.amount().is_sign_negative() { owing::left(owed) } else { owed.to_string() }
}

/// Writes down that what is owed of a stage came in today.
fn mark(desk: &Desk, quote: &Path, held: Held, at: usize) {
    let number = at.saturating_add(1);
    let Some(owed) = held.owed.get_untracked() else {
        return desk.say("A payment below can't be read: mend it first.");
    };
    let Some(stage) = owed.stages.get(at) else { return };
    if stage.owed.amount().is_zero() || stage.owed.amount().is_sign_negative() {
        return desk.say(format!("Stage {number} is paid already. Below, its payment can be corrected or taken out."));
    }
    let written = u32::try_from(number).ok().and_then(Count::new).zip(Amount::new(stage.owed.amount()));
    let (Some((number, amount)), Some(day)) = (written, today()) else {
        return desk.say("The computer does not say what day it is, or the sum is too large to be written.");
    };
    let told = format!("{} of stage {} came in, {}.", stage.owed, number.value(), day.as_str());
    let Some(row) = node_of(&CameIn { stage: number, day, amount }) else { return };
    let own = quote.key("came_in");
    let (there, count) = (desk.sheet.with_untracked(|sheet| sheet.at(&own).is_some()), untrack(|| desk.rows_at(&own)));
    let list = (!there).then(|| Edit::set(own.clone(), Node::List(Vec::new())));
    let edits = list.into_iter().chain(std::iter::once(Edit::Insert(own.index(count), row))).collect();
    if desk.edited(&format!("Stage {} came in", number.value()), edits) {
        desk.say(format!("{told} Where it was another day or sum, type over it below."));
    }
}

/// The payments one by one, as they came in.
fn one_by_one(desk: &Desk, own: &Path, held: Held, count: usize) -> AnyView {
    let row = |at: usize| {
        let (place, number) = (own.index(at), at.saturating_add(1));
        let (away, out) = (desk.clone(), place.clone());
        let take_out = move |_| away.edit("Taking out a payment", vec![Edit::Remove(out.clone())]);
        view! {
            <tr>
                <td>{bare(desk, &place.key("stage"), &format!("Stage of payment {number}"))}</td>
                <td>{bare(desk, &place.key("day"), &format!("Day of payment {number}, as 2026-11-25"))} {doubted(desk, &place, held)}</td>
                <td>{bare(desk, &place.key("amount"), &format!("Amount of payment {number}"))}</td>
                <td><button type="button" aria-label=format!("Take out payment {number}") on:click=take_out>{"Take out"}</button></td>
            </tr>
        }
    };
    let rows = (0..count).map(row).collect_view();
    let wrong = {
        let (desk, place) = (desk.clone(), own.clone());
        move || {
            desk.judged.with(|judged| judged.faults.iter().find(|(at, _)| *at == place).map(|(_, what)| what.clone()))
        }
    };
    let table = view! {
        <table class="grid">
            <caption>{"Payments that came in"}</caption>
            <thead>
                <tr>
                    <th scope="col">{"Stage"}</th>
                    <th scope="col">{"Day"}</th>
                    <th scope="col">{"As it came in"}</th>
                    <th scope="col">{"Row"}</th>
                </tr>
            </thead>
            <tbody>{rows}</tbody>
        </table>
    };
    view! {
        {scrolled("Payments that came in", table)}
        <p class="fault">{wrong}</p>
    }
    .into_any()
}

/// What may be wrong with the day of a payment, though it counts.
fn doubted(desk: &Desk, payment: &Path, held: Held) -> impl IntoView + use<> {
    let (desk, day) = (desk.clone(), payment.key("day"));
    let told = move || {
        let one = CameIn { stage: Count::ONE, day: Day::new(&desk.words_at(&day)).ok()?, amount: Amount::ZERO };
        held.sent.with(|sent| Some(one.doubt(sent.as_ref()?, &today()?)?.explain()))
    };
    view! { <span class="fault doubted">{told}</span> }
}

/// The place of the quote that a job comes from, as long as it is there.
pub(super) fn of_job(desk: &Desk, job: &Path) -> Memo<Option<Path>> {
    let (desk, own) = (desk.clone(), job.key("quote"));
    Memo::new(move |_| {
        let key = desk.words_at(&own);
        let place = Path::whole().key("quotes");
        let found = desk.sheet.with(|sheet| {
            let quotes = rows(sheet.at(&place)?);
            quotes.iter().position(|quote| text_of(quote, "key") == Some(key.as_str()))
        });
        found.filter(|_| !key.is_empty()).map(|index| place.index(index))
    })
}
