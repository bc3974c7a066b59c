//! What comes after the first price: when it is fetched, and what a buyer has where it can't be had.

use anyhow::Result;
use scantling_tests::{Engine, Page, Visit};
use serde_json::json;

use crate::{PRICED, READY, nothing_complained};

pub(crate) async fn what_the_price_does_not_need_is_fetched_once_it_is_there(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "index.html#estimate")).await?;
    page.until(READY).await?;
    let times = "(entry => [performance.getEntriesByName('scantling-first-price')[0].startTime <= entry.startTime, \
         performance.getEntriesByType('resource').filter(other => /later.*wasm/.test(other.name)).length])\
         (performance.getEntriesByType('resource').find(entry => /later.*wasm/.test(entry.name)))";
    assert_eq!(page.eval(times).await?, json!([true, 1]), "after the price, and once");
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn without_it_the_price_stands_and_it_can_be_tried_again(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "cut.html")).await?;
    page.until("!!root(0)?.querySelector('.waits button')?.checkVisibility()").await?;
    assert_eq!(page.eval(PRICED).await?, true);
    let price = page.text(0, ".span.delivered .range").await?;
    assert!(page.eval("root(0).querySelector('.plot').innerHTML").await?.to_string().contains("84 in"));
    assert!(page.text(0, ".waits").await?.contains("could not be fetched"));
    assert_eq!(page.eval("[...root(0).querySelectorAll('.actions button')].every(b => b.disabled)").await?, true);
    // The page may still change what is priced.
    page.eval("(document.querySelector('scantling-quote').postalCode = '98101', 1)").await?;
    page.until(&format!("root(0).querySelector('.span.delivered .range').innerText !== {}", json!(price))).await?;
    // Once more in vain, and then the line is mended.
    page.eval("(root(0).querySelector('.waits button').click(), 1)").await?;
    page.until("asked === 2 && root(0).querySelector('.waits button').checkVisibility()").await?;
    assert_eq!(page.eval("root(0).activeElement.part.value").await?, "price", "the focus is not lost");
    page.eval("(window.mended = true, root(0).querySelector('.waits button').click(), 1)").await?;
    page.until(READY).await?;
    assert_eq!(page.eval("label(0, 'Postal code').parentNode.querySelector('input').value").await?, "98101");
    page.type_into(0, "Length", "100").await?;
    page.until("root(0).querySelector('.sheet').innerHTML.includes('100 in')").await?;
    assert_eq!(page.eval("root(0).querySelectorAll('.waits').length").await?, 0);
    page.close().await
}
