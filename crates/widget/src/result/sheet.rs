//! What was asked for, in words, for the printed sheet alone: a form on paper says too much and too little.
//!
//! It is written anew when printing starts, not at every letter typed.

use leptos::prelude::*;

use crate::bits::{El, el, live};
use crate::out;
use crate::summary;
use crate::ui::Ui;
use crate::wording::passing_on;

/// The brief, the day and the edition.
pub(crate) fn brief_sheet(ui: &Ui) -> AnyView {
    let ui = ui.clone();
    let printing = ui.printing.clone();
    let listening = window_event_listener(leptos::ev::beforeprint, move |_| printing.notify());
    on_cleanup(move || listening.remove());
    live(move || {
        ui.printing.track();
        let unit = ui.form.with_untracked(|form| form.unit);
        let words = &ui.words;
        let rows = ui.shown.with_untracked(|shown| {
            let shown = shown.as_ref()?;
            let mut rows = summary::rows(words, &ui.book, &shown.brief, &shown.estimate, unit);
            let today = out::today().map(|day| words.day(&day)).unwrap_or_default();
            rows.push((ui.say(passing_on::ESTIMATED_ON), today));
            rows.push((ui.say(passing_on::PRICES_OF), words.day(&shown.estimate.edition)));
            Some(rows)
        });
        let list = el("dl");
        let row = |list: El, (label, value)| list.el(el("dt").text(label)).el(el("dd").text(value));
        let list = rows.unwrap_or_default().into_iter().fold(list, row);
        let shop = &ui.book.shop;
        let maker = el("h2").text(shop.name.to_string());
        el("section").class("brief").el(maker).el(el("p").text(shop.contact.to_string())).el(list).view()
    })
}
