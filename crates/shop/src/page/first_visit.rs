//! What a maker is told who opens the page for the first time: whose book this is, and what to do with it.

use leptos::prelude::*;

use super::fields::button;
use super::focus;
use super::keeping::Browser;
use crate::desk::{Desk, Section};
use crate::first_visit::put_away;

/// The panel, until it is put away.
pub(crate) fn first_visit(desk: &Desk) -> impl IntoView + use<> {
    let desk = desk.clone();
    move || desk.first.get().then(|| panel(&desk))
}

fn panel(desk: &Desk) -> impl IntoView + use<> {
    let to = |section: Section, words: &'static str| {
        let desk = desk.clone();
        button(words, move || {
            focus::goes_to_section();
            desk.section.set(section.clone());
        })
    };
    let part = |key: &str, words| to(Section::Part(key.to_owned()), words);
    let first = desk.first.clone();
    let away = button("Put this away", move || {
        put_away(&mut Browser);
        focus::goes_to_section();
        first.set(false);
    });
    view! {
        <div class="welcome" role="group" aria-label="To begin with">
            <p>
                <b>{"This is an invented maker's book, for you to make your own."}</b>
                {" Nothing you change leaves this machine, and Undo takes back as much as you like."}
            </p>
            <ol>
                <li>{"Make it yours: who you are under "} {part("shop", "Shop")} {", then "} {part("pricing", "Pricing")} {", "} {part("timbers", "Timbers")} {", "} {part("operations", "Operations")} {" and "} {part("designs", "Designs")} {". Beside them the basket shows what each change does to a price."}</li>
                <li>{"Publish: "} {to(Section::Publish, "Publish")} {" names what is still the demo's, and writes the price book for your page, which holds no cost, wage or margin."}</li>
                <li>{"Keep it: this browser keeps your last ten states by itself. Under "} {to(Section::Keeping, "Files and earlier states")} {" you save the shop book as a file, which is the one to trust."}</li>
            </ol>
            {away}
        </div>
    }
}
