//! Fit a budget: the fewest choices to change, and the least of each, that bring the price under a sum.

use leptos::prelude::*;
use rust_decimal::Decimal;
use scantling_pricing::book::values::read_digits;
use scantling_pricing::brief::Brief;
use scantling_pricing::budget::{Budget, Plan, fit};

use super::moves::told;
use crate::first::Shown;
use crate::ui::Ui;
use crate::wording;

/// What was found for a sum.
#[derive(Clone)]
enum Found {
    Nothing,
    NoSum(String),
    /// What it was looked for, and what was found.
    Answer(Box<Brief>, Budget),
}

/// The section.
pub(crate) fn budget(ui: Ui) -> impl IntoView {
    let id = ui.id("budget");
    let (fault_id, typed, found) = (format!("{id}-fault"), RwSignal::new(String::new()), RwSignal::new(Found::Nothing));
    let look = {
        let ui = ui.clone();
        move || {
            let text = typed.get_untracked();
            let answer = ui.shown.with_untracked(|shown| answer(&ui, shown.as_ref(), &text));
            found.set(answer);
        }
    };
    let enter = {
        let look = look.clone();
        move |event: leptos::ev::KeyboardEvent| {
            if event.key() == "Enter" {
                event.prevent_default();
                look();
            }
        }
    };
    let invalid = move || if found.with(|found| matches!(found, Found::NoSum(_))) { "true" } else { "false" };
    let fault = {
        let words = ui.words.clone();
        move || match found.get() {
            Found::NoSum(text) => wording::no_sum(&words, &text),
            Found::Nothing | Found::Answer(..) => String::new(),
        }
    };
    let shown = {
        let ui = ui.clone();
        // An answer is for the piece it was asked of: once that is another, taking it would make a third of the two.
        move || match found.get() {
            Found::Answer(brief, budget) => {
                ui.beside(|shown| (shown.brief == *brief).then(|| told_plans(&ui, &budget)))
            }
            Found::Nothing | Found::NoSum(_) => None,
        }
    };
    let currency = ui.book.currency().code();
    view! {
        <section class="part-of budget" aria-label=ui.say(wording::BUDGET)>
            <h3>{ui.say(wording::BUDGET)}</h3>
            <div class="field">
                <label for=id.clone()>{wording::sum_to_spend(&ui.words, currency)}</label>
                <div class="asked">
                    <input
                        type="text"
                        inputmode="decimal"
                        autocomplete="off"
                        id=id
                        aria-describedby=fault_id.clone()
                        aria-invalid=invalid
                        on:input=move |event| typed.set(event_target_value(&event))
                        on:keydown=enter
                    />
                    <button type="button" on:click=move |_| look()>{ui.say(wording::FIND_WHAT_FITS)}</button>
                </div>
                <p class="fault" id=fault_id>{fault}</p>
            </div>
            <div role="status">{shown}</div>
        </section>
    }
}

/// A sum as people write one: digits, spaces or marks between thousands, the currency's sign. Nothing when it is none above zero.
pub(crate) fn read_sum(text: &str, mark: char) -> Option<Decimal> {
    let plain: String = text.chars().filter(|c| c.is_ascii_digit() || *c == mark).collect();
    let other = text.chars().any(|c| c.is_ascii_alphabetic() && !c.is_ascii_uppercase() || c == '-');
    let sum = read_digits(&plain.replace(mark, "."))?;
    (!other && sum > Decimal::ZERO && sum < Decimal::from(10_000_000)).then_some(sum)
}

fn answer(ui: &Ui, shown: Option<&Shown>, text: &str) -> Found {
    let Some(sum) = read_sum(text, ui.words.mark().sign()) else { return Found::NoSum(text.trim().to_owned()) };
    let found = shown.and_then(|shown| {
        let budget = fit(&ui.book, &shown.brief, sum).ok()?;
        Some(Found::Answer(Box::new(shown.brief.clone()), budget))
    });
    found.unwrap_or(Found::Nothing)
}

fn told_plans(ui: &Ui, budget: &Budget) -> AnyView {
    match budget {
        Budget::Within => view! { <p>{ui.say(wording::BUDGET_WITHIN)}</p> }.into_any(),
        Budget::Plans(plans) => {
            let rows = plans.iter().map(|found| plan(ui, found)).collect::<Vec<_>>();
            view! {
                <p>{ui.say(wording::BUDGET_PLANS)}</p>
                <ul class="plans">{rows}</ul>
            }
            .into_any()
        }
        Budget::OutOfReach { cheapest } => {
            let row = plan(ui, cheapest);
            view! {
                <p>{ui.say(wording::BUDGET_LEAST)}</p>
                <ul class="plans">{row}</ul>
            }
            .into_any()
        }
    }
}

/// A plan, taken whole with one press.
fn plan(ui: &Ui, plan: &Plan) -> AnyView {
    let changes: Vec<String> = plan.changes.iter().map(|change| told(ui, change)).collect();
    let takes = plan.changes.clone();
    let take = {
        let ui = ui.clone();
        move |_| ui.take(&takes)
    };
    view! {
        <li>
            <button type="button" on:click=take>{changes.join(" · ")}</button>
            <span class="figure">{ui.money(plan.price)}</span>
        </li>
    }
    .into_any()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sums_read_as_people_write_them_and_nothing_else_does() {
        for (text, mark, sum) in [
            ("2500", '.', Some("2500")),
            ("$2,500", '.', Some("2500")),
            ("2 500,50 EUR", ',', Some("2500.50")),
            ("1'800", '.', Some("1800")),
            ("2.500", ',', Some("2500")),
            ("0", '.', None),
            ("-5", '.', None),
            ("about 3", '.', None),
            ("", '.', None),
            ("1.2.3", '.', None),
            ("99999999999999999999999999999999", '.', None),
        ] {
            assert_eq!(read_sum(text, mark), sum.map(|sum| sum.parse().unwrap()), "{text}");
        }
    }
}
