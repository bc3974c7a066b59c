//! Streams between a page and its server, in name only.
//!
//! The view library brings calls to a server along, and these bring a library of streams that exports functions of its own to the
//! page: whatever is exported is kept, so each buyer would fetch three kilobytes that nothing calls. The widget calls no server.
//! `[patch.crates-io]` puts this in that library's place; should the view library ask more of it, the build says so.

use std::pin::Pin;
use std::task::{Context, Poll};

use futures_core::Stream;
use wasm_bindgen::{JsCast, JsValue};

/// A stream that is never read.
#[derive(Debug)]
pub struct ReadableStream(());

impl ReadableStream {
    /// In place of a stream from Rust.
    #[must_use]
    pub fn from_stream<S: Stream>(_: S) -> Self {
        Self(())
    }

    /// In place of a stream from the page.
    #[must_use]
    pub fn from_raw(_: web_sys::ReadableStream) -> Self {
        Self(())
    }

    /// Nothing: a request with this for its body is sent without one.
    #[must_use]
    pub fn into_raw(self) -> web_sys::ReadableStream {
        JsValue::NULL.unchecked_into()
    }

    /// Nothing, at once.
    #[must_use]
    pub const fn into_stream(self) -> Nothing {
        Nothing(())
    }
}

/// A stream that has ended.
#[derive(Debug)]
pub struct Nothing(());

impl Stream for Nothing {
    type Item = Result<JsValue, JsValue>;

    fn poll_next(self: Pin<&mut Self>, _: &mut Context<'_>) -> Poll<Option<Self::Item>> {
        Poll::Ready(None)
    }
}
