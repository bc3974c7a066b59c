//! A document that is opened or pasted, and what the book has to say of it.

use leptos::prelude::*;
use scantling_pricing::book::ShopBook;

use super::keeping::opened_text;
use crate::desk::Desk;

/// What a section for pasted documents is called, in its heading, its hint, and at its two fields.
pub(crate) struct Names {
    /// The heading.
    pub(crate) title: &'static str,
    /// What may be opened, and what is done with it.
    pub(crate) hint: &'static str,
    /// At the field for a file, and its id.
    pub(crate) file: (&'static str, &'static str),
    /// At the field to paste into, and its id.
    pub(crate) text: (&'static str, &'static str),
}

/// A section that takes a document and answers it from the book, anew whenever either changes.
pub(crate) fn pasted(desk: &Desk, names: &Names, answer: fn(&ShopBook, &str) -> AnyView) -> AnyView {
    let text = RwSignal::new(String::new());
    let desk = desk.clone();
    let answered = move || {
        let written = text.get();
        if written.trim().is_empty() {
            return ().into_any();
        }
        match desk.book() {
            Some(book) => answer(&book, &written),
            None => view! { <p class="fault">{"The book is not right yet: mend it first."}</p> }.into_any(),
        }
    };
    let ((file, file_id), (pasted, text_id)) = (names.file, names.text);
    view! {
        <section aria-label=names.title>
            <h2>{names.title}</h2>
            <p class="note">{names.hint}</p>
            {opened_text(file_id, file, move |_, written| text.set(written))}
            <label for=text_id>{pasted}</label>
            <textarea id=text_id rows="8" prop:value=move || text.get() on:change=move |event| text.set(event_target_value(&event))></textarea>
            {answered}
        </section>
    }
    .into_any()
}
