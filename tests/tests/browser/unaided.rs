//! A maker's year without a pointer, one of each kind of act: taken in, quoted, built, weighed, learned from, edited, published. Every step is
//! a key that is pressed on the page as it has the focus; and after every step the focus is somewhere, and is seen.

use anyhow::{Context, Result, bail};
use scantling_tests::{Engine, Key, Page, Visit};
use serde_json::json;

use crate::keyboard::focus_is_seen;
use crate::nothing_complained;
use crate::year::{help, said};

/// What has the focus goes by this name, to whoever can't see it.
pub(crate) fn named(words: &str) -> String {
    let words = json!(words);
    format!(
        "(e => [e?.getAttribute('aria-label'), e?.textContent.trim(), ...[...e?.labels ?? []].map(l => l.textContent.trim())].includes({words}))(document.activeElement)"
    )
}

/// The field with this id has the focus.
pub(crate) fn field(id: &str) -> String {
    format!("document.activeElement?.id === {}", json!(id))
}

/// As many presses of a key as a maker would bear with between two acts.
const BEARABLE: usize = 45;

/// Presses a key until this is so.
pub(crate) async fn press_until(page: &Page, key: Key, there: &str) -> Result<()> {
    for _ in 0..BEARABLE {
        page.press(key).await?;
        if page.eval(there).await? == json!(true) {
            return focus_is_seen(page).await.with_context(|| there.to_owned());
        }
    }
    let stopped = page.eval("document.activeElement.outerHTML.slice(0, 200)").await?;
    bail!("{BEARABLE} presses of {key:?} do not come to where {there}; they come to {stopped}")
}

/// Tabs on to what is named so.
pub(crate) async fn tab_to(page: &Page, there: &str) -> Result<()> {
    press_until(page, Key::Tab, there).await
}

/// Tabs on to what is named so, once it stands there: what belongs to a row that was just opened comes when the book has been judged, and a
/// key that is pressed before that has gone past it.
pub(crate) async fn tab_to_named(page: &Page, words: &str) -> Result<()> {
    let all = "[...document.querySelectorAll('button, label, summary')].flatMap(e => [e.getAttribute('aria-label'), e.textContent.trim()])";
    page.until(&format!("{all}.includes({})", json!(words))).await?;
    tab_to(page, &named(words)).await
}

/// Presses a key and waits for what it does. The focus is not lost by it.
pub(crate) async fn press(page: &Page, key: Key, there: &str) -> Result<()> {
    page.press(key).await?;
    page.until(there).await?;
    page.until("document.activeElement && document.activeElement.localName !== 'body'")
        .await
        .context("the focus is lost")?;
    focus_is_seen(page).await
}

/// Steps out of whatever has the focus until the sections are reached, and opens one by its first letters.
pub(crate) async fn go_to(page: &Page, section: &str) -> Result<()> {
    let among = "!!document.activeElement.closest('nav')";
    if page.eval(among).await? != json!(true) {
        press_until(page, Key::Escape, among).await?;
    }
    let letter = section.chars().next().unwrap_or(' ').to_ascii_lowercase();
    if page.eval(&named(section)).await? != json!(true) {
        press_until(page, Key::Letter(letter), &named(section)).await?;
    }
    press(page, Key::Enter, &format!("title() === {}", json!(section))).await?;
    page.until("document.activeElement.localName === 'h2'").await
}

/// Types over what a field holds.
pub(crate) async fn type_over(page: &Page, text: &str) -> Result<()> {
    page.press(Key::Control('a')).await?;
    page.press_text(text).await?;
    page.comes_to("document.activeElement.value", text).await
}

pub(crate) async fn a_year_s_acts_are_done_by_keys_alone(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "shop.html")).await?;
    help(&page).await?;
    taken_in(&page).await?;
    quoted(&page).await?;
    paid(&page).await?;
    built(&page).await?;
    weighed(&page).await?;
    learned(&page).await?;
    found(&page).await?;
    in_a_grid(&page, engine).await?;
    published(&page).await?;
    nothing_complained(&page).await?;
    page.close().await
}

