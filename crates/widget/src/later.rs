//! What comes once the first price has been painted: the form, the handles on the drawing, what moves the price, keeping and sending.
//!
//! As it is shipped it stands in a file of its own: the build cuts the wasm in two at [`living`] (feature `apart`). What only `living`
//! calls goes there, what anything before it calls does not; so nothing in `first.rs` may call views.

use std::cell::RefCell;
use std::rc::Rc;

use leptos::ev::{KeyboardEvent, SubmitEvent};
use leptos::mount::{UnmountHandle, mount_to};
use leptos::prelude::*;
use leptos::tachys::view::Mountable;
use leptos::tachys::view::any_view::AnyViewState;
use leptos::wasm_split::SplitLoaderError;
#[cfg(feature = "apart")]
use leptos::wasm_split::wasm_split;
use web_sys::{Element, ScrollIntoViewOptions, ScrollLogicalPosition};

use crate::first::First;
use crate::passing::{self, Passing};
use crate::ui::Ui;
use crate::{panels, result};

/// A widget that can be changed. Dropping it takes its parts off the page. Only its vtable is known to what comes first.
pub(crate) trait Living {
    /// Takes an attribute of the element that changed.
    fn set(&self, name: &str, value: &str);

    /// Prices anew, since it has become known where postal codes lie.
    fn located(&self);
}

/// Brings a widget to life, once [`fetch`] has fetched what that takes.
///
/// # Errors
/// When it was not fetched.
#[cfg(feature = "apart")]
#[wasm_split(later, wasm_split_path = ::leptos::wasm_split, fallible, preload(fetch))]
pub(crate) fn living(first: Rc<First>) -> Result<Box<dyn Living>, SplitLoaderError> {
    Ok(Box::new(Live::new(first)))
}

/// Where the wasm is one file, as in tests, everything is there already.
#[cfg(not(feature = "apart"))]
pub(crate) async fn fetch() -> Result<(), SplitLoaderError> {
    Ok(())
}

#[cfg(not(feature = "apart"))]
pub(crate) async fn living(first: Rc<First>) -> Result<Box<dyn Living>, SplitLoaderError> {
    Ok(Box::new(Live::new(first)))
}

struct Live {
    ui: Ui,
    /// Those that stand among the ones that were there first.
    among: Rc<RefCell<Vec<AnyViewState>>>,
    _at_the_end: UnmountHandle<AnyViewState>,
}

impl Live {
    fn new(first: Rc<First>) -> Self {
        let ui = Ui::new(&first);
        let among = Rc::new(RefCell::new(Vec::new()));
        let (shown, put) = (ui.clone(), Rc::clone(&among));
        let _at_the_end = mount_to(first.widget.clone(), move || {
            let (among, at_the_end) = parts(&first, &shown);
            put.replace(among);
            at_the_end
        });
        Self { ui, among, _at_the_end }
    }
}

impl Drop for Live {
    fn drop(&mut self) {
        self.among.borrow_mut().iter_mut().for_each(Mountable::unmount);
    }
}

impl Living for Live {
    fn set(&self, name: &str, value: &str) {
        self.ui.set_attribute(name, value);
    }

    fn located(&self) {
        self.ui.located();
    }
}

/// Every part: those put among the ones that are there, and what comes at the end.
fn parts(first: &First, ui: &Ui) -> (Vec<AnyViewState>, AnyView) {
    first.make_way();
    ui.ask_the_way();
    result::drawing(ui, &first.sheet);
    result::price_neighbours(ui);
    let passing = Passing::new(ui.clone());
    passing.follow_links();
    let (price, sheet) = (&first.price.section, &first.sheet.section);
    let among = vec![
        put(result::brief_sheet(ui), &first.widget, Some(price)),
        put(result::announcement(ui), price, None),
        put(passing::bar(&passing), &first.widget, Some(sheet)),
    ];
    (among, under_the_sheet(ui, &passing))
}

/// Puts a part into an element, before another or at its end.
fn put(part: AnyView, parent: &Element, before: Option<&Element>) -> AnyViewState {
    let mut part = part.build();
    part.mount(parent, before.map(AsRef::as_ref));
    part
}

fn under_the_sheet(ui: &Ui, passing: &Passing) -> AnyView {
    // Enter in a field must not send the page anywhere.
    let stay = |event: SubmitEvent| event.prevent_default();
    view! {
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
        {result::details(ui.clone())}
        <div class="after">{passing::kept(passing)} {passing::ask(passing)}</div>
    }
    .into_any()
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
