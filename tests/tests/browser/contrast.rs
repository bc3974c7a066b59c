//! Contrasts that axe does not judge: the lettering of drawings, and what is not text.
#![expect(clippy::float_arithmetic, reason = "how far two colours lie apart is a ratio")]

use anyhow::Result;
use scantling_tests::Page;
use serde_json::{Value, json};

/// How far two colours lie apart, and the colour of the ground that an element stands on.
/// Source: WCAG 2.2, "relative luminance" and "contrast ratio".
const CONTRAST: &str = "const parts = colour => colour.match(/[\\d.]+/g).map(Number); \
     const linear = part => part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4; \
     const luminance = colour => parts(colour).slice(0, 3).map(part => linear(part / 255)) \
         .reduce((sum, part, i) => sum + part * [0.2126, 0.7152, 0.0722][i], 0); \
     const contrast = (a, b) => (([less, more]) => (more + 0.05) / (less + 0.05))([a, b].map(luminance).sort((a, b) => a - b)); \
     const opaque = colour => (parts(colour)[3] ?? 1) === 1; \
     const ground = e => { while (e && !opaque(getComputedStyle(e).backgroundColor)) e = e.parentElement ?? e.getRootNode().host; \
         return e ? getComputedStyle(e).backgroundColor : 'rgb(255, 255, 255)'; };";

/// The least contrast between a drawing's figures and the sheet they stand on.
const LETTERING: &str = "[...root(0).querySelectorAll('svg text')].map(text => \
     contrast(getComputedStyle(text).fill, ground(root(0).querySelector('.sheet'))))";

/// What is not text and has to be seen to use the widget: its kind, its contrast with what lies beside it, and how many there are of it.
/// The knobs of handles and the rulers on their sheet; the edges of fields and buttons, against the ground within and without; the
/// bars of pictures, and the edge of a swatch.
const NOT_TEXT: &str = "(() => { \
     const shown = css => [...root(0).querySelectorAll(css)].filter(e => e.checkVisibility()); \
     const style = e => getComputedStyle(e); \
     const least = (kind, css, of) => ((all, found) => [kind, Math.min(...found), all.length])(...(all => [all, all.flatMap(of)])(shown(css))); \
     const sheet = ground(root(0).querySelector('.sheet')); \
     const edge = e => [contrast(style(e).borderTopColor, ground(e)), contrast(style(e).borderTopColor, ground(e.parentElement))]; \
     return [ \
         least('knobs', '.knob', e => [contrast(style(e).stroke, sheet)]), \
         least('rulers', 'path.ruler, .ruler path', e => [contrast(style(e).stroke, sheet)]), \
         least('fields', 'input[type=text], input[type=email], select, textarea', edge), \
         least('buttons', 'button:enabled', edge), \
         least('bars', '.bar span', e => [contrast(style(e).borderInlineEndColor, ground(e.parentElement))]), \
         least('swatches', '.swatch', e => [contrast(style(e).borderTopColor, ground(e.parentElement))]), \
     ]; })()";

/// The lettering of the drawing is readable, which is 4.5 to 1 (WCAG 2.2, 1.4.3), and whatever else has to be seen lies 3 to 1 apart from
/// what is beside it (1.4.11).
pub(crate) async fn all_is_seen(page: &Page, state: &str) -> Result<()> {
    let least: f64 = page
        .eval(&format!("(() => {{ {CONTRAST} return Math.min(...{LETTERING}); }})()"))
        .await?
        .as_f64()
        .unwrap_or_default();
    assert!(least >= 4.5, "{state}: the figures' contrast is {least}");
    for (kind, contrast, _) in not_text(page).await? {
        // What is not there has none.
        assert!(contrast.is_none_or(|contrast| contrast >= 3.0), "{state}: the contrast of {kind} is {contrast:?}");
    }
    Ok(())
}

/// Each kind of what is not text, with its least contrast and how many of it there are.
pub(crate) async fn not_text(page: &Page) -> Result<Vec<(String, Option<f64>, u64)>> {
    let found: Value = page.eval(&format!("(() => {{ {CONTRAST} return {NOT_TEXT}; }})()")).await?;
    let kinds = found.as_array().into_iter().flatten();
    // Of none of a kind the least is infinite, which is nothing in JSON.
    Ok(kinds
        .map(|kind| (kind[0].as_str().unwrap_or_default().to_owned(), kind[1].as_f64(), kind[2].as_u64().unwrap_or(0)))
        .collect())
}

/// That each kind is there to be judged, and that a fault of one would be seen.
pub(crate) async fn each_kind_is_judged(page: &Page) -> Result<()> {
    let kinds = not_text(page).await?;
    assert!(kinds.len() == 6 && kinds.iter().all(|(_, contrast, many)| contrast.is_some() && *many > 0), "{kinds:?}");
    // Black on black is no contrast at all: 1 to 1; black on white the most there is, 21 to 1.
    for (ink, expected) in [("0, 0, 0", 1.0), ("255, 255, 255", 21.0)] {
        let known =
            page.eval(&format!("(() => {{ {CONTRAST} return contrast('rgb(0, 0, 0)', 'rgb({ink})'); }})()")).await?;
        assert!(known.as_f64().is_some_and(|known| (known - expected).abs() < 1e-9), "{known}");
    }
    let field = "root(0).querySelector('.field input')";
    page.eval(&format!("({field}.style.borderColor = getComputedStyle({field}).backgroundColor, 1)")).await?;
    let faint: Vec<String> =
        not_text(page).await?.into_iter().filter(|kind| kind.1 < Some(3.0)).map(|kind| kind.0).collect();
    assert_eq!(json!(faint), json!(["fields"]));
    page.eval(&format!("({field}.style.borderColor = '', 1)")).await?;
    Ok(())
}
