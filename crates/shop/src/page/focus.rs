//! Where the focus goes when what had it is taken away: to what it stood in, so that no one who goes by keys is sent back to the top.

use leptos::ev::{KeyboardEvent, MouseEvent};
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlElement, ScrollIntoViewOptions, ScrollLogicalPosition};

/// What may take the focus when what stood in it is gone: it is in no one's way of the Tab key.
const HOLDS: &str = "[tabindex='-1']";

/// Notes where something was pressed; if the focus is nowhere once the page has changed, it goes to the nearest that is left, and if what was
/// pressed has put something above itself, it is brought back into sight. It has to hear of it on the way down to what was pressed: on the way
/// back up, what was pressed may be gone already, and with it the way to what it stood in.
pub(crate) fn stays_near(event: &MouseEvent) {
    let pressed = event.target().and_then(|target| target.dyn_into::<Element>().ok());
    let Some(pressed) = pressed.and_then(|element| element.closest("button").ok().flatten()) else { return };
    let mut holders = Vec::new();
    let mut at = pressed.closest(HOLDS).ok().flatten();
    while let Some(holder) = at {
        at = holder.parent_element().and_then(|parent| parent.closest(HOLDS).ok().flatten());
        holders.push(holder);
    }
    let back = move || {
        if is_nowhere() {
            let left = holders.iter().find(|holder| holder.is_connected());
            take(left.and_then(|holder| holder.clone().dyn_into().ok()));
        } else if document().and_then(|document| document.active_element()).is_some_and(|active| active == pressed) {
            into_sight(&pressed);
        }
    };
    // Not every engine has taken the focus away by the next frame.
    set_timeout(back.clone(), std::time::Duration::from_millis(60));
    request_animation_frame(back);
}

/// Brings what has the focus back into sight where what came above it has pushed it out, as soon as that stands there.
pub(super) fn back_into_sight() {
    request_animation_frame(|| {
        if let Some(held) = found("main :focus") {
            into_sight(&held);
        }
    });
}

/// Brings an element into sight, no further than it takes, if it is out of it.
fn into_sight(element: &Element) {
    if !is_in_sight(element) {
        let nearest = ScrollIntoViewOptions::new();
        nearest.set_block(ScrollLogicalPosition::Nearest);
        element.scroll_into_view_with_scroll_into_view_options(&nearest);
    }
}

fn is_in_sight(element: &Element) -> bool {
    let high = web_sys::window().and_then(|window| window.inner_height().ok()?.as_f64()).unwrap_or_default();
    let place = element.get_bounding_client_rect();
    place.top() >= 0.0 && place.bottom() <= high
}

/// The focus goes to what was just opened, once it stands there.
pub(crate) fn goes_to_opened() {
    // First to what stays: a section that goes must not take the focus with it.
    take(found("main"));
    request_animation_frame(|| take_unless_gone(found("main .record[tabindex='-1']")));
}

/// The focus goes to the heading of the section that was just chosen: what stands there is what is worked at next.
pub(crate) fn goes_to_section() {
    take(found("main"));
    request_animation_frame(|| take_unless_gone(heading()));
}

/// The focus goes to the element with an id, once it stands there; else to the nearest there is.
pub(crate) fn goes_to(id: String) {
    look_for(id, FRAMES, || ());
}

/// The same, out of what may go before it stands there: leaving it first takes what was typed into it.
pub(crate) fn goes_past(id: String) {
    take(found("main"));
    goes_to(id);
}

/// The focus goes to the field of a place of the book, once it stands there; else to the record it is in. Then it is told.
pub(crate) fn goes_to_place(place: &str, arrived: impl FnOnce() + 'static) {
    // First to what stays: a section that goes must not take the focus with it.
    take(found("main"));
    look_for(format!("f-{place}"), FRAMES, arrived);
}

/// So many frames what was opened may take to stand there.
const FRAMES: u8 = 30;

