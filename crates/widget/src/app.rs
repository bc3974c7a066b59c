//! The widget whole: the price, the drawing and the form, then what the price is made of.

use leptos::ev::{KeyboardEvent, SubmitEvent};
use leptos::prelude::*;
use web_sys::{Element, ScrollIntoViewOptions, ScrollLogicalPosition};

use crate::passing::{self, Passing};
use crate::ui::Ui;
use crate::{panels, result, wording};

/// Everything inside the element.
pub(crate) fn app(ui: Ui) -> impl IntoView {
    ui.tell_the_page();
    result::price_neighbours(&ui);
    let passing = Passing::new(ui.clone());
    passing.follow_links();
    // Enter in a field must not send the page anywhere.
    let stay = |event: SubmitEvent| event.prevent_default();
    let name = ui.say(wording::WIDGET);
    view! {
        <div class="widget" part="widget" role="group" aria-label=name>
            {result::brief_sheet(&ui)}
            {result::price(ui.clone())}
            {passing::bar(&passing)}
            {result::drawing(ui.clone())}
            <form class="form" part="form" novalidate=true on:submit=stay on:keyup=into_sight>
                {panels::piece(ui.clone())}
                {panels::sizes(ui.clone())}
                {panels::materials(ui.clone())}
                {panels::finish(ui.clone())}
                {panels::options(ui.clone())}
                {panels::destination(ui.clone())}
                {panels::ways(ui.clone())}
            </form>
            <div class="proposals" part="proposals">
                {result::moves(ui.clone())}
                {result::budget(ui.clone())}
            </div>
            {result::details(ui)}
            <div class="after">{passing::kept(&passing)} {passing::ask(&passing)}</div>
        </div>
    }
}

/// Brings the radio button that an arrow key came to into sight: `WebKit` leaves it below the window's edge.
fn into_sight(event: KeyboardEvent) {
    let came_to = event_target::<Element>(&event);
    if event.key().starts_with("Arrow") && came_to.matches("[type=radio]").unwrap_or(false) {
        let nearest = ScrollIntoViewOptions::new();
        nearest.set_block(ScrollLogicalPosition::Nearest);
        came_to.scroll_into_view_with_scroll_into_view_options(&nearest);
    }
}
