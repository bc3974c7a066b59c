//! The page on which all the estimator takes from a page can be tried: every row of its tables does what it says.

use anyhow::{Context, Result};
use scantling_tests::{Engine, Page, Scheme, Visit};
use serde_json::{Value, json};

use crate::{AT_REST, READY, nothing_complained};

/// Helpers: the cell to try a row of a table in, and setting what is in it as a person does.
const TRY: &str = "(window.cell = (table, name) => document.querySelector(`table[data-of=\"${table}\"] tr[data-name=\"${name}\"] .try`), \
     window.put = (table, name, value) => { const field = cell(table, name).querySelector('input, select, textarea'); field.value = value; \
         field.dispatchEvent(new Event('input', { bubbles: true })); field.dispatchEvent(new Event('change', { bubbles: true })); return field.value; }, \
     window.names = table => [...document.querySelectorAll(`table[data-of=\"${table}\"] tbody tr`)].map(row => row.dataset.name), \
     window.quote = document.querySelector('scantling-quote'), 1)";

async fn opened(visit: Visit<'_>) -> Result<Page> {
    let page = Page::open(visit).await?;
    page.until(READY).await?;
    page.eval(TRY).await?;
    Ok(page)
}

async fn names(page: &Page, table: &str) -> Result<Vec<String>> {
    let names: Vec<String> = serde_json::from_value(page.eval(&format!("names({})", json!(table))).await?)?;
    assert!(!names.is_empty(), "there is no row of each {table}");
    Ok(names)
}

/// A value that each attribute takes, and what then shows in the widget that it was taken.
fn tried(attribute: &str) -> Option<(&'static str, &'static str)> {
    Some(match attribute {
        "book" => (
            "broken-book.json",
            "told.some(([name, detail]) => name === 'scantling-error' && detail.reason === 'book')",
        ),
        "design" => ("hall-bench", "!!root(0).querySelector('input[value=hall-bench]')?.checked"),
        "units" => ("metric", "root(0).querySelector('.sheet').innerHTML.includes(' mm')"),
        "postal-code" => ("98101", "root(0).getElementById(label(0, 'Postal code')?.htmlFor)?.value === '98101'"),
        "language" => ("de", "root(0).querySelector('[lang]')?.lang === 'de'"),
        // It has started before this is set; that it starts what is far away is a test of its own.
        "start" => ("now", "!!root(0).querySelector('.range')"),
        _ => return None,
    })
}

