//! The element as a page's script handles it: late start, properties, the maker's words, moving and taking away without a trace.

use anyhow::{Context, Result};
use scantling_tests::{Engine, Page, Visit};
use serde_json::json;

use crate::{AT_REST, READY, nothing_complained};

/// What was fetched of the widget and the book.
const FETCHED: &str = "performance.getEntriesByType('resource').map(e => e.name).filter(name => /wasm|book|words|[.]css|widget[.]js/.test(name) && !name.includes('far.css'))";

/// The first widget, however far.
const QUOTE: &str = "document.querySelector('scantling-quote')";

pub(crate) async fn far_down_the_page_it_fetches_nothing_until_it_is_nearly_seen(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "far.html")).await?;
    page.until("customElements.get('scantling-quote') !== undefined").await?;
    tokio::time::sleep(std::time::Duration::from_millis(700)).await;
    assert_eq!(page.eval(FETCHED).await?, json!([]));
    page.comes_to(&format!("{QUOTE}.firstElementChild.checkVisibility()"), true).await?;
    // Half a screen short of being seen.
    page.eval(&format!(
        "(scrollTo({{ top: {QUOTE}.getBoundingClientRect().top - 1.5 * innerHeight, behavior: 'instant' }}), 1)"
    ))
    .await?;
    page.until(READY).await?;
    page.comes_to(&format!("{QUOTE}.getBoundingClientRect().top > innerHeight"), true).await?;
    // The maker's own words stand under the terms, and the fallback is gone.
    let notes = "(slot => [slot.assignedElements()[0].innerText, slot.closest('[part]').part.value])(root(0).querySelector('slot[name=notes]'))";
    page.comes_to(notes, json!(["Timber is paid when it is picked.", "details"])).await?;
    page.comes_to(&format!("{QUOTE}.firstElementChild.checkVisibility()"), false).await?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn it_starts_at_once_where_it_is_told_to(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "far.html")).await?;
    page.until("customElements.get('scantling-quote') !== undefined").await?;
    page.eval(&format!("({QUOTE}.start = 'now', 1)")).await?;
    page.until(READY).await?;
    page.comes_to("scrollY", 0).await?;
    page.close().await
}

pub(crate) async fn each_attribute_is_a_property_and_there_is_one_place_for_its_value(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "far.html")).await?;
    page.until("customElements.get('scantling-quote') !== undefined").await?;
    // An element made by a script gets its book last, and one that was given properties before it was defined keeps them.
    page.eval(
        "(window.made = document.createElement('scantling-quote'), made.start = 'now', document.body.prepend(made), 1)",
    )
    .await?;
    page.until("told.some(([name, detail]) => name === 'scantling-error' && detail.reason === 'book')").await?;
    page.eval("(made.design = 'hall-bench', made.units = 'metric', made.postalCode = '54601', made.book = 'price-book.json', 1)")
        .await?;
    page.until("!!root(0)?.querySelector('.span.delivered .range')").await?;
    let attributes = "['book', 'design', 'units', 'postal-code'].map(name => made.getAttribute(name))";
    page.comes_to(attributes, json!(["price-book.json", "hall-bench", "metric", "54601"])).await?;
    page.eval("(made.setAttribute('design', 'wall-shelf'), 1)").await?;
    page.comes_to("made.design", "wall-shelf").await?;
    page.until("root(0).querySelector('input[value=wall-shelf]').checked").await?;
    page.eval("(made.language = 'de', 1)").await?;
    page.until("root(0).querySelector('[lang]')?.lang === 'de'").await?;
    page.eval("(made.units = null, 1)").await?;
    page.comes_to("made.hasAttribute('units')", false).await?;
    let early = "(e => (Object.defineProperty(e, 'design', { value: 'bookcase', configurable: true, writable: true, enumerable: true }), \
                 document.body.append(e), [e.getAttribute('design'), Object.hasOwn(e, 'design')]))(document.createElement('scantling-quote'))";
    assert_eq!(page.eval(early).await?, json!(["bookcase", false]));
    page.close().await
}

