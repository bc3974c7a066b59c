//! How far work that takes long has come: a bar, and the same in figures.

use leptos::prelude::*;

use crate::slices::{Far, Slices};

/// The bar; nothing while nothing takes long. It is not announced at every step: whoever wants to know finds it by its name.
pub(crate) fn progress(slices: &Slices, what: &'static str) -> impl IntoView + use<> {
    let far = slices.far.clone();
    let goes_on = {
        let far = far.clone();
        Memo::new(move |_| far.with(Option::is_some))
    };
    move || {
        goes_on.get().then(|| {
            let (now, words) = (far.clone(), far.clone());
            let value = move || now.get().map(|far| far.done.to_string());
            let most = far.get_untracked().map(|far| far.all.to_string());
            view! {
                <p class="progress">
                    <progress aria-label=what value=value max=most></progress>
                    {move || words.get().map(in_words)}
                </p>
            }
        })
    }
}

fn in_words(Far { done, all, of }: Far) -> String {
    format!(" {done} of {all} {of}")
}
