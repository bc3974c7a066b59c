//! Takes the demo page at three widths, light, dark and printed, into `target/shots`. Run by `cargo xtask shots`.

use std::path::Path;

use anyhow::{Context, Result};
use scantling_tests::{Engine, Page, Visit};
use serde_json::{Value, json};

/// Widths of a narrow phone, a tablet and a desk.
const WIDTHS: [u32; 3] = [320, 768, 1280];

#[tokio::main(flavor = "current_thread")]
async fn main() -> Result<()> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/shots");
    std::fs::create_dir_all(&folder)?;
    let page = Page::open(Visit::new(Engine::Chromium, "")).await?;
    page.until("!!root(0)?.querySelector('.range')?.innerText").await?;
    for width in WIDTHS {
        for scheme in ["light", "dark"] {
            media(&page, "screen", scheme).await?;
            shoot(&page, width, &folder.join(format!("{width}-{scheme}.png"))).await?;
        }
    }
    media(&page, "screen", "light").await?;
    std::fs::write(folder.join("estimator.png"), page.widget_picture(1200, 960).await?)?;
    media(&page, "print", "light").await?;
    shoot(&page, 794, &folder.join("print.png")).await?;
    page.close().await?;
    println!("wrote target/shots");
    Ok(())
}

async fn media(page: &Page, kind: &str, scheme: &str) -> Result<()> {
    let features = json!([{ "name": "prefers-color-scheme", "value": scheme }]);
    page.tell_browser("Emulation.setEmulatedMedia", json!({ "media": kind, "features": features })).await?;
    Ok(())
}

/// The whole page at this width, as high as it is.
async fn shoot(page: &Page, width: u32, path: &Path) -> Result<()> {
    let size = |height: &Value| json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false });
    page.tell_browser("Emulation.setDeviceMetricsOverride", size(&json!(800))).await?;
    let height = page.eval("Math.ceil(document.documentElement.scrollHeight)").await?;
    page.tell_browser("Emulation.setDeviceMetricsOverride", size(&height)).await?;
    std::fs::write(path, page.picture().await?).with_context(|| format!("{} can't be written", path.display()))
}
