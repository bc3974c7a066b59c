//! What a one-off piece of furniture costs, delivered: exact, pure, the same natively and in a browser.
//!
//! A reader meets the modules in the order the work flows: a [`brief::Brief`] and a [`book::PriceBook`] give resolved parts
//! ([`design`]), a [`takeoff`], lines of money ([`labour`], [`cost`]), a [`range`], [`delivery`], [`tax`] and at last an
//! [`estimate::Estimate`]. [`checks`] and [`lead_time`] work on the same parts. [`publish`] folds a maker's private
//! [`book::ShopBook`] into the public price book; both go through the same path, and what differs is only what a rate means.
//!
//! **Invariant:** no I/O, no clock, no randomness, no floats in money or bought quantities, no panic on any input.
//!
//! ```
//! use scantling_pricing::book::{Key, ShopBook};
//! use scantling_pricing::brief::Brief;
//! use scantling_pricing::estimate::estimate;
//! use scantling_pricing::publish::{Basis, fold};
//!
//! let shop = ShopBook::read(include_str!("../../../shared/books/demo-shop.json")).expect("the demo book reads");
//! let book = fold(&shop, Basis::Selling).expect("the demo book folds");
//! let brief = Brief::new(Key::new("trestle-table").expect("a key"));
//! let priced = estimate(&book, &brief).expect("the default table can be built");
//! assert!(priced.works.low.amount() < priced.works.high.amount());
//! ```

#![forbid(unsafe_code)]
#![warn(clippy::must_use_candidate)]

pub mod alternatives;
pub mod book;
mod bounded;
pub mod brief;
pub mod budget;
pub mod checks;
pub mod conversion;
pub mod cost;
pub mod delivery;
pub mod design;
pub mod estimate;
pub mod jobs;
pub mod kept;
pub mod labour;
pub mod lead_time;
pub mod learning;
pub mod link;
pub mod map;
pub mod measure;
pub mod money;
pub mod offers;
pub mod order;
pub mod owed;
pub mod problem;
pub mod profit;
pub mod publish;
pub mod quote;
pub mod range;
pub mod request;
#[cfg(feature = "schema")]
pub mod schemas;
pub mod suggestions;
pub mod takeoff;
pub mod tax;
pub mod work_names;
pub mod worksheet;
