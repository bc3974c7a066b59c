//! Slabs: one drawn to scale as it was measured, what flattening takes off a cut of it, what is sold and left, and what each way of
//! charging it comes to; then all of them in a grid.

mod cut;

use leptos::prelude::*;
use scantling_drawing::{slab as drawn, slab_described, svg};
use scantling_pricing::book::document::Node;
use scantling_pricing::book::stock::{Slab, Timber};
use scantling_pricing::takeoff::Allowances;

use super::designs::address;
use super::little::options;
use super::record;
use crate::cuts;
use crate::desk::Desk;
use crate::form::Field;
use crate::sheet::Path;
use crate::slim::rows;

/// A slab with what it takes to draw and to reckon with it.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Lying {
    slab: Slab,
    timber: Timber,
    allowances: Allowances,
}

/// The section.
pub(crate) fn section(desk: &Desk, field: &Field) -> AnyView {
    let list = Path::whole().key(&field.key);
    let index = RwSignal::new(desk.row_gone_to(&list).unwrap_or(0));
    let cut = RwSignal::new(cut::Typed::default());
    let read = {
        let desk = desk.clone();
        Memo::new(move |_| {
            desk.sheet.with(|sheet| {
                rows(sheet.root().under("slabs")?).get(index.get())?;
                Some(lying(sheet.root(), index.get()))
            })
        })
    };
    let picture = {
        let desk = desk.clone();
        move || match read.get() {
            None => view! { <p class="note">{"There is no slab yet: add a row below."}</p> }.into_any(),
            Some(Err(why)) => {
                view! { <p class="fault" role="status">{format!("It can't be drawn yet. {why}")}</p> }.into_any()
            }
            Some(Ok(lying)) => shown(&desk, &lying, cut),
        }
    };
    view! {
        <section aria-label=field.label.clone()>
            <h2>{field.label.clone()}</h2>
            {chooser(desk, &list, (index, cut))}
            {picture}
            <h3>{"All of them"}</h3>
            {record::value(desk, &list, &field.kind, &field.label)}
        </section>
    }
    .into_any()
}

fn chooser(desk: &Desk, list: &Path, (index, cut): (RwSignal<usize>, RwSignal<cut::Typed>)) -> impl IntoView + use<> {
    let names = {
        let (desk, list) = (desk.clone(), list.clone());
        move || {
            let name = |at: usize| {
                let name = desk.words_at(&list.index(at).key("name"));
                let name = if name.is_empty() { format!("Row {}", at.saturating_add(1)) } else { name };
                (at.to_string(), name)
            };
            (0..desk.rows_at(&list)).map(name).collect()
        }
    };
    let options = options(names, move || index.get().to_string());
    let choose = move |event| {
        if let Ok(at) = event_target_value(&event).parse() {
            cut.set(cut::Typed::default());
            index.set(at);
        }
    };
    view! { <div class="above"><label>{"Slab "}<select on:change=choose>{options}</select></label></div> }
}

/// The slab at an index, or why it can't be read.
fn lying(root: &Node, index: usize) -> Result<Lying, String> {
    let row = root.under("slabs").map_or(&[][..], rows).get(index).ok_or("There is no such slab.")?;
    let slab: Slab = row.read_as().map_err(|fault| fault.to_string())?;
    let timbers = root.under("timbers").map_or(&[][..], rows);
    let timber = timbers.iter().find(|timber| timber.text("key") == Some(slab.timber.as_str()));
    let timber = timber.ok_or_else(|| format!("timber: there is no timber “{}” in the book", slab.timber))?;
    let timber = timber.read_as().map_err(|fault| format!("its timber: {fault}"))?;
    let allowances = root.under("allowances").ok_or("allowances: they are missing")?;
    let allowances = allowances.read_as().map_err(|fault| format!("allowances.{fault}"))?;
    Ok(Lying { slab, timber, allowances })
}

fn shown(desk: &Desk, lying: &Lying, cut: RwSignal<cut::Typed>) -> AnyView {
    let unit = desk.length_unit();
    let (slab, timber) = (&lying.slab, &lying.timber);
    let alt = format!("{} The cut below is marked on it.", slab_described(slab, timber, unit));
    let picture = {
        let (lying, desk) = (lying.clone(), desk.clone());
        move || {
            let Lying { slab, timber, .. } = &lying;
            let mut plan = drawn(slab, timber, unit);
            // The cut from the left end, in the middle of the slab, where it goes into it.
            let cut = cut::read(&cut.get(), slab, desk.length_unit()).ok();
            plan.shapes.extend(cut.and_then(|cut| cuts::outline(slab, cut)));
            address(&svg::write(&plan, slab.name.as_str(), &slab_described(slab, timber, unit)))
        }
    };
    // A cut is marked inside of the sheet, and changes neither of its sides.
    let [.., wide, high] = drawn(slab, timber, unit).sheet;
    let as_it_lies = format!(
        "{}, {} thick as it lies; bow {}, cup {}, twist {}; moisture {} %.",
        timber.name,
        slab.thickness.show(unit),
        slab.bow.show(unit),
        slab.cup.show(unit),
        slab.twist.show(unit),
        slab.moisture.value().normalize(),
    );
    let sale = if slab.saleable { "" } else { " It is not for sale." };
    view! {
        <figure class="slab">
            <img class="drawn" src=picture alt=alt width=wide.to_string() height=high.to_string() />
            <figcaption>{format!("{as_it_lies}{sale}")}</figcaption>
        </figure>
        {cut::panel(desk, lying, cut)}
    }
    .into_any()
}
