//! The price book as it stands beside the one that was written last: this browser remembers that, and a file stands in for it.

use leptos::prelude::*;
use scantling_pricing::book::document::Node;

use super::super::keeping::{Browser, opened_text};
use super::super::today::{now, on_this_wall};
use crate::desk::Desk;
use crate::differences::differences;
use crate::keep::Published;

/// What the price book is compared with.
#[derive(Debug, Clone)]
pub(super) struct Last {
    /// Which one that is.
    from: String,
    book: Node,
}

impl Last {
    /// The one that was written last on this page, if it is remembered.
    pub(super) fn remembered() -> Option<Self> {
        let Published { at, book } = Published::find(&Browser)?;
        let from = match at {
            Some(at) => {
                format!("Against the one written here on {}, as this computer's clock had it:", on_this_wall(at))
            }
            None => "Against the one written here last:".to_owned(),
        };
        Some(Self { from, book: Node::read(&book).ok()? })
    }

    /// One out of a file.
    fn opened(name: &str, text: &str) -> Result<Self, String> {
        let book = Node::read(text).map_err(|fault| fault.to_string())?;
        book.under("scantling_price_book").ok_or("it is no price book.")?;
        Ok(Self { from: format!("Against {name}:"), book })
    }
}

/// Remembers a price book that was just written; says whether there was room for it.
pub(super) fn remember(book: String) -> bool {
    Published { at: now(), book }.keep(&mut Browser).is_ok()
}

/// What differs between the one written last and the price book as it stands.
pub(super) fn against(
    desk: &Desk,
    last: RwSignal<Option<Last>>,
    price_book: Memo<Option<Node>>,
) -> impl IntoView + use<> {
    let (desk, kind) = (desk.clone(), desk.kind.clone());
    let open = move |name: String, text: String| match Last::opened(&name, &text) {
        Ok(opened) => last.set(Some(opened)),
        Err(why) => desk.say(format!("{name} can't be compared: {why}")),
    };
    let shown = move || {
        last.with(|last| {
            let Some(last) = last else {
                return view! { <p class="note">{"None was written on this page yet. Open the one that is on your host, if there is one."}</p> }
                    .into_any();
            };
            let rows = price_book.with(|now| now.as_ref().map(|now| differences(&last.book, now, &kind)));
            let rows = rows.map(|rows| rows.into_iter().map(|row| view! { <li>{row}</li> }).collect_view());
            view! { <p>{last.from.clone()}</p> <ul class="entries differs">{rows}</ul> }.into_any()
        })
    };
    view! {
        <h3>{"Against the one published last"}</h3>
        {shown}
        {opened_text("last-file", "Compare with a price book out of a file", open)}
    }
}
