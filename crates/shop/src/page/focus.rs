//! Where the focus goes when what had it is taken away: to what it stood in, so that no one who goes by keys is sent back to the top.

use leptos::ev::MouseEvent;
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlElement};

/// What may take the focus when what stood in it is gone: it is in no one's way of the Tab key.
const HOLDS: &str = "[tabindex='-1']";

/// Notes where something was pressed; if the focus is nowhere once the page has changed, it goes to the nearest that is left. It has to hear
/// of it on the way down to what was pressed: on the way back up, what was pressed may be gone already, and with it the way to what it stood in.
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
        }
    };
    // Not every engine has taken the focus away by the next frame.
    set_timeout(back.clone(), std::time::Duration::from_millis(60));
    request_animation_frame(back);
}

/// The focus goes to what was just opened, once it stands there.
pub(crate) fn goes_to_opened() {
    // First to what stays: a section that goes must not take the focus with it.
    take(found("main"));
    request_animation_frame(|| take(found("main .record[tabindex='-1']")));
}

fn is_nowhere() -> bool {
    let document = web_sys::window().and_then(|window| window.document());
    document.and_then(|document| document.active_element()).is_none_or(|active| active.local_name() == "body")
}

fn found(selector: &str) -> Option<HtmlElement> {
    let document = web_sys::window()?.document()?;
    document.query_selector(selector).ok().flatten()?.dyn_into().ok()
}

fn take(element: Option<HtmlElement>) {
    // What can't take the focus leaves it where it is.
    let _taken = element.map(|element| element.focus());
}
