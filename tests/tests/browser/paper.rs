//! The page laid out as for paper.

use anyhow::{Context, Result};
use scantling_tests::{Engine, Page, Visit};
use serde_json::json;

use crate::work::a_quote_from_a_request;
use crate::year::help;
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

pub(crate) async fn a_quote_of_the_maker_s_page_has_the_sheet_to_itself(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "shop.html")).await?;
    help(&page).await?;
    a_quote_from_a_request(&page).await?;
    let size = json!({ "width": SHEET, "height": 1123, "deviceScaleFactor": 1, "mobile": false });
    page.tell_browser("Emulation.setDeviceMetricsOverride", size).await?;
    page.tell_browser("Emulation.setEmulatedMedia", json!({ "media": "print" })).await?;
    let shown = |css: &str| {
        format!(
            "[...document.querySelectorAll({})].filter(e => e.checkVisibility()).map(e => e.outerHTML.slice(0, 80))",
            json!(css)
        )
    };
    page.comes_to(&shown("header, nav, aside, button, input, select, textarea, .picks, .record"), json!([])).await?;
    page.comes_to(&format!("{}.length", shown(".quote")), 1).await?;
    let quote = page.eval("document.querySelector('.quote').innerText").await?;
    let quote = quote.as_str().unwrap_or_default();
    for told in [
        "Quote: Slab-top console",
        "For Invented buyer, buyer@home.example",
        "Stands until: ",
        "To pay",
        "Payment",
        "Terms",
        "Accepted, name and date:",
    ] {
        assert!(quote.contains(told), "{told} is not on paper: {quote}");
    }
    page.until("document.querySelector('.quote .drawn').naturalWidth > 0").await?;
    let wide = page.eval("document.documentElement.scrollWidth").await?;
    assert!(wide.as_u64().is_some_and(|wide| wide <= SHEET.into()), "{wide} pixels on a sheet of {SHEET}");
    // As the browser's own PDF it is a sheet, with its back at most.
    let printed = page.tell_browser("Page.printToPDF", json!({ "paperWidth": 8.27, "paperHeight": 11.69 })).await?;
    let sheets = format!(r"(atob({}).match(/\/Type\s*\/Page\b/g) ?? []).length", printed["data"]);
    let sheets = page.eval(&sheets).await?;
    assert!(sheets == 1 || sheets == 2, "{sheets} pages");
    nothing_complained(&page).await?;
    page.close().await
}
