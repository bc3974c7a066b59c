//! The drawing of a design at a size the maker picks, and what it comes to there.

use leptos::prelude::*;
use scantling_drawing::View;
use scantling_pricing::design::{Design, OptionGroup};

use super::Bench;
use crate::draft::{Draft, Picture, Said, Shown};

/// How many pixels wide a drawing is made for where the page can't say how much room there is.
const USUAL: i64 = 360;

/// Room for a drawing, in pixels: its lettering is then of the size it was made for.
#[derive(Clone, Copy)]
pub(super) struct Room {
    pub(super) place: NodeRef<leptos::html::Div>,
    pub(super) wide: RwSignal<i64>,
}

impl Room {
    pub(super) fn new() -> Self {
        let room = Self { place: NodeRef::new(), wide: RwSignal::new(USUAL) };
        let listening = window_event_listener(leptos::ev::resize, move |_| room.measure());
        on_cleanup(move || listening.remove());
        room
    }

    /// Measures it, once it is on the page and whenever the window changes.
    pub(super) fn measure(&self) {
        let there = self.place.get_untracked().map(|place| i64::from(place.client_width()));
        if let Some(wide) = there.filter(|wide| *wide > 0 && *wide != self.wide.get_untracked()) {
            self.wide.set(wide);
        }
    }
}

/// The views, by what they are called.
const VIEWS: [(&str, Shown); 5] = [
    ("Measured", Shown::Measured),
    ("Solid", Shown::One(View::Solid)),
    ("Front", Shown::One(View::Front)),
    ("Right-hand end", Shown::One(View::Side)),
    ("From above", Shown::One(View::Plan)),
];

/// The drawing with its sizes and its views.
pub(super) fn board(bench: &Bench) -> impl IntoView + use<> {
    let picture = {
        let bench = bench.clone();
        Memo::new(move |_| picture(&bench))
    };
    // What can't be drawn now leaves the last drawing where it is.
    let last: RwSignal<Option<(Picture, String)>> = RwSignal::new(None);
    Effect::new(move |_| {
        if let Ok(drawn) = picture.get() {
            last.set(Some(drawn));
        }
    });
    let image = move || last.get().map(|(drawn, alt)| pictured(&drawn, &alt));
    let why = move || picture.get().err();
    let price = {
        let bench = bench.clone();
        move || price(&bench)
    };
    view! {
        {sizes(bench)}
        {views(bench.shown)}
        {image}
        <p class="fault" role="status">{why}</p>
        <p>{price}</p>
    }
}

/// A drawing as a picture on the page.
pub(in crate::page) fn pictured(picture: &Picture, alt: &str) -> impl IntoView + use<> {
    let (address, alt) = (address(&picture.svg), alt.to_owned());
    view! { <img class="drawn" src=address alt=alt width=picture.wide.to_string() height=picture.high.to_string() /> }
}

/// A drawing as the address of a picture.
pub(in crate::page) fn address(svg: &str) -> String {
    format!("data:image/svg+xml,{}", String::from(js_sys::encode_uri_component(svg)))
}

impl Bench {
    /// What a design that can be read says.
    pub(super) fn with_design<T>(&self, say: impl FnOnce(&Design) -> T) -> Option<T> {
        self.with_draft(|draft| draft.design().map(say)).flatten()
    }

    /// What a design that can be drawn says.
    pub(super) fn with_draft<T>(&self, say: impl FnOnce(&Draft) -> T) -> Option<T> {
        let drafted = self.drafted.get()?;
        drafted.as_ref().as_ref().ok().map(say)
    }
}

/// The picture of the size that was typed, with the same in words, or why there is none.
fn picture(bench: &Bench) -> Result<(Picture, String), String> {
    let Some(drafted) = bench.drafted.get() else { return Err(String::new()) };
    let draft = match drafted.as_ref() {
        Ok(draft) => draft,
        Err((place, why)) => return Err(format!("It can't be drawn yet. {place}: {why}")),
    };
    let (brief, wrong) = bench.sizes.with(|sizes| bench.choices.with(|choices| draft.brief(sizes, choices)));
    match (brief, wrong.is_empty()) {
        (Some(brief), true) => {
            let drawn = draft.drawing(&brief, bench.shown.get(), bench.room.wide.get())?;
            Ok((drawn, draft.described(&brief, bench.shown.get())?))
        }
        // The field says what is wrong with it.
        _ => Err(String::new()),
    }
}

fn price(bench: &Bench) -> Option<String> {
    bench.with_draft(|draft| {
        let (brief, wrong) = bench.sizes.with(|sizes| bench.choices.with(|choices| draft.brief(sizes, choices)));
        let brief = brief.filter(|_| wrong.is_empty())?;
        Some(match draft.estimate(&brief) {
            Ok(estimate) => format!(
                "At this size, at the workshop: {}, from {} to {}.",
                estimate.works.likely, estimate.works.low, estimate.works.high
            ),
            Err(why) => format!("At this size it can't be sold: {why}."),
        })
    })?
}

