//! The measured drawing as a buyer handles it: sizes pulled by mouse and finger, moved by keys, typed over their figures.
#![expect(clippy::float_arithmetic, reason = "pixels of the window")]

use anyhow::{Context, Result};
use scantling_tests::{Engine, Mouse, Page, Visit};
use serde_json::{Value, json};

use crate::nothing_complained;

/// The drawing is there, with its handles, and laid out.
const READY: &str =
    "!!root(0)?.querySelector('.handle[data-size=\"height\"]') && !!root(0)?.querySelector('.range')?.innerText";

/// Opens the demo page, does this on it, and sees that nothing went wrong that a maker would find in the console.
async fn visit(engine: Engine, deeds: impl AsyncFnOnce(&Page) -> Result<()>) -> Result<()> {
    let page = Page::open(Visit::new(engine, "")).await?;
    page.until(READY).await?;
    page.eval("(root(0).querySelector('.plot').scrollIntoView({ block: 'center', behavior: 'instant' }), 1)").await?;
    deeds(&page).await?;
    nothing_complained(&page).await?;
    page.close().await
}

/// An attribute of a dimension's handle comes to be this.
async fn says(page: &Page, dimension: &str, attribute: &str, text: &str) -> Result<()> {
    page.comes_to(&format!("{}.getAttribute('{attribute}')", handle(dimension)), text).await
}

fn handle(dimension: &str) -> String {
    format!("root(0).querySelector('.handle[data-size=\"{dimension}\"]')")
}

/// A field of the form comes to hold this: the form and the drawing are one.
async fn holds(page: &Page, label: &str, text: &str) -> Result<()> {
    page.comes_to(&format!("root(0).getElementById(label(0, '{label}').htmlFor).value"), text).await
}

/// Where the middle of a handle is in the window, and how many millimetres of the sheet a pixel is.
async fn middle(page: &Page, dimension: &str) -> Result<(f64, f64, f64)> {
    let script = format!(
        "(box => [box.x + box.width / 2, box.y + box.height / 2, \
         (svg => svg.viewBox.baseVal.width / svg.getBoundingClientRect().width)({0}.ownerSVGElement)])({0}.getBoundingClientRect())",
        handle(dimension)
    );
    let place = page.eval(&script).await?;
    let number = |i: usize| place.get(i).and_then(Value::as_f64).context("no place");
    Ok((number(0)?, number(1)?, number(2)?))
}

async fn finger(page: &Page, what: &str, at: Option<(f64, f64)>) -> Result<()> {
    let points: Vec<Value> = at.iter().map(|(x, y)| json!({ "x": x, "y": y })).collect();
    page.tell_browser("Input.dispatchTouchEvent", json!({ "type": what, "touchPoints": points })).await?;
    Ok(())
}

/// Presses a key on a handle that has the focus.
async fn press(page: &Page, dimension: &str, key: &str) -> Result<()> {
    let event =
        format!("new KeyboardEvent('keydown', {{ key: '{key}', bubbles: true, composed: true, cancelable: true }})");
    page.eval(&format!("({0}.focus(), {0}.dispatchEvent({event}), 1)", handle(dimension))).await?;
    Ok(())
}

pub(crate) async fn a_size_is_pulled_by_the_mouse_also_past_the_sheet_and_stops_at_its_limit(
    engine: Engine,
) -> Result<()> {
    visit(engine, async |page| {
        let before = page.text(0, "tfoot td").await?;
        let (x, y, scale) = middle(page, "length").await?;
        page.mouse(Mouse::Move, (x, y)).await?;
        page.mouse(Mouse::Press, (x, y)).await?;
        // 5 inches at the sheet's own scale, then far off the sheet and of the window's other half.
        page.mouse(Mouse::Move, (x + 127.0 / scale, y + 3.0)).await?;
        page.until(&format!("{}.getAttribute('aria-valuenow') === '89'", handle("length"))).await?;
        holds(page, "Length", "89 in").await?;
        page.until("[...root(0).querySelectorAll('.plot .figure')].some(f => f.textContent === '89 in')").await?;
        // The handle is under the pointer still, to within half a step and the rounding to millimetres.
        let (now, ..) = middle(page, "length").await?;
        assert!((now - x - 127.0 / scale).abs() < 16.0 / scale + 1.0, "{now} for {}", x + 127.0 / scale);
        page.mouse(Mouse::Move, (x + 700.0, y - 200.0)).await?;
        page.until(&format!("{}.getAttribute('aria-valuenow') === '108'", handle("length"))).await?;
        let why = "Shorter, the trestles stand in each other's way; longer, it would take a third.";
        let told = format!("108 in is the most that is built. {why}");
        page.comes_to("root(0).querySelector('.told').innerText", told).await.context("a limit is explained")?;
        page.mouse(Mouse::Release, (x + 700.0, y - 200.0)).await?;
        // The price has followed.
        page.until(&format!("root(0).querySelector('tfoot td').innerText !== {}", json!(before))).await?;
        // Let go, it follows no more.
        page.mouse(Mouse::Move, (x - 300.0, y)).await?;
        says(page, "length", "aria-valuenow", "108").await?;
        // Nor is a pull that ends on the handle taken for a click on its figure.
        let (x, y, _) = middle(page, "length").await?;
        page.mouse(Mouse::Press, (x, y)).await?;
        page.mouse(Mouse::Release, (x, y)).await?;
        page.until(&format!("root(0).activeElement === {}", handle("length"))).await?;
        page.comes_to("root(0).querySelector('input.typed').hidden", true).await?;
        Ok(())
    })
    .await
}

