//! One place that a line of text, a word or a tick can hold, with what is wrong with it beside it.

use leptos::ev::{Event, KeyboardEvent};
use leptos::prelude::*;
use scantling_pricing::book::document::Node;

use crate::comma::{plain, unclear};
use crate::desk::Desk;
use crate::form::Kind;
use crate::sheet::{Edit, Path};

/// The value that a text typed into a place stands for. What does not read as what it should be is kept as it was typed: the engine says
/// what is wrong with it.
pub(crate) fn value_of(kind: &Kind, text: &str) -> Node {
    match kind {
        Kind::Whole => text.trim().parse().map_or_else(|_| Node::Text(text.to_owned()), Node::Int),
        Kind::Switch => Node::Bool(text == "true"),
        Kind::Words | Kind::Choice(_) => Node::Text(text.to_owned()),
        Kind::Decimal | Kind::Money | Kind::Length | Kind::Measure => Node::Text(plain(text.trim()).into_owned()),
        Kind::Line | Kind::Day | Kind::Colour => Node::Text(text.trim().to_owned()),
        Kind::Table(_) => Node::Table(Vec::new()),
        Kind::List(_) => Node::List(Vec::new()),
        Kind::Map(_) | Kind::OneOf(_) => Node::Table(Vec::new()),
    }
}

/// The edit that typing a text into a place is: an empty one takes away what may be left out.
pub(crate) fn typed(kind: &Kind, required: bool, place: &Path, text: &str) -> Edit {
    if text.trim().is_empty() && !required {
        return Edit::Clear(place.clone());
    }
    Edit::set(place.clone(), value_of(kind, text))
}

/// Where it is in the context, every keystroke counts at once: the forms beside a drawing. Elsewhere a field counts when it is left.
#[derive(Debug, Clone, Copy)]
pub(crate) struct AsTyped;

/// A place to type in or choose at. `name` is what it is called to whoever can't see where it stands; `id` must be its own.
pub(crate) fn cell(desk: &Desk, place: &Path, what: (&Kind, bool), name: &str, id: String) -> AnyView {
    explained(desk, place, what, (name, ""), id)
}

/// A place to type in or choose at, with what it means above it.
pub(crate) fn explained(
    desk: &Desk,
    place: &Path,
    (kind, required): (&Kind, bool),
    (name, hint): (&str, &str),
    id: String,
) -> AnyView {
    let (value, place_of) = (desk.clone(), place.clone());
    let text = Memo::new(move |_| value.words_at(&place_of));
    let wrong = wrong(desk, place, kind, text);
    // Nothing is not taken away from where nothing is.
    let edit = {
        let (desk, place, kind) = (desk.clone(), place.clone(), kind.clone());
        move |text: &str| {
            let there = desk.sheet.with_untracked(|sheet| sheet.at(&place).is_some());
            let edit = typed(&kind, required, &place, text);
            (there || !matches!(edit, Edit::Clear(_)))
                .then(|| desk.sheet.with_untracked(|sheet| sheet.with_tables(vec![edit])))
        }
    };
    let take = {
        let (desk, edit, name) = (desk.clone(), edit.clone(), name.to_owned());
        move |text: &str| {
            if let Some(edit) = edit(text) {
                desk.edit(&name, edit);
            }
        }
    };
    let fault_id = format!("{id}-fault");
    let hint = (!hint.is_empty()).then(|| (format!("{id}-hint"), hint.to_owned()));
    let described = hint.iter().map(|(id, _)| id.clone()).chain([fault_id.clone()]).collect::<Vec<_>>().join(" ");
    let hint = hint.map(|(id, hint)| view! { <span class="note" id=id>{hint}</span> });
    let invalid = move || if wrong.with(Option::is_some) { "true" } else { "false" };
    let held = desk.is_held();
    let field = match kind {
        Kind::Switch => switch(text, Told { name, id, described, invalid, held }, take),
        Kind::Choice(words) => choice((text, required), words, Told { name, id, described, invalid, held }, take),
        _ => {
            let at_once = use_context::<AsTyped>().is_some();
            let own: RwSignal<Option<String>> = RwSignal::new(None);
            let (keystroke, leave) = at_each_keystroke(desk, place, (name, at_once.then_some(own)), edit);
            view! {
            <input
                type="text"
                id=id
                class=if kind.is_decimal() || matches!(kind, Kind::Whole | Kind::Length) { "figure" } else { "words" }
                autocomplete="off"
                spellcheck="false"
                aria-label=name.to_owned()
                aria-describedby=described
                aria-invalid=invalid
                data-at-once=at_once.then_some("")
                readonly=held
                prop:value=move || own.get().unwrap_or_else(|| text.get())
                on:input=keystroke
                on:keydown=move |event| shows_what_is_undone(&event, own)
                on:change=move |event| {
                    take(&event_target_value(&event));
                    leave.typed();
                    own.set(None);
                    shows(&event, &text.get_untracked());
                }
            />
            }
            .into_any()
        }
    };
    view! {
        <span class="cell">
            {hint}
            {field}
            <span class="fault" id=fault_id>{move || wrong.get()}</span>
        </span>
    }
    .into_any()
}

