//! What waits until typing rests.

use std::time::Duration;

use leptos::prelude::*;

/// How long.
const REST: Duration = Duration::from_millis(300);

/// Takes the newest value of a source once nothing has changed for a while. The first is left: it was there when the page came.
pub(crate) fn rested<T: 'static>(source: impl Fn() -> Option<T> + 'static, take: impl Fn(T) + Clone + 'static) {
    rested_for(REST, source, take);
}

/// The same for another while.
pub(crate) fn rested_for<T: 'static>(
    rest: Duration,
    source: impl Fn() -> Option<T> + 'static,
    take: impl Fn(T) + Clone + 'static,
) {
    let waiting: StoredValue<Option<TimeoutHandle>> = StoredValue::new(None);
    Effect::new(move |before: Option<()>| {
        let Some(value) = source() else { return };
        if let Some(handle) = waiting.get_value() {
            handle.clear();
        }
        if before.is_some() {
            let take = take.clone();
            waiting.set_value(set_timeout_with_handle(move || take(value), rest).ok());
        }
    });
}
