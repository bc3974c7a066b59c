//! The form without a pointer: where the Tab key goes, what the arrows do, and that the focus is always seen.

use std::time::Duration;

use anyhow::{Context, Result, bail};
use scantling_tests::{Engine, Key, Page, Visit};
use serde_json::{Value, json};

use crate::{AT_REST, nothing_complained};

/// What has the focus, within however many shadow roots.
const FOCUSED: &str =
    "(e => { while (e?.shadowRoot?.activeElement) e = e.shadowRoot.activeElement; return e; })(document.activeElement)";

/// What a stop is known by: radio buttons of one name are one stop, as the HTML standard has it.
const STOP: &str = "(e => e && (e.type === 'radio' ? e.name : e.id || e.textContent.trim() || e.localName))";

/// Everything that can take the focus, in the order it stands on the page, the widget's own where the widget stands.
const STOPS: &str = "(stop => { \
     const can = 'a[href], button, input, select, textarea, summary, scantling-quote, [tabindex]'; \
     const inside = top => [...top.querySelectorAll(can)].flatMap(e => e.shadowRoot ? inside(e.shadowRoot) : [e]); \
     return inside(document).filter(e => !e.disabled && e.tabIndex >= 0 && e.checkVisibility() && (e.type !== 'radio' || e.checked)).map(stop); \
     })";

/// What keeps a buyer from seeing the focus. It is seen (WCAG 2.2, 2.4.7) when an outline is drawn round it,
/// or round what a handle on the drawing reaches, and nothing lies over it (2.4.11) when what is hit at the middle of
/// what is in sight is itself: `WebKit` brings the line of a tall field into sight where the words go, not the whole.
const UNSEEN: &str = "(e => { \
     const style = getComputedStyle(e); \
     const reach = e.querySelector('.reach') && getComputedStyle(e.querySelector('.reach')); \
     const ringed = (kind, width) => kind !== 'none' && parseFloat(width) >= 2; \
     const box = e.getClientRects()[0]; \
     const [top, bottom] = [Math.max(box.top, 0), Math.min(box.bottom, innerHeight)]; \
     const [x, y] = [box.left + box.width / 2, (top + bottom) / 2]; \
     const hit = e.getRootNode().elementFromPoint(x, y); \
     return Object.entries({ \
         'no ring': ringed(style.outlineStyle, style.outlineWidth) || ringed(reach?.stroke ?? 'none', reach?.strokeWidth), \
         [`at ${x}, ${y} there is ${hit?.outerHTML.slice(0, 80)}`]: e.contains(hit), \
     }).flatMap(([fault, fine]) => fine ? [] : [`${e.outerHTML.slice(0, 120)}: ${fault}`]); \
     })";

/// Between two keys: a few frames.
const BETWEEN_KEYS: Duration = Duration::from_millis(60);

/// More presses of a key than any way through the page takes.
const FAR: usize = 80;

/// What has the focus, by what its stop is known by.
async fn stop(page: &Page) -> Result<Value> {
    page.eval(&format!("{STOP}({FOCUSED})")).await
}

/// The focus is where a buyer sees it, once the page has come to rest.
pub(crate) async fn focus_is_seen(page: &Page) -> Result<()> {
    let unseen = format!("{UNSEEN}({FOCUSED})");
    if page.until(&format!("{unseen}.length === 0")).await.is_err() {
        bail!("the focus is not seen: {}", page.eval(&unseen).await?);
    }
    // Firefox may undo a scroll that the next key asks for before it has shown the last one, and no person presses that fast.
    tokio::time::sleep(BETWEEN_KEYS).await;
    Ok(())
}

/// Presses Tab until what is labelled so has the focus.
pub(crate) async fn tab_to(page: &Page, label: &str) -> Result<()> {
    let labelled = format!("l => l.textContent.trim().startsWith({})", json!(label));
    tab_until(page, &format!("[...({FOCUSED}).labels ?? []].some({labelled})")).await
}

/// Presses Tab until this is so, and the focus is seen.
pub(crate) async fn tab_until(page: &Page, there: &str) -> Result<()> {
    for _ in 0..FAR {
        page.press(Key::Tab).await?;
        tokio::time::sleep(BETWEEN_KEYS).await;
        if page.eval(there).await? == json!(true) {
            return focus_is_seen(page).await;
        }
    }
    bail!("the Tab key never came to where {there}")
}