fn look_for(id: String, frames: u8, arrived: impl FnOnce() + 'static) {
    request_animation_frame(move || {
        let there = document().and_then(|document| document.get_element_by_id(&id));
        if let Some(there) = there.and_then(|there| there.dyn_into().ok()) {
            take(Some(there));
            arrived();
        } else if let Some(fewer) = frames.checked_sub(1) {
            look_for(id, fewer, arrived);
        } else {
            // What it stands in, when it has no field of its own.
            take_unless_gone(found("main .record[tabindex='-1']").or_else(heading));
            arrived();
        }
    });
}

/// The heading of the open section, made fit to take the focus.
fn heading() -> Option<HtmlElement> {
    let heading = found("main h2")?;
    heading.set_tab_index(-1);
    Some(heading)
}

/// The focus steps out of what it is in: to the nearest around it that can take it, to the heading of the section, to the open section's
/// entry in the list. Whether there was anywhere to go.
pub(crate) fn steps_out(here: &Element) -> bool {
    if here.closest("nav").ok().flatten().is_some() {
        return false;
    }
    let around = here.parent_element().and_then(|parent| parent.closest("main [tabindex='-1']").ok().flatten());
    let is_heading = here.matches("main, main h2").unwrap_or(false);
    let next = match around.and_then(|around| around.dyn_into().ok()) {
        Some(around) => Some(around),
        None if is_heading => found("nav [aria-current]"),
        None => heading(),
    };
    let any = next.is_some();
    take(next);
    any
}

/// A way among the entries of a list.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Way {
    /// To the next.
    Next,
    /// To the one before.
    Before,
    /// To the first.
    First,
    /// To the last.
    Last,
    /// To the next that starts with a letter, from the first on again after the last.
    Starting(char),
}

/// The focus goes to another button of the list an event came from; whether there was one.
pub(crate) fn goes_among(event: &KeyboardEvent, way: Way) -> bool {
    let here = event.target().and_then(|target| target.dyn_into::<Element>().ok());
    let list = here.as_ref().and_then(|here| here.closest("nav").ok().flatten());
    let Some((here, list)) = here.zip(list) else { return false };
    let all = buttons_in(&list);
    let at = all.iter().position(|button| **button == here).unwrap_or(0);
    let starts = |button: &&HtmlElement, letter: char| {
        let words = button.text_content().unwrap_or_default().to_lowercase();
        words.trim_start().starts_with(letter.to_ascii_lowercase())
    };
    let next = match way {
        Way::Next => all.get(at.saturating_add(1)),
        Way::Before => at.checked_sub(1).and_then(|before| all.get(before)),
        Way::First => all.first(),
        Way::Last => all.last(),
        Way::Starting(letter) => {
            let after = all.iter().skip(at.saturating_add(1)).chain(all.iter().take(at));
            after.into_iter().find(|button| starts(button, letter))
        }
    };
    let any = next.is_some();
    take(next.cloned());
    any
}

/// The buttons in an element, in the order they stand.
fn buttons_in(element: &Element) -> Vec<HtmlElement> {
    if element.local_name() == "button" {
        return element.clone().dyn_into().into_iter().collect();
    }
    let children = std::iter::successors(element.first_element_child(), Element::next_element_sibling);
    children.flat_map(|child| buttons_in(&child)).collect()
}

fn document() -> Option<web_sys::Document> {
    web_sys::window()?.document()
}

fn is_nowhere() -> bool {
    document().and_then(|document| document.active_element()).is_none_or(|active| active.local_name() == "body")
}

fn found(selector: &str) -> Option<HtmlElement> {
    document()?.query_selector(selector).ok().flatten()?.dyn_into().ok()
}

/// Gives the focus to an element, but does not take it from where it has gone meanwhile: a frame may be long in coming.
fn take_unless_gone(element: Option<HtmlElement>) {
    if found("main:focus").is_some() || is_nowhere() {
        take(element);
    }
}

fn take(element: Option<HtmlElement>) {
    // What can't take the focus leaves it where it is.
    let _taken = element.map(|element| element.focus());
}
