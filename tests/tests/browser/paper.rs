//! The page laid out as for paper.

use anyhow::{Context, Result};
use scantling_tests::{Engine, Page, Visit};
use serde_json::json;

use crate::{AT_REST, nothing_complained};

/// An A4 sheet across, in CSS pixels. Source: ISO 216, 210 mm; CSS Values, a pixel is 1/96 in.
const SHEET: u32 = 794;

pub(crate) async fn printed_it_shows_what_was_chosen_and_no_controls(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "")).await?;
    page.until(AT_REST).await?;
    let size = json!({ "width": SHEET, "height": 1123, "deviceScaleFactor": 1, "mobile": false });
    page.tell_browser("Emulation.setDeviceMetricsOverride", size).await?;
    page.tell_browser("Emulation.setEmulatedMedia", json!({ "media": "print" })).await?;
    let shown =
        |css: &str| format!("[...root(0).querySelectorAll({})].filter(e => e.checkVisibility()).length", json!(css));
    page.comes_to(&shown("input[type=radio]"), 0).await.context("paper can't be clicked")?;
    page.comes_to(&shown(".offer, button, textarea"), 0).await.context("the form is not for paper")?;
    let brief = page.text(0, ".brief").await?;
    for chosen in ["Trestle dining table", "84 in", "Black walnut", "Hardwax oil", "60601", "Prices of"] {
        assert!(brief.contains(chosen), "{chosen} is not in what was chosen: {brief}");
    }
    assert!(page.text(0, ".span.delivered .range").await?.starts_with('$'));
    page.comes_to("document.querySelector('nav').checkVisibility()", false).await?;
    let wide = page.eval("document.documentElement.scrollWidth").await?;
    assert!(wide.as_u64().is_some_and(|wide| wide <= SHEET.into()), "{wide} pixels on a sheet of {SHEET}");
    nothing_complained(&page).await?;
    page.close().await
}
