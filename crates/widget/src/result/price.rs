//! The quiet announcement of the price.

use std::time::Duration;

use leptos::prelude::*;

use crate::first::Shown;
use crate::rest::{First, rested};
use crate::ui::Ui;
use crate::wording;

/// How long typing must rest before a screen reader is told.
const REST: Duration = Duration::from_millis(700);

/// What is announced: the newest price, once nothing has changed for a while.
pub(crate) fn announcement(ui: &Ui) -> AnyView {
    let said = RwSignal::new(String::new());
    let (follow, ui) = (ui.shown.clone(), ui.clone());
    let announce = move || {
        // On a slow machine the next key may have come and not been told of: that tells of its price in turn.
        if ui.is_telling() {
            return;
        }
        let text = ui.shown.with_untracked(|shown| shown.as_ref().map(|shown| spoken(&ui, shown)));
        // A widget that was taken off the page has nowhere to put it.
        let _gone = text.and_then(|text| said.try_set(text));
    };
    // The first price is read with the page; only changes are announced.
    rested(REST, First::Left, move || follow.track(), announce);
    view! { <p class="quiet" role="status" aria-live="polite">{move || said.get()}</p> }.into_any()
}

fn spoken(ui: &Ui, shown: &Shown) -> String {
    let price = shown.estimate.price();
    let announced =
        if shown.estimate.brought().is_some() { wording::announced_delivered } else { wording::announced_workshop };
    announced(&ui.words, &ui.money(price.likely), &ui.money(price.low), &ui.money(price.high))
}
