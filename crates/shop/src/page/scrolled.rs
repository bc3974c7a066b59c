//! A table that may be wider than the page: it scrolls by itself, by keys too.

use leptos::prelude::*;

/// A table in a box of its own.
pub(crate) fn scrolled(name: &'static str, table: impl IntoView) -> AnyView {
    view! { <div class="scroll" role="region" tabindex="0" aria-label=name>{table.into_any()}</div> }.into_any()
}
