//! A real browser on a real page, for tests that act as a buyer would.
//!
//! Everything runs on this machine: the page is served from `target/dist` and `tests/pages`, the browser is driven through its
//! own driver, and both stop by themselves.

#[cfg(feature = "browser")]
mod chromium;
#[cfg(feature = "browser")]
mod page;

#[cfg(feature = "browser")]
pub use chromium::Chromium;
#[cfg(feature = "browser")]
pub use page::Page;