/// Out of a letter in another window by copying, and in by pasting.
async fn taken_in(page: &Page) -> Result<()> {
    let shop = page.window().await?;
    page.open_window("letter.html").await?;
    page.until("document.activeElement.id === 'letter'").await?;
    page.press(Key::Control('a')).await?;
    page.press(Key::Control('c')).await?;
    page.close_window(&shop).await?;
    // From where a page starts, the first stop leads past the sections, and back from there is their list.
    tab_to_named(page, "To what is open").await?;
    press(page, Key::Enter, "document.activeElement.localName === 'h2'").await?;
    press_until(page, Key::Escape, &named("Basket")).await?;
    press(page, Key::Down, &named("Requests")).await?;
    press(page, Key::Home, &named("Basket")).await?;
    go_to(page, "Requests").await?;
    tab_to_named(page, "Paste a request").await?;
    press(page, Key::Control('v'), &said("Kept as r-1.")).await?;
    page.until("document.activeElement.className === 'record'").await
}

/// A line brought to another sum with its reason, told to the buyer; stages of its own; kept as it goes out, and printed.
async fn quoted(page: &Page) -> Result<()> {
    tab_to_named(page, "Write a quote for it").await?;
    press(page, Key::Enter, &said("Quote q-1 is started.")).await?;
    page.until("document.activeElement.className === 'record'").await?;
    page.until("field('adjust-line').options.length > 3").await?;
    tab_to(page, &field("adjust-line")).await?;
    press(page, Key::Down, "field('adjust-line').value !== ''").await?;
    tab_to(page, &field("adjust-amount")).await?;
    page.press_text("1234.50").await?;
    tab_to(page, &field("adjust-reason")).await?;
    page.press_text("Boards bought dear, told to the buyer").await?;
    tab_to(page, &field("adjust-told")).await?;
    press(page, Key::Letter(' '), "field('adjust-told').checked").await?;
    tab_to_named(page, "Bring the line to that sum").await?;
    press(page, Key::Enter, "document.querySelectorAll('.changed').length === 1").await?;
    tab_to_named(page, "Give it stages of its own").await?;
    page.press(Key::Enter).await?;
    page.until("!!document.getElementById('f-quotes[0].deposits[0].when')").await?;
    page.until("document.activeElement.localName === 'fieldset'").await?;
    tab_to(page, &field("f-quotes[0].deposits[0].when")).await?;
    type_over(page, "with your word that it is to be built").await?;
    tab_to_named(page, "Keep it as it goes out today").await?;
    press(page, Key::Enter, &said("Kept as revision 1.")).await?;
    page.until("document.querySelector('.quote').textContent.includes('Boards bought dear')").await?;
    page.until("document.querySelector('.quote').textContent.includes('with your word')").await?;
    // The browser's own window for printing is no part of the page.
    page.eval("(window.print = () => { window.printed = true; }, 1)").await?;
    tab_to_named(page, "Print the quote").await?;
    press(page, Key::Enter, "window.printed === true").await
}

/// The first stage of the quote came in.
async fn paid(page: &Page) -> Result<()> {
    press_until(page, Key::BackTab, &named("Came in today, stage 1")).await?;
    press(page, Key::Enter, "figures('Stages as they went out last')?.[0][3] === '0.00 USD'").await
}

/// A job out of the quote: a clock started and stopped, hours and timber typed.
async fn built(page: &Page) -> Result<()> {
    press_until(page, Key::BackTab, &named("Begin a job from what went out last")).await?;
    press(page, Key::Enter, &said("job-1 is begun.")).await?;
    page.until("document.activeElement.className === 'record'").await?;
    tab_to_named(page, "Start the clock: Mill four faces").await?;
    press(page, Key::Enter, "document.activeElement.textContent === 'Stop'").await?;
    page.eval("(window.shift += 5400, 1)").await?;
    press(page, Key::Enter, &said("The clock is stopped")).await?;
    page.comes_to("field('f-jobs[4].hours.mill-four-faces').value", "1.5").await?;
    tab_to(page, &field("f-jobs[4].hours.mortise-and-tenon")).await?;
    page.press_text("6.25").await?;
    tab_to(page, &field("f-jobs[4].bought.black-walnut")).await?;
    page.press_text("96.5").await?;
    tab_to_named(page, "Paid as said").await?;
    press(page, Key::Enter, "field('f-jobs[4].paid').value !== ''").await?;
    tab_to_named(page, "Finished today").await?;
    press(page, Key::Enter, &said("Finished.")).await
}

