//! What comes after the first price: when it is fetched, and what a buyer has where it can't be had.

use anyhow::{Context, Result};
use scantling_tests::{Engine, Page, Visit};
use serde_json::json;
use xtask::server::UNKNOWN;

use crate::{PRICED, READY, nothing_complained};

pub(crate) async fn what_the_price_does_not_need_is_fetched_once_it_is_there(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "index.html#estimate")).await?;
    page.until(READY).await?;
    let times = "(entry => [performance.getEntriesByName('scantling-first-price')[0].startTime <= entry.startTime, \
         performance.getEntriesByType('resource').filter(other => /later.*wasm/.test(other.name)).length])\
         (performance.getEntriesByType('resource').find(entry => /later.*wasm/.test(entry.name)))";
    page.comes_to(times, json!([true, 1])).await.context("after the price, and once")?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn without_it_the_price_stands_and_it_can_be_tried_again(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "cut.html")).await?;
    page.until("!!root(0)?.querySelector('.waits button')?.checkVisibility()").await?;
    page.comes_to(PRICED, true).await?;
    let price = page.text(0, ".span.delivered .range").await?;
    page.until("root(0).querySelector('.plot').innerHTML.includes('84 in')").await?;
    page.until("root(0).querySelector('.waits')?.innerText.includes('could not be fetched')").await?;
    // Its figures are as large at any width, as on a phone that is turned.
    let lettering = "(svg => Math.round(10 * svg.getAttribute('font-size') * svg.clientWidth / svg.viewBox.baseVal.width))\
         (root(0).querySelector('.plot svg'))";
    let large = page.eval(lettering).await?;
    for width in ["320px", ""] {
        page.eval(&format!("(document.querySelector('scantling-quote').style.width = '{width}', 1)")).await?;
        page.comes_to(lettering, large.clone()).await.with_context(|| format!("the width {width:?}"))?;
    }
    page.comes_to("[...root(0).querySelectorAll('.actions button')].every(b => b.disabled)", true).await?;
    // The page may still change what is priced.
    page.eval("(document.querySelector('scantling-quote').postalCode = '98101', 1)").await?;
    page.until(&format!("root(0).querySelector('.span.delivered .range').innerText !== {}", json!(price))).await?;
    // Once more in vain, and then the line is mended.
    page.eval("(root(0).querySelector('.waits button').click(), 1)").await?;
    page.until("asked === 2 && root(0).querySelector('.waits button').checkVisibility()").await?;
    page.comes_to("root(0).activeElement.part.value", "price").await.context("the focus is not lost")?;
    page.eval("(window.mended = true, root(0).querySelector('.waits button').click(), 1)").await?;
    page.until(READY).await?;
    page.comes_to("label(0, 'Postal code').parentNode.querySelector('input').value", "98101").await?;
    page.type_into(0, "Length", "100").await?;
    page.until("root(0).querySelector('.sheet').innerHTML.includes('100 in')").await?;
    page.comes_to("root(0).querySelectorAll('.waits').length", 0).await?;
    page.close().await
}

pub(crate) async fn from_a_host_that_knows_no_wasm_all_of_it_comes(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "index.html#estimate").from_a_host_that_knows_no_wasm()).await?;
    let sent = "fetch('scantling/scantling_widget_bg.wasm').then(answer => answer.headers.get('content-type'))";
    assert_eq!(page.eval(sent).await?, UNKNOWN, "the test has to be of what it says");
    page.until(READY).await?;
    page.type_into(0, "Length", "100").await?;
    page.until("root(0).querySelector('.sheet').innerHTML.includes('100 in')").await?;
    assert_eq!(page.eval("told.filter(([name]) => name === 'scantling-error')").await?, json!([]));
    // Whoever keeps the page is told of the type, once, and of nothing else.
    let complaints = page.complaints().await?;
    let of_the_type = |told: &&String| told.contains("instantiateStreaming") && told.contains("MIME");
    assert!(!complaints.is_empty(), "the console says nothing of the type");
    assert!(complaints.iter().all(|told| of_the_type(&told)), "{complaints:?}");
    page.close().await
}
