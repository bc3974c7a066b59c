//! The demo page and the element in Chromium, under the strict policy, as a buyer uses them.

use std::time::Duration;

use anyhow::{Context, Result};
use scantling_tests::{Chromium, Page};
use serde_json::json;
use xtask::server::{NO_WASM_POLICY, STRICT_POLICY};

/// The widget shows a price.
const READY: &str = "!!root(0)?.querySelector('.range')?.innerText";

/// The longest a whole visit may take: a browser that has stopped answering must fail the test, not hold it up for ever.
const VISIT: Duration = Duration::from_secs(240);

/// Runs a visit within its time.
async fn within<T>(visit: impl Future<Output = Result<T>>) -> Result<T> {
    tokio::time::timeout(VISIT, visit).await.context("the browser stopped answering")?
}

async fn page(path: &str, policy: &'static str) -> Result<(Chromium, Page)> {
    Page::open(path, policy).await
}

/// Nothing went wrong that a maker would find in the browser's console.
async fn nothing_complained(page: &Page) -> Result<()> {
    assert_eq!(page.eval("refused").await?, json!([]), "the policy refused something");
    assert_eq!(page.complaints().await?, Vec::<String>::new());
    assert_eq!(page.fetched_elsewhere().await?, Vec::<String>::new());
    Ok(())
}

#[tokio::test]
async fn the_demo_page_shows_a_delivered_range_soon_and_changes_it_at_every_keystroke() -> Result<()> {
    within(async {
        let (_chromium, page) = page("", STRICT_POLICY).await?;
        page.until(READY).await?;
        let delivered = page.text(0, ".span.delivered .range").await?;
        assert!(delivered.starts_with('$') && delivered.contains(" to $"), "{delivered}");
        // From the page being parsed to the first price; a loose bound, since a busy machine must not fail it.
        let first = page.eval("performance.getEntriesByName('scantling-first-price')[0]?.startTime ?? 1e9").await?;
        assert!(first.as_f64().is_some_and(|milliseconds| milliseconds < 5000.0), "first price after {first} ms");

        page.type_into(0, "Length", "9").await?;
        page.until("root(0).querySelector('.figures').classList.contains('earlier')").await?;
        assert!(page.text(0, "input[aria-invalid='true'] + .fault").await?.contains("60 in to 108 in"));
        page.labelled(0, "Length").await?.send_keys("6").await?;
        page.until("!root(0).querySelector('.figures').classList.contains('earlier')").await?;
        let longer = page.text(0, ".span.delivered .range").await?;
        assert_ne!(longer, delivered, "96 in costs more than 84 in");
        nothing_complained(&page).await?;
        page.close().await
    })
    .await
}

#[tokio::test]
async fn a_buyer_chooses_by_keyboard_and_pointer_and_reads_lines_that_add_up() -> Result<()> {
    within(async {
        let (_chromium, page) = page("", STRICT_POLICY).await?;
        page.until(READY).await?;
        let walnut = page.text(0, "tfoot td").await?;
        page.pick(0, "Northern red oak").await?;
        page.until(&format!("root(0).querySelector('tfoot td').innerText !== {}", json!(walnut))).await?;
        page.type_into(0, "Postal code", "98101-1234").await?;
        page.until("root(0).querySelector('.ways').innerText.includes('Not offered there')").await?;
        let cents = "s => Math.round(parseFloat(s.innerText.replace(/[$,]/g, '')) * 100)";
        let sum = page
            .eval(&format!("[...root(0).querySelectorAll('tbody td')].map({cents}).reduce((a, b) => a + b)"))
            .await?;
        let total = page.eval(&format!("({cents})(root(0).querySelector('tfoot td'))")).await?;
        assert_eq!(sum, total, "the lines on screen add up to the price on screen");
        // The page is told of the buyer's choices, and of no postal code.
        let told = page.eval("told").await?.to_string();
        assert!(told.contains("\"design\":\"trestle-table\"") && told.contains("\"delivery\":\"freight\""), "{told}");
        assert!(!told.contains("98101"), "{told}");
        nothing_complained(&page).await?;
        page.close().await
    })
    .await
}

#[tokio::test]
async fn two_widgets_on_a_page_keep_apart_and_the_script_may_load_twice() -> Result<()> {
    within(async {
        let (_chromium, page) = page("two.html", STRICT_POLICY).await?;
        page.until("[0, 1].every(n => root(n)?.querySelector('.range')?.innerText)").await?;
        assert_eq!(
            page.eval("root(0).querySelectorAll('.span.delivered').length").await?,
            0,
            "no place was given there"
        );
        assert_eq!(page.eval("root(1).querySelectorAll('.span.delivered').length").await?, 1);
        let ids = "[0, 1].flatMap(n => [...root(n).querySelectorAll('[id]')].map(e => e.id))";
        assert_eq!(page.eval(&format!("new Set({ids}).size === {ids}.length")).await?, true, "no id stands twice");
        let other = page.text(1, ".span.workshop .range").await?;
        page.type_into(0, "Length", "100").await?;
        page.until("root(0).querySelector('.sheet').innerHTML.includes('100 in')").await?;
        assert_eq!(page.text(1, ".span.workshop .range").await?, other);
        assert!(page.eval("root(1).querySelector('.sheet').innerHTML").await?.to_string().contains(" mm"));
        nothing_complained(&page).await?;
        page.close().await
    })
    .await
}

