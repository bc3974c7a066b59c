//! What is too much for one frame, put on the page a little at a time: a few entries at once, a few more in each frame that follows.

use std::collections::BTreeSet;

use leptos::prelude::*;

use super::focus::back_into_sight;
use crate::slices::{Far, Slices};

/// How many entries a frame has room for.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Room {
    /// At once, with all else that comes with them.
    pub(crate) first: usize,
    /// In each frame after that.
    pub(crate) more: usize,
}

/// Of all entries those that are on the page by now, in their order. What is there already stands; what is new among them comes a few at a time.
pub(crate) fn growing<T>(all: impl Fn() -> Vec<T> + Send + Sync + 'static, room: Room) -> RwSignal<Vec<T>>
where
    T: Clone + Ord + Send + Sync + 'static,
{
    let all = Memo::new(move |_| all());
    let shown = RwSignal::new(all.with_untracked(|all| grown(all, &[], room.first)));
    let slices = Slices::of_one_step();
    let ending = slices.clone();
    on_cleanup(move || ending.end());
    Effect::new(move |before: Option<()>| {
        // As the page comes, the first are there.
        let fresh = if before.is_some() { room.first } else { 0 };
        let now = all.with(|all| shown.with_untracked(|shown| grown(all, shown, fresh)));
        if shown.with_untracked(|shown| *shown != now) {
            shown.set(now);
        }
        slices.run(move || {
            let missing = || {
                let (done, all) = (shown.with_untracked(Vec::len), all.with_untracked(Vec::len));
                (done != all).then_some(Far { done, all, of: "entries" })
            };
            missing()?;
            let now = all.with_untracked(|all| shown.with_untracked(|shown| grown(all, shown, room.more)));
            shown.set(now);
            back_into_sight();
            missing()
        });
    });
    shown
}

/// Those of all entries that are shown already, and so many others, in the order of all.
fn grown<T: Clone + Ord>(all: &[T], shown: &[T], others: usize) -> Vec<T> {
    let shown: BTreeSet<&T> = shown.iter().collect();
    let mut left = others;
    let stays = |entry: &&T| {
        shown.contains(entry) || {
            let fits = left > 0;
            left = left.saturating_sub(1);
            fits
        }
    };
    all.iter().filter(stays).cloned().collect()
}

/// The entries of a list to choose from, by key and name, with the one that is chosen; a few at a time where there are hundreds.
pub(crate) fn options(
    names: impl Fn() -> Vec<(String, String)> + Send + Sync + 'static,
    chosen: impl Fn() -> String + Send + Sync + 'static,
) -> AnyView {
    // Two rows of a book that is not right yet may be alike.
    let once = move || {
        let mut seen = BTreeSet::new();
        names().into_iter().filter(|name| seen.insert(name.clone())).collect()
    };
    let shown = growing(once, Room { first: 30, more: 60 });
    let chosen = Memo::new(move |_| chosen());
    let option = move |(key, name): (String, String)| {
        let own = key.clone();
        view! { <option value=key prop:selected=move || chosen.with(|chosen| *chosen == own)>{name}</option> }
    };
    view! { <For each=move || shown.get() key=Clone::clone children=option /> }.into_any()
}

#[cfg(test)]
mod tests {
    use super::grown;

    #[test]
    fn what_is_there_stands_and_the_rest_comes_in_its_order() {
        assert_eq!(grown(&[1, 2, 3, 4, 5], &[], 2), [1, 2]);
        assert_eq!(grown(&[1, 2, 3, 4, 5], &[1, 2], 2), [1, 2, 3, 4]);
        assert_eq!(grown(&[1, 2, 3, 4, 5], &[1, 2, 3, 4], 2), [1, 2, 3, 4, 5]);
        // One is gone, one has come between.
        assert_eq!(grown(&[9, 1, 7, 3], &[1, 2, 3], 1), [9, 1, 3]);
        // Another page of the list: nothing of it was there.
        assert_eq!(grown(&[6, 7, 8], &[1, 2, 3], 2), [6, 7]);
    }
}
