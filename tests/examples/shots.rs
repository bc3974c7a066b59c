//! Takes the widget in every state at four widths, and the demo page, into `target/shots`; the few of them that the docs show, cut to
//! a window, into `shared/readme`. Run by `cargo xtask shots`.

use std::fs;
use std::path::Path;

use anyhow::{Context, Result};
use scantling_tests::{Engine, Page, Visit, of_few_colours};
use serde_json::json;

/// Widths of a narrow phone, a phone, a tablet and a desk.
const WIDTHS: [u32; 4] = [280, 375, 768, 1200];

/// Widths the demo page is taken at.
const PAGE_WIDTHS: [u32; 3] = [320, 768, 1280];

/// All that shows by itself is there.
const AT_REST: &str = "!!root(0)?.querySelector('.moves button')";

/// A state: its name, the kind of page and the colours, what brings it about, and what shows that it is there.
struct State {
    name: &'static str,
    media: (&'static str, &'static str),
    deed: &'static str,
    there: &'static str,
}

impl State {
    const fn new(name: &'static str, deed: &'static str, there: &'static str) -> Self {
        Self { name, media: ("screen", "light"), deed, there }
    }

    const fn in_media(self, kind: &'static str, scheme: &'static str) -> Self {
        Self { media: (kind, scheme), ..self }
    }
}

/// Types into a field as a person would, by its label.
macro_rules! typed {
    ($label:literal, $text:literal) => {
        concat!(
            "(field => { field.value = '",
            $text,
            "'; field.dispatchEvent(new InputEvent('input', { bubbles: true, composed: true })); return 1; })\
             (root(0).getElementById(label(0, '",
            $label,
            "').htmlFor))"
        )
    };
}

const STATES: [State; 10] = [
    State::new("loaded", "1", "true"),
    State::new("error", typed!("Length", "20 ft"), "!!root(0).querySelector('.price.earlier')"),
    State::new(
        "abroad",
        "(select => { select.value = 'DE'; select.dispatchEvent(new Event('change', { bubbles: true })); return 1; })\
         (root(0).querySelector('.destination select'))",
        "label(0, 'Postal code') && root(0).querySelector('.destination select').value === 'DE'",
    ),
    State::new(
        "budget",
        concat!("(", typed!("What you would spend", "4000"), ", root(0).querySelector('.budget button').click(), 1)"),
        "!!root(0).querySelector('.plans')",
    ),
    State::new("undo", "(root(0).querySelector('.moves button').click(), 1)", "!!root(0).querySelector('.undo')"),
    State::new(
        "german",
        "(document.querySelector('scantling-quote').language = 'de', 1)",
        "root(0).querySelector('[lang]')?.lang === 'de' && !!root(0).querySelector('.moves button')",
    ),
    State::new("right-to-left", "(document.documentElement.dir = 'rtl', 1)", "true"),
    State::new("dark", "1", "true").in_media("screen", "dark"),
    State::new("print", "1", "true").in_media("print", "light"),
    State::new("print-dark", "1", "true").in_media("print", "dark"),
];

/// What the docs show: a state, a width, and how much of it from the top.
const GALLERY: [(&str, u32, u32); 8] = [
    ("loaded", 375, 800),
    ("error", 375, 800),
    ("abroad", 375, 800),
    ("undo", 768, 800),
    ("german", 768, 800),
    ("right-to-left", 768, 800),
    ("dark", 768, 800),
    ("print", 768, 1100),
];