/// What is wrong with a place: of a number that can be read two ways that it can, else as the engine says it.
fn wrong(desk: &Desk, place: &Path, kind: &Kind, text: Memo<String>) -> Memo<Option<String>> {
    let (desk, place, is_number) = (desk.clone(), place.clone(), kind.is_decimal());
    Memo::new(move |_| {
        let wrong = desk.wrong_at(&place)?;
        Some(is_number.then(|| text.with(|text| unclear(text))).flatten().unwrap_or(wrong))
    })
}

/// Lets a field show what was taken for what was typed, also where the book held that before: `12,50` for `12.50`.
fn shows(event: &Event, text: &str) {
    if event_target_value(event).contains(',') {
        event_target::<web_sys::HtmlInputElement>(event).set_value(text);
    }
}

/// What is undone while a field has the focus is to be seen in it.
fn shows_what_is_undone(event: &KeyboardEvent, own: RwSignal<Option<String>>) {
    if event.ctrl_key() || event.meta_key() {
        own.set(None);
    }
}

/// What a keystroke does where each counts, and the desk that is told when the field is left. While it is typed in, the field keeps what was
/// typed, so that a number is read whole and not by its first letters.
fn at_each_keystroke(
    desk: &Desk,
    place: &Path,
    (name, own): (&str, Option<RwSignal<Option<String>>>),
    edit: impl Fn(&str) -> Option<Vec<Edit>> + 'static,
) -> (impl Fn(Event) + 'static, Desk) {
    let (desk, place, name) = (desk.clone(), place.clone(), name.to_owned());
    let leave = desk.clone();
    let keystroke = move |event| {
        let Some(own) = own else { return };
        let text = event_target_value(&event);
        let edit = edit(&text);
        own.set(Some(text));
        if let Some(edit) = edit {
            desk.type_at(&name, &place, edit);
        }
    };
    (keystroke, leave)
}

/// What a field is called, its id, that of what is said of it, whether it is wrong, and whether it is only looked at.
struct Told<'n, W, H> {
    name: &'n str,
    id: String,
    described: String,
    invalid: W,
    held: H,
}

/// Yes or no.
fn switch(
    text: Memo<String>,
    told: Told<'_, impl Fn() -> &'static str + Send + 'static, impl Fn() -> bool + Send + 'static>,
    take: impl Fn(&str) + 'static,
) -> AnyView {
    let tick = move |event| take(if event_target_checked(&event) { "true" } else { "false" });
    view! {
        <input
            type="checkbox"
            id=told.id
            aria-label=told.name.to_owned()
            aria-describedby=told.described
            aria-invalid=told.invalid
            disabled=told.held
            prop:checked=move || text.with(|text| text == "true")
            on:change=tick
        />
    }
    .into_any()
}

/// One of a few words. Each option says whether it is chosen: a value that is set before its option is there would be lost.
fn choice(
    (text, required): (Memo<String>, bool),
    words: &[String],
    told: Told<'_, impl Fn() -> &'static str + Send + 'static, impl Fn() -> bool + Send + 'static>,
    take: impl Fn(&str) + 'static,
) -> AnyView {
    let chosen = |own: String| move || text.with(|text| *text == own);
    let nothing =
        (!required).then(|| view! { <option value="" prop:selected=chosen(String::new())>{"(not said)"}</option> });
    let option = |word: &String| {
        view! { <option value=word.clone() prop:selected=chosen(word.clone())>{word.clone()}</option> }
    };
    view! {
        <select
            id=told.id
            aria-label=told.name.to_owned()
            aria-describedby=told.described
            aria-invalid=told.invalid
            disabled=told.held
            on:change=move |event| take(&event_target_value(&event))
        >
            {nothing}
            {words.iter().map(option).collect_view()}
        </select>
    }
    .into_any()
}
