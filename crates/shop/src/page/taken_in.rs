//! How a document comes into a section: opened, dropped or pasted; and a request out of whatever it came in.

use leptos::ev::{ClipboardEvent, DragEvent};
use leptos::prelude::*;
use scantling_pricing::book::values::{Amount, Text};
use scantling_pricing::link::Link;
use scantling_pricing::request::{Contact, Request, Told};
use wasm_bindgen::JsCast;

use super::keeping::opened_text;
use crate::desk::Desk;

/// What stands in a link before its letters.
const IN_A_LINK: &str = "#scantling";

/// A field for a file, one to paste into, and a place to drop files on.
pub(crate) fn taking_in(
    id: &'static str,
    what: &'static str,
    take: impl Fn(String) + Clone + Send + Sync + 'static,
) -> AnyView {
    let (opened, pasted, at_once, dropped) = (take.clone(), take.clone(), take.clone(), take);
    let over = |event: DragEvent| event.prevent_default();
    let drop = move |event: DragEvent| {
        event.prevent_default();
        let Some(data) = event.data_transfer() else { return };
        let files = data.files();
        let count = files.as_ref().map_or(0, web_sys::FileList::length);
        if count == 0 {
            let text = data.get_data("text/plain").unwrap_or_default();
            if !text.trim().is_empty() {
                dropped(text);
            }
        }
        for file in (0..count).filter_map(|index| files.as_ref()?.get(index)) {
            let (text, take) = (file.text(), dropped.clone());
            leptos::task::spawn_local(async move {
                let text = wasm_bindgen_futures::JsFuture::from(text).await.ok().and_then(|text| text.as_string());
                text.into_iter().for_each(take);
            });
        }
    };
    let paste = move |event: leptos::ev::Event| {
        let Some(field) = event.target().and_then(|target| target.dyn_into::<web_sys::HtmlTextAreaElement>().ok())
        else {
            return;
        };
        let text = field.value();
        // What was taken in stands below; the field is free for the next.
        field.set_value("");
        if !text.trim().is_empty() {
            pasted(text);
        }
    };
    // What is pasted is taken as it comes; what is typed, when the field is left.
    let paste_at_once = move |event: ClipboardEvent| {
        let text = event.clipboard_data().and_then(|data| data.get_data("text/plain").ok()).unwrap_or_default();
        if !text.trim().is_empty() {
            event.prevent_default();
            at_once(text);
        }
    };
    let (file_id, text_id) = (format!("{id}-file"), format!("{id}-text"));
    view! {
        <div class="dropped" on:dragover=over on:drop=drop>
            {opened_text(file_id, format!("Open {what}, or drop its file here"), move |_, text| opened(text))}
            <div class="field">
                <label for=text_id.clone()>{format!("Paste {what}")}</label>
                <textarea id=text_id rows="3" on:paste=paste_at_once on:change=paste></textarea>
            </div>
        </div>
    }
    .into_any()
}

/// The request in a text: a mail, a file, or the link to an estimate, which says nothing of who asks.
pub(crate) fn request_in(desk: &Desk, text: &str) -> Result<Request, String> {
    let Some(letters) = linked(text) else {
        return Request::read_mail(text).map_err(|fault| format!("There is no request in that: {fault}"));
    };
    let link =
        Link::read(letters).map_err(|_| "That link holds no estimate that can be read: was it cut off?".to_owned())?;
    let currency = desk.words_at(&crate::sheet::Path::read("shop.currency"));
    let words = |text: &str| Text::new(text).map_err(|_| "the book has no currency".to_owned());
    // `.invalid` is nobody's, and never will be: RFC 2606, section 2.
    let from = Contact { name: words("Someone with a link")?, mail: words("not-told@link.invalid")?, message: None };
    let told = Told {
        edition: link.edition,
        currency: words(&currency)?,
        low: Amount::ZERO,
        likely: Amount::ZERO,
        high: Amount::ZERO,
    };
    Ok(Request { scantling_request: 1, written: None, shop: None, brief: link.brief, told, from, quoted: None })
}

/// The letters of a link in a text that is nothing but one.
fn linked(text: &str) -> Option<&str> {
    let text = text.trim();
    let (_, fragment) = text.split_once(IN_A_LINK)?;
    let alone = !text.contains(char::is_whitespace) && !text.contains('{');
    alone.then(|| fragment.split_once('=').map(|(_, letters)| letters)).flatten()
}

#[cfg(test)]
mod tests {
    use super::linked;

    #[test]
    fn a_link_is_told_from_a_mail_with_one_in_it() {
        assert_eq!(linked(" https://bench.example/#scantling=AbC-_9\n"), Some("AbC-_9"));
        assert_eq!(linked("https://bench.example/page?x=1#scantling.own=AbC"), Some("AbC"));
        assert_eq!(linked("Dear maker, https://bench.example/#scantling=AbC"), None);
        assert_eq!(linked("{\"scantling_request\": 1}"), None);
    }
}
