//! What keeps people out, in the states a buyer seldom meets: while the form is not there yet, after an undo, with what comes of a link
//! and of a request.
//!
//! In one browser and one visit, since engines don't differ in what the widget puts there: each state is judged in the light in a window
//! as wide as a desk's, and in the dark in one of 280 pixels.

use anyhow::{Context, Result};
use scantling_tests::{Engine, Page, Visit};
use serde_json::json;

use crate::access::no_faults;
use crate::{AT_REST, PRICED, READY};

/// The colours and the window of each look.
const LOOKS: [(&str, u32, u32); 2] = [("light", 1280, 1000), ("dark", 280, 653)];

/// Presses a button of the widget by what it says.
const PRESS: &str =
    "(text => ([...root(0).querySelectorAll('button')].find(b => b.textContent.trim().startsWith(text)).click(), 1))";

/// The element on the page.
const QUOTE: &str = "document.querySelector('scantling-quote')";

/// Shows the page in these colours, in a window of this size.
async fn look(page: &Page, (scheme, width, height): (&str, u32, u32)) -> Result<()> {
    let features = json!([
        { "name": "prefers-color-scheme", "value": scheme },
        { "name": "prefers-reduced-motion", "value": "reduce" },
    ]);
    page.tell_browser("Emulation.setEmulatedMedia", json!({ "media": "screen", "features": features })).await?;
    let size = json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false });
    page.tell_browser("Emulation.setDeviceMetricsOverride", size).await?;
    let shown = format!("[innerWidth, matchMedia('(prefers-color-scheme: {scheme})').matches]");
    page.comes_to(&shown, json!([width, true])).await
}

/// Finds no fault in any look; the last one is the first again.
async fn no_faults_in_any_look(page: &Page, state: &str) -> Result<()> {
    for shown in LOOKS {
        look(page, shown).await?;
        no_faults(page, &format!("{state}, {shown:?}")).await?;
    }
    look(page, LOOKS[0]).await
}

async fn press(page: &Page, button: &str) -> Result<()> {
    page.eval(&format!("{PRESS}({})", json!(button))).await?;
    Ok(())
}

pub(crate) async fn axe_finds_nothing_in_rarer_states(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "index.html#estimate").with_axe_on_a_line_that_is_cut()).await?;
    before_the_form(&page).await?;
    while_it_is_changed(&page).await?;
    opened_by_a_link(&page).await?;
    sent(&page).await?;
    page.eval("(document.documentElement.dir = 'rtl', 1)").await?;
    no_faults_in_any_look(&page, "from right to left").await?;
    // What was cut off and refused on purpose is all that a maker would find.
    assert_eq!(page.eval("refused").await?, json!([]), "the policy refused something");
    let on_purpose = "complained.filter(told => !/the line is cut/.test(told))";
    assert_eq!(page.eval(on_purpose).await?, json!([]));
    page.close().await
}

/// The price and the drawing alone: what can't be had, and what is on its way.
async fn before_the_form(page: &Page) -> Result<()> {
    page.until("root(0)?.querySelector('.waits')?.innerText.includes('could not be fetched')").await?;
    page.comes_to(PRICED, true).await?;
    no_faults_in_any_look(page, "where the form could not be fetched").await?;
    page.eval("(window.held = true, 1)").await?;
    press(page, "Try again").await?;
    page.until("!!window.let_go && root(0).querySelector('.waits').innerText.includes('on its way')").await?;
    no_faults_in_any_look(page, "before the form has come").await?;
    page.eval("(let_go(), 1)").await?;
    page.until(AT_REST).await
}

/// A figure of the drawing open, and a saving taken and undone.
async fn while_it_is_changed(page: &Page) -> Result<()> {
    for shown in LOOKS {
        look(page, shown).await?;
        page.eval("(handle => (handle.focus(), handle.dispatchEvent(new KeyboardEvent('keydown', { key: 'Enter', bubbles: true, composed: true, cancelable: true })), 1))(root(0).querySelector('.handle[data-size=length]'))").await?;
        page.until("!root(0).querySelector('input.typed').hidden").await?;
        no_faults(page, "with a figure of the drawing open").await?;
        page.comes_to("root(0).querySelector('input.typed').checkVisibility()", true)
            .await
            .context("it was open all the while")?;
    }
    look(page, LOOKS[0]).await?;
    page.eval("(root(0).activeElement.dispatchEvent(new KeyboardEvent('keydown', { key: 'Escape', bubbles: true, composed: true, cancelable: true })), 1)").await?;
    page.until("root(0).querySelector('input.typed').hidden").await?;

    page.eval("(root(0).querySelector('.proposals .moves button').click(), 1)").await?;
    page.until("!!root(0).querySelector('.undo')").await?;
    no_faults_in_any_look(page, "with something to undo").await?;
    page.eval("(root(0).querySelector('.undo').click(), 1)").await?;
    page.until("!root(0).querySelector('.undo')").await?;
    no_faults_in_any_look(page, "after an undo").await
}

/// What a link says of itself: that it was opened, and that prices have changed since.
async fn opened_by_a_link(page: &Page) -> Result<()> {
    let notice = "root(0).querySelector('.actions .notice').innerText";
    press(page, "Link to it").await?;
    page.until("!!root(0).querySelector('.link input')?.value").await?;
    page.eval("(location.hash = root(0).querySelector('.link input').value.split('#')[1], 1)").await?;
    page.until(&format!("{notice}.includes('Opened from a link')")).await?;
    no_faults_in_any_look(page, "opened by a link").await?;
    page.eval(&format!("({QUOTE}.book = 'receiver/price-book.json?edition=2027-05-01', 1)")).await?;
    page.until(&format!("{READY} && {notice}.includes('May 1, 2027')")).await?;
    no_faults_in_any_look(page, "by a link of earlier prices").await
}

/// A request that was refused, sent, and one that waits.
async fn sent(page: &Page) -> Result<()> {
    let outcome =
        |words: &str| format!("root(0).querySelector('.request .said').textContent.includes({})", json!(words));
    page.type_into(0, "Your name", "Ada Byer").await?;
    page.type_into(0, "Your mail address", "ada@home.example").await?;
    page.pick(0, "Larkmoor Bench may use my name").await?;
    page.eval("fetch('/receiver?refuse=400x1').then(() => 1)").await?;
    for (state, words) in [("refused", "(answer 400)"), ("sent", "Sent.")] {
        press(page, "Send it to Larkmoor Bench").await?;
        page.until(&outcome(words)).await?;
        no_faults_in_any_look(page, &format!("with a request that was {state}")).await?;
    }
    page.eval("(window.no_post = true, 1)").await?;
    press(page, "Send it to Larkmoor Bench").await?;
    page.until("root(0).querySelector('.waiting')?.textContent.includes('One request waits')").await?;
    no_faults_in_any_look(page, "with a request that waits").await
}
