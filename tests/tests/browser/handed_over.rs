//! What the widget hands over, taken into the maker's page as the widget made it: the text it copies, the file it saves, what it posts. The
//! price the maker sees is the price the buyer saw.

use anyhow::{Context, Result, bail};
use scantling_tests::{Engine, Key, Page, Visit};
use serde_json::{Value, json};

use crate::journey::{BUTTON, OUTCOME, fill_in, press, says};
use crate::nothing_complained;
use crate::work::WITH_FILES;
use crate::year::{act, go_to, help, said};

/// The likely price, delivered, as the first widget shows it.
const SEEN: &str = "+root(0).querySelector('.span.delivered .likely').innerText.replace(/[^0-9.]/g, '')";

/// The price the maker's page says that the buyer was told, where it says that it stands.
const TOLD: &str = "+main().match(/The price they were told, ([0-9.]+) USD, is what it comes to/)?.[1]";

/// Another length, and the price that the buyer sees then.
async fn sized(page: &Page, length: &str, before: &Value) -> Result<Value> {
    page.type_into(0, "Length", length).await?;
    page.until(&format!("{SEEN} > 0 && {SEEN} !== {before} && !root(0).querySelector('.price.earlier')")).await?;
    page.eval(SEEN).await
}

/// The text is taken out of the widget with the keys of the engine, as where a page may not write into the clipboard.
async fn copied(page: &Page) -> Result<()> {
    let away =
        "Object.defineProperty(navigator, 'clipboard', { value: undefined }), document.execCommand = () => false";
    page.eval(&format!("({away}, 1)")).await?;
    press(page, "Copy the text").await?;
    says(page, OUTCOME, "is selected below").await?;
    page.until("root(0).activeElement?.localName === 'textarea'").await?;
    page.press(Key::Control('c')).await
}

/// What is posted, as the address has it.
async fn posted(page: &Page) -> Result<String> {
    press(page, "Send it to Larkmoor Bench").await?;
    says(page, OUTCOME, "Sent.").await?;
    let all: Vec<String> =
        serde_json::from_value(page.eval("fetch('/receiver').then(answer => answer.json())").await?)?;
    let [body] = all.as_slice() else { bail!("one request, and not {all:?}") };
    Ok(body.clone())
}

/// The file, caught on its way to the folder for downloads: its name and what is in it.
async fn saved(page: &Page) -> Result<Value> {
    let catch = "URL.createObjectURL = blob => (blob.text().then(text => window.saved = text), 'blob:caught'), \
         HTMLElement.prototype.click = function () { window.named = this.download }";
    page.eval(&format!("(window.saving = {BUTTON}('Save as a file'), {catch}, 1)")).await?;
    page.eval("(saving.dispatchEvent(new MouseEvent('click')), 1)").await?;
    page.until("!!window.saved && !!window.named").await?;
    page.eval("[named, saved]").await
}

/// The maker reads who asks, and the price that the buyer saw.
async fn the_maker_sees(page: &Page, seen: &Value, way: &str) -> Result<()> {
    page.until("main().includes('Ada Byer, ada@home.example') && main().includes('By spring? „Zwei“ stairs.')").await?;
    page.comes_to(TOLD, seen.clone()).await.with_context(|| way.to_owned())
}

pub(crate) async fn what_the_widget_copies_saves_and_posts_is_taken_in_at_the_price_that_was_seen(
    engine: Engine,
) -> Result<()> {
    let page = Page::open(Visit::new(engine, "receiver.html")).await?;
    page.until(crate::READY).await?;
    fill_in(&page).await?;
    page.pick(0, "Northern red oak").await?;
    let by_post = sized(&page, "72", &Value::Null).await?;
    let post = posted(&page).await?;
    let by_text = sized(&page, "90", &by_post).await?;
    copied(&page).await?;
    // The last goes abroad: crate, papers and carriage are in the price, too.
    page.eval("((s, change) => (s.value = 'DE', s.dispatchEvent(change), 1))(root(0).querySelector('.destination select'), new Event('change', { bubbles: true }))").await?;
    page.until(&format!("{SEEN} !== {by_text}")).await?;
    let by_file = sized(&page, "66", &page.eval(SEEN).await?).await?;
    let file = saved(&page).await?;
    nothing_complained(&page).await?;

    page.go("shop.html").await?;
    help(&page).await?;
    page.eval(&format!("(() => {{ {WITH_FILES} return 1; }})()")).await?;
    go_to(&page, "Requests").await?;
    page.eval("(field('request-text').focus(), 1)").await?;
    page.press(Key::Control('v')).await?;
    page.until(&said("Kept as r-1.")).await?;
    the_maker_sees(&page, &by_text, "the text").await?;
    let named =
        format!("(([name, text], bag) => (bag.items.add(new File([text], name)), bag))({file}, new DataTransfer())");
    act(&page, &format!("choose('request-file', {named})"), &said("Kept as r-2.")).await?;
    the_maker_sees(&page, &by_file, "the file").await?;
    act(&page, &format!("type('request-text', {})", json!(post)), &said("Kept as r-3.")).await?;
    the_maker_sees(&page, &by_post, "what was posted").await?;
    // Come twice, as where the line broke just then, it is the same request.
    act(&page, &format!("type('request-text', {})", json!(post)), &said("That request is kept already, as r-3."))
        .await?;
    nothing_complained(&page).await?;
    page.close().await
}
