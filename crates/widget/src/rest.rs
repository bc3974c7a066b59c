//! What waits until typing rests: a screen reader that must not chatter, and what takes longer than a keystroke may.

use std::time::Duration;

use leptos::prelude::*;

/// Whether it is done at first too, or only after a change.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum First {
    Taken,
    Left,
}

/// Does something once what is tracked has not changed for a while.
pub(crate) fn rested(wait: Duration, first: First, track: impl Fn() + 'static, act: impl Fn() + Clone + 'static) {
    let waiting: StoredValue<Option<TimeoutHandle>> = StoredValue::new(None);
    Effect::new(move |before: Option<()>| {
        track();
        if let Some(handle) = waiting.get_value() {
            handle.clear();
        }
        if before.is_some() || first == First::Taken {
            waiting.set_value(set_timeout_with_handle(act.clone(), wait).ok());
        }
    });
    on_cleanup(move || {
        if let Some(handle) = waiting.try_get_value().flatten() {
            handle.clear();
        }
    });
}

/// Does something once the frame that is being made has been painted.
pub(crate) fn painted(act: impl FnOnce() + 'static) {
    request_animation_frame(move || set_timeout(act, Duration::ZERO));
}
