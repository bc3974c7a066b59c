//! A part of a long list at a time: which one, and the ways to the parts before and after it.

use leptos::prelude::*;

/// Rows on the page at once: more would make every keystroke wait.
pub(crate) const AT_ONCE: usize = 40;

/// The ways, where there are more rows than are on the page at once. `from` is the first that is.
pub(crate) fn pages(count: usize, from: RwSignal<usize>) -> impl IntoView {
    let start = from.get();
    let last = start.saturating_add(AT_ONCE).min(count);
    (count > AT_ONCE).then(|| {
        view! {
            <span class="pages">
                <button type="button" disabled=start == 0 on:click=move |_| from.set(start.saturating_sub(AT_ONCE))>{"Earlier"}</button>
                {format!(" {} to {last} of {count} ", start.saturating_add(1))}
                <button type="button" disabled=last == count on:click=move |_| from.set(last)>{"Later"}</button>
            </span>
        }
    })
}

/// Those of all that are on the page at once.
pub(crate) fn part<T: Clone>(all: &[T], from: usize) -> Vec<T> {
    all.iter().skip(from).take(AT_ONCE).cloned().collect()
}