pub(crate) async fn every_attribute_is_tried_on_the_page_that_lists_them(engine: Engine) -> Result<()> {
    let page = opened(Visit::new(engine, "embedding.html")).await?;
    let mut attributes = names(&page, "attribute").await?;
    // The book comes last: without one there is nothing left to try.
    attributes.sort_by_key(|name| name == "book");
    for attribute in &attributes {
        let row = json!(attribute);
        let (value, there) = match tried(attribute) {
            Some((value, there)) => (value, there),
            // One that is new has a field for any text.
            None => ("x", "true"),
        };
        let before = page.eval(&format!("quote.getAttribute({row})")).await?;
        assert_eq!(page.eval(&format!("put('attribute', {row}, {})", json!(value))).await?, value, "{attribute}");
        page.until(there).await.with_context(|| format!("{attribute} was not taken"))?;
        page.comes_to(&format!("quote.getAttribute({row})"), value).await?;
        let says = format!(
            "cell('attribute', {row}).querySelector('code').textContent.endsWith({})",
            json!(format!(" = \"{value}\""))
        );
        page.until(&says).await.with_context(|| format!("the property of {attribute}"))?;
        // As it was, also where it was not there.
        page.eval(&format!("put('attribute', {row}, {})", json!(before.as_str().unwrap_or_default()))).await?;
        page.comes_to(&format!("quote.getAttribute({row})"), before).await?;
    }
    page.until(AT_REST).await.context("all as it was")?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn events_and_the_page_s_own_words_are_tried_there(engine: Engine) -> Result<()> {
    let page = opened(Visit::new(engine, "embedding.html")).await?;
    let events = names(&page, "event").await?;
    for name in ["scantling-estimate", "scantling-request", "scantling-error"] {
        assert!(events.iter().any(|event| event == name), "{name} is not listed");
    }
    // More events than are listed: the latest stands first, with what it says.
    for length in 60..85 {
        page.type_into(0, "Length", &length.to_string()).await?;
        page.until(&format!("root(0).querySelector('.sheet').innerHTML.includes('{length} in')")).await?;
    }
    page.comes_to("document.querySelectorAll('#log li').length", 20).await?;
    let first = "document.querySelector('#log li').textContent";
    let latest = page.eval(first).await?.to_string();
    assert!(latest.contains("scantling-estimate {") && latest.contains("\\\"currency\\\":\\\"USD\\\""), "{latest}");
    page.until("cell('event', 'scantling-estimate').textContent.endsWith('times')").await?;
    // One that leaves the widget, and one that tells that it can't start.
    page.eval("quote.dispatchEvent(new CustomEvent('scantling-request', { detail: { by: 'copy', outcome: 'handed', design: 'x' } }))").await?;
    page.comes_to(first, "scantling-request {\"by\":\"copy\",\"outcome\":\"handed\",\"design\":\"x\"}").await?;
    page.comes_to("cell('event', 'scantling-request').textContent", "Told: once").await?;

    page.eval("put('slot', 'notes', 'Boards are picked by hand.')").await?;
    let notes = "root(0).querySelector('slot[name=notes]').assignedElements()[0].innerText";
    page.comes_to(notes, "Boards are picked by hand.").await?;
    page.eval("put('slot', 'none', 'Write a letter.')").await?;
    page.eval("put('attribute', 'book', '')").await?;
    page.until(&format!("{first}.startsWith('scantling-error ')")).await?;
    let fallback = "[quote.querySelector('.fallback').innerText, quote.querySelector('.fallback').checkVisibility()]";
    page.comes_to(fallback, json!(["Write a letter.", true])).await?;
    nothing_complained(&page).await?;
    page.close().await
}

/// Where each custom property is to be seen, and as what: an element of the widget, and what its style comes to.
const SEEN: [(&str, &str, &str); 7] = [
    ("--scantling-paper", ".widget", "backgroundColor"),
    ("--scantling-sheet", ".price", "backgroundColor"),
    ("--scantling-ink", ".scantling", "color"),
    ("--scantling-soft-ink", ".span .name", "color"),
    ("--scantling-line", ".widget", "borderTopColor"),
    ("--scantling-mark", ".price", "borderTopColor"),
    ("--scantling-fault", ".form .fault", "color"),
];

/// In the dark, the drawing has a ground of its own.
const DRAWING: (&str, &str, &str) = ("--scantling-drawing-sheet", ".sheet", "backgroundColor");

fn style((_, css, property): (&str, &str, &str)) -> String {
    format!("getComputedStyle(root(0).querySelector({})).{property}", json!(css))
}

/// Sets a colour by its row, sees it in the widget, and takes it back.
async fn coloured(page: &Page, seen: (&str, &str, &str), (hex, shown): (&str, &str)) -> Result<()> {
    let row = json!(seen.0);
    let before = page.eval(&style(seen)).await?;
    assert!(before.is_string() && before != shown, "{}: {before}", seen.0);
    page.eval(&format!("put('custom property', {row}, {})", json!(hex))).await?;
    page.comes_to(&style(seen), shown).await.context(seen.0.to_owned())?;
    page.eval(&format!("(cell('custom property', {row}).querySelector('button').click(), 1)")).await?;
    page.comes_to(&style(seen), before).await.context(seen.0.to_owned())
}

pub(crate) async fn every_custom_property_and_every_part_reaches_the_widget(engine: Engine) -> Result<()> {
    let page = opened(Visit::new(engine, "embedding.html")).await?;
    let mut left = names(&page, "custom property").await?;
    for (at, seen) in SEEN.into_iter().enumerate() {
        let red = 16 + at;
        coloured(&page, seen, (&format!("#{red:02x}cc33"), &format!("rgb({red}, 204, 51)"))).await?;
        left.retain(|name| name != seen.0);
    }
    let size = "getComputedStyle(root(0).querySelector('.scantling')).fontSize";
    page.eval("put('custom property', '--scantling-text-size', '24px')").await?;
    page.comes_to(size, "24px").await?;
    left.retain(|name| name != "--scantling-text-size" && name != DRAWING.0);
    assert_eq!(left, Vec::<String>::new(), "listed, and not tried");

    let parts = names(&page, "part").await?;
    assert!(parts.len() >= 9, "{parts:?}");
    // What is kept takes no room before something is.
    page.eval("([...root(0).querySelectorAll('button')].find(b => b.textContent === 'Keep this estimate').click(), 1)")
        .await?;
    page.until("!!root(0).querySelector('.kept table')").await?;
    for part in &parts {
        let name = json!(part);
        let styles = format!(
            "[...root(0).querySelectorAll('[part~={name}]')].map(e => getComputedStyle(e)).map(s => [s.outlineStyle, s.outlineWidth])"
        );
        let press = format!("(cell('part', {name}).querySelector('button').click(), 1)");
        page.comes_to(&format!("{styles}[0]?.[0]"), "none").await.with_context(|| part.clone())?;
        page.eval(&press).await?;
        page.comes_to(&format!("{styles}[0]"), json!(["solid", "3px"])).await.with_context(|| part.clone())?;
        page.eval(&press).await?;
        page.comes_to(&format!("{styles}[0][0]"), "none").await.with_context(|| part.clone())?;
    }
    nothing_complained(&page).await?;
    page.close().await?;

    let page = opened(Visit::new(engine, "embedding.html").coloured(Scheme::Dark)).await?;
    coloured(&page, DRAWING, ("#aabbcc", "rgb(170, 187, 204)")).await?;
    page.close().await
}

/// No fault of access, in light and dark, and nothing sideways at 320 pixels.
pub(crate) async fn the_page_to_try_it_on_can_be_used_by_all(engine: Engine) -> Result<()> {
    for scheme in [Scheme::Light, Scheme::Dark] {
        let page = opened(Visit::new(engine, "embedding.html").coloured(scheme).with_axe()).await?;
        page.until(AT_REST).await?;
        // Before anything is typed: scrolled to a field, the price that stays in sight lies over what has gone by.
        assert_eq!(page.faults_of_access().await?, Vec::<String>::new());
        page.type_into(0, "Length", "90").await?;
        page.until("document.querySelectorAll('#log li').length > 0").await?;
        let narrow = json!({ "width": 320, "height": 700, "deviceScaleFactor": 1, "mobile": false });
        page.tell_browser("Emulation.setDeviceMetricsOverride", narrow).await?;
        let wide: Value = page.eval("[innerWidth, document.documentElement.scrollWidth]").await?;
        assert_eq!(wide, json!([320, 320]), "it is cut off or scrolls sideways");
        nothing_complained(&page).await?;
        page.close().await?;
    }
    Ok(())
}