pub(crate) async fn the_tab_key_walks_the_whole_form_there_and_back_and_the_focus_is_seen(
    engine: Engine,
) -> Result<()> {
    let page = Page::open(Visit::new(engine, "")).await?;
    page.until(AT_REST).await?;
    let stops = page.eval(&format!("{STOPS}({STOP})")).await?;
    let stops = stops.as_array().cloned().unwrap_or_default();
    assert!(stops.len() > 20, "links, four sizes, seven choices, country and postal code: {stops:?}");
    page.eval("document.querySelector('.skip').focus()").await?;
    let mut walked = vec![stop(&page).await?];
    for _ in 1..stops.len() {
        page.press(Key::Tab).await?;
        focus_is_seen(&page).await?;
        walked.push(stop(&page).await?);
    }
    assert_eq!(walked, stops, "the Tab key goes where the eye goes");
    for before in stops.iter().rev().skip(1) {
        page.press(Key::BackTab).await?;
        focus_is_seen(&page).await?;
        page.comes_to(&format!("{STOP}({FOCUSED})"), before.clone()).await.context("and back the same way")?;
    }
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn a_piece_is_chosen_sized_and_sent_on_its_way_by_keys_alone(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "")).await?;
    page.until(AT_REST).await?;
    page.eval("document.querySelector('.skip').focus()").await?;

    tab_to(&page, "Trestle dining table").await?;
    page.press(Key::Down).await?;
    page.until("root(0).querySelector('.title').innerText.includes('Hall bench')").await?;
    focus_is_seen(&page).await?;
    page.press(Key::Up).await?;
    page.until("root(0).querySelector('.title').innerText.includes('Trestle dining table')").await?;

    // The demo's table goes from 60 to 108 in by whole inches and starts at 84.
    tab_to(&page, "Length").await?;
    let length = "label(0, 'Length').parentNode.querySelector('input').value";
    page.press(Key::Up).await?;
    page.comes_to(length, "85 in").await?;
    page.press(Key::Down).await?;
    page.press(Key::Down).await?;
    page.comes_to(length, "83 in").await?;
    page.press(Key::Enter).await?;
    page.comes_to(length, "83 in").await.context("Enter sends the page nowhere")?;

    // What the Tab key comes to is selected, so that typing writes over it.
    tab_to(&page, "Width").await?;
    page.press_text("3 ft").await?;
    page.until("root(0).querySelector('.title').innerText.includes('83 in × 36 in')").await?;

    tab_to(&page, "Black walnut").await?;
    page.press(Key::Down).await?;
    page.until("root(0).querySelector('.title').innerText.includes('White oak')").await?;

    tab_to(&page, "Postal code").await?;
    page.press_text("54601").await?;
    page.until("root(0).querySelector('.ways').innerText.includes('The maker brings it')").await?;
    let before = page.text(0, ".span .range").await?;
    tab_to(&page, "The maker brings it").await?;
    page.press(Key::Down).await?;
    page.until(&format!("root(0).querySelector('.span .range').innerText !== {}", json!(before))).await?;
    focus_is_seen(&page).await?;
    page.comes_to(&format!("({FOCUSED}).checked"), true).await.context("the focus stays with what was picked")?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn a_saving_is_taken_and_undone_by_keys_and_the_focus_stays_in_the_widget(
    engine: Engine,
) -> Result<()> {
    let page = Page::open(Visit::new(engine, "")).await?;
    page.until(AT_REST).await?;
    let likely = "root(0).querySelector('tfoot td').innerText";
    let before = page.eval(likely).await?;
    page.eval("document.querySelector('.skip').focus()").await?;
    tab_until(&page, &format!("!!({FOCUSED}).closest('.moves')")).await?;
    page.press(Key::Enter).await?;
    page.until(&format!("{likely} !== {before} && !!root(0).querySelector('.undo')")).await?;
    // A press that left the focus nowhere would send a buyer back to the top of the page.
    page.comes_to(&format!("({FOCUSED}).getRootNode() === root(0)"), true).await?;
    page.eval("document.querySelector('.skip').focus()").await?;
    tab_until(&page, &format!("({FOCUSED}).matches('.undo')")).await?;
    page.press(Key::Enter).await?;
    page.until(&format!("{likely} === {before}")).await?;

    tab_to(&page, "What you would spend").await?;
    page.press_text("900").await?;
    page.press(Key::Enter).await?;
    page.until("!!root(0).querySelector('.plans button')").await?;
    nothing_complained(&page).await?;
    page.close().await
}
