//! Times the maker's page with a book of 5 000 rows beside the demo's, in the same run. Run by `cargo xtask bench shop`; with `--check`, it
//! fails where the ratios are over their budget.
//!
//! Chromium only: no other browser tells how long its frames took.

#![expect(clippy::float_arithmetic, reason = "what is reckoned here are measured times, no money")]

use std::time::Duration;

use anyhow::{Context, Result, bail};
use scantling_tests::{Engine, Page, TRIES, Visit, allowed, large_book, middle};
use serde_json::{Value, json};

/// How often the page is opened with each book; the middle one counts.
const LOADS: usize = 3;

/// Edits that are timed on each book, each until it has been priced and kept; the middle one counts.
const EDITS: usize = 8;

/// Edits that are undone and done again; the middle of all those counts.
const UNDONE: usize = 8;

/// How often every section is opened; of each the best counts, and of these the longest.
const ROUNDS: usize = 2;

/// How long a section is looked at, in milliseconds.
const LOOKED_AT: usize = 250;

/// Between two presses of Undo, in milliseconds.
const PRESSES: usize = 150;

/// When the page stood there with its book, in milliseconds from the navigation.
const STOOD: &str = "performance.getEntriesByName('scantling-shop')[0]?.startTime ?? 0";

/// Watches for frames that took longer than 50 ms, and for the longest between two frames. `look` forgets what was seen so far, does
/// something, and gives the longest from there on.
const WATCH: &str = "(() => { window.frames50 = []; window.worst = 0; \
     new PerformanceObserver(list => { for (const e of list.getEntries()) frames50.push(Math.round(e.duration)); }) \
         .observe({ type: 'long-animation-frame' }); \
     let last = performance.now(); \
     const tick = now => { worst = Math.max(worst, now - last); last = now; requestAnimationFrame(tick); }; \
     requestAnimationFrame(tick); \
     window.look = (deed, long) => new Promise(done => requestAnimationFrame(() => { worst = 0; deed(); setTimeout(() => done(worst), long); })); \
     window.pressed = words => [...document.querySelectorAll('button')].find(b => b.textContent.trim().startsWith(words)).click(); \
     return 1; })()";

/// What a book takes, in milliseconds.
struct Took {
    /// From the navigation until the page stands there.
    opens: f64,
    /// The longest between two frames, for an edit, for one that is undone or done again, and for the section that takes longest.
    frames: [f64; 3],
}

/// How many times as long as the demo's book a large one takes: to open, and in the frame that is worst beside its own.
struct Ratios {
    opens: f64,
    frame: f64,
}

#[tokio::main(flavor = "current_thread")]
async fn main() -> Result<()> {
    let check = std::env::args().any(|argument| argument == "--check");
    if !check {
        measure().await?;
        return Ok(());
    }
    let (opens, frame) = (allowed("shop-opens")?, allowed("shop-frame")?);
    for _ in 0..TRIES {
        let found = measure().await?;
        if found.opens <= opens && found.frame <= frame {
            println!("within the budget: {opens} times the demo's book to open, {frame} for a frame");
            return Ok(());
        }
    }
    bail!("measured {TRIES} times, it was over {opens} times the demo's book to open or {frame} for a frame each time")
}

/// Measures both books and prints what was found.
async fn measure() -> Result<Ratios> {
    let demo = include_str!("../../shared/books/demo-shop.json");
    let small = took("the demo's book", demo).await?;
    let large = took("5 000 rows", &large_book()?).await?;
    let frames: Vec<f64> = large.frames.iter().zip(small.frames).map(|(large, small)| large / small).collect();
    let found = Ratios { opens: large.opens / small.opens, frame: frames.iter().copied().fold(0.0, f64::max) };
    let [edit, undo, section] = [0, 1, 2].map(|n| frames.get(n).copied().unwrap_or_default());
    println!("ratios: opens {:.1}; an edit {edit:.1}, undone {undo:.1}, a section {section:.1}", found.opens);
    Ok(found)
}

