//! The measured drawing, shape by shape: the page's policy lets no markup be written as text.

use leptos::prelude::*;
use scantling_drawing::svg::{lit, path, points};
use scantling_drawing::{Drawing, Shape, View, draw};
use scantling_pricing::design::{Resolved, resolve};
use scantling_pricing::measure::LengthUnit;

use crate::ui::Ui;
use crate::wording;

/// The four views on one sheet, and its title. The brief is settled once for all of them.
pub(crate) fn drawing(ui: Ui) -> impl IntoView {
    let sheet = move || {
        let unit = ui.form.with(|form| form.unit);
        ui.shown.with(|shown| {
            let resolved = resolve(&ui.book, &shown.as_ref()?.brief).ok()?;
            let views = View::ALL.map(|view| seen(&resolved, view, unit)).collect_view();
            Some((views, title(&resolved, unit)))
        })
    };
    view! {
        <section class="sheet" part="drawing" aria-label=wording::DRAWING>
            {sheet}
        </section>
    }
}

/// What is drawn, in the corner of the sheet where a workshop drawing says it.
fn title(resolved: &Resolved<'_>, unit: LengthUnit) -> impl IntoView + use<> {
    let [length, width, height] = resolved.envelope().map(|size| size.show(unit));
    let roles = resolved.materials.iter().filter_map(|material| {
        let role = resolved.design.role(material.role)?;
        let text = wording::role_in(role.label.as_str(), material.stock.name());
        Some(view! { <span>{text}</span> })
    });
    view! {
        <div class="title">
            <b>{resolved.design.name.to_string()}</b>
            <span class="figure">{wording::sizes(&length, &width, &height)}</span>
            {roles.collect_view()}
        </div>
    }
}

fn seen(resolved: &Resolved<'_>, view: View, unit: LengthUnit) -> impl IntoView + use<> {
    let name = wording::view(view);
    view! {
        <figure class=if view == View::Solid { "view whole" } else { "view" }>
            {sheet(draw(resolved, view, unit), name)}
            <figcaption>{name}</figcaption>
        </figure>
    }
}

fn sheet(drawing: Drawing, name: &'static str) -> impl IntoView {
    let [left, top, width, height] = drawing.sheet;
    let shapes = drawing.shapes.into_iter().map(shape).collect_view();
    view! {
        <svg viewBox=format!("{left} {top} {width} {height}") role="img" aria-label=name font-size=drawing.lettering.to_string()>
            {shapes}
        </svg>
    }
}

fn shape(shape: Shape) -> AnyView {
    match shape {
        Shape::Face { corners, swatch, light } => {
            view! { <polygon class="part" points=points(&corners) fill=lit(&swatch, light) /> }.into_any()
        }
        Shape::Grain(stroke) => view! { <polyline class="grain" points=points(&stroke) /> }.into_any(),
        Shape::Ruler(strokes) => view! { <path class="ruler" d=path(&strokes) /> }.into_any(),
        Shape::Figure { at: (x, y), upright, text } => {
            let turn = upright.then(|| format!("rotate(-90 {x} {y})"));
            view! { <text class="figure" x=x.to_string() y=y.to_string() transform=turn>{text}</text> }.into_any()
        }
    }
}