pub(crate) async fn a_page_may_ask_for_the_price_alone_and_give_the_country(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "alone.html")).await?;
    page.until("[0, 1].every(n => !!root(n)?.querySelector('.waits button')?.checkVisibility())").await?;
    page.comes_to(
        "[0, 1].map(n => root(n).querySelectorAll('form.form, .actions:not([hidden])').length)",
        json!([0, 0]),
    )
    .await?;
    let fetched = "performance.getEntriesByType('resource').filter(entry => /later.*wasm/.test(entry.name)).length";
    page.comes_to(fetched, 0).await.context("what nobody has asked for is not fetched")?;
    page.comes_to("!!root(0).querySelector('.span.delivered .range').innerText", true)
        .await
        .context("priced for Berlin")?;
    page.eval("(root(0).querySelector('.waits button').click(), 1)").await?;
    page.until("!!root(0).querySelector('form.form')").await?;
    page.comes_to("root(0).querySelector('.destination select').value", "DE").await?;
    page.comes_to("!!root(1).querySelector('form.form')", false).await?;
    // The page may ask for all of it later, and for another country.
    page.eval("(q => (q[1].detail = null, q[0].country = 'FR', 1))(document.querySelectorAll('scantling-quote'))")
        .await?;
    page.until("!!root(1).querySelector('form.form')").await?;
    page.comes_to("root(0).querySelector('.destination select').value", "FR").await?;
    nothing_complained(&page).await?;
    page.close().await
}

/// Adds an element, waits for its price, every other time for its form too, moves it, takes it away; so many times.
const COME_AND_GO: &str = "(async times => { \
     for (let n = 0; n < times; n += 1) { \
         const quote = document.createElement('scantling-quote'); \
         quote.setAttribute('book', '../price-book.json'); quote.setAttribute('start', 'now'); quote.setAttribute('postal-code', '60601'); \
         stage.append(quote); \
         const there = n % 2 ? '.range' : 'form.form'; \
         while (!quote.shadowRoot.querySelector(there)) await new Promise(done => setTimeout(done)); \
         document.body.append(quote); await null; \
         if (!quote.shadowRoot.querySelector('.range')) window.lost = true; \
         quote.remove(); await null; \
         if (quote.shadowRoot.querySelector('.widget')) window.stayed = true; \
     } window.gone = times; })";

async fn come_and_go(page: &Page, times: u32) -> Result<()> {
    page.eval(&format!("(window.gone = 0, {COME_AND_GO}({times}), 1)")).await?;
    page.until(&format!("gone === {times}")).await
}

pub(crate) async fn two_hundred_that_come_and_go_leave_nothing_behind(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "hostile/plain.html")).await?;
    page.eval("(look.enter(), 1)").await?;
    page.until(AT_REST).await?;
    page.eval(&format!("({QUOTE}.remove(), 1)")).await?;
    // What is made once for the page is there after these.
    come_and_go(&page, 20).await?;
    let listeners = "look.page().split('\\n').filter(line => line.includes('listeners: ')).join()";
    let first = page.eval(listeners).await?;
    let before = if engine == Engine::Chromium { Some(page.held().await?) } else { None };
    for _ in 0..5 {
        come_and_go(&page, 40).await?;
    }
    page.comes_to("[window.lost, window.stayed]", json!([null, null])).await?;
    page.comes_to(listeners, first).await?;
    page.comes_to("document.querySelectorAll('scantling-quote').length", 0).await?;
    if let Some(before) = before {
        let after = page.held().await?;
        println!("held before: {before}, after 200 more: {after}");
        // A single widget is some 900 nodes and 100 listeners.
        assert!(after.nodes < before.nodes + 900, "nodes: {before}, then {after}");
        assert!(after.listeners < before.listeners + 100, "listeners: {before}, then {after}");
        assert!(after.bytes < before.bytes + 200 * 2048, "bytes: {before}, then {after}");
    }
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn from_right_to_left_all_is_mirrored_but_the_drawing(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "rtl.html")).await?;
    page.until(AT_REST).await?;
    let sides = "[...root(0).querySelectorAll('.form, .sheet')].map(e => e.getBoundingClientRect()).map(box => box.left + box.right < innerWidth)";
    let drawing = "root(0).querySelector('.plot').innerHTML.replace(/scantling-[0-9]+/g, '')";
    // In the order of the tree: the sheet, then the form.
    page.comes_to(sides, json!([false, true])).await.context("the form stands at the left")?;
    let mirrored = page.eval(drawing).await?;
    let (swatch, name) = ("root(0).querySelector('.swatch')", "root(0).querySelector('.offer label')");
    let before = format!("{swatch}.getBoundingClientRect().left > {name}.getBoundingClientRect().left + 20");
    page.comes_to(&before, true).await.context("a swatch stands before its wood")?;
    let sideways = page.eval("(scrollTo(-9, scrollY), scrollX)").await?;
    assert_eq!(sideways, 0, "it scrolls sideways");
    page.eval("(document.documentElement.dir = 'ltr', 1)").await?;
    page.comes_to(sides, json!([true, false])).await?;
    page.comes_to(drawing, mirrored).await.context("the drawing is the same, either way")?;
    nothing_complained(&page).await.context("on the page that is read from right to left")?;
    page.close().await
}
