//! What a screen reader says by itself: the price, once typing rests, and nothing while a buyer types.

use std::time::Duration;

use anyhow::{Context, Result};
use scantling_tests::{Engine, Page, Visit};
use serde_json::{Value, json};

use crate::{AT_REST, READY, nothing_complained};

/// As fast as a person types.
const TYPED_EVERY: Duration = Duration::from_millis(100);

/// As long as the widget waits before it takes typing to rest, in milliseconds. On a machine that is busy elsewhere a key may come later
/// than that after the one before: to the widget, that buyer has rested.
const REST: i64 = 700;

/// For a timer that is a hair early.
const EARLY: i64 = 20;

/// Keeps what is put where a screen reader listens, each with the time, and what stands there already; and when what keys wrote comes.
const LISTEN: &str = "(() => { window.heard = []; window.keys = []; \
     const live = '[role=status], [role=alert], [aria-live]'; \
     const hear = text => { if (text.trim()) heard.push([Math.round(performance.now()), text.trim()]); }; \
     for (const place of root(0).querySelectorAll(live)) hear(place.textContent); \
     new MutationObserver(changes => { \
         const places = changes.map(({ target }) => (target.closest ? target : target.parentElement)?.closest(live)); \
         for (const place of new Set(places)) if (place) hear(place.textContent); \
     }).observe(root(0), { subtree: true, childList: true, characterData: true }); \
     addEventListener('input', () => keys.push(Math.round(performance.now())), true); \
     return 1; })()";

/// Whether nothing has been said within the time in which the widget waits after a key.
fn said_at_rest_only(heard: &[(i64, String)], keys: &[i64]) -> bool {
    let soon_after = |at: i64, key: i64| at > key && at < key + REST - EARLY;
    !heard.iter().any(|(at, _)| keys.iter().any(|key| soon_after(*at, *key)))
}

/// How often the buyer rested, as it came to the widget.
fn rests(keys: &[i64]) -> usize {
    keys.windows(2).filter(|pair| pair[1] - pair[0] >= REST - EARLY).count() + 1
}

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

/// Types a length of ten letters and rests; gives when each key came, and what was said.
async fn type_ten_keys(page: &Page) -> Result<(Vec<i64>, Vec<(i64, String)>)> {
    into_the_length(page).await?;
    page.eval("(heard.length = keys.length = 0, 1)").await?;
    page.press_text_at("7 ft 2 1/2", TYPED_EVERY).await?;
    page.until("keys.length === 10 && heard.some(([at]) => at > keys[9])").await?;
    in_a_while(page).await?;
    let (keys, heard) = (page.eval("keys").await?, page.eval("heard").await?);
    Ok((serde_json::from_value(keys)?, serde_json::from_value(heard)?))
}

pub(crate) async fn a_price_is_said_once_typing_rests_and_nothing_else_is(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "")).await?;
    page.until(READY).await?;
    page.eval(LISTEN).await?;
    page.until(AT_REST).await?;
    in_a_while(&page).await?;
    assert_eq!(page.eval("heard").await?, json!([]), "what is there at first is read with the page");

    let (keys, said) = type_ten_keys(&page).await?;
    assert!(said_at_rest_only(&said, &keys), "nothing is said while keys come: {said:?} after keys at {keys:?}");
    assert!(said.len() <= rests(&keys), "ten keys bring one price to be said: {said:?} after keys at {keys:?}");
    let (_, said) = said.last().context("the price is said")?;
    page.comes_to("root(0).querySelector('.plot').innerHTML.includes('86 1/2 in')", true).await?;
    let likely = page.text(0, ".span.delivered .likely").await?;
    let price = likely.strip_prefix("likely ").context("a likely price")?;
    assert!(said.contains(price), "{said} tells {price}");
    page.eval("(heard.length = 0, 1)").await?;

    // Keys that change no price.
    for (keys, what) in [(" ", "a space"), ("\u{E011}\u{E010}", "to the start of the field and its end")] {
        page.press_text_at(keys, TYPED_EVERY).await?;
        in_a_while(&page).await?;
        page.comes_to("heard.length", 0).await.with_context(|| format!("{what} is no other price"))?;
    }
    // That a price which is another would be said.
    into_the_length(&page).await?;
    page.press_text_at("96", TYPED_EVERY).await?;
    page.until("heard.length > 0").await?;
    page.comes_to(&format!("heard.at(-1)[1] !== {}", Value::from(said.as_str())), true).await?;
    nothing_complained(&page).await?;
    page.close().await
}
