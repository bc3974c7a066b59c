//! What is told, for as long as it is so, above a book that the browser does not keep, and the ways on.

use leptos::prelude::*;

use super::fields::button;
use super::keeping::save;
use crate::desk::Desk;
use crate::keep::NotKept;

/// How often what waits for room is tried again.
const AGAIN: std::time::Duration = std::time::Duration::from_secs(5);

/// Why the book is not kept, and what to do; nothing above one that is.
pub(crate) fn unkept(desk: &Desk) -> impl IntoView + use<> {
    try_again_while_full(desk);
    let desk = desk.clone();
    move || {
        let why = desk.unkept.get()?;
        Some(view! {
            <div class="unkept" role="alert">
                <p class="fault">{why.to_string()}</p>
                {ways_on(&desk, why)}
            </div>
        })
    }
}

fn ways_on(desk: &Desk, why: NotKept) -> Vec<AnyView> {
    let (file, one, other) = (desk.clone(), desk.clone(), desk.clone());
    let as_file = button("Save the shop book as a file", move || save(&file));
    match why {
        NotKept::Full => vec![as_file, button("Try again to keep it", move || one.keep_at_once())],
        NotKept::NoStore => vec![as_file],
        NotKept::Overtaken => vec![
            button("Keep this window's book", move || one.choose_this()),
            button("Show the other window's book", move || other.choose_other()),
        ],
    }
}

fn try_again_while_full(desk: &Desk) {
    let desk = desk.clone();
    Effect::new(move |running: Option<Option<IntervalHandle>>| {
        if let Some(handle) = running.flatten() {
            handle.clear();
        }
        let again = desk.clone();
        (desk.unkept.get() == Some(NotKept::Full))
            .then(|| set_interval_with_handle(move || again.keep_what_waits(), AGAIN).ok())
            .flatten()
    });
}
