//! Colours that the reader forces on every page: the widget's own are gone, and all that has to be seen is seen.

use anyhow::{Context, Result};
use scantling_tests::{Engine, Page, Visit};
use serde_json::json;

use crate::access::no_faults;
use crate::contrast::not_text;
use crate::{AT_REST, nothing_complained};

/// A handle of the drawing.
const HANDLE: &str = "root(0).querySelector('.handle[data-size=length]')";

/// Source: CSS Color Adjustment: where colours are forced, pictures of the background other than files are taken away, and colours
/// become those of the reader.
pub(crate) async fn in_forced_colours_bars_focus_and_edges_are_seen(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "index.html#estimate").with_axe()).await?;
    page.until(AT_REST).await?;
    for scheme in ["light", "dark"] {
        let features = json!([
            { "name": "forced-colors", "value": "active" },
            { "name": "prefers-color-scheme", "value": scheme },
            { "name": "prefers-reduced-motion", "value": "reduce" },
        ]);
        page.tell_browser("Emulation.setEmulatedMedia", json!({ "media": "screen", "features": features })).await?;
        page.comes_to("matchMedia('(forced-colors: active)').matches", true).await?;
        seen(&page, scheme).await.with_context(|| format!("of the forced colours, the {scheme} ones"))?;
    }
    nothing_complained(&page).await?;
    page.close().await
}

async fn seen(page: &Page, scheme: &str) -> Result<()> {
    no_faults(page, scheme).await?;
    let kinds = not_text(page).await?;
    assert!(kinds.iter().all(|(_, contrast, many)| contrast.is_some() && *many > 0), "{kinds:?}");
    // A bar is a surface of the reader's own colour, with that of its ground beside it.
    let system = "(name => { const probe = document.createElement('i'); probe.style.color = name; document.body.append(probe); \
         const colour = getComputedStyle(probe).color; probe.remove(); return colour; })";
    let bars = "[...root(0).querySelectorAll('.bar span')].filter(e => e.getBoundingClientRect().width > 0)";
    page.comes_to(&format!("{bars}.length > 3"), true).await?;
    let filled = format!("{bars}.every(bar => getComputedStyle(bar).backgroundColor === {system}('Highlight'))");
    page.comes_to(&filled, true).await.context("the bars have the colour of what is marked")?;
    let apart = format!("{system}('Highlight') !== {system}('Canvas')");
    page.comes_to(&apart, true).await?;
    // The focus on a handle.
    page.eval(&format!("({HANDLE}.focus(), 1)")).await?;
    let ring = format!(
        "(style => [style.stroke, parseFloat(style.strokeWidth) >= 2])(getComputedStyle({HANDLE}.querySelector('.reach')))"
    );
    page.comes_to(&ring, json!([page.eval(&format!("{system}('Highlight')")).await?, true]))
        .await
        .context("a ring round the handle")?;
    page.eval("(root(0).activeElement.blur(), 1)").await?;
    page.until(&format!("getComputedStyle({HANDLE}.querySelector('.reach')).stroke === 'none'")).await
}
