//! What is told above a book that is only looked at, and the two ways on.

use leptos::prelude::*;

use crate::desk::Desk;

/// Why the book is only looked at, with a way on and a way back; nothing above any other book.
pub(crate) fn held(desk: &Desk) -> impl IntoView + use<> {
    let desk = desk.clone();
    move || {
        let why = desk.sheet.with(|sheet| sheet.held().map(ToString::to_string))?;
        let (on, back) = (desk.clone(), desk.clone());
        Some(view! {
            <div class="held" role="group" aria-label="A book that is only looked at">
                <p class="fault">{why} " Nothing in it is changed or kept."</p>
                <button type="button" on:click=move |_| on.let_go()>{"Go on with what could be read"}</button>
                <button type="button" on:click=move |_| back.open_last_good()>{"Back to the book before"}</button>
            </div>
        })
    }
}
