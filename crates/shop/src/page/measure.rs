//! A linear measure as a form: a share of each dimension of its design, and a length on top.

use leptos::ev::{Event, KeyboardEvent};
use leptos::prelude::*;

use crate::desk::Desk;
use crate::linear::Linear;
use crate::sheet::{Edit, Path, Step};

/// The form of a measure.
pub(crate) fn measure(desk: &Desk, place: &Path, label: &str) -> AnyView {
    let held = {
        let (desk, place) = (desk.clone(), place.clone());
        Memo::new(move |_| desk.sheet.with(|sheet| Linear::read(sheet.at(&place))))
    };
    let dimensions = {
        let (desk, place) = (desk.clone(), place.clone());
        Memo::new(move |_| dimensions_of(&desk, &place))
    };
    let fault_id = format!("f-{place}-fault");
    let wrong = {
        let (desk, place) = (desk.clone(), place.clone());
        Memo::new(move |_| desk.wrong_at(&place))
    };
    let term = {
        let (desk, place, label, described) = (desk.clone(), place.clone(), label.to_owned(), fault_id.clone());
        move |(key, of): (String, String)| {
            let shown = {
                let key = key.clone();
                Memo::new(move |_| held.with(|held| held.fraction(&key)))
            };
            let names = Names {
                field: format!("{label}: share of {of}"),
                id: format!("f-{place}-{key}"),
                described: described.clone(),
            };
            let with = move |text: &str| held.get_untracked().with_fraction(&key, text);
            view! { <span class="term">{typed(&desk, &place, names, shown, with)} {format!(" × {of} +")}</span> }
        }
    };
    let plus = {
        let shown = Memo::new(move |_| held.with(|held| held.plus.clone()));
        let names =
            Names { field: format!("{label}: length on top"), id: format!("f-{place}"), described: fault_id.clone() };
        let unit = desk.clone();
        let with = move |text: &str| held.get_untracked().with_plus(text, unit.length_unit().symbol());
        typed(desk, place, names, shown, with)
    };
    let terms = move || dimensions.get().into_iter().map(&term).collect_view();
    view! {
        <div class="measure" role="group" aria-label=label.to_owned()>
            <span class="of">{label.to_owned()}</span>
            <span class="terms">{terms} <span class="term">{plus}</span></span>
            <span class="fault" id=fault_id>{move || wrong.get()}</span>
        </div>
    }
    .into_any()
}

/// The dimensions of the design a place is in: each by its key and what it is called.
fn dimensions_of(desk: &Desk, place: &Path) -> Vec<(String, String)> {
    let [table, row, ..] = place.steps() else { return Vec::new() };
    let (Step::Key(table), Step::Index(row)) = (table, row) else { return Vec::new() };
    let list = Path::whole().key(table).index(*row).key("dimensions");
    let count = desk.rows_at(&list);
    let one = |index: usize| {
        let own = list.index(index);
        let (key, label) = (desk.words_at(&own.key("key")), desk.words_at(&own.key("label")));
        (!key.is_empty()).then(|| (key.clone(), if label.is_empty() { key } else { label.to_lowercase() }))
    };
    (0..count).filter_map(one).collect()
}

/// What a field is called, its id, and the id of what is said of it.
struct Names {
    field: String,
    id: String,
    described: String,
}

/// A field that is taken at every keystroke. While it is typed in it keeps what was typed; left, it shows what that was taken for.
fn typed(
    desk: &Desk,
    place: &Path,
    names: Names,
    shown: Memo<String>,
    with: impl Fn(&str) -> Linear + Clone + Send + Sync + 'static,
) -> AnyView {
    let own: RwSignal<Option<String>> = RwSignal::new(None);
    let value = move || own.get().unwrap_or_else(|| shown.get());
    let (leave, what) = (desk.clone(), names.field.clone());
    let (desk, place) = (desk.clone(), place.clone());
    let take = move |event: Event| {
        let text = event_target_value(&event);
        let node = with(&text).node();
        own.set(Some(text));
        desk.type_at(&what, &place, vec![Edit::set(place.clone(), node)]);
    };
    let left = move |_| {
        own.set(None);
        leave.typed();
    };
    // What is undone while the field has the focus is to be seen in it.
    let keys = move |event: KeyboardEvent| {
        if event.ctrl_key() || event.meta_key() {
            own.set(None);
        }
    };
    view! {
        <input
            type="text"
            id=names.id
            class="figure"
            autocomplete="off"
            spellcheck="false"
            aria-label=names.field
            aria-describedby=names.described
            prop:value=value
            on:input=take
            on:change=left
            on:keydown=keys
        />
    }
    .into_any()
}
