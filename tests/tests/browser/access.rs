//! What keeps people out: axe-core over the whole demo page, the widget's shadow root included, in each state a buyer meets.

use anyhow::Result;
use scantling_tests::{Engine, Key, Page, Scheme, Visit};

use crate::{AT_REST, contrast, nothing_complained};

/// A field says that it can't be taken.
const REFUSED: &str = "!!root(0).querySelector('[aria-invalid=true]')";

/// One of the ways of delivery is not to be had, and says why.
const NOT_EVERY_WAY: &str = "!!root(0).querySelector('.ways input:disabled')";

pub(crate) async fn axe_finds_nothing_in_any_state(engine: Engine) -> Result<()> {
    no_faults_in_states(Visit::new(engine, "")).await
}

pub(crate) async fn axe_finds_nothing_in_the_dark(engine: Engine) -> Result<()> {
    no_faults_in_states(Visit::new(engine, "").coloured(Scheme::Dark)).await
}

/// The states, one after the other in the same browser.
async fn no_faults_in_states(visit: Visit<'_>) -> Result<()> {
    let page = Page::open(visit.with_axe()).await?;
    page.until(AT_REST).await?;
    let still = page.eval("matchMedia('(prefers-reduced-motion: reduce)').matches").await?;
    assert_eq!(still, true, "every test counts on a page that does not move by itself");
    let dark = page.eval("matchMedia('(prefers-color-scheme: dark)').matches").await?;
    assert_eq!(dark, visit.is_dark(), "the page must be shown in the colours that are asked for");
    no_faults(&page, "as it is loaded").await?;

    page.type_into(0, "Length", "9").await?;
    page.until(REFUSED).await?;
    no_faults(&page, "with a size that can't be taken").await?;

    page.type_into(0, "Length", "96").await?;
    page.type_into(0, "Postal code", "98101").await?;
    page.until(NOT_EVERY_WAY).await?;
    no_faults(&page, "delivered where not every way goes").await?;

    page.eval("(root(0).querySelectorAll('.folded').forEach(e => (e.open = true)), root(0).querySelector('.each').click(), 1)")
        .await?;
    page.until("root(0).querySelectorAll('.folded[open]').length === 3 && !!root(0).querySelector('.telling')").await?;
    no_faults(&page, "with all of the form unfolded").await?;

    page.eval("document.querySelector('scantling-quote').setAttribute('design', 'bookcase')").await?;
    page.until("root(0).querySelector('.cautions').innerText.includes('fixed to the wall')").await?;
    no_faults(&page, "with cautions").await?;

    page.eval("(root(0).querySelector('.proposals details').open = true)").await?;
    page.type_into(0, "What you would spend", "nothing").await?;
    page.press(Key::Enter).await?;
    page.until(REFUSED).await?;
    no_faults(&page, "with a sum that is none, and all that moves the price").await?;

    page.type_into(0, "What you would spend", "900").await?;
    page.press(Key::Enter).await?;
    page.until("!!root(0).querySelector('.plans button')").await?;
    no_faults(&page, "with what fits a budget").await?;

    let press = "(text => [...root(0).querySelectorAll('button')].find(b => b.textContent === text).click())";
    page.eval(&format!("({press}('Keep this estimate'), {press}('Link to it'), {press}('Copy the text'), 1)")).await?;
    page.until("!!root(0).querySelector('.kept table') && !!root(0).querySelector('.link input')?.value").await?;
    page.until("root(0).querySelectorAll('.request [aria-invalid=\"true\"]').length === 3").await?;
    no_faults(&page, "with an estimate kept, its link, and a request that lacks its sender").await?;
    page.eval(&format!("({press}('Delete'), 1)")).await?;
    page.until("!root(0).querySelector('.kept table') && !!root(0).querySelector('.kept button')").await?;
    no_faults(&page, "with a kept estimate to put back").await?;

    page.eval("document.querySelector('scantling-quote').setAttribute('language', 'de')").await?;
    page.until(&format!("{AT_REST} && root(0).querySelector('[lang]').lang === 'de'")).await?;
    no_faults(&page, "in another language than the page").await?;
    nothing_complained(&page).await?;

    // That a fault inside the shadow root would be found, and one of contrast.
    contrast::each_kind_is_judged(&page).await?;
    page.eval("(root(0).querySelector('.sizes .row label').remove(), 1)").await?;
    let faults = page.faults_of_access().await?;
    assert!(faults.iter().any(|fault| fault.starts_with("label; scantling-quote ")), "{faults:?}");
    page.close().await
}

pub(crate) async fn no_faults(page: &Page, state: &str) -> Result<()> {
    let faults = page.faults_of_access().await?;
    assert!(faults.is_empty(), "{state}:\n{}", faults.join("\n"));
    // What axe can't judge.
    contrast::all_is_seen(page, state).await
}
