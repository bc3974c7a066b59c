//! Narrow windows, and wide ones made narrow by a zoom: nothing may be cut off or ask to be scrolled sideways.
//!
//! No browser lets its window be made so narrow, so the demo page is framed: to the page, the frame is the window.

use anyhow::Result;
use scantling_tests::{Engine, Page, Visit};
use serde_json::{Value, json};
use xtask::server::STRICT_POLICY;

use crate::keyboard::{focus_is_seen, tab_to};
use crate::{AT_REST, nothing_complained};

/// The narrowest window it is made for, in CSS pixels; the papers name it.
const NARROWEST: u32 = 280;

/// What stands over the sides of the window, on the page and in the widget. A drawing ends at its own edges, a field moves its text along as
/// it is typed, and what is for screen readers alone is cut off on purpose.
const CUT_OFF: &str = "(() => { \
     const side = document.documentElement.clientWidth; \
     const all = [...document.querySelectorAll('body *'), ...root(0).querySelectorAll('*')]; \
     const shown = all.filter(e => e.checkVisibility() && !(e.getRootNode() === root(0) && e.closest('.quiet')) && !e.parentNode.closest?.('svg')); \
     const over = shown.filter(e => { const box = e.getBoundingClientRect(); return box.right > side + 0.5 || box.left < -0.5; }); \
     const hidden = shown.filter(e => e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0 && getComputedStyle(e).overflowX !== 'visible' && !['svg', 'input'].includes(e.localName)); \
     return [...over, ...hidden].map(e => `${e.localName}.${e.className}: ${e.textContent.slice(0, 60)}`); \
     })()";

/// The page does not move sideways.
const SIDEWAYS: &str = "(scrollTo(9, scrollY), scrollX)";

/// The demo page in a window of this size.
async fn in_a_window(engine: Engine, width: u32, height: u32) -> Result<Page> {
    let policy = format!("{STRICT_POLICY}; frame-src 'self'").leak();
    let page = Page::open(Visit::new(engine, "frame.html").under(policy)).await?;
    let size = format!("width: {width}px; height: {height}px; border: 0");
    page.eval(&format!("(document.querySelector('iframe').style.cssText = {}, 1)", json!(size))).await?;
    page.enter_frame().await?;
    page.until(AT_REST).await?;
    page.comes_to("[innerWidth, innerHeight]", json!([width, height])).await?;
    Ok(page)
}

async fn nothing_is_cut_off(page: &Page, state: &str) -> Result<()> {
    let cut: Value = page.eval(CUT_OFF).await?;
    assert_eq!(cut, json!([]), "{state}");
    assert_eq!(page.eval(SIDEWAYS).await?, 0, "{state}: it scrolls sideways");
    Ok(())
}

pub(crate) async fn nothing_is_cut_off_at_280_pixels(engine: Engine) -> Result<()> {
    let page = in_a_window(engine, NARROWEST, 653).await?;
    let designs = page.eval("[...root(0).querySelectorAll('input[name$=-design]')].map(e => e.value)").await?;
    let designs: Vec<&str> = designs.as_array().into_iter().flatten().filter_map(Value::as_str).collect();
    assert!(designs.contains(&"trestle-table") && designs.contains(&"bookcase"), "{designs:?}");
    for design in designs {
        let named = json!(design);
        page.eval(&format!("document.querySelector('scantling-quote').setAttribute('design', {named})")).await?;
        page.until(&format!("root(0).querySelector('input[value={named}]').checked")).await?;
        nothing_is_cut_off(&page, design).await?;
    }
    page.eval("document.querySelector('scantling-quote').setAttribute('design', 'trestle-table')").await?;
    page.until("!!label(0, 'Length')").await?;
    page.type_into(0, "Length", "no length at all, but a long sentence").await?;
    page.until("!!root(0).querySelector('.price.earlier')").await?;
    nothing_is_cut_off(&page, "with a size that can't be taken").await?;

    for language in ["de", "fr", "es"] {
        let named = json!(language);
        page.eval(&format!("document.querySelector('scantling-quote').setAttribute('language', {named})")).await?;
        page.until(&format!("{AT_REST} && root(0).querySelector('[lang]').lang === {named}")).await?;
        nothing_is_cut_off(&page, language).await?;
    }
    nothing_complained(&page).await?;

    // That something too wide would be seen.
    page.eval("(root(0).querySelector('.row').style.width = '300px', 1)").await?;
    let cut = page.eval(CUT_OFF).await?.to_string();
    assert!(cut.contains("div.row: "), "{cut}");
    page.close().await
}

/// Source: WCAG 2.2, 1.4.10 Reflow: 320 by 256 CSS pixels are a window of 1280 by 1024 at a zoom of 400 %.
pub(crate) async fn nothing_is_cut_off_at_a_zoom_of_400_per_cent(engine: Engine) -> Result<()> {
    let page = in_a_window(engine, 320, 256).await?;
    nothing_is_cut_off(&page, "as it is loaded").await?;
    // Low as the window is, what has the focus is in sight and nothing lies over it.
    page.eval("document.querySelector('.skip').focus()").await?;
    for label in ["Length", "Black walnut", "Postal code"] {
        tab_to(&page, label).await?;
        focus_is_seen(&page).await?;
    }
    page.type_into(0, "Length", "100").await?;
    page.until("root(0).querySelector('.sheet').innerHTML.includes('100 in')").await?;
    nothing_is_cut_off(&page, "with another size").await?;
    nothing_complained(&page).await?;
    page.close().await
}
