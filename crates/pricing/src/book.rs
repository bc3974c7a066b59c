//! The tables a price is computed from: the maker's private shop book and the public price book folded from it.
//!
//! Both are JSON, read strictly: an unknown key, a number out of bounds or a missing table is an error with its path and
//! what to do. What the two share has one type here; an [`Amount`] in it is a cost in a shop book and a selling rate in a
//! price book. What only the maker may know ([`ShopRate`], [`Pricing`], minutes, jobs) has no place in a [`PriceBook`].

pub mod check;
pub mod delivery;
pub mod document;
pub(crate) mod fault;
pub mod job;
pub mod json;
pub mod ledger;
pub mod moment;
pub mod price_book;
pub mod read;
pub mod record;
#[cfg(feature = "schema")]
pub(crate) mod schema;
pub mod shop;
pub mod shop_book;
pub mod stock;
#[cfg(feature = "explain")]
mod told;
#[cfg(not(feature = "explain"))]
mod untold;
pub mod values;
pub mod work;

pub use document::DocumentError;
#[cfg(feature = "explain")]
pub use document::Fault;
pub use price_book::PriceBook;
pub use shop_book::ShopBook;
pub use values::{Amount, Key, Text};
pub use work::{Pricing, ShopRate};
