//! Files and earlier states: everything kept in the browser as it changes, opened from and saved to plain files.

use gloo_storage::{LocalStorage, Storage};
use leptos::prelude::*;
use wasm_bindgen::{JsCast, JsValue};

use super::shops::here;
use super::today::on_this_wall;
use crate::desk::Desk;
use crate::differences::differences;
use crate::everything;
use crate::keep::{NotKept, State, Store, aside, states};
use crate::opening::named;
use crate::sheet::Sheet;
use crate::shops::key_of;

/// The browser's own store: what the shop that is open in this window keeps.
pub(crate) struct Browser;

impl Store for Browser {
    fn get(&self, key: &str) -> Option<String> {
        Whole.get(&key_of(here(), key))
    }

    fn set(&mut self, key: &str, text: &str) -> Result<(), NotKept> {
        Whole.set(&key_of(here(), key), text)
    }

    fn take(&mut self, key: &str) -> Option<String> {
        Whole.take(&key_of(here(), key))
    }
}

/// All of the browser's own store, whichever shop it is of.
pub(crate) struct Whole;

impl Store for Whole {
    fn get(&self, key: &str) -> Option<String> {
        LocalStorage::raw_checked()?.get_item(key).ok().flatten()
    }

    fn set(&mut self, key: &str, text: &str) -> Result<(), NotKept> {
        let store = LocalStorage::raw_checked().ok_or(NotKept::NoStore)?;
        store.set_item(key, text).map_err(|_| NotKept::Full)
    }

    fn take(&mut self, key: &str) -> Option<String> {
        let text = self.get(key)?;
        LocalStorage::delete(key);
        Some(text)
    }
}

/// Reaching for the store can fail where a browser keeps nothing for a page.
trait Checked {
    fn raw_checked() -> Option<web_sys::Storage>;
}

impl Checked for LocalStorage {
    fn raw_checked() -> Option<web_sys::Storage> {
        web_sys::window()?.local_storage().ok().flatten()
    }
}

/// What is told where a file was not written.
pub(crate) const NOT_WRITTEN: &str =
    "The browser would not write the file. Allow this page to save files, or open your saved book in another browser.";

/// Writes a text as a file; says whether the browser would.
pub(crate) fn saved(name: &str, text: &str) -> bool {
    write_file(name, text).is_some()
}

fn write_file(name: &str, text: &str) -> Option<()> {
    let parts = js_sys::Array::of1(&JsValue::from_str(text));
    let options = web_sys::BlobPropertyBag::new();
    options.set_type(match name.rsplit('.').next() {
        Some("csv") => "text/csv;charset=utf-8",
        Some("html") => "text/html;charset=utf-8",
        _ => "application/json",
    });
    let blob = web_sys::Blob::new_with_str_sequence_and_options(&parts, &options).ok()?;
    let address = web_sys::Url::create_object_url_with_blob(&blob).ok()?;
    let document = web_sys::window()?.document()?;
    let link: web_sys::HtmlAnchorElement = document.create_element("a").ok()?.dyn_into().ok()?;
    link.set_href(&address);
    link.set_download(name);
    link.click();
    // The browser has the file by now; a page open all day must not hold every file it wrote.
    set_timeout(move || drop(web_sys::Url::revoke_object_url(&address)), std::time::Duration::from_secs(30));
    Some(())
}

/// A field that opens a file for its name and its text.
pub(crate) fn opened_text(
    id: impl Into<String>,
    label: impl Into<String>,
    take: impl Fn(String, String) + Clone + 'static,
) -> impl IntoView {
    let (id, label) = (id.into(), label.into());
    let open = move |event: leptos::ev::Event| {
        let input = event.target().and_then(|target| target.dyn_into::<web_sys::HtmlInputElement>().ok());
        let Some(input) = input else { return };
        let Some(file) = input.files().and_then(|files| files.get(0)) else { return };
        let (name, take) = (file.name(), take.clone());
        let text = file.text();
        // Else a browser takes the same file chosen again, mended meanwhile, for no change.
        input.set_value("");
        leptos::task::spawn_local(async move {
            if let Some(text) = wasm_bindgen_futures::JsFuture::from(text).await.ok().and_then(|text| text.as_string())
            {
                take(name, text);
            }
        });
    };
    view! {
        <div class="field">
            <label for=id.clone()>{label}</label>
            <input id=id type="file" accept=".json,.txt,application/json,text/plain" on:change=open />
        </div>
    }
}

/// The section.
pub(crate) fn section(desk: &Desk) -> impl IntoView + use<> {
    let (write, open, write_all, take_all) = (desk.clone(), desk.clone(), desk.clone(), desk.clone());
    let opened = move |name: String, text: String| {
        // As a book it would be nothing but faults.
        if everything::is_one(&text) {
            return take_in(&open, &name, &text);
        }
        match open.open(&text) {
            Ok(()) if open.unkept.get_untracked().is_none() => {
                open.say(format!("{name} is open. What was open before is among the earlier states."));
            }
            Ok(()) => open.say(format!("{name} is open. What was open before stands in the file you saved.")),
            Err(fault) => open.say(format!("{name} can't be opened: {fault}")),
        }
    };
    view! {
        <section aria-label="Files and earlier states">
            <h2>{"Files and earlier states"}</h2>
            <p>{"Every change is kept in this browser, on this machine only. A browser may forget: save a file too."}</p>
            <button type="button" on:click=move |_| save(&write)>{"Save the shop book as a file"}</button>
            {opened_text("book-file", "Open a shop book", opened)}
            <h3>{"All shops"}</h3>
            <p class="note">{"One file with every shop of this browser and its earlier states: for another browser or machine, or for the day this one forgets. Taken in, its shops come beside those that are there."}</p>
            <button type="button" on:click=move |_| save_all(&write_all)>{"Save all shops as one file"}</button>
            {opened_text("all-shops-file", "Take in a file of all shops", move |name, text| take_in(&take_all, &name, &text))}
            <h3>{"Earlier states"}</h3>
            <p class="note">{"In the order in which they were kept, the newest first. The time beside each is as this computer's clock had it; what it names was done last before."}</p>
            {earlier(desk)}
        </section>
    }
}

