//! What the proof of a design says: that all its sizes can be built, or which can't, drawn there.

use leptos::prelude::*;
use scantling_pricing::book::check::{Broken, DesignProof};

use super::Bench;
use super::drawn::pictured;
use crate::draft::{Draft, broken_in_words};
use crate::page::progress::progress;

/// More than this is not told at once: whoever mends these sees the rest.
const MOST_TOLD: usize = 6;

/// What is said under the drawing.
pub(super) fn told(bench: &Bench) -> impl IntoView + use<> {
    let own = bench.clone();
    let said = move || {
        let Some(proof) = own.proof.get() else {
            return view! { <p class="note">{"Its sizes are being proved."}</p> }.into_any();
        };
        if proof.holds() {
            return holds(&own, &proof);
        }
        if !proof.is_done() {
            return view! { <p class="note">{"Nothing can be proved before it can be drawn."}</p> }.into_any();
        }
        let written = written(&own, &proof);
        let draft = own.drafted.get_untracked();
        let broken = draft
            .as_ref()
            .and_then(|draft| draft.as_ref().as_ref().ok())
            .map(|draft| proof.broken.iter().take(MOST_TOLD).map(|one| broken(&own, draft, one)).collect_view());
        let more = proof.broken.len().checked_sub(MOST_TOLD).filter(|more| *more > 0);
        let more = more.map(|more| view! { <p>{format!("{more} more parts can't be built at some size.")}</p> });
        view! { {written} {broken} {more} }.into_any()
    };
    view! {
        <section class="proof" aria-label="Proof of its sizes">
            <h3>{"Every size you offer"}</h3>
            {progress(&bench.slices, "Its sizes are being proved")}
            <div aria-live="polite">{said}</div>
        </section>
    }
}

fn holds(bench: &Bench, proof: &DesignProof) -> AnyView {
    let limits = bench.with_design(|design| {
        let one = |dimension: &scantling_pricing::design::Dimension| {
            let unit = bench.with_draft(Draft::unit)?;
            Some(format!("{} {} to {}", dimension.label, dimension.least.show(unit), dimension.most.show(unit)))
        };
        design.dimensions.iter().filter_map(one).collect::<Vec<_>>().join(", ")
    });
    let words = format!(
        "Each can be built and no two parts get in each other's way: proved at all {} corners of {}.",
        proof.corners(),
        limits.unwrap_or_default()
    );
    view! { <p class="holds">{words}</p> }.into_any()
}

/// What is written wrong: nothing is proved before it is mended.
fn written(bench: &Bench, proof: &DesignProof) -> impl IntoView + use<> {
    let place = |path: &str| bench.with_draft(|draft| draft.place(path).to_string()).unwrap_or_default();
    let each = proof.written.iter().take(MOST_TOLD).map(|fault| {
        view! { <p class="fault">{format!("{}: {}", place(&fault.path), fault.fault)}</p> }
    });
    each.collect_view()
}

/// A part that breaks, with the drawing at that size and the part in a colour that stands out.
fn broken(bench: &Bench, draft: &Draft, broken: &Broken) -> AnyView {
    let Some(design) = draft.design() else { return ().into_any() };
    let words = broken_in_words(design, broken, draft.unit());
    let there = draft.where_it_breaks(broken).map(|brief| {
        let named: Vec<_> = broken.part.iter().chain(&broken.other).collect();
        let picture = draft.marked(&named).drawing(&brief, bench.shown.get_untracked(), bench.room.wide.get_untracked()).ok();
        let picture = picture.map(|drawn| {
            pictured(&drawn, "The piece at the size that breaks; the parts it breaks at are red")
        });
        let unit = draft.unit();
        let sizes: Vec<_> = brief.dimensions.iter().map(|(key, size)| (key.to_string(), size.show(unit))).collect();
        let chosen: Vec<_> = brief.options.iter().map(|(key, choice)| (key.to_string(), choice.to_string())).collect();
        let (own, choices) = (bench.sizes, bench.choices);
        let go = move |_| {
            own.set(sizes.clone());
            choices.set(chosen.clone());
        };
        view! {
            <figure>
                {picture}
                <figcaption><button type="button" on:click=go>{"Set the drawing above to this size"}</button></figcaption>
            </figure>
        }
    });
    view! {
        <div class="breaks">
            <p class="fault">{words}</p>
            {there}
        </div>
    }
    .into_any()
}
