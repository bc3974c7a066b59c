//! Takes the pictures of the page a maker starts at, into `shared/start`: the maker's page as it opens, with a price typed over,
//! its section Publish, and the blank page with the widget. Run by `cargo xtask shots start`.

use std::fs;
use std::path::Path;

use anyhow::{Context, Result};
use scantling_tests::{Engine, Page, Visit, of_few_colours};
use serde_json::json;

/// The window, as wide as a small laptop's.
const WINDOW: (u32, u32) = (1180, 680);

#[tokio::main(flavor = "current_thread")]
async fn main() -> Result<()> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../shared/start");
    fs::create_dir_all(&folder)?;
    let page = Page::open(Visit::new(Engine::Chromium, "shop.html")).await?;
    let size = json!({ "width": WINDOW.0, "height": WINDOW.1, "deviceScaleFactor": 1, "mobile": false });
    page.tell_browser("Emulation.setDeviceMetricsOverride", size).await?;
    press(&page, "Timbers").await?;
    let there =
        "!!document.querySelector('main tbody tr') && document.querySelector('.basket')?.textContent.includes('USD')";
    page.until(there).await?;
    take(&page, &folder.join("open.png")).await?;
    press(&page, "Pricing").await?;
    let margin = "document.getElementById('f-pricing.margin')";
    page.until(&format!("!!{margin}")).await?;
    let typed = "m.value = '0.20', m.dispatchEvent(new Event('change', { bubbles: true }))";
    page.eval(&format!("(m => (m.focus(), {typed}, 1))({margin})")).await?;
    page.until("/USD.*USD/.test(document.querySelector('.basket').textContent)").await?;
    take(&page, &folder.join("change.png")).await?;
    press(&page, "Publish").await?;
    page.until("document.querySelector('main h2').textContent === 'Publish'").await?;
    take(&page, &folder.join("publish.png")).await?;
    page.go("start.html").await?;
    page.until("!!root(0)?.querySelector('.moves button')").await?;
    take(&page, &folder.join("embed.png")).await?;
    page.close().await?;
    println!("wrote shared/start");
    Ok(())
}

/// Presses a button of the maker's page by what it says.
async fn press(page: &Page, words: &str) -> Result<()> {
    let found =
        format!("[...document.querySelectorAll('button')].find(b => b.textContent.trim() === {})", json!(words));
    page.until(&format!("!!{found}")).await?;
    page.eval(&format!("({found}.click(), 1)")).await?;
    Ok(())
}

async fn take(page: &Page, path: &Path) -> Result<()> {
    tokio::time::sleep(std::time::Duration::from_millis(400)).await;
    fs::write(path, of_few_colours(&page.picture().await?)?)
        .with_context(|| format!("{} can't be written", path.display()))
}
