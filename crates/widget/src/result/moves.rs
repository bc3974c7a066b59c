//! What moves the price: every choice one step away, what it saves first, each taken with one press and undone with another.

use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};
use std::time::Duration;

use leptos::prelude::*;
use scantling_pricing::alternatives::{Alternative, Change, Search};
use scantling_pricing::money::Money;

use crate::out;
use crate::rest::{First, rested};
use crate::ui::Ui;
use crate::wording;

/// How long typing must rest before the neighbours are priced: twenty estimates and more.
const REST: Duration = Duration::from_millis(350);

/// As many as are read at a glance.
const SHOWN: usize = 6;

/// Prices the neighbours of every brief, once typing rests: one at a time, so that a key which comes meanwhile has its turn, and ends it.
pub(crate) fn price_neighbours(ui: &Ui) {
    let turn = Arc::new(AtomicU32::new(0));
    let (follow, ui, this_turn) = (ui.shown.clone(), ui.clone(), Arc::clone(&turn));
    let price = move || {
        let begun = this_turn.load(Ordering::Relaxed);
        let search = ui.shown.with_untracked(|shown| {
            let shown = shown.as_ref().filter(|shown| shown.current)?;
            Some(Search::new(&ui.book, &shown.brief, &shown.estimate))
        });
        let (Some(mut search), ui, turn) = (search, ui.clone(), Arc::clone(&this_turn)) else { return };
        out::later(async move {
            while search.step(&ui.book) {
                out::after(0).await;
                if turn.load(Ordering::Relaxed) != begun {
                    return;
                }
            }
            ui.neighbours.set(search.found());
        });
    };
    let (next, end) = (Arc::clone(&turn), turn);
    let track = move || {
        next.fetch_add(1, Ordering::Relaxed);
        follow.track();
    };
    rested(REST, First::Taken, track, price);
    on_cleanup(move || {
        end.fetch_add(1, Ordering::Relaxed);
    });
}

/// The section.
pub(crate) fn moves(ui: Ui) -> impl IntoView {
    let found = ui.neighbours.clone();
    let cheaper = move |other: &Alternative| other.difference.amount().is_sign_negative();
    let list = {
        let ui = ui.clone();
        move |saves: bool| {
            let rows = found.with(|found| {
                let of_kind = found.iter().filter(|other| cheaper(other) == saves);
                let most = found.iter().map(|other| other.difference.amount().abs()).max().unwrap_or_default();
                of_kind.take(SHOWN).map(|other| row(&ui, other, most).into_any()).collect::<Vec<_>>()
            });
            (!rows.is_empty()).then(|| view! { <ul class="moves">{rows}</ul> })
        }
    };
    let dearer = list.clone();
    let undo = undo(&ui);
    view! {
        <section class="part-of" aria-label=ui.say(wording::MOVES)>
            <h3>{ui.say(wording::MOVES)}</h3>
            <p class="note">{ui.say(wording::MOVES_HINT)}</p>
            {undo}
            // Room for them before they are there: what follows must not jump.
            <div class="room">{move || list(true)}</div>
            <details>
                <summary>{ui.say(wording::MOVES_DEARER)}</summary>
                {move || dearer(false)}
            </details>
        </section>
    }
}

/// One choice: what it is, what it saves or adds, and how much beside the others.
fn row(ui: &Ui, other: &Alternative, most: rust_decimal::Decimal) -> impl IntoView + use<> {
    let (change, difference) = (other.change.clone(), other.difference);
    let words = told(ui, &change);
    let takes = vec![change];
    let take = {
        let ui = ui.clone();
        move |_| ui.take(&takes)
    };
    let share = crate::ui::percent(difference.amount().abs(), most);
    view! {
        <li>
            <button type="button" on:click=take>{words}</button>
            <span class="bar" aria-hidden="true"><span style:inline-size=share></span></span>
            <span class="figure">{by(ui, difference)}</span>
        </li>
    }
}

/// What a change makes of the price.
pub(crate) fn by(ui: &Ui, difference: Money) -> String {
    let plain = if difference.amount().is_sign_negative() {
        Money::zero(difference.currency()) - difference
    } else {
        difference
    };
    let amount = ui.money(plain);
    match (difference.amount().is_zero(), difference.amount().is_sign_negative()) {
        (true, _) => ui.say(wording::COSTS_THE_SAME),
        (false, true) => wording::saves(&ui.words, &amount),
        (false, false) => wording::adds(&ui.words, &amount),
    }
}

/// A change in words: what, and what it becomes.
pub(crate) fn told(ui: &Ui, change: &Change) -> String {
    let design = ui.form.with_untracked(|form| form.design.clone());
    let Some(design) = ui.book.design(&design) else { return String::new() };
    let stock = |key| ui.book.stock(key).map_or_else(String::new, |stock| stock.name().to_owned());
    let (what, to) = match change {
        Change::Material { role, to } => {
            (design.role(role).map_or_else(String::new, |role| role.label.to_string()), stock(to))
        }
        Change::Finish { to } => {
            (ui.say(wording::FINISH), ui.book.finish(to).map_or_else(String::new, |finish| finish.name.to_string()))
        }
        Change::Choice { option, to } => {
            let group = design.options.iter().find(|group| group.key == *option);
            let choice = group.and_then(|group| group.choices.iter().find(|choice| choice.key == *to));
            let label = |text: &scantling_pricing::book::values::Text| text.to_string();
            (
                group.map(|group| label(&group.label)).unwrap_or_default(),
                choice.map(|choice| label(&choice.label)).unwrap_or_default(),
            )
        }
        Change::Size { dimension, to } => {
            let unit = ui.form.with_untracked(|form| form.unit);
            let label = design.dimension(dimension.as_str()).map_or_else(String::new, |known| known.label.to_string());
            (label, ui.words.length(*to, unit))
        }
        Change::Delivery { to } => return ui.say(wording::mode(*to)),
    };
    wording::change(&ui.words, &what, &to)
}

/// Takes back what was taken with the last press, and nothing that was done by hand since.
fn undo(ui: &Ui) -> impl Fn() -> Option<AnyView> + use<> {
    let ui = ui.clone();
    let last = {
        let ui = ui.clone();
        ArcMemo::new(move |_| ui.undoable())
    };
    move || {
        let last = last.get()?;
        let back = {
            let ui = ui.clone();
            move |_| ui.undo()
        };
        Some(view! { <p><button type="button" class="undo" on:click=back>{wording::undo(&ui.words, &last)}</button></p> }.into_any())
    }
}
