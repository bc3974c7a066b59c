//! What waits until typing rests: a screen reader that must not chatter, and what takes longer than a keystroke may.

use std::time::Duration;

use leptos::prelude::*;

/// Whether the first value is taken too, or only those that come after it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum First {
    Taken,
    Left,
}

/// Takes the newest value of a source once nothing has changed for a while.
pub(crate) fn rested<T: 'static>(
    wait: Duration,
    first: First,
    source: impl Fn() -> Option<T> + 'static,
    take: impl Fn(T) + Clone + 'static,
) {
    let waiting: StoredValue<Option<TimeoutHandle>> = StoredValue::new(None);
    Effect::new(move |before: Option<()>| {
        let Some(value) = source() else { return };
        if let Some(handle) = waiting.get_value() {
            handle.clear();
        }
        if before.is_some() || first == First::Taken {
            let take = take.clone();
            waiting.set_value(set_timeout_with_handle(move || take(value), wait).ok());
        }
    });
    on_cleanup(move || {
        if let Some(handle) = waiting.try_get_value().flatten() {
            handle.clear();
        }
    });
}
