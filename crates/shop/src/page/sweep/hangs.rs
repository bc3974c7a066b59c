//! What the price of a piece hangs on: every rate raised by the same share, ranked by what that does.

use std::sync::Arc;

use leptos::prelude::*;
use rust_decimal::Decimal;
use scantling_pricing::book::values::read_digits;

use super::Bench;
use crate::comma::plain;
use crate::desk::Desk;
use crate::page::progress::progress;
use crate::page::scrolled::scrolled;
use crate::percent::signed;
use crate::plot::bar;
use crate::slices::{Far, Slices};
use crate::trial::{Effect as Moves, Trial};

/// How many rates are drawn; the table has them all.
const DRAWN: usize = 15;
/// How many rates of each piece are told side by side.
const OF_EACH: usize = 3;
/// The widest a bar is, in hundredths of its room.
const FULL: i64 = 100;

/// The effects on one piece, the largest first.
type Ranked = Arc<Vec<Moves>>;

/// The panel.
pub(super) fn panel(bench: &Bench) -> impl IntoView + use<> {
    let percent = RwSignal::new("10".to_owned());
    let ranked: RwSignal<Option<Ranked>> = RwSignal::new(None);
    let share = Memo::new(move |_| percent.with(|percent| read(percent)));
    let slices = Slices::default();
    let ending = slices.clone();
    on_cleanup(move || ending.end());
    let bar = progress(&slices, "What the price hangs on is being reckoned");
    {
        let (trial, kind) = (bench.trial, Arc::clone(&bench.desk.kind));
        Effect::new(move |_| {
            let (Some(trial), Ok(share)) = (trial.get(), share.get()) else { return };
            let rates = trial.rates(&kind);
            let all = rates.len();
            let (mut left, mut found) = (rates.into_iter(), Vec::new());
            slices.run(move || {
                if let Some(rate) = left.next() {
                    found.extend(trial.effect(&rate, share));
                    return Some(Far { done: all.saturating_sub(left.len()), all, of: "rates" });
                }
                ranked.set(Some(sorted(std::mem::take(&mut found))));
                None
            });
        });
    }
    let desk = bench.desk.clone();
    let told = move || ranked.get().map(|ranked| told(&desk, &ranked));
    view! {
        <h3>{"What the price hangs on"}</h3>
        <div class="above">
            <label for="raised">
                {"Each rate raised by "}
                <input id="raised" type="text" class="figure" autocomplete="off" aria-describedby="raised-fault" prop:value=move || percent.get() on:input=move |event| percent.set(event_target_value(&event)) />
                {" %"}
            </label>
            <span id="raised-fault" class="fault" role="status">{move || share.get().err()}</span>
        </div>
        {bar}
        {told}
        {every(bench, share)}
    }
}

fn read(percent: &str) -> Result<Decimal, String> {
    let wrong = || format!("“{percent}” is not a share in percent; write 10");
    let number = read_digits(&plain(percent.trim()))
        .filter(|number| *number > Decimal::ZERO && *number <= Decimal::ONE_THOUSAND);
    number.and_then(|number| number.checked_div(Decimal::ONE_HUNDRED)).ok_or_else(wrong)
}

fn sorted(mut found: Vec<Moves>) -> Ranked {
    found.sort_by_key(|effect| std::cmp::Reverse(effect.rise.amount().abs()));
    Arc::new(found)
}

fn told(desk: &Desk, ranked: &Ranked) -> AnyView {
    let largest = ranked.first().map(|effect| effect.rise.amount()).unwrap_or_default();
    let drawn = ranked.iter().take(DRAWN).map(|effect| {
        let wide = bar(effect.rise.amount(), largest, FULL);
        let class = if effect.rise.amount().is_sign_negative() { "falls" } else { "is" };
        view! {
            <li>
                <span>{effect.rate.name.clone()}</span>
                <span class="figure">{signed(effect.percent)}</span>
                <span class="bars"><span class=class style:inline-size=format!("{wide}%")></span></span>
            </li>
        }
    });
    let rows = ranked.iter().map(|effect| {
        let (desk, place) = (desk.clone(), effect.rate.place.clone());
        view! {
            <tr>
                <th scope="row"><button type="button" on:click=move |_| desk.go_to(place.clone())>{effect.rate.name.clone()}</button></th>
                <td class="figure">{effect.rate.value.normalize().to_string()}</td>
                <td class="figure">{effect.tried.to_string()}</td>
                <td class="figure">{effect.rise.to_string()}</td>
                <td class="figure">{signed(effect.percent)}</td>
            </tr>
        }
    });
    view! {
        <p class="note">{format!("{} rates move the price, before it is rounded to your step; the first {} are drawn. A dotted bar is a price that falls.", ranked.len(), ranked.len().min(DRAWN))}</p>
        <ol class="ranked" aria-hidden="true">{drawn.collect_view()}</ol>
        <details class="inner">
            <summary>{"All of them as a table"}</summary>
            {scrolled("Every rate that moves the price", view! {
                <table class="grid">
                    <thead>
                        <tr>
                            <th scope="col">{"Rate"}</th><th scope="col">{"Now"}</th><th scope="col">{"Raised to"}</th>
                            <th scope="col">{"The price rises by"}</th><th scope="col">{"In percent"}</th>
                        </tr>
                    </thead>
                    <tbody>{rows.collect_view()}</tbody>
                </table>
            })}
        </details>
    }
    .into_any()
}