/// Opens the page with a book, edits it, undoes that, and opens every section.
async fn took(name: &str, book: &str) -> Result<Took> {
    let page = Page::open(Visit::new(Engine::Chromium, "shop.html").unwatched()).await?;
    page.until(&format!("({STOOD}) > 0")).await?;
    let state = format!("1 {}\n{book}", book.len());
    let keep = format!(
        "(localStorage.clear(), localStorage['scantling-shop-1'] = {}, localStorage['scantling-shop-newest'] = '1', 1)",
        json!(state)
    );
    page.eval(&keep).await?;
    let mut opens = Vec::new();
    for _ in 0..LOADS {
        page.go("shop.html").await?;
        page.until(&format!("({STOOD}) > 0")).await?;
        opens.push(page.eval(STOOD).await?.as_f64().context("no time")?);
    }
    let opens = middle(&mut opens);
    page.eval(WATCH).await?;
    println!("{name}, {} kB: opens in {opens:.0} ms", book.len().div_ceil(1024));
    let edit = edited(&page).await?;
    let undo = undone(&page).await?;
    let section = sections(&page).await?;
    page.close().await?;
    Ok(Took { opens, frames: [edit, undo, section] })
}

/// Edits a cell again and again, each time until the book has been priced and kept.
async fn edited(page: &Page) -> Result<f64> {
    page.eval("(pressed('Timbers'), 1)").await?;
    page.until("!!document.getElementById('c-timbers-0-1') && !document.querySelector('aside').textContent.includes('being reckoned')").await?;
    // What opening the page and the section took is no part of an edit.
    page.eval("(frames50.length = 0, 1)").await?;
    let cell = "[...document.querySelectorAll('.grid tbody tr:first-child input')].at(-1)";
    let mut all = Vec::new();
    for n in 0..EDITS {
        page.eval("(window.kept = localStorage['scantling-shop-newest'], worst = 0, 1)").await?;
        page.eval(&format!("(({cell}).focus(), ({cell}).value = '{}', ({cell}).dispatchEvent(new Event('change', {{ bubbles: true }})), 1)", n % 9 + 1)).await?;
        page.until("localStorage['scantling-shop-newest'] !== kept").await?;
        // What was priced is put on the page by the frame after that.
        tokio::time::sleep(Duration::from_millis(100)).await;
        all.push(page.eval("worst").await?.as_f64().context("no frame")?);
    }
    told(page, &format!("{EDITS} edits"), &mut all).await
}

/// Undoes the edits and does them again.
async fn undone(page: &Page) -> Result<f64> {
    let press = format!("for (let n = 0; n < {UNDONE}; n += 1) all.push(await look(() => pressed(words), {PRESSES}))");
    let deed = format!("for (const words of ['Undo', 'Do again']) {{ {press} }}");
    let found = looked(page, &deed).await?;
    let mut all: Vec<f64> = found.as_array().into_iter().flatten().filter_map(Value::as_f64).collect();
    told(page, &format!("{UNDONE} undone and done again"), &mut all).await
}

/// Opens every section, round by round; names those that took longest.
async fn sections(page: &Page) -> Result<f64> {
    let deed = format!(
        "for (const b of document.querySelectorAll('nav button')) all.push([b.textContent.trim(), await look(() => b.click(), {LOOKED_AT})])"
    );
    let mut best: Vec<(String, f64)> = Vec::new();
    for _ in 0..ROUNDS {
        let round: Vec<(String, f64)> = serde_json::from_value(looked(page, &deed).await?)?;
        if best.is_empty() {
            best = round;
        } else {
            best.iter_mut().zip(round).for_each(|((_, best), (_, took))| *best = best.min(took));
        }
    }
    best.sort_by(|(_, one), (_, other)| other.total_cmp(one));
    let longest: Vec<String> = best.iter().take(5).map(|(section, took)| format!("{section} {took:.0}")).collect();
    println!("  {} sections opened {ROUNDS} times, ms between two frames at best: {}", best.len(), longest.join(", "));
    best.first().map(|(_, took)| *took).context("there is no section")
}

/// Runs a piece of script that waits, and gives what it has put into `all`.
async fn looked(page: &Page, deed: &str) -> Result<Value> {
    page.eval(&format!(
        "(window.found = null, (async () => {{ const all = []; {deed}; window.found = all; }})(), frames50.length = 0, 1)"
    ))
    .await?;
    page.until("found !== null").await?;
    page.eval("found").await
}

/// Prints the middle and the worst of some times, with the frames over 50 ms; gives the middle.
async fn told(page: &Page, what: &str, all: &mut [f64]) -> Result<f64> {
    let over = page.eval("JSON.stringify(frames50.splice(0))").await?;
    let (half, worst) = (middle(all), all.iter().copied().fold(0.0, f64::max));
    println!("  {what}: {half:.0} ms between two frames in the middle, {worst:.0} at worst; frames over 50 ms: {over}");
    Ok(half)
}
