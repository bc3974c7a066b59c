//! What those who mean ill may try on the maker's page: the paper on threats names these tests.

use anyhow::Result;
use scantling_tests::{Engine, Page, Visit};
use serde_json::json;

/// Markup that would show that it is taken for markup: by an element that is there, or by what it runs.
const MARKUP: &str = "<img src=x onerror=\"window.taken=1\"><script>window.taken=1</script><b id=brought>bold</b>";

/// Opens a section of the maker's page.
async fn open(page: &Page, section: &str) -> Result<()> {
    let button =
        format!("[...document.querySelectorAll('nav button')].find(b => b.textContent.trim() === {})", json!(section));
    page.until(&format!("!!{button}")).await?;
    page.eval(&format!("({button}.click(), 1)")).await?;
    page.until(&format!("document.querySelector('main h2')?.textContent === {}", json!(section))).await
}

pub(crate) async fn a_request_that_is_full_of_markup_stays_words_on_the_maker_s_page(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "shop.html")).await?;
    open(&page, "Requests").await?;
    let markup = json!(MARKUP);
    let request = format!(
        r#"{{"scantling_request": 1, "shop": {markup}, "brief": {{"scantling_brief": 1, "design": "trestle-table", "delivery": "freight",
        "destination": {{"country": "US", "postal_code": "60601"}}}}, "told": {{"edition": "2026-11-25", "currency": "USD", "low": "4050",
        "likely": "4490", "high": "5055"}}, "from": {{"name": {markup}, "mail": "buyer@home.example", "message": {markup}}}}}"#
    );
    let pasted = json!(request);
    let paste = format!(
        "(t => (t.value = {pasted}, t.dispatchEvent(new Event('change')), 1))(document.getElementById('request-text'))"
    );
    page.eval(&paste).await?;
    page.until("document.querySelector('main').textContent.includes('<img src=x')").await?;
    page.comes_to("[window.taken ?? 0, document.querySelectorAll('#brought, main script').length]", json!([0, 0]))
        .await?;
    page.close().await
}

pub(crate) async fn the_maker_s_page_can_neither_fetch_nor_send_nor_load_a_script(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "shop.html")).await?;
    open(&page, "Pricing").await?;
    // As a script that had got in would try it.
    let fetched = "fetch('price-book.json').then(() => 'fetched', () => 'refused')";
    page.comes_to(fetched, "refused").await?;
    page.eval(
        "(navigator.sendBeacon?.('receiver', 'all of it'), new Image().src = 'https://elsewhere.example/a.png', 1)",
    )
    .await?;
    let script = "(() => { const script = document.createElement('script'); \
         try { script.src = 'watch.js'; } catch { return 'refused'; } \
         return new Promise(done => { script.onload = () => done('loaded'); script.onerror = () => done('refused'); document.head.append(script); }); })()";
    page.comes_to(script, "refused").await?;
    page.until("refused.some(one => one.startsWith('connect-src')) && refused.some(one => one.startsWith('img-src'))")
        .await?;
    page.close().await
}
