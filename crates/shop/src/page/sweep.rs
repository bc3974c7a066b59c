//! A rate swept over a range, and what the price of each piece hangs on: reckoned a little at a time, as pictures and as tables.

mod curve;
mod hangs;

use std::sync::Arc;
use std::time::Duration;

use leptos::prelude::*;

use crate::basket::Piece;
use crate::desk::Desk;
use crate::rest::rested_for;
use crate::sheet::Sheet;
use crate::trial::Trial;

/// How long the book rests before its rates are tried again.
const REST: Duration = Duration::from_millis(500);

/// A piece whose rates are tried.
#[derive(Clone)]
struct Bench {
    desk: Desk,
    /// Which piece of the basket.
    piece: RwSignal<usize>,
    /// The piece with its rows, from the last book that was right.
    trial: RwSignal<Option<Arc<Trial>>>,
}

/// The section.
pub(crate) fn section(desk: &Desk) -> AnyView {
    let bench = Bench { desk: desk.clone(), piece: RwSignal::new(0), trial: RwSignal::new(None) };
    bench.take_up();
    let (source, again) = (bench.clone(), bench.clone());
    let changed = move || {
        source.piece.track();
        source.desk.judged.with(|_| Some(()))
    };
    rested_for(REST, changed, move |()| again.take_up());
    let trial = bench.trial;
    let nothing = move || {
        let none = trial.with(Option::is_none);
        none.then(|| view! { <p class="fault">{"There is no piece that can be priced yet."}</p> })
    };
    view! {
        <section aria-label="Sweep and sensitivity">
            <h2>{"Sweep and sensitivity"}</h2>
            {chooser(&bench)}
            {nothing}
            {curve::panel(&bench)}
            {hangs::panel(&bench)}
        </section>
    }
    .into_any()
}

impl Bench {
    /// The pieces of the basket.
    fn pieces(&self) -> Vec<Piece> {
        let now = self.desk.judged.with(|judged| judged.now.clone());
        now.map_or_else(Vec::new, |now| now.pieces.iter().map(|(piece, _)| piece.clone()).collect())
    }

    /// Takes up the rows the piece is made of as the book has them now.
    fn take_up(&self) {
        let pieces = untrack(|| self.pieces());
        let trial = pieces.get(self.piece.get_untracked()).and_then(|piece| {
            let past = untrack(|| self.desk.past_jobs());
            self.desk.sheet.with_untracked(|sheet: &Sheet| Trial::of(sheet.root(), &piece.brief, past))
        });
        self.trial.set(trial.map(Arc::new));
    }
}

fn chooser(bench: &Bench) -> impl IntoView + use<> {
    let names = {
        let bench = bench.clone();
        Memo::new(move |_| bench.pieces().into_iter().map(|piece| piece.name).collect::<Vec<_>>())
    };
    let (piece, take) = (bench.piece, bench.clone());
    let options = move || {
        let one = |(at, name): (usize, String)| {
            view! { <option value=at.to_string() prop:selected=move || piece.get() == at>{name}</option> }
        };
        names.get().into_iter().enumerate().map(one).collect_view()
    };
    let choose = move |event| {
        if let Ok(at) = event_target_value(&event).parse() {
            piece.set(at);
            take.take_up();
        }
    };
    view! { <div class="above"><label>{"Piece of the basket "}<select on:change=choose>{options}</select></label></div> }
}
