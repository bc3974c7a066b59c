//! Up, down and Enter in a grid: to the same column of the next row that is found, over the edge of what is on the page too.

use leptos::ev::KeyboardEvent;
use leptos::prelude::*;
use wasm_bindgen::JsCast;

use super::super::focus;
use super::super::paged::AT_ONCE;
use super::cell_of;

/// Goes to the next row, or the one before.
pub(super) fn step(event: &KeyboardEvent, found: Memo<Vec<usize>>, from: RwSignal<usize>) {
    let up = match event.key().as_str() {
        "ArrowUp" => true,
        "ArrowDown" | "Enter" => false,
        _ => return,
    };
    let Some(here) = event.target().and_then(|target| target.dyn_into::<web_sys::HtmlInputElement>().ok()) else {
        return;
    };
    let Some((row, column)) = cell_of(&here) else { return };
    let next = found.with_untracked(|found| {
        let at = found.iter().position(|index| *index == row)?;
        let next = if up { at.checked_sub(1) } else { at.checked_add(1) };
        found.get(next?).copied()
    });
    let Some(next) = next else { return };
    let id = here.id();
    let Some(start) = id.strip_suffix(&format!("{row}-{column}")) else { return };
    let id = format!("{start}{next}-{column}");
    event.prevent_default();
    let there = here.owner_document().and_then(|document| document.get_element_by_id(&id));
    if let Some(there) = there.and_then(|there| there.dyn_into::<web_sys::HtmlElement>().ok()) {
        // Leaving a field takes what was typed into it.
        let _nowhere = there.focus();
        return;
    }
    focus::goes_past(id);
    turn_to(next, found, from);
}

/// Brings a row onto the page: as the first of those that follow, or the last of those before.
fn turn_to(row: usize, found: Memo<Vec<usize>>, from: RwSignal<usize>) {
    // What was just typed may have changed which rows are found.
    let Some(at) = found.with_untracked(|found| found.iter().position(|index| *index == row)) else { return };
    let first = from.get_untracked();
    if at < first {
        from.set(first.saturating_sub(AT_ONCE));
    } else if at >= first.saturating_add(AT_ONCE) {
        from.set(at);
    }
}