#[tokio::test]
async fn an_element_can_be_moved_changed_and_taken_away() -> Result<()> {
    within(async {
        let (_chromium, page) = page("two.html", STRICT_POLICY).await?;
        page.until("[0, 1].every(n => root(n)?.querySelector('.range')?.innerText)").await?;
        page.type_into(0, "Length", "100").await?;
        // A move keeps what was typed.
        page.eval("(document.body.append(document.querySelector('scantling-quote')), 1)").await?;
        assert_eq!(page.eval("label(1, 'Length').parentNode.querySelector('input').value").await?, "100");
        // An attribute changes it; the page is not told of its own doing.
        page.eval(
            "(told.length = 0, document.querySelectorAll('scantling-quote')[1].setAttribute('design', 'hall-bench'))",
        )
        .await?;
        page.until("root(1).querySelector('.sizes').innerText.includes('Seat height')").await?;
        assert_eq!(page.eval("told").await?, json!([]));
        // Taken away and put back, it starts afresh and works.
        page.eval("(window.kept = document.querySelectorAll('scantling-quote')[1], kept.remove())").await?;
        page.until("!kept.shadowRoot.querySelector('.widget')").await?;
        page.eval("(document.body.append(kept), 1)").await?;
        page.until("!!root(1).querySelector('.range')?.innerText").await?;
        nothing_complained(&page).await?;
        page.close().await
    })
    .await
}

#[tokio::test]
async fn a_page_is_answered_in_its_language_and_in_english_where_there_are_no_words_in_it() -> Result<()> {
    within(async {
        let (_chromium, page) = page("languages.html", STRICT_POLICY).await?;
        page.until("[0, 1, 2, 3].every(n => root(n)?.querySelector('.range')?.innerText)").await?;
        let legend = "[0, 1, 2, 3].map(n => root(n).querySelector('.ways legend').innerText)";
        let in_each =
            json!(["Wie es zu Ihnen kommt", "Comment il vous parvient", "Cómo le llega", "How it gets there"]);
        assert_eq!(page.eval(legend).await?, in_each);
        let languages = "[0, 1, 2, 3].map(n => root(n).querySelector('.scantling').lang)";
        assert_eq!(page.eval(languages).await?, json!(["de", "fr", "es", "en"]));
        // The page's own language is no mistake; words that were asked for by the attribute and are not there are told.
        assert_eq!(page.eval("told").await?, json!([]));
        page.eval("document.querySelector('scantling-quote').setAttribute('language', 'nl')").await?;
        page.until("told.length > 0 && root(0).querySelector('.ways legend')?.innerText === 'How it gets there'")
            .await?;
        assert_eq!(
            page.eval("told.map(([name, detail]) => [name, detail.reason])").await?,
            json!([["scantling-error", "words"]])
        );
        assert_eq!(page.fetched_elsewhere().await?, Vec::<String>::new());
        page.close().await
    })
    .await
}

/// The page's own words stay, and the page is told why.
async fn fallback_stays(path: &str, policy: &'static str, reason: &str) -> Result<()> {
    let (_chromium, page) = page(path, policy).await?;
    page.until("told.length > 0").await?;
    assert_eq!(page.eval("told[0][1].reason").await?, reason);
    let shown = "(e => e.checkVisibility() && e.getBoundingClientRect().height > 0)(document.querySelector('scantling-quote > *'))";
    assert_eq!(page.eval(shown).await?, true, "what stands between the tags must show");
    page.close().await
}

#[tokio::test]
async fn the_fallback_stays_where_the_policy_blocks_wasm() -> Result<()> {
    within(async { fallback_stays("two.html", NO_WASM_POLICY, "widget").await }).await
}

#[tokio::test]
async fn the_fallback_stays_where_the_book_is_missing() -> Result<()> {
    within(async { fallback_stays("missing.html", STRICT_POLICY, "book").await }).await
}

#[tokio::test]
async fn the_fallback_stays_where_the_book_is_broken_and_the_fault_is_named() -> Result<()> {
    within(async {
        let (_chromium, page) = page("broken.html", STRICT_POLICY).await?;
        page.until("told.length > 0").await?;
        let message = page.eval("told[0][1].message").await?.to_string();
        assert!(message.contains("did you mean “shop”"), "{message}");
        page.close().await?;
        fallback_stays("broken.html", STRICT_POLICY, "book").await
    })
    .await
}
