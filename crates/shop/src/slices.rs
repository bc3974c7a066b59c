//! Work that takes longer than a frame, a little of it between one frame and the next.

use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};
use std::time::Duration;

use leptos::prelude::set_timeout;

/// How many milliseconds of it are done at once: a third of a frame, so that the rest is the browser's. A step that is longer runs on.
const AT_ONCE: f64 = 5.0;

/// A piece of work that is done in slices; a new one ends the one before.
#[derive(Debug, Clone, Default)]
pub(crate) struct Slices(Arc<AtomicU32>);

impl Slices {
    /// Starts a piece of work: a step that says whether there is another.
    pub(crate) fn run(&self, step: impl FnMut() -> bool + 'static) {
        self.end();
        let turn = self.0.load(Ordering::Relaxed);
        next(self.clone(), turn, step);
    }

    /// The same for work that puts something on the page, one step at a time: what a step changes is made by the browser after it, and its
    /// time is no part of the step's own.
    pub(crate) fn run_apart(&self, step: impl FnMut() -> bool + 'static) {
        self.end();
        let turn = self.0.load(Ordering::Relaxed);
        next_apart(self.clone(), turn, step);
    }

    /// Ends what is under way.
    pub(crate) fn end(&self) {
        self.0.fetch_add(1, Ordering::Relaxed);
    }
}

fn next(slices: Slices, turn: u32, mut step: impl FnMut() -> bool + 'static) {
    let slice = move || {
        let start = js_sys::Date::now();
        while slices.0.load(Ordering::Relaxed) == turn {
            if !step() {
                return;
            }
            #[expect(clippy::float_arithmetic, reason = "a time, and no quantity")]
            let long_enough = js_sys::Date::now() - start >= AT_ONCE;
            if long_enough {
                next(slices, turn, step);
                return;
            }
        }
    };
    set_timeout(slice, Duration::ZERO);
}

fn next_apart(slices: Slices, turn: u32, mut step: impl FnMut() -> bool + 'static) {
    let one = move || {
        if slices.0.load(Ordering::Relaxed) == turn && step() {
            next_apart(slices, turn, step);
        }
    };
    set_timeout(one, Duration::ZERO);
}
