//! Work that takes longer than a frame, a little of it between one frame and the next, and how far it is.

use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};
use std::time::Duration;

use leptos::prelude::*;

/// How many milliseconds of it are done at once: a third of a frame, so that the rest is the browser's. A step that is longer runs on.
const AT_ONCE: f64 = 5.0;

/// After how many milliseconds it is told how far it is: what is done sooner would only flash up.
const TOLD_AFTER: f64 = 300.0;

/// How far a piece of work is after a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Far {
    /// How many are done.
    pub(crate) done: usize,
    /// How many there are.
    pub(crate) all: usize,
    /// Of what, in words for many.
    pub(crate) of: &'static str,
}

/// A piece of work that is done in slices; a new one ends the one before.
#[derive(Debug, Clone)]
pub(crate) struct Slices {
    turn: Arc<AtomicU32>,
    /// How far it is, once it takes long.
    pub(crate) far: ArcRwSignal<Option<Far>>,
}

impl Default for Slices {
    fn default() -> Self {
        Self { turn: Arc::default(), far: ArcRwSignal::new(None) }
    }
}

impl Slices {
    /// Starts a piece of work: a step that says how far it is, or nothing once it is done.
    pub(crate) fn run(&self, step: impl FnMut() -> Option<Far> + 'static) {
        self.end();
        let turn = self.turn.load(Ordering::Relaxed);
        next(self.clone(), (turn, now()), step);
    }

    /// The same for work that puts something on the page, one step at a time: what a step changes is made by the browser after it, and its
    /// time is no part of the step's own.
    pub(crate) fn run_apart(&self, step: impl FnMut() -> bool + 'static) {
        self.end();
        let turn = self.turn.load(Ordering::Relaxed);
        next_apart(self.clone(), turn, step);
    }

    /// Ends what is under way.
    pub(crate) fn end(&self) {
        self.turn.fetch_add(1, Ordering::Relaxed);
        self.tell(None);
    }

    fn tell(&self, far: Option<Far>) {
        if self.far.with_untracked(|told| *told != far) {
            self.far.set(far);
        }
    }
}

fn now() -> f64 {
    js_sys::Date::now()
}

#[expect(clippy::float_arithmetic, reason = "a time, and no quantity")]
fn has_passed(since: f64, milliseconds: f64) -> bool {
    now() - since >= milliseconds
}

fn next(slices: Slices, (turn, since): (u32, f64), mut step: impl FnMut() -> Option<Far> + 'static) {
    let slice = move || {
        let start = now();
        while slices.turn.load(Ordering::Relaxed) == turn {
            let Some(far) = step() else {
                slices.tell(None);
                return;
            };
            if has_passed(start, AT_ONCE) {
                if has_passed(since, TOLD_AFTER) {
                    slices.tell(Some(far));
                }
                next(slices, (turn, since), step);
                return;
            }
        }
    };
    set_timeout(slice, Duration::ZERO);
}

fn next_apart(slices: Slices, turn: u32, mut step: impl FnMut() -> bool + 'static) {
    let one = move || {
        if slices.turn.load(Ordering::Relaxed) == turn && step() {
            next_apart(slices, turn, step);
        }
    };
    set_timeout(one, Duration::ZERO);
}
