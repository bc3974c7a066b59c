//! The measured drawing, shape by shape: the page's policy lets no markup be written as text.

use leptos::prelude::*;
use scantling_drawing::svg::{lit, points};
use scantling_drawing::{Drawing, Shape, View, draw};
use scantling_pricing::design::resolve;

use crate::ui::Ui;
use crate::wording;

/// The four views on one sheet.
pub(crate) fn drawing(ui: Ui) -> impl IntoView {
    let views = View::ALL.map(|view| {
        let ui = ui.clone();
        view! {
            <figure class=if view == View::Solid { "view whole" } else { "view" }>
                {move || seen(&ui, view)}
                <figcaption>{wording::view(view)}</figcaption>
            </figure>
        }
    });
    view! {
        <section class="sheet" part="drawing" aria-label=wording::DRAWING>
            {views.collect_view()}
            {move || title(&ui)}
        </section>
    }
}

/// What is drawn, in the corner of the sheet where a workshop drawing says it.
fn title(ui: &Ui) -> Option<impl IntoView + use<>> {
    let shown = ui.shown.get()?;
    let unit = ui.form.with(|form| form.unit);
    let resolved = resolve(&ui.book, &shown.brief).ok()?;
    let [length, width, height] = resolved.envelope().map(|size| size.show(unit));
    let roles = resolved.materials.iter().filter_map(|material| {
        let role = resolved.design.role(material.role)?;
        let text = wording::role_in(role.label.as_str(), material.stock.name());
        Some(view! { <span>{text}</span> })
    });
    Some(view! {
        <div class="title">
            <b>{resolved.design.name.to_string()}</b>
            <span class="figure">{wording::sizes(&length, &width, &height)}</span>
            {roles.collect_view()}
        </div>
    })
}

fn seen(ui: &Ui, view: View) -> Option<impl IntoView + use<>> {
    let shown = ui.shown.get()?;
    let unit = ui.form.with(|form| form.unit);
    let drawing = resolve(&ui.book, &shown.brief).ok().map(|resolved| draw(&resolved, view, unit))?;
    Some(sheet(drawing, wording::view(view)))
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
        Shape::Ruler(strokes) => {
            let path: String = strokes.iter().map(|[(x1, y1), (x2, y2)]| format!("M{x1} {y1}L{x2} {y2}")).collect();
            view! { <path class="ruler" d=path /> }.into_any()
        }
        Shape::Figure { at: (x, y), upright, text } => {
            let turn = upright.then(|| format!("rotate(-90 {x} {y})"));
            view! { <text class="figure" x=x.to_string() y=y.to_string() transform=turn>{text}</text> }.into_any()
        }
    }
}
