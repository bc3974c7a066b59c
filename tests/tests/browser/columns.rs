//! Columns of several widths in one window: each widget lays itself out by the room that it has, whatever the window's is.

use anyhow::{Context, Result};
use scantling_tests::{Engine, Page, Visit};
use serde_json::{Value, json};

use crate::nothing_complained;

/// The columns of `columns.html`, in CSS pixels: the narrowest and the widest it is made for, and two between.
const COLUMNS: [u32; 4] = [280, 375, 700, 1200];

/// What of the nth widget stands over the sides of its column, or is cut off inside. A drawing ends at its own edges, a field moves
/// its text along, and what is for screen readers alone is cut off on purpose.
const OVER: &str = "(n => { \
     const column = root(n).host.parentElement.getBoundingClientRect(); \
     const shown = [root(n).host, ...root(n).querySelectorAll('*')].filter(e => e.checkVisibility() && !e.closest('.quiet') && !e.parentNode.closest?.('svg')); \
     const over = shown.filter(e => { const box = e.getBoundingClientRect(); return box.right > column.right + 0.5 || box.left < column.left - 0.5; }); \
     const hidden = shown.filter(e => e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0 && getComputedStyle(e).overflowX !== 'visible' && !['svg', 'input'].includes(e.localName)); \
     return [...over, ...hidden].map(e => `${e.localName}.${e.className}: ${e.textContent.slice(0, 60)}`); \
     })";

/// How the nth widget is laid out: how wide it is, whether the form stands beside the drawing, whether bars stand beside what moves the
/// price, and whether the figures of the price stand beside each other.
const LAID_OUT: &str = "(n => { \
     const box = css => root(n).querySelector(css).getBoundingClientRect(); \
     return [box('.widget').width, box('.form').left >= box('.sheet').right, \
         root(n).querySelector('.moves:not(.shares) .bar').checkVisibility(), box('.span.workshop').left >= box('.span.delivered').right]; \
     })";

/// The family of the font of what is written in the nth widget, each once.
const FONTS: &str = "(n => [...new Set([...root(n).querySelectorAll('.widget, h3, b, p, td, label, button, input:not([type=radio], [type=checkbox]), select, textarea')].map(e => getComputedStyle(e).fontFamily))])";

/// Source of where it changes: the style sheet says in em that the form goes beside the drawing from 44, and bars go below 24.
pub(crate) async fn in_columns_of_one_window_each_lays_out_by_its_own_width(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "columns.html")).await?;
    page.until("[0, 1, 2, 3].every(n => !!root(n)?.querySelector('.moves button'))").await?;
    for (n, width) in COLUMNS.into_iter().enumerate() {
        stands(&page, n, width).await?;
        // The page's font, on everything that is written but the drawing.
        let fonts = page.eval(&format!("{FONTS}({n})")).await?;
        let fonts = fonts.as_array().cloned().unwrap_or_default();
        assert!(fonts.len() == 1 && fonts[0].as_str().is_some_and(|font| font.contains("Courier New")), "{fonts:?}");
    }
    // The drawing is laid out for its column as well: its letters are as large in each.
    let letters = "[0, 1, 2, 3].map(n => root(n).querySelector('.plot svg text')).map(text => parseFloat(getComputedStyle(text).fontSize) * text.getScreenCTM().a)";
    let letters: Value = page.eval(letters).await?;
    let letters: Vec<f64> = letters.as_array().into_iter().flatten().filter_map(Value::as_f64).collect();
    assert!(letters.len() == 4 && letters.iter().all(|high| (10.0..20.0).contains(high)), "{letters:?}");
    // A column that changes places with another.
    let swap = "(columns => (columns[3].after(columns[0]), document.body.prepend(columns[3]), 1))([...document.querySelectorAll('body > div')])";
    page.eval(swap).await?;
    for (n, width) in COLUMNS.into_iter().enumerate() {
        stands(&page, n, width).await.context("after two have changed places")?;
    }
    nothing_complained(&page).await?;
    // That something too wide would be seen.
    page.eval("(root(1).querySelector('.row').style.width = '400px', 1)").await?;
    let over = page.eval(&format!("{OVER}(1)")).await?.to_string();
    assert!(over.contains("div.row: "), "{over}");
    page.close().await
}

/// The nth widget is laid out as one that has so much room, and nothing of it leaves its column.
async fn stands(page: &Page, n: usize, width: u32) -> Result<()> {
    let expected = json!([width, width >= 704, width > 384, width >= 600]);
    page.comes_to(&format!("{LAID_OUT}({n})"), expected).await.with_context(|| format!("in a column of {width}"))?;
    page.comes_to(&format!("{OVER}({n})"), json!([])).await.with_context(|| format!("in a column of {width}"))
}
