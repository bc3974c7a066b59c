//! The maker's page: every table of the shop book in forms, what an edit does to the pieces the maker cares about, requests, offers, jobs, what
//! the jobs teach, and the price book to publish. One HTML file that opens from disk; nothing is ever sent.
//!
//! [`sheet`] is the book as it is edited, valid or not yet, with an undo without limit; [`form`] says what a place of it may hold; [`judge`]
//! has the engine read it and price the [`basket`]; [`keep`] holds earlier states. All are plain data that know no screen.

mod aside;
pub mod basket;
pub mod comma;
pub mod currency;
pub mod cuts;
pub mod demo;
mod desk;
pub mod differences;
pub mod draft;
pub mod everything;
pub mod find;
pub mod first_visit;
pub mod form;
pub mod judge;
pub mod keep;
pub mod linear;
pub mod named;
pub mod opening;
pub mod owing;
pub mod pack;
mod page;
pub mod percent;
pub mod plot;
pub mod public;
pub mod rates;
pub mod recurrency;
mod rest;
pub mod salvage;
pub mod scaffold;
pub mod sheet;
pub mod shops;
mod slices;
pub mod slim;
pub mod snippet;
pub mod tabbed;
pub mod taken_out;
mod trail;
pub mod trial;
pub mod units;

use leptos::mount::mount_to;
use wasm_bindgen::prelude::wasm_bindgen;

use desk::Desk;
use form::Kind;

/// The schema of the shop book, which the engine's own readers make.
const SCHEMA: &str = include_str!("../../../shared/schema/shop-book.json");

/// A book to start from: the invented maker's, which says so.
const DEMO: &str = include_str!("../../../shared/books/demo-shop.json");

/// Shows the page in an element, with the book that was kept last, else the demo's. What takes long is asked of the other thread, which
/// answers with [`answer`]; without one it is reckoned here.
///
/// # Errors
/// When neither can be read.
#[wasm_bindgen]
pub fn start(place: web_sys::HtmlElement, worker: Option<web_sys::Worker>) -> Result<(), wasm_bindgen::JsError> {
    let failed = |what: &dyn std::fmt::Display| wasm_bindgen::JsError::new(&what.to_string());
    let schema = serde_json::from_str(SCHEMA).map_err(|error| failed(&error))?;
    let opening = opening::opening(&page::Browser, DEMO).map_err(|fault| failed(&fault))?;
    // Child by child: writing markup is what a strict policy forbids.
    while let Some(child) = place.first_child() {
        place.remove_child(&child).map_err(|_| failed(&"the page can't be cleared"))?;
    }
    // The page stands as long as its window does.
    mount_to(place, move || page::page(Desk::new(opening, Kind::of_document(&schema), worker))).forget();
    Ok(())
}

/// What the engine says of a book and of its basket, for the thread that is asked.
#[wasm_bindgen]
#[must_use]
pub fn answer(book: &str) -> String {
    judge::judge(book).write()
}

/// A book as it is to be kept, for the thread that is asked.
#[wasm_bindgen]
#[must_use]
pub fn packed(book: &str) -> String {
    pack::packed(book)
}
