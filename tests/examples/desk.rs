//! Times the maker's page with a book of 5 000 rows beside the demo's, in the same run. Run by `cargo xtask bench shop`.
//!
//! Chromium only: no other browser tells how long its frames took.

use std::time::Duration;

use anyhow::{Context, Result};
use scantling_tests::{Engine, Page, Visit, large_book};
use serde_json::{Value, json};

/// Edits that are timed on each book.
const EDITS: usize = 20;

/// Edits that are undone and done again.
const UNDONE: usize = 10;

/// From one edit until everything it starts is done.
const PAUSE: Duration = Duration::from_millis(1200);

/// Between two presses of Undo.
const SHORT: Duration = Duration::from_millis(300);

/// When the page stood there with its book, in milliseconds from the navigation.
const STOOD: &str = "performance.getEntriesByName('scantling-shop')[0]?.startTime ?? 0";

/// Watches for frames that took longer than 50 ms.
const WATCH: &str = "(() => { window.frames50 = []; window.worst = 0; \
     new PerformanceObserver(list => { for (const e of list.getEntries()) frames50.push(Math.round(e.duration)); }) \
         .observe({ type: 'long-animation-frame' }); \
     let last = performance.now(); \
     const tick = now => { worst = Math.max(worst, now - last); last = now; requestAnimationFrame(tick); }; \
     requestAnimationFrame(tick); \
     return 1; })()";

/// How many frames were over 50 ms, the longest of them, the longest between two frames.
const FRAMES: &str = "JSON.stringify([frames50.length, Math.max(0, ...frames50), Math.round(worst)])";

/// Forgets what was seen so far.
const AFRESH: &str = "(frames50.length = 0, worst = 0, 1)";

#[tokio::main(flavor = "current_thread")]
async fn main() -> Result<()> {
    let demo = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../shared/books/demo-shop.json"))?;
    for (name, book) in [("demo", demo), ("5 000 rows", large_book()?)] {
        let page = Page::open(Visit::new(Engine::Chromium, "shop.html").unwatched()).await?;
        page.until(&format!("({STOOD}) > 0")).await?;
        let state = format!("1 {}\n{book}", book.len());
        let keep = format!(
            "(localStorage.clear(), localStorage['scantling-shop-1'] = {}, localStorage['scantling-shop-newest'] = '1', 1)",
            json!(state)
        );
        page.eval(&keep).await?;
        page.go("shop.html").await?;
        page.until(&format!("({STOOD}) > 0")).await?;
        let stood = page.eval(STOOD).await?.as_f64().context("no time")?;
        page.eval("([...document.querySelectorAll('nav button')].find(b => b.textContent.trim().startsWith('Timbers')).click(), 1)").await?;
        page.until("!!document.getElementById('c-timbers-0-1')").await?;
        tokio::time::sleep(PAUSE).await;
        page.eval(WATCH).await?;
        for n in 0..EDITS {
            let cell = "[...document.querySelectorAll('.grid tbody tr:first-child input')].at(-1)";
            page.eval(&format!("(({cell}).focus(), ({cell}).value = '{}', ({cell}).dispatchEvent(new Event('change', {{ bubbles: true }})), 1)", n % 9 + 1)).await?;
            tokio::time::sleep(PAUSE).await;
        }
        let frames: Value = page.eval(FRAMES).await?;
        println!(
            "{name}: {} kB; stood after {stood:.0} ms; {EDITS} edits: frames over 50 ms, the longest, the longest between two frames: {frames}",
            book.len().div_ceil(1024)
        );
        undone(&page).await?;
        opened(&page).await?;
        page.close().await?;
    }
    Ok(())
}

/// Undoes the edits and does them again.
async fn undone(page: &Page) -> Result<()> {
    page.eval(AFRESH).await?;
    for button in ["Undo", "Do again"] {
        for _ in 0..UNDONE {
            page.eval(&format!(
                "([...document.querySelectorAll('button')].find(b => b.textContent.trim().startsWith('{button}')).click(), 1)"
            ))
            .await?;
            tokio::time::sleep(SHORT).await;
        }
    }
    let frames = page.eval(FRAMES).await?;
    println!("  {UNDONE} edits undone and done again: {frames}");
    Ok(())
}

/// Opens every section, and names those that took a frame over 50 ms.
async fn opened(page: &Page) -> Result<()> {
    let sections = page.eval("document.querySelectorAll('nav button').length").await?.as_u64().unwrap_or_default();
    let mut slow = Vec::new();
    for n in 0..sections {
        page.eval(AFRESH).await?;
        let named = page
            .eval(&format!("(b => (b.click(), b.textContent.trim()))(document.querySelectorAll('nav button')[{n}])"))
            .await?;
        tokio::time::sleep(PAUSE).await;
        let longest = page.eval("Math.max(0, ...frames50)").await?;
        if longest != json!(0) {
            slow.push(format!("{} {longest} ms", named.as_str().unwrap_or_default()));
        }
    }
    println!(
        "  {sections} sections opened, with a frame over 50 ms: {}",
        if slow.is_empty() { "none".to_owned() } else { slow.join(", ") }
    );
    Ok(())
}
