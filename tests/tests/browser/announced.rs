//! What a screen reader says by itself: the price, once typing rests, and nothing while a buyer types.

use std::time::Duration;

use anyhow::{Context, Result};
use scantling_tests::{Engine, Page, Visit};
use serde_json::{Value, json};

use crate::{AT_REST, READY, nothing_complained};

/// As fast as a person types.
const TYPED_EVERY: Duration = Duration::from_millis(100);

/// A machine that is busy elsewhere may take so long from one key to the next, or for a frame, in milliseconds, that to the widget the
/// buyer has rested meanwhile.
const RESTED: f64 = 400.0;

/// So often is it typed on such a machine.
const TRIES: usize = 6;

/// Keeps what is put where a screen reader listens, each with the time, and what stands there already; when keys come, and when
/// frames begin.
const LISTEN: &str = "(() => { window.heard = []; window.keys = []; \
     const live = '[role=status], [role=alert], [aria-live]'; \
     const hear = text => { if (text.trim()) heard.push([performance.now(), text.trim()]); }; \
     for (const place of root(0).querySelectorAll(live)) hear(place.textContent); \
     new MutationObserver(changes => { \
         const places = changes.map(({ target }) => (target.closest ? target : target.parentElement)?.closest(live)); \
         for (const place of new Set(places)) if (place) hear(place.textContent); \
     }).observe(root(0), { subtree: true, childList: true, characterData: true }); \
     addEventListener('keydown', () => keys.push(performance.now()), true); \
     window.frames_from = [performance.now()]; \
     const frame = () => { frames_from.push(performance.now()); requestAnimationFrame(frame); }; \
     requestAnimationFrame(frame); \
     return 1; })()";

/// The longest time from one key to the next, or that a frame took which began while keys came.
const LONGEST: &str = "Math.max(...keys.slice(1).map((at, i) => at - keys[i]), \
     ...frames_from.slice(1).map((at, i) => [frames_from[i], at]).filter(([from, to]) => to > keys[0] && from < keys.at(-1) + 50).map(([from, to]) => to - from))";

/// Waits far longer than typing has to rest, by the page's own clock, for what must not be said.
async fn in_a_while(page: &Page) -> Result<()> {
    page.eval("(window.passed = false, setTimeout(() => (window.passed = true), 1500), 1)").await?;
    page.until("passed").await
}

/// Brings the focus into the field for the length, all of it selected, so that keys write over it.
async fn into_the_length(page: &Page) -> Result<()> {
    page.eval("(field => (field.focus(), field.select(), 1))(root(0).getElementById(label(0, 'Length').htmlFor))")
        .await?;
    Ok(())
}

/// Types a length of ten letters and rests, until the machine has been quick enough that a buyer who types so has not rested before.
async fn type_ten_keys(page: &Page) -> Result<()> {
    let mut longest = 0.0;
    for _ in 0..TRIES {
        // From a price that has been said, however long that took.
        page.eval("(heard.length = 0, 1)").await?;
        into_the_length(page).await?;
        page.press_text_at("84", TYPED_EVERY).await?;
        page.until("heard.length > 0").await?;
        in_a_while(page).await?;
        into_the_length(page).await?;
        page.eval("(heard.length = keys.length = 0, 1)").await?;
        page.press_text_at("7 ft 2 1/2", TYPED_EVERY).await?;
        page.until("keys.length === 10 && heard.length > 0").await?;
        in_a_while(page).await?;
        longest = page.eval(LONGEST).await?.as_f64().context("no time between keys")?;
        if longest < RESTED {
            return Ok(());
        }
    }
    anyhow::bail!("the machine took {longest} ms for a key or a frame, {TRIES} times")
}

pub(crate) async fn a_price_is_said_once_typing_rests_and_nothing_else_is(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "")).await?;
    page.until(READY).await?;
    page.eval(LISTEN).await?;
    page.until(AT_REST).await?;
    in_a_while(&page).await?;
    assert_eq!(page.eval("heard").await?, json!([]), "what is there at first is read with the page");

    type_ten_keys(&page).await?;
    let heard = page.eval("heard").await?;
    let [said] = heard.as_array().map(Vec::as_slice).context("a list")? else {
        anyhow::bail!("ten keys bring one price to be said: {heard}");
    };
    let (at, said) = (said[0].as_f64().context("a time")?, said[1].as_str().context("words")?);
    let last = page.eval("keys.at(-1)").await?.as_f64().context("a time")?;
    assert!(at > last, "said at {at}, and the last key came at {last}");
    page.comes_to("root(0).querySelector('.plot').innerHTML.includes('86 1/2 in')", true).await?;
    let likely = page.text(0, ".span.delivered .likely").await?;
    let price = likely.strip_prefix("likely ").context("a likely price")?;
    assert!(said.contains(price), "{said} tells {price}");

    // Keys that change no price.
    for (keys, what) in [(" ", "a space"), ("\u{E011}\u{E010}", "to the start of the field and its end")] {
        page.press_text_at(keys, TYPED_EVERY).await?;
        in_a_while(&page).await?;
        page.comes_to("heard.length", 1).await.with_context(|| format!("{what} is no other price"))?;
    }
    // That a price which is another would be said.
    into_the_length(&page).await?;
    page.press_text_at("96", TYPED_EVERY).await?;
    page.comes_to("heard.length", 2).await?;
    let said: Value = page.eval("heard[0][1] !== heard[1][1]").await?;
    assert_eq!(said, true);
    nothing_complained(&page).await?;
    page.close().await
}