/// Every piece of the basket with the rates it hangs on most, reckoned when it is asked for.
fn every(bench: &Bench, share: Memo<Result<Decimal, String>>) -> impl IntoView + use<> {
    let told: RwSignal<Vec<(String, Ranked)>> = RwSignal::new(Vec::new());
    let slices = Slices::default();
    let ending = slices.clone();
    on_cleanup(move || ending.end());
    let bar = progress(&slices, "What every piece hangs on is being reckoned");
    let bench = bench.clone();
    let reckon = move |_| {
        let Ok(share) = share.get_untracked() else { return };
        told.set(Vec::new());
        let (past, bench) = (untrack(|| bench.desk.past_jobs()), bench.clone());
        let mut pieces = untrack(|| bench.pieces()).into_iter();
        let all = pieces.len();
        let mut under_way: Option<Reckoning> = None;
        slices.run(move || {
            if let Some(reckoning) = under_way.as_mut() {
                if let Some((name, ranked)) = reckoning.step(share) {
                    told.update(|told| told.push((name, ranked)));
                    under_way = None;
                }
                let going_on = usize::from(under_way.is_some());
                let done = all.saturating_sub(pieces.len()).saturating_sub(going_on);
                return Some(Far { done, all, of: "pieces" });
            }
            let piece = pieces.next()?;
            let trial = bench.desk.sheet.with_untracked(|sheet| Trial::of(sheet.root(), &piece.brief, past.clone()));
            under_way = trial.map(|trial| {
                let rates = trial.rates(&bench.desk.kind).into_iter();
                Reckoning { name: piece.name, trial, rates, found: Vec::new() }
            });
            Some(Far { done: all.saturating_sub(pieces.len()).saturating_sub(1), all, of: "pieces" })
        });
    };
    let rows = move || {
        let each = told.get().into_iter().map(|(name, ranked)| {
            let cell = |effect: &Moves| view! { <td>{format!("{} {}", effect.rate.name, signed(effect.percent))}</td> };
            view! { <tr><th scope="row">{name}</th>{ranked.iter().take(OF_EACH).map(cell).collect_view()}</tr> }
        });
        each.collect_view()
    };
    let table = move || {
        told.with(|told| !told.is_empty()).then(|| {
            view! {
                {scrolled("What every piece hangs on", view! {
                    <table class="grid">
                        <thead><tr><th scope="col">{"Piece"}</th><th scope="col">{"Most"}</th><th scope="col">{"Then"}</th><th scope="col">{"Then"}</th></tr></thead>
                        <tbody>{rows}</tbody>
                    </table>
                })}
            }
        })
    };
    view! {
        <h3>{"Every piece"}</h3>
        <p><button type="button" on:click=reckon>{"Reckon what every piece hangs on"}</button></p>
        {bar}
        <div aria-live="polite">{table}</div>
    }
}

/// A piece whose rates are raised one after the other.
struct Reckoning {
    name: String,
    trial: Trial,
    rates: std::vec::IntoIter<crate::rates::Rate>,
    found: Vec<Moves>,
}

impl Reckoning {
    /// Raises the next rate; gives the piece once there is none left.
    fn step(&mut self, share: Decimal) -> Option<(String, Ranked)> {
        if let Some(rate) = self.rates.next() {
            self.found.extend(self.trial.effect(&rate, share));
            return None;
        }
        Some((std::mem::take(&mut self.name), sorted(std::mem::take(&mut self.found))))
    }
}