pub(crate) async fn a_size_is_pulled_by_a_finger_and_the_page_does_not_scroll_away(engine: Engine) -> Result<()> {
    visit(engine, async |page| {
        page.tell_browser("Emulation.setTouchEmulationEnabled", json!({ "enabled": true })).await?;
        let (x, y, scale) = middle(page, "height").await?;
        let scrolled = page.eval("scrollY").await?;
        finger(page, "touchStart", Some((x, y))).await?;
        finger(page, "touchMove", Some((x + 1.0, y + 10.0))).await?;
        finger(page, "touchMove", Some((x + 2.0, y + 2000.0 / scale))).await?;
        page.until(&format!(
            "{}.getAttribute('aria-valuetext').startsWith('28 in is the least that is built.')",
            handle("height")
        ))
        .await?;
        finger(page, "touchEnd", None).await?;
        assert_eq!(page.eval("scrollY").await?, scrolled);
        holds(page, "Height", "28 in").await?;
        Ok(())
    })
    .await
}

pub(crate) async fn handles_are_sliders_for_the_keyboard(engine: Engine) -> Result<()> {
    visit(engine, async |page| {
        page.comes_to("root(0).querySelectorAll('[role=slider]').length", 3).await?;
        for (attribute, expected) in [
            ("role", "slider"),
            ("tabindex", "0"),
            ("aria-label", "Width on the drawing"),
            ("aria-orientation", "vertical"),
            ("aria-valuemin", "32"),
            ("aria-valuemax", "44"),
            ("aria-valuenow", "38"),
            ("aria-valuetext", "38 in"),
        ] {
            says(page, "width", attribute, expected).await?;
        }
        // The step of the width is half an inch, and it may be 32 to 44 in; the book says why.
        let why = "Narrower, plates meet in the middle; wider, nobody reaches across.";
        for (key, expected) in [
            ("ArrowUp", "38 1/2 in"),
            ("ArrowRight", "39 in"),
            ("ArrowDown", "38 1/2 in"),
            ("ArrowLeft", "38 in"),
            ("PageUp", "43 in"),
            ("PageUp", "44 in is the most that is built."),
            ("PageDown", "39 in"),
            ("Home", "32 in is the least that is built."),
            ("ArrowDown", "32 in is the least that is built."),
            ("End", "44 in is the most that is built."),
            ("x", "44 in is the most that is built."),
        ] {
            press(page, "width", key).await?;
            let told = if expected.ends_with('.') { format!("{expected} {why}") } else { expected.to_owned() };
            says(page, "width", "aria-valuetext", &told).await?;
        }
        page.comes_to(&format!("root(0).activeElement === {}", handle("width")), true)
            .await
            .context("the focus stays")?;
        holds(page, "Width", "44 in").await?;
        page.pick(0, "Millimetres").await?;
        page.until(&format!("{}.getAttribute('aria-valuenow') === '1117.6'", handle("width"))).await?;
        says(page, "width", "aria-valuetext", &format!("1117.6 mm is the most that is built. {why}")).await?;
        // Whoever reads millimetres reads cubic and square metres and kilograms.
        let details = "root(0).querySelector('.details').innerText";
        page.until(&format!(
            "/[\\d.]+ m³ of timber to buy, [\\d.]+ m² to finish, about [\\d.]+ kg each/.test({details})"
        ))
        .await?;
        page.comes_to(&format!("/board f|sq ft|cu in|\\d lb|mile/.exec({details})"), json!(null)).await?;
        Ok(())
    })
    .await
}

