//! The price, at the workshop and delivered, and its quiet announcement.

use std::time::Duration;

use leptos::prelude::*;
use scantling_pricing::delivery::Mode;
use scantling_pricing::estimate::PriceRange;

use crate::rest::{First, rested};
use crate::ui::{Shown, Ui};
use crate::wording;
use crate::words::Word;

/// How long typing must rest before a screen reader is told.
const REST: Duration = Duration::from_millis(700);

/// The price.
pub(crate) fn price(ui: Ui) -> impl IntoView {
    let figures = {
        let ui = ui.clone();
        move || ui.shown.with(|shown| shown.as_ref().map(|shown| figures(&ui, shown)))
    };
    let (name, id) = (ui.say(wording::PRICE), ui.id("price"));
    view! {
        <section class="price" part="price" id=id tabindex="-1" aria-label=name>
            {figures}
            <p class="quiet" role="status" aria-live="polite">{announcement(ui)}</p>
        </section>
    }
}

fn figures(ui: &Ui, shown: &Shown) -> impl IntoView + use<> {
    let estimate = &shown.estimate;
    let anything_brings_it = estimate.ways.iter().any(|way| way.mode != Mode::Collect && way.outcome.is_ok());
    let delivered = match (estimate.brought(), estimate.region.is_some()) {
        (Some(delivered), _) => span(ui, wording::DELIVERED, delivered.price, "delivered").into_any(),
        (None, true) if anything_brings_it => view! { <p class="note">{ui.say(wording::COLLECTING)}</p> }.into_any(),
        (None, true) => view! { <p class="note">{ui.say(wording::NO_WAY)}</p> }.into_any(),
        (None, false) => view! { <p class="note">{ui.say(wording::NO_DESTINATION)}</p> }.into_any(),
    };
    let earlier = (!shown.current).then(|| view! { <p class="fault">{ui.say(wording::EARLIER)}</p> });
    view! {
        <div class="figures" class:earlier=!shown.current>
            {delivered}
            {span(ui, wording::WORKSHOP, estimate.works, "workshop")}
        </div>
        {earlier}
    }
}

/// A range with its likely price.
fn span(ui: &Ui, name: Word, price: PriceRange, class: &'static str) -> impl IntoView + use<> {
    view! {
        <div class=format!("span {class}")>
            <span class="name">{ui.say(name)}</span>
            <b class="range">{wording::range(&ui.words, &ui.money(price.low), &ui.money(price.high))}</b>
            <span class="likely">{wording::likely(&ui.words, &ui.money(price.likely))}</span>
        </div>
    }
}

/// What is announced: the newest price, once nothing has changed for a while.
fn announcement(ui: Ui) -> impl Fn() -> String {
    let said = RwSignal::new(String::new());
    let text = move || ui.shown.with(|shown| shown.as_ref().map(|shown| spoken(&ui, shown)));
    // The first price is read with the page; only changes are announced.
    rested(REST, First::Left, text, move |text| said.set(text));
    move || said.get()
}

fn spoken(ui: &Ui, shown: &Shown) -> String {
    let price = shown.estimate.price();
    let announced =
        if shown.estimate.brought().is_some() { wording::announced_delivered } else { wording::announced_workshop };
    announced(&ui.words, &ui.money(price.likely), &ui.money(price.low), &ui.money(price.high))
}