#[tokio::main(flavor = "current_thread")]
async fn main() -> Result<()> {
    let top = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let (folder, gallery) = (top.join("target/shots"), top.join("shared/readme"));
    fs::create_dir_all(&folder)?;
    if std::env::args().nth(1).as_deref() == Some("shop") {
        return shop(&folder).await;
    }
    let page = Page::open(Visit::new(Engine::Chromium, "")).await?;
    page.until(AT_REST).await?;
    demo(&page, &folder, &gallery).await?;
    for state in &STATES {
        media(&page, ("screen", "light")).await?;
        page.go("gallery.html").await?;
        page.until(AT_REST).await?;
        page.eval(state.deed).await?;
        page.until(state.there).await.with_context(|| format!("the state {}", state.name))?;
        // What is reckoned once a buyer rests is there too, and has been laid out.
        tokio::time::sleep(std::time::Duration::from_millis(600)).await;
        media(&page, state.media).await?;
        for width in WIDTHS {
            let picture = whole(&page, width).await?;
            write(&folder.join(format!("{}-{width}.png", state.name)), &picture)?;
            if let Some((.., high)) = GALLERY.iter().find(|(name, wide, _)| *name == state.name && *wide == width) {
                let picture = of_few_colours(&part(&page, width, *high).await?)?;
                write(&gallery.join(format!("{}-{width}.png", state.name)), &picture)?;
            }
        }
    }
    page.close().await?;
    shop(&folder).await
}

/// The maker's page: every section, with the first row open where there are rows.
async fn shop(folder: &Path) -> Result<()> {
    let page = Page::open(Visit::new(Engine::Chromium, "shop.html")).await?;
    page.until("!!document.querySelector('main tbody tr')").await?;
    let sections = page.eval("document.querySelectorAll('nav button').length").await?.as_u64().unwrap_or(0);
    for section in 0..sections {
        let here = format!("document.querySelectorAll('nav button')[{section}]");
        page.eval(&format!("({here}.click(), 1)")).await?;
        tokio::time::sleep(std::time::Duration::from_millis(200)).await;
        page.eval("(document.querySelector('main tbody [aria-label=\"Open row 1\"]')?.click(), 1)").await?;
        let name = page.eval(&format!("{here}.textContent.trim().toLowerCase().replaceAll(' ', '-')")).await?;
        let name = name.as_str().unwrap_or("section").to_owned();
        for width in PAGE_WIDTHS {
            for scheme in ["light", "dark"] {
                media(&page, ("screen", scheme)).await?;
                write(&folder.join(format!("shop-{name}-{width}-{scheme}.png")), &whole(&page, width).await?)?;
            }
        }
    }
    page.close().await?;
    println!("wrote target/shots");
    Ok(())
}

/// The demo page, light, dark and printed, and the picture of the README.
async fn demo(page: &Page, folder: &Path, gallery: &Path) -> Result<()> {
    for width in PAGE_WIDTHS {
        for scheme in ["light", "dark"] {
            media(page, ("screen", scheme)).await?;
            write(&folder.join(format!("page-{width}-{scheme}.png")), &whole(page, width).await?)?;
        }
    }
    media(page, ("screen", "light")).await?;
    write(&gallery.join("estimator.png"), &of_few_colours(&page.widget_picture(1200, 960).await?)?)?;
    media(page, ("print", "light")).await?;
    write(&folder.join("page-print.png"), &whole(page, 794).await?)
}

async fn media(page: &Page, (kind, scheme): (&str, &str)) -> Result<()> {
    let features = json!([{ "name": "prefers-color-scheme", "value": scheme }]);
    page.tell_browser("Emulation.setEmulatedMedia", json!({ "media": kind, "features": features })).await?;
    Ok(())
}

/// A window of this size.
async fn window(page: &Page, width: u32, height: u64) -> Result<()> {
    let size = json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false });
    page.tell_browser("Emulation.setDeviceMetricsOverride", size).await?;
    // The drawing is laid out anew for another width, in the frame after.
    tokio::time::sleep(std::time::Duration::from_millis(150)).await;
    Ok(())
}

/// The whole page at this width, as high as it is.
async fn whole(page: &Page, width: u32) -> Result<Vec<u8>> {
    window(page, width, 800).await?;
    let height = page.eval("Math.ceil(document.documentElement.scrollHeight)").await?;
    window(page, width, height.as_u64().context("the page has no height")?).await?;
    page.picture().await
}

/// The page at this width from its top down, so high.
async fn part(page: &Page, width: u32, height: u32) -> Result<Vec<u8>> {
    window(page, width, height.into()).await?;
    page.picture().await
}

fn write(path: &Path, picture: &[u8]) -> Result<()> {
    fs::write(path, picture).with_context(|| format!("{} can't be written", path.display()))
}
