//! A real browser on a real page, for tests that act as a buyer would.
//!
//! Everything runs on this machine: the page is served from `target/dist` and `tests/pages`, the browser is driven through its
//! own driver, and both stop by themselves. The same test runs in every engine: what only one driver knows how to ask for is
//! said to be so where it is asked.

#[cfg(feature = "browser")]
mod axe;
#[cfg(feature = "browser")]
mod browser;
#[cfg(feature = "browser")]
mod budget;
#[cfg(feature = "browser")]
mod engine;
#[cfg(feature = "browser")]
mod keys;
#[cfg(feature = "browser")]
mod large;
#[cfg(feature = "browser")]
mod memory;
#[cfg(feature = "browser")]
mod page;
#[cfg(feature = "browser")]
mod picture;
#[cfg(feature = "browser")]
mod pointer;
#[cfg(feature = "browser")]
mod print;
#[cfg(feature = "browser")]
mod processes;
#[cfg(feature = "browser")]
mod windows;

#[cfg(feature = "browser")]
pub use budget::{TRIES, allowed, middle};
#[cfg(feature = "browser")]
pub use engine::{Engine, Scheme};
#[cfg(feature = "browser")]
pub use keys::Key;
#[cfg(feature = "browser")]
pub use large::large_book;
#[cfg(feature = "browser")]
pub use memory::Held;
#[cfg(feature = "browser")]
pub use page::{Page, Visit};
#[cfg(feature = "browser")]
pub use picture::of_few_colours;
#[cfg(feature = "browser")]
pub use pointer::Mouse;
#[cfg(feature = "browser")]
pub use print::Paper;
