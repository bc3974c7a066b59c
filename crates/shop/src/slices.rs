//! Work that takes longer than a frame, a little of it between one frame and the next, and how far it is.

use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};
use std::time::Duration;

use leptos::prelude::*;

/// How many milliseconds of it are done at once: a third of a frame, so that the rest is the browser's. A step that is longer runs on.
const AT_ONCE: f64 = 5.0;

/// Of work that puts something on the page, one step: what a step changes is made by the browser after it, and its time is no part of the
/// step's own.
const ONE_STEP: f64 = 0.0;

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
    at_once: f64,
    /// How far it is, once it takes long.
    pub(crate) far: ArcRwSignal<Option<Far>>,
}

impl Default for Slices {
    fn default() -> Self {
        Self { turn: Arc::default(), at_once: AT_ONCE, far: ArcRwSignal::new(None) }
    }
}

impl Slices {
    /// For work that puts something on the page, each step of it apart.
    pub(crate) fn of_one_step() -> Self {
        Self { at_once: ONE_STEP, ..Self::default() }
    }

    /// Starts a piece of work: a step that says how far it is, or nothing once it is done.
    pub(crate) fn run(&self, step: impl FnMut() -> Option<Far> + 'static) {
        self.end();
        let turn = self.turn.load(Ordering::Relaxed);
        next(self.clone(), (turn, now()), step);
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

/// Whether so much time has passed. Of a clock that was set back meanwhile nobody knows, and the browser has its turn.
#[expect(clippy::float_arithmetic, reason = "a time, and no quantity")]
fn has_passed(since: f64, milliseconds: f64) -> bool {
    let now = now();
    now < since || now - since >= milliseconds
}

fn next(slices: Slices, (turn, since): (u32, f64), mut step: impl FnMut() -> Option<Far> + 'static) {
    let slice = move || {
        let start = now();
        while slices.turn.load(Ordering::Relaxed) == turn {
            let Some(far) = step() else {
                slices.tell(None);
                return;
            };
            if has_passed(start, slices.at_once) {
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
