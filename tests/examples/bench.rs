//! Opens the bench page in a real browser and prints what it found. Run by `cargo xtask bench`.

use anyhow::{Result, bail};
use scantling_tests::{Engine, Page, Visit};

#[tokio::main(flavor = "current_thread")]
async fn main() -> Result<()> {
    let page = Page::open(Visit::new(Engine::Chromium, "bench/index.html")).await?;
    page.until("!!window.found").await?;
    let found = page.eval("window.found").await?;
    page.close().await?;
    let figure = |key| found.get(key).and_then(|value| value.as_str());
    let (Some(wasm), Some(script), Some(times)) = (figure("wasm"), figure("script"), figure("times")) else {
        bail!("the bench page says: {found}")
    };
    println!("the demo table at the workshop, in Chromium, the middle of 15 turns of each:");
    println!("  the engine in wasm, checks and lead time included  {wasm:>8} µs");
    println!("  the same lines and range in plain JavaScript       {script:>8} µs");
    println!("  that is {times} times as long");
    Ok(())
}