pub(crate) async fn a_figure_turns_into_a_field(engine: Engine) -> Result<()> {
    visit(engine, async |page| {
        let open = "!root(0).querySelector('input.typed').hidden";
        let ask = "root(0).querySelector('.ask[data-size=\"length\"]')";
        let box_of = "(b => [b.x + b.width / 2, b.y + b.height / 2])";
        let at = page.eval(&format!("{box_of}({ask}.getBoundingClientRect())")).await?;
        let (x, y) = (at[0].as_f64().context("no place")?, at[1].as_f64().context("no place")?);
        page.mouse(Mouse::Press, (x, y)).await?;
        page.mouse(Mouse::Release, (x, y)).await?;
        page.until(open).await?;
        let typed = "root(0).querySelector('input.typed')";
        page.comes_to(&format!("[{typed}.value, root(0).activeElement === {typed}]"), json!(["84 in", true])).await?;
        let write = |text: &str| {
            format!("({typed}.value = {}, {typed}.dispatchEvent(new Event('input', {{ bubbles: true, composed: true }})), 1)", json!(text))
        };
        let key = |key: &str| {
            format!("({typed}.dispatchEvent(new KeyboardEvent('keydown', {{ key: '{key}', bubbles: true, composed: true, cancelable: true }})), 1)")
        };
        page.eval(&write("6' 2\"")).await?;
        page.until(&format!("{}.getAttribute('aria-valuetext') === '74 in'", handle("length"))).await?;
        // What can't be taken is said beside it, and kept as typed.
        page.eval(&write("20 ft")).await?;
        page.until("root(0).querySelector('.told.fault')?.innerText.includes('60 in to 108 in')").await?;
        page.comes_to(&format!("[{typed}.getAttribute('aria-invalid'), {typed}.value]"), json!(["true", "20 ft"])).await?;
        holds(page, "Length", "20 ft").await?;
        // Escape brings back what was there, and the focus goes on from the handle.
        page.eval(&key("Escape")).await?;
        page.until("root(0).querySelector('input.typed').hidden").await?;
        holds(page, "Length", "84 in").await?;
        page.until(&format!("root(0).activeElement === {}", handle("length"))).await?;
        // Enter on a handle opens it, Enter in it keeps what is typed.
        press(page, "length", "Enter").await?;
        page.until(open).await?;
        page.eval(&write("90")).await?;
        page.eval(&key("Enter")).await?;
        page.until("root(0).querySelector('input.typed').hidden").await?;
        page.until(&format!("{}.getAttribute('aria-valuetext') === '90 in'", handle("length"))).await?;
        holds(page, "Length", "90").await?;
        Ok(())
    })
    .await
}

pub(crate) async fn the_sheet_says_what_it_shows_and_stands_still_while_sizes_change(engine: Engine) -> Result<()> {
    visit(engine, async |page| {
        let described = "[...root(0).querySelectorAll('.sheet svg')].map(svg => svg.getAttribute('aria-describedby')).map(id => root(0).getElementById(id).textContent)";
        let told = page.eval(described).await?;
        for i in [0, 1] {
            let told = told[i].as_str().context("no description")?;
            assert!(told.starts_with("Length 84 in, Width 38 in, Height 29 1/2 in. Top: Black walnut;"), "{told}");
            // Source: shared/reference/trade/furniture_rules.md, 24 in of table for each diner.
            assert!(told.ends_with("Seats 6 along its sides, 24 in for each."), "{told}");
        }
        page.comes_to("[...root(0).querySelectorAll('.sheet svg title')].map(t => t.namespaceURI.endsWith('svg') && t.textContent)", json!(["Trestle dining table, seen whole from the front, the right and above", "Trestle dining table, measured, from above, from the front and from its right-hand end"])).await?;
        let high = "root(0).querySelector('.sheet').getBoundingClientRect().height";
        let before = page.eval(high).await?;
        press(page, "length", "Home").await?;
        page.until(&format!("{}.getAttribute('aria-valuenow') === '60'", handle("length"))).await?;
        assert_eq!(page.eval(high).await?, before, "nothing on the page moves");
        page.until(&format!("{described}[0].includes('Seats 4')")).await?;
        // Every line is as thin as the screen draws it, at any scale.
        let lines = "[...root(0).querySelectorAll('.sheet path:not(.reach, .ask)')].every(p => getComputedStyle(p).vectorEffect === 'non-scaling-stroke')";
        page.comes_to(lines, true).await?;
        // Another design has handles of its own.
        page.pick(0, "River low table").await?;
        page.until("!!root(0).querySelector('.handle[data-size=\"channel\"]')").await?;
        press(page, "channel", "PageUp").await?;
        page.until(&format!("{}.getAttribute('aria-valuetext').startsWith('6 in is the most that is built.')", handle("channel"))).await?;
        holds(page, "Width of the resin", "6 in").await?;
        Ok(())
    })
    .await
}

pub(crate) async fn taken_away_it_stops_listening(engine: Engine) -> Result<()> {
    visit(engine, async |page| {
        page.eval(
            "(window.stopped = { watching: 0, hearing: 0 }, \
             (disconnect => ResizeObserver.prototype.disconnect = function () { stopped.watching += 1; return disconnect.call(this); })(ResizeObserver.prototype.disconnect), \
             (remove => EventTarget.prototype.removeEventListener = function (name, ...rest) { stopped.hearing += name === 'pointermove'; return remove.call(this, name, ...rest); })(EventTarget.prototype.removeEventListener), 1)",
        )
        .await?;
        page.eval("(document.querySelector('scantling-quote').remove(), 1)").await?;
        page.until("stopped.watching === 1 && stopped.hearing === 1").await
    })
    .await
}
