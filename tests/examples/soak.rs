//! Ten thousand edits of one widget, and a thousand that come and go, with what the page holds in between. Run by `cargo xtask soak`.
//!
//! Chromium only: no other driver tells what is held. It fails when more is held at the end than a single widget would be.

use std::time::Instant;

use anyhow::{Result, bail};
use scantling_tests::{Engine, Held, Page, Visit};

/// Edits between two looks, and how many looks there are.
const EDITS: (u32, u32) = (2_000, 5);

/// Elements that come and go between two looks, and how many looks there are.
const VISITS: (u32, u32) = (200, 5);

/// What may be held more after all of it than after the first part: less than what one widget is made of.
const MORE: Held = Held { nodes: 900, listeners: 100, bytes: 300_000, wasm: 800_000 };

/// Types sizes and postal codes, takes another wood and unit, and rests now and then, so that what comes late comes too.
const EDIT: &str = "(async times => { \
     const field = text => root(0).getElementById(label(0, text)?.htmlFor); \
     const type = (text, value) => { const input = field(text); if (!input) return; input.value = value; \
         input.dispatchEvent(new InputEvent('input', { bubbles: true, composed: true })); }; \
     for (let n = 0; n < times; n += 1) { \
         if (n % 50 === 49) type('Postal code', ['60601', '98101', '54601', '10001'][(n / 50 | 0) % 4]); \
         else if (n % 20 === 19) root(0).querySelectorAll('.form input[type=radio]')[(n / 20 | 0) % 12].click(); \
         else type(['Length', 'Width'][n % 2], n % 2 ? `${34 + n % 7}.${n % 10}` : `${40 + n % 20}.${n % 10}`); \
         await new Promise(done => setTimeout(done)); \
         if (n % 400 === 399) await new Promise(done => setTimeout(done, 900)); \
     } window.edited = times; })(TIMES).catch(error => window.wrong = String(error))";

/// Adds an element, waits for its price, every other time for its form too, takes it away; so many times.
const COME_AND_GO: &str = "(async times => { \
     for (let n = 0; n < times; n += 1) { \
         const quote = document.createElement('scantling-quote'); \
         quote.setAttribute('book', '../price-book.json'); quote.setAttribute('start', 'now'); quote.setAttribute('postal-code', '60601'); \
         document.body.append(quote); \
         while (!quote.shadowRoot.querySelector(n % 2 ? '.range' : 'form.form')) await new Promise(done => setTimeout(done)); \
         quote.remove(); await null; \
     } window.gone = times; })(TIMES).catch(error => window.wrong = String(error))";

#[tokio::main(flavor = "current_thread")]
async fn main() -> Result<()> {
    let page = Page::open(Visit::new(Engine::Chromium, "hostile/plain.html")).await?;
    page.eval("(look.enter(), 1)").await?;
    page.until("!!root(0)?.querySelector('.moves button')").await?;
    let edits = soak(&page, "edits", EDIT, "edited", EDITS).await?;
    page.eval("(document.querySelector('scantling-quote').remove(), 1)").await?;
    let visits = soak(&page, "elements that came and went", COME_AND_GO, "gone", VISITS).await?;
    let complained = page.complaints().await?;
    page.close().await?;
    if !complained.is_empty() {
        bail!("the page complained: {complained:?}");
    }
    for (first, last) in [edits, visits] {
        let grown = last.nodes > first.nodes + MORE.nodes
            || last.listeners > first.listeners + MORE.listeners
            || last.bytes > first.bytes + MORE.bytes
            || last.wasm > first.wasm + MORE.wasm;
        if grown {
            bail!("more is held than one widget is made of:\n  first {first}\n  last  {last}");
        }
    }
    println!("flat");
    Ok(())
}

/// Does something so often between looks; what was held at the first and at the last.
async fn soak(page: &Page, what: &str, deed: &str, done: &str, (times, looks): (u32, u32)) -> Result<(Held, Held)> {
    let mut all = Vec::new();
    for look in 1..=looks {
        let started = Instant::now();
        let deed = deed.replace("TIMES", &times.to_string());
        page.eval(&format!("(window.{done} = 0, {deed}, 1)")).await?;
        while page.eval(&format!("window.wrong ?? window.{done}")).await? != times {
            if started.elapsed().as_secs() > 600 || page.eval("'wrong' in window").await? == true {
                bail!("{times} {what} were not done in time: {}", page.eval("window.wrong").await?);
            }
            tokio::time::sleep(std::time::Duration::from_millis(200)).await;
        }
        // What watches the page keeps every event it has heard.
        page.eval("(told.length = 0, 1)").await?;
        let held = page.held().await?;
        println!("{:>6} {what}, the last {times} in {:>3} s: {held}", look * times, started.elapsed().as_secs());
        all.push(held);
    }
    match all.as_slice() {
        [first, .., last] => Ok((*first, *last)),
        _ => bail!("nothing was looked at"),
    }
}