/// A field for each dimension and each option.
fn sizes(bench: &Bench) -> impl IntoView + use<> {
    let shape = {
        let bench = bench.clone();
        Memo::new(move |_| {
            bench.with_design(|design| (dimensions(&bench, design), design.options.clone())).unwrap_or_default()
        })
    };
    let fields = {
        let bench = bench.clone();
        move || {
            let (dimensions, options) = shape.get();
            let sizes = dimensions.into_iter().map(|dimension| size(&bench, dimension)).collect_view();
            let choices = options.into_iter().map(|group| choice(&bench, &group)).collect_view();
            (sizes, choices)
        }
    };
    let set = |what: &'static str, pick: fn(&Dimension) -> &str| {
        let sizes = bench.sizes;
        let take = move |_| {
            let (dimensions, _) = shape.get_untracked();
            sizes.set(dimensions.iter().map(|dimension| (dimension.key.clone(), pick(dimension).to_owned())).collect());
        };
        view! { <button type="button" on:click=take>{what}</button> }
    };
    view! {
        <fieldset class="sizes">
            <legend>{"Drawn at"}</legend>
            <div class="fields">{fields}</div>
            <div class="above">
                {set("As it starts", |dimension| &dimension.start)}
                {set("All at their least", |dimension| &dimension.least)}
                {set("All at their most", |dimension| &dimension.most)}
            </div>
        </fieldset>
    }
}

/// A dimension in the shop's unit.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
struct Dimension {
    key: String,
    label: String,
    least: String,
    start: String,
    most: String,
}

fn dimensions(bench: &Bench, design: &Design) -> Vec<Dimension> {
    let Some(unit) = bench.with_draft(Draft::unit) else { return Vec::new() };
    let one = |dimension: &scantling_pricing::design::Dimension| Dimension {
        key: dimension.key.to_string(),
        label: dimension.label.to_string(),
        least: dimension.least.show(unit),
        start: dimension.default.show(unit),
        most: dimension.most.show(unit),
    };
    design.dimensions.iter().map(one).collect()
}

/// What was said of a key, or what it starts at.
fn said_of(said: RwSignal<Vec<Said>>, key: &str, start: &str) -> String {
    said.with(|said| {
        said.iter().find(|(known, _)| known == key).map_or_else(|| start.to_owned(), |(_, said)| said.clone())
    })
}

fn say(said: RwSignal<Vec<Said>>, key: &str, value: String) {
    said.update(|said| match said.iter_mut().find(|(known, _)| known == key) {
        Some((_, held)) => *held = value,
        None => said.push((key.to_owned(), value)),
    });
}

fn size(bench: &Bench, dimension: Dimension) -> AnyView {
    let Dimension { key, label, least, start, most } = dimension;
    let id = format!("drawn-{key}");
    let fault_id = format!("{id}-fault");
    let sizes = bench.sizes;
    let wrong = {
        let (bench, key) = (bench.clone(), key.clone());
        Memo::new(move |_| {
            let wrong =
                bench.with_draft(|draft| bench.sizes.with(|sizes| draft.brief(sizes, &[]).1)).unwrap_or_default();
            wrong.into_iter().find(|(known, _)| *known == key).map(|(_, why)| why)
        })
    };
    let shown = {
        let key = key.clone();
        move || said_of(sizes, &key, &start)
    };
    let take = move |event| say(sizes, &key, event_target_value(&event));
    view! {
        <div class="field">
            <label for=id.clone()>{format!("{label}, {least} to {most}")}</label>
            <input
                type="text"
                id=id
                class="figure"
                autocomplete="off"
                aria-describedby=fault_id.clone()
                aria-invalid=move || if wrong.with(Option::is_some) { "true" } else { "false" }
                prop:value=shown
                on:input=take
            />
            <span class="fault" id=fault_id>{move || wrong.get()}</span>
        </div>
    }
    .into_any()
}

fn choice(bench: &Bench, group: &OptionGroup) -> AnyView {
    let (key, id) = (group.key.to_string(), format!("drawn-option-{}", group.key));
    let start = group.choices.first().map(|choice| choice.key.to_string()).unwrap_or_default();
    let choices = bench.choices;
    let options = group.choices.iter().map(|choice| {
        let (own, key, start) = (choice.key.to_string(), key.clone(), start.clone());
        let value = own.clone();
        let chosen = move || said_of(choices, &key, &start) == own;
        view! { <option value=value prop:selected=chosen>{choice.label.to_string()}</option> }
    });
    let options = options.collect_view();
    view! {
        <div class="field">
            <label for=id.clone()>{group.label.to_string()}</label>
            <select id=id on:change=move |event| say(choices, &key, event_target_value(&event))>{options}</select>
        </div>
    }
    .into_any()
}

fn views(shown: RwSignal<Shown>) -> impl IntoView {
    let each = VIEWS.map(|(name, view)| {
        let pressed = move || if shown.get() == view { "true" } else { "false" };
        view! { <button type="button" aria-pressed=pressed on:click=move |_| shown.set(view)>{name}</button> }
    });
    view! { <div class="views" role="group" aria-label="View">{each.into_iter().collect_view()}</div> }
}
