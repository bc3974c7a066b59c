//! The measured drawing, shape by shape: the page's policy lets no markup be written as text.

use leptos::prelude::*;
use scantling_drawing::svg::{lit, path, points};
use scantling_drawing::{Drawing, Shape, View, draw};
use scantling_pricing::design::{Resolved, resolve};
use scantling_pricing::measure::{DecimalMark, LengthUnit};

use crate::ui::Ui;
use crate::wording;
use crate::words::marked;

/// The four views on one sheet, and its title. The brief is settled once for all of them.
pub(crate) fn drawing(ui: Ui) -> impl IntoView {
    let name = ui.say(wording::DRAWING);
    let sheet = move || {
        let unit = ui.form.with(|form| form.unit);
        ui.shown.with(|shown| {
            let resolved = resolve(&ui.book, &shown.as_ref()?.brief).ok()?;
            let views = View::ALL.map(|view| seen(&ui, &resolved, view, unit)).collect_view();
            Some((views, title(&ui, &resolved, unit)))
        })
    };
    view! {
        <section class="sheet" part="drawing" aria-label=name>
            {sheet}
        </section>
    }
}

/// What is drawn, in the corner of the sheet where a workshop drawing says it.
fn title(ui: &Ui, resolved: &Resolved<'_>, unit: LengthUnit) -> impl IntoView + use<> {
    let [length, width, height] = resolved.envelope().map(|size| ui.words.length(size, unit));
    let roles = resolved.materials.iter().filter_map(|material| {
        let role = resolved.design.role(material.role)?;
        let text = wording::role_of(&ui.words, role.label.as_str(), material.stock.name());
        Some(view! { <span>{text}</span> })
    });
    view! {
        <div class="title">
            <b>{resolved.design.name.to_string()}</b>
            <span class="figure">{[length, width, height].join(" × ")}</span>
            {roles.collect_view()}
        </div>
    }
}

fn seen(ui: &Ui, resolved: &Resolved<'_>, view: View, unit: LengthUnit) -> impl IntoView + use<> {
    let name = ui.say(wording::view(view));
    view! {
        <figure class=if view == View::Solid { "view whole" } else { "view" }>
            {sheet(draw(resolved, view, unit), name.clone(), ui.words.mark())}
            <figcaption>{name}</figcaption>
        </figure>
    }
}

fn sheet(drawing: Drawing, name: String, mark: DecimalMark) -> impl IntoView {
    let [left, top, width, height] = drawing.sheet;
    let shapes = drawing.shapes.into_iter().map(|drawn| shape(drawn, mark)).collect_view();
    view! {
        <svg viewBox=format!("{left} {top} {width} {height}") role="img" aria-label=name font-size=drawing.lettering.to_string()>
            {shapes}
        </svg>
    }
}

fn shape(shape: Shape, mark: DecimalMark) -> AnyView {
    match shape {
        Shape::Face { corners, swatch, light } => {
            view! { <polygon class="part" points=points(&corners) fill=lit(&swatch, light) /> }.into_any()
        }
        Shape::Grain(stroke) => view! { <polyline class="grain" points=points(&stroke) /> }.into_any(),
        Shape::Ruler(strokes) => view! { <path class="ruler" d=path(&strokes) /> }.into_any(),
        Shape::Figure { at: (x, y), upright, text } => {
            let turn = upright.then(|| format!("rotate(-90 {x} {y})"));
            view! { <text class="figure" x=x.to_string() y=y.to_string() transform=turn>{marked(text, mark)}</text> }
                .into_any()
        }
    }
}
