//! The maker's page: every table of the shop book in forms, what an edit does to the pieces the maker cares about, requests, offers, jobs, what
//! the jobs teach, and the price book to publish. One HTML file that opens from disk; nothing is ever sent.
//!
//! [`sheet`] is the book as it is edited, valid or not yet, with an undo without limit; [`form`] says what a place of it may hold; [`basket`]
//! prices the maker's pieces; [`keep`] holds earlier states. All four are plain data that know no screen.

pub mod basket;
mod desk;
pub mod form;
pub mod keep;
mod page;
mod rest;
pub mod sheet;

use leptos::mount::mount_to;
use wasm_bindgen::prelude::wasm_bindgen;

use desk::Desk;
use form::Kind;
use sheet::Sheet;

/// The schema of the shop book, which the engine's own readers make.
const SCHEMA: &str = include_str!("../../../shared/schema/shop-book.json");

/// A book to start from: the invented maker's, which says so.
const DEMO: &str = include_str!("../../../shared/books/demo-shop.json");

/// Shows the page in an element, with the book that was kept last, else the demo's.
///
/// # Errors
/// When neither can be read.
#[wasm_bindgen]
pub fn start(place: web_sys::HtmlElement) -> Result<(), wasm_bindgen::JsError> {
    let failed = |what: &dyn std::fmt::Display| wasm_bindgen::JsError::new(&what.to_string());
    let schema = serde_json::from_str(SCHEMA).map_err(|error| failed(&error))?;
    let kept = keep::Kept::find(&page::Browser).1;
    let sheet = kept.and_then(|text| Sheet::open(&text).ok()).map_or_else(|| Sheet::open(DEMO), Ok);
    let desk = Desk::new(sheet.map_err(|fault| failed(&fault))?, Kind::of_document(&schema));
    // Child by child: writing markup is what a strict policy forbids.
    while let Some(child) = place.first_child() {
        place.remove_child(&child).map_err(|_| failed(&"the page can't be cleared"))?;
    }
    // The page stands as long as its window does.
    mount_to(place, move || page::page(desk)).forget();
    Ok(())
}
