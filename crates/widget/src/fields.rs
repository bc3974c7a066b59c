//! The fields a form is built from: each ties its label, hint and error together once.

mod choice;
mod fold;
mod text;

pub(crate) use choice::{Choice, Offer, choice};
pub(crate) use fold::{Folded, fold};
pub(crate) use text::{TextField, text_field};

use leptos::prelude::*;
use leptos::reactive::graph::{Subscriber, ToAnySubscriber};

/// A memo for a field that may be taken away, as another design does. It then gives up what it follows: a signal keeps a place for
/// whoever followed it, also for one that is gone, so each change of the design would leave some kilobytes behind.
pub(crate) fn memo<T>(work: impl Fn() -> T + Send + Sync + 'static) -> ArcMemo<T>
where
    T: PartialEq + Send + Sync + 'static,
{
    let memo = ArcMemo::new(move |_| work());
    let follower = memo.to_any_subscriber();
    on_cleanup(move || follower.clear_sources(&follower));
    memo
}
