//! What a carrier has named, by phone or letter, in place of what the tables say.

use leptos::prelude::*;
use scantling_pricing::book::document::Node;

use super::fields::{button, field};
use super::today::today;
use crate::desk::Desk;
use crate::sheet::{Edit, Path};

/// The form of a carrier's quote that stands, or will stand, under `quoted` at a place.
pub(crate) fn carrier(desk: &Desk, place: &Path) -> AnyView {
    let own = place.key("quoted");
    let there = {
        let (desk, own) = (desk.clone(), own.clone());
        Memo::new(move |_| desk.sheet.with(|sheet| matches!(sheet.at(&own), Some(Node::Table(_)))))
    };
    let desk = desk.clone();
    let body = move || if there.get() { named(&desk, &own) } else { missing(&desk, &own) };
    view! {
        <fieldset tabindex="-1">
            <legend>{"A carrier's own charge"}</legend>
            {body}
        </fieldset>
    }
    .into_any()
}

fn missing(desk: &Desk, place: &Path) -> AnyView {
    let (desk, place) = (desk.clone(), place.clone());
    let words = |text: &str| Node::Text(text.to_owned());
    let add = move || {
        let day = today().map_or_else(String::new, |day| day.as_str().to_owned());
        let fresh = [
            ("mode", words("freight")),
            ("charge", words("")),
            ("day", Node::Text(day)),
            ("by", words("By phone")),
            ("days_least", Node::Int(3)),
            ("days_most", Node::Int(7)),
        ];
        let fresh = fresh.map(|(key, value)| (key.to_owned(), value)).to_vec();
        desk.edit("Writing down what a carrier named", vec![Edit::set(place.clone(), Node::Table(fresh))]);
    };
    view! {
        <p class="note">{"The tables of the book say what the way costs. Once a carrier has named its charge, that stands in for them."}</p>
        {button("A carrier has named its charge", add)}
    }
    .into_any()
}

fn named(desk: &Desk, place: &Path) -> AnyView {
    let (away, out) = (desk.clone(), place.clone());
    let take_out = move || away.edit("Taking out what a carrier named", vec![Edit::Clear(out.clone())]);
    view! {
        <div class="fields">
            {field(desk, &place.key("mode"), "The way it is for")}
            {field(desk, &place.key("charge"), "What the carrier asks, in the book's currency")}
            {field(desk, &place.key("day"), "The day it was named")}
            {field(desk, &place.key("by"), "Who named it")}
            {field(desk, &place.key("days_least"), "Fewest days on the way")}
            {field(desk, &place.key("days_most"), "Most days on the way")}
        </div>
        {button("Go by the tables again", take_out)}
    }
    .into_any()
}