/// An offer in another currency for the piece that was asked for.
async fn weighed(page: &Page) -> Result<()> {
    go_to(page, "Requests").await?;
    tab_to(page, "document.activeElement.textContent.startsWith('r-1')").await?;
    press(page, Key::Enter, "!!button('Weigh offers for it')").await?;
    tab_to_named(page, "Weigh offers for it").await?;
    press(page, Key::Enter, &said("Offers for it are kept as o-1.")).await?;
    tab_to_named(page, "Add an offer").await?;
    press(page, Key::Enter, &field("f-offers[0].offers[0].from")).await?;
    type_over(page, "Invented buyer in Ottawa").await?;
    tab_to(page, &field("f-offers[0].offers[0].amount")).await?;
    page.press_text("6900").await?;
    tab_to(page, &field("f-offers[0].offers[0].currency")).await?;
    page.press_text("CAD").await?;
    page.press(Key::Tab).await?;
    page.until("figures('Offers, the best first')?.[0][0] === 'Invented buyer in Ottawa'").await
}

/// What the jobs teach is taken, taken back and taken again.
async fn learned(page: &Page) -> Result<()> {
    go_to(page, "What jobs teach").await?;
    page.until("!!button('Take it')").await?;
    tab_to_named(page, "Take it").await?;
    press(page, Key::Enter, "!button('Undo').disabled").await?;
    press(page, Key::Control('z'), &said("Undone: Taking what the jobs teach of ")).await?;
    press(page, Key::Control('y'), &said("Done again: Taking what the jobs teach of ")).await?;
    page.until("!!button('Leave it')").await?;
    tab_to_named(page, "Leave it").await?;
    press(page, Key::Enter, "document.querySelectorAll('.left li').length === 2").await?;
    tab_to_named(page, "Look at it again").await?;
    press(page, Key::Enter, "said().endsWith('is looked at again.')").await
}

/// A rate found by words, and its very field gone to.
async fn found(page: &Page) -> Result<()> {
    go_to(page, "Find in the book").await?;
    tab_to(page, &field("find")).await?;
    page.press_text("walnut rates 8/4").await?;
    page.until("!!button('Timbers, Black walnut: rates 8/4')").await?;
    tab_to_named(page, "Timbers, Black walnut: rates 8/4").await?;
    press(page, Key::Enter, &field("f-timbers[0].rates.8/4")).await?;
    type_over(page, "15.95").await?;
    page.press(Key::Tab).await?;
    page.until("document.querySelector('.basket').textContent.includes('(+')").await
}

/// A rate in a grid: typed, undone while it is typed by the browser and once it is left by the page, and done again.
async fn in_a_grid(page: &Page, engine: Engine) -> Result<()> {
    go_to(page, "Hardware").await?;
    tab_to(page, &field("c-hardware-0-2")).await?;
    let price = "field('c-hardware-0-2').value";
    let before = page.eval("said()").await?;
    page.press_text("9").await?;
    page.comes_to(price, "9").await?;
    page.press(Key::Control('z')).await?;
    // Whether the small browser around WebKit undoes typing with that key was seen both ways; the page's own is not pressed there all the same.
    let left = if engine == Engine::WebKit { json!(["9", "1.35"]) } else { json!(["1.35"]) };
    page.until(&format!("{left}.includes({price})")).await?;
    page.comes_to("said()", before).await?;
    type_over(page, "2.15").await?;
    press(page, Key::Enter, &field("c-hardware-1-2")).await?;
    press(page, Key::Control('z'), &said("Undone: Price, row 1.")).await?;
    page.comes_to(price, "1.35").await?;
    press(page, Key::Control('y'), &said("Done again: Price, row 1.")).await?;
    page.comes_to(price, "2.15").await?;
    // A row is opened whole and closed again, and the focus comes back to it.
    press_until(page, Key::BackTab, &named("Open row 1")).await?;
    press(page, Key::Enter, "document.activeElement.className === 'record'").await?;
    tab_to_named(page, "Close").await?;
    press(page, Key::Enter, &named("Open row 1")).await
}

/// The new price book, which the browser would write as a file.
async fn published(page: &Page) -> Result<()> {
    go_to(page, "Publish").await?;
    page.eval("(window.saved = null, 1)").await?;
    tab_to_named(page, "Write price-book.json").await?;
    press(page, Key::Enter, "typeof saved === 'string'").await?;
    page.comes_to("typeof JSON.parse(saved).timbers[0].rates['8/4']", "string").await?;
    page.comes_to("saved.includes('wages')", false).await
}
