//! What of the book is still the demo's: an invented maker's notice, jobs and tables are not to go out under another name.

use leptos::prelude::*;
use scantling_pricing::book::document::Node;

use crate::demo::{Remnants, remnants};
use crate::desk::{Desk, Section};
use crate::sheet::{Edit, Path};

/// What is left of the demo, each with a way to it or out of the book; nothing as long as the shop is the demo's.
pub(super) fn still_there(desk: &Desk) -> impl IntoView + use<> {
    let desk = desk.clone();
    let demo = Node::read(crate::DEMO).ok();
    move || {
        let demo = demo.as_ref()?;
        let Remnants { notice, jobs, parts } = desk.sheet.with(|sheet| remnants(sheet.root(), demo))?;
        let notice = notice.then(|| {
            let out = desk.clone();
            let take = move |_| {
                out.edit("Taking out the demo's notice", vec![Edit::Clear(Path::whole().key("notice"))]);
                out.say("The demo's notice is taken out.");
            };
            view! { <p>{"The demo's notice is still there: buyers would read that your prices are invented."} {" "} <button type="button" on:click=take>{"Take the demo's notice out"}</button></p> }
        });
        let jobs = (!jobs.is_empty()).then(|| {
            let (out, told) = (desk.clone(), jobs.len());
            let take = move |_| {
                let rows = jobs.iter().rev().map(|index| Edit::Remove(Path::whole().key("jobs").index(*index)));
                out.edit("Taking out the demo's jobs", rows.collect());
                out.say("The demo's jobs are taken out.");
            };
            view! { <p>{format!("{told} of the jobs are the demo's: what they teach is not yours, and goes into your ranges.")} {" "} <button type="button" on:click=take>{"Take the demo's jobs out"}</button></p> }
        });
        let parts = (!parts.is_empty()).then(|| {
            let ways = parts.into_iter().map(|key| {
                let (desk, section) = (desk.clone(), Section::Part(key.clone()));
                let label = desk.kind.field(&key).map_or(key, |field| field.label.clone());
                view! { <li><button type="button" on:click=move |_| desk.go(section.clone(), "")>{label}</button></li> }
            });
            let ways = ways.collect_view();
            view! { <p>{"As in the demo's book; look whether it is yours as well:"}</p> <ul class="entries">{ways}</ul> }
        });
        let anything = notice.is_some() || jobs.is_some() || parts.is_some();
        anything.then(|| view! { <h3>{"Still the demo's"}</h3> {notice} {jobs} {parts} })
    }
}
