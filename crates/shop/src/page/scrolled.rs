//! A table that may be wider than the page: it scrolls by itself, by keys too.

use leptos::prelude::*;

/// A table in a box of its own.
pub(crate) fn scrolled(name: impl Into<String>, table: impl IntoView) -> AnyView {
    let name: String = name.into();
    view! { <div class="scroll" role="region" tabindex="0" aria-label=name>{table.into_any()}</div> }.into_any()
}