/// Writes the shop book as a file.
pub(crate) fn save(desk: &Desk) {
    if saved("shop-book.json", &desk.sheet.with_untracked(Sheet::laid_out)) {
        desk.is_filed();
        desk.say("The shop book is written. It is private: keep it to yourself.");
    } else {
        desk.say(NOT_WRITTEN);
    }
}

/// Writes every shop of this browser as one file.
fn save_all(desk: &Desk) {
    if saved("all-shops.json", &desk.everything()) {
        // The open book is in it as it stands.
        desk.is_filed();
        desk.say("All shops are written into one file. It is private: keep it to yourself.");
    } else {
        desk.say(NOT_WRITTEN);
    }
}

/// Takes the shops of a file in, beside those that are there.
fn take_in(desk: &Desk, name: &str, text: &str) {
    // What was typed a moment ago finds its room first.
    desk.keep_at_once();
    match everything::take_in(&mut Whole, text) {
        Ok(taken) => desk.say(taken.to_string().trim()),
        Err(why) => desk.say(format!("{name} can't be taken in: {why}")),
    }
}

/// The states there are, as they come and go; those that stay keep their buttons, and with them the focus.
fn earlier(desk: &Desk) -> impl IntoView + use<> {
    let (judged, row) = (desk.judged.clone(), desk.clone());
    let unkept = desk.unkept.clone();
    let states = move || {
        judged.track();
        unkept.track();
        let aside = aside(&Browser).map(|state| (true, state));
        aside.into_iter().chain(states(&Browser).into_iter().map(|state| (false, state))).collect::<Vec<_>>()
    };
    view! {
        <ul class="entries">
            <For each=states key=|(aside, state)| (*aside, state.clone()) let:state>
                {entry(&row, state.0, state.1)}
            </For>
        </ul>
    }
}

fn entry(desk: &Desk, is_aside: bool, state: State) -> impl IntoView + use<> {
    let whole = state.book().is_some();
    let name = if is_aside { "what another window held".to_owned() } else { named(&state) };
    let mut label = format!("{name}, {}", state.size());
    if !whole {
        label.push_str(", damaged: look at what can be read");
    }
    if let Some(at) = state.told.at {
        label = format!("{label}; {}", on_this_wall(at));
    }
    if !state.told.what.is_empty() {
        label = format!("{label}; {}", state.told.what);
    }
    // A sentence starts with it.
    let first = |words: &str| {
        let mut letters = words.chars();
        letters.next().map_or_else(String::new, |letter| letter.to_uppercase().chain(letters).collect::<String>())
    };
    let (label, name, desk) = (first(&label), first(&name), desk.clone());
    let differs = differs(&desk, &state);
    let take = move |_| {
        // One that is whole is an edit like another: a press that was a mistake is undone.
        if let Some(book) = state.book().filter(|_| !is_aside)
            && desk.replace(&format!("Opening {}", name.to_lowercase()), &book)
        {
            desk.say(format!("{name} is open again. Undo brings back what was open."));
            return;
        }
        let opened = match state.book_in_part() {
            Some(_) if is_aside => desk.open_aside(),
            Some(book) => desk.open(&book),
            None => Err("nothing of it can be read.".to_owned()),
        };
        match opened {
            Ok(()) if whole => desk.say(format!("{name} is open again.")),
            Ok(()) => desk.say(format!("What can be read of {} is shown.", name.to_lowercase())),
            Err(why) => desk.say(format!("{name} can't be opened: {why}")),
        }
    };
    view! { <li><button type="button" on:click=take>{label}</button> {differs}</li> }
}

/// What differs between a state and the book that is open, reckoned when it is asked for.
fn differs(desk: &Desk, state: &State) -> impl IntoView + use<> {
    let rows = RwSignal::new(Vec::<String>::new());
    let (desk, state) = (desk.clone(), state.clone());
    let reckon = move |event: leptos::ev::Event| {
        if event_target::<web_sys::Element>(&event).has_attribute("open") {
            rows.set(differing(&desk, &state));
        }
    };
    let shown = move || rows.get().into_iter().map(|row| view! { <li>{row}</li> }).collect_view();
    view! {
        <details class="inner" on:toggle=reckon>
            <summary>{"What differs in the book that is open"}</summary>
            <ul class="entries">{shown}</ul>
        </details>
    }
}

fn differing(desk: &Desk, state: &State) -> Vec<String> {
    let then = state.book_in_part().and_then(|book| Sheet::open_what_can_be_read(&book).ok());
    match then {
        Some(then) => desk.sheet.with_untracked(|now| differences(then.root(), now.root(), &desk.kind)),
        None => vec!["Nothing of it can be read.".to_owned()],
    }
}
