//! The widget whole: the price, the drawing and the form, then what the price is made of.

use leptos::ev::SubmitEvent;
use leptos::prelude::*;

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
            <form class="form" part="form" novalidate=true on:submit=stay>
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
