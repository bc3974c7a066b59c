//! Takes the widget in every state, at four widths, light, dark, printed and from right to left, and the demo page, into `target/shots`; the
//! few of them that the docs show, cut to a window, into `shared/readme`. Run by `cargo xtask shots`.

use std::fs;
use std::path::Path;

use anyhow::{Context, Result};
use base64::prelude::{BASE64_STANDARD, Engine as _};
use scantling_tests::{Engine, Page, Visit, of_few_colours};
use serde_json::{Value, json};

/// Widths of a narrow phone, a phone, a tablet and a desk.
const WIDTHS: [u32; 4] = [280, 375, 768, 1200];

/// Widths the demo page is taken at.
const PAGE_WIDTHS: [u32; 3] = [320, 768, 1280];

/// All that shows by itself is there.
const AT_REST: &str = "!!root(0)?.querySelector('.moves button')";

/// The second part could not be had.
const NOT_FETCHED: &str = "root(0)?.querySelector('.waits')?.innerText.includes('could not be fetched')";

/// A state: its name, its page, and what brings it about, step by step, each with what shows that it is done.
struct State {
    name: &'static str,
    page: &'static str,
    steps: &'static [(&'static str, &'static str)],
}

impl State {
    const fn new(name: &'static str, steps: &'static [(&'static str, &'static str)]) -> Self {
        Self { name, page: "gallery.html", steps }
    }

    const fn on(self, page: &'static str) -> Self {
        Self { page, ..self }
    }
}

/// How a state is looked at: the kind of page, the colours, the direction.
struct Look {
    name: &'static str,
    media: (&'static str, &'static str),
    direction: &'static str,
}

const LOOKS: [Look; 5] = [
    Look { name: "light", media: ("screen", "light"), direction: "ltr" },
    Look { name: "dark", media: ("screen", "dark"), direction: "ltr" },
    Look { name: "print", media: ("print", "light"), direction: "ltr" },
    Look { name: "right-to-left", media: ("screen", "light"), direction: "rtl" },
    Look { name: "print-dark", media: ("print", "dark"), direction: "ltr" },
];

/// The state that is printed from a dark desk as well: what holds for it holds for all.
const PRINTED_FROM_THE_DARK: &str = "loaded";

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

/// Presses a button of the widget by what it says.
macro_rules! pressed {
    ($words:literal) => {
        concat!(
            "([...root(0).querySelectorAll('button')].find(b => b.textContent.trim() === '",
            $words,
            "').click(), 1)"
        )
    };
}

/// The address that takes requests, as a maker's book may name one.
const WITH_A_RECEIVER: (&str, &str) = (
    "(document.querySelector('scantling-quote').book = 'receiver/price-book.json', 1)",
    "!!root(0).querySelector('.moves button') && root(0).querySelector('.request').innerText.includes('Send it to')",
);

const STATES: [State; 15] = [
    State::new("loaded", &[]),
    State::new("error", &[(typed!("Length", "20 ft"), "!!root(0).querySelector('.price.earlier')")]),
    State::new(
        "unfolded",
        &[(
            "(root(0).querySelectorAll('.folded').forEach(e => (e.open = true)), root(0).querySelector('.each').click(), 1)",
            "root(0).querySelectorAll('.folded[open]').length === 3 && !!root(0).querySelector('.telling')",
        )],
    ),
    State::new(
        "abroad",
        &[(
            "(select => { select.value = 'DE'; select.dispatchEvent(new Event('change', { bubbles: true })); return 1; })\
             (root(0).querySelector('.destination select'))",
            "label(0, 'Postal code') && root(0).querySelector('.destination select').value === 'DE'",
        )],
    ),
    State::new(
        "cautions",
        &[(
            "(document.querySelector('scantling-quote').design = 'bookcase', 1)",
            "root(0).querySelector('.cautions')?.innerText.includes('fixed to the wall')",
        )],
    ),
    State::new(
        "budget",
        &[(
            concat!(
                "(",
                typed!("What you would spend", "4000"),
                ", root(0).querySelector('.budget button').click(), 1)"
            ),
            "!!root(0).querySelector('.plans')",
        )],
    ),
    State::new("undo", &[("(root(0).querySelector('.moves button').click(), 1)", "!!root(0).querySelector('.undo')")]),
    State::new("kept", &[(pressed!("Keep this estimate"), "!!root(0).querySelector('.kept table')")]),
    State::new(
        "compare",
        &[
            (pressed!("Keep this estimate"), "!!root(0).querySelector('.kept table')"),
            (typed!("Length", "96"), "root(0).querySelector('.sheet').innerHTML.includes('96 in')"),
            (pressed!("Keep this estimate"), "root(0).querySelectorAll('.kept thead th').length === 2"),
            ("(label(0, 'White oak').click(), 1)", "root(0).querySelector('.title').innerText.includes('White oak')"),
            (pressed!("Keep this estimate"), "root(0).querySelectorAll('.kept thead th').length === 3"),
        ],
    ),
    State::new(
        "request-faults",
        &[
            WITH_A_RECEIVER,
            (
                pressed!("Send it to Larkmoor Bench"),
                "root(0).querySelectorAll('.request [aria-invalid=\"true\"]').length === 3",
            ),
        ],
    ),
    State::new(
        "queued",
        &[
            WITH_A_RECEIVER,
            (typed!("Your name", "Invented buyer"), "true"),
            (typed!("Your mail address", "buyer@home.example"), "true"),
            ("(root(0).querySelector('.request input[type=checkbox]').click(), 1)", "true"),
            (
                "(window.line = fetch, window.fetch = (to, how) => how?.method === 'POST' ? Promise.reject(new TypeError('cut')) : line(to, how), 1)",
                "true",
            ),
            (pressed!("Send it to Larkmoor Bench"), "!!root(0).querySelector('.waiting')"),
        ],
    ),
    State::new("link", &[(pressed!("Link to it"), "!!root(0).querySelector('.link input')?.value")]),
    State::new(
        "link-notice",
        &[
            (pressed!("Link to it"), "!!root(0).querySelector('.link input')?.value"),
            (
                "(window.linked = root(0).querySelector('.link input').value.split('#')[1], \
                 document.querySelector('scantling-quote').book = 'receiver/price-book.json?edition=2027-05-01', 1)",
                "!root(0).querySelector('.link input') && !!root(0).querySelector('.moves button')",
            ),
            (
                "(location.hash = linked, 1)",
                "root(0).querySelector('.actions .notice')?.innerText.includes('Opened from a link')",
            ),
        ],
    ),
    State::new(
        "german",
        &[(
            "(document.querySelector('scantling-quote').language = 'de', 1)",
            "root(0).querySelector('[lang]')?.lang === 'de' && !!root(0).querySelector('.moves button')",
        )],
    ),
    State::new("not-fetched", &[]).on("cut.html"),
];

/// What the docs show: a state, a look, a width, how much of it from the top, and the name of the picture.
const GALLERY: [(&str, &str, u32, u32, &str); 8] = [
    ("loaded", "light", 375, 800, "loaded"),
    ("error", "light", 375, 800, "error"),
    ("abroad", "light", 375, 800, "abroad"),
    ("undo", "light", 768, 800, "undo"),
    ("german", "light", 768, 800, "german"),
    ("loaded", "right-to-left", 768, 800, "right-to-left"),
    ("loaded", "dark", 768, 800, "dark"),
    ("loaded", "print", 768, 1100, "print"),
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
        brought_about(&page, state).await.with_context(|| format!("the state {}", state.name))?;
        for look in &LOOKS {
            if look.name != "print-dark" || state.name == PRINTED_FROM_THE_DARK {
                taken(&page, (state.name, look), (&folder, &gallery)).await?;
            }
        }
    }
    page.close().await?;
    shop(&folder).await
}

/// Brings a state about on a fresh page.
async fn brought_about(page: &Page, state: &State) -> Result<()> {
    media(page, ("screen", "light")).await?;
    // What the state before has kept is none of this one's.
    page.eval("(localStorage.clear(), 1)").await?;
    page.go(state.page).await?;
    page.until(if state.page == "cut.html" { NOT_FETCHED } else { AT_REST }).await?;
    for (deed, there) in state.steps {
        page.eval(deed).await.with_context(|| (*deed).to_owned())?;
        page.until(there).await?;
    }
    // What is reckoned once a buyer rests is there too, and has been laid out.
    tokio::time::sleep(std::time::Duration::from_millis(600)).await;
    Ok(())
}

/// Takes a state at every width, and for the docs.
async fn taken(page: &Page, (state, look): (&str, &Look), (folder, gallery): (&Path, &Path)) -> Result<()> {
    media(page, look.media).await?;
    // What is for paper alone is written as a page is about to be printed.
    page.eval("(dispatchEvent(new Event('beforeprint')), 1)").await?;
    page.eval(&format!("(document.documentElement.dir = '{}', 1)", look.direction)).await?;
    for width in WIDTHS {
        let picture = whole(page, width).await?;
        write(&folder.join(format!("{state}-{}-{width}.png", look.name)), &picture)?;
        let shown = GALLERY.iter().find(|(known, seen, wide, ..)| (*known, *seen, *wide) == (state, look.name, width));
        if let Some((.., high, name)) = shown {
            let picture = of_few_colours(&part(page, width, *high).await?)?;
            write(&gallery.join(format!("{name}-{width}.png")), &picture)?;
        }
    }
    page.eval("(document.documentElement.dir = 'ltr', 1)").await?;
    Ok(())
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
async fn window(page: &Page, width: u32, height: u32) -> Result<()> {
    let size = json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false });
    page.tell_browser("Emulation.setDeviceMetricsOverride", size).await?;
    // The drawing is laid out anew for another width, in the frame after.
    tokio::time::sleep(std::time::Duration::from_millis(150)).await;
    Ok(())
}

/// The whole page at this width, as high as it is, as a window of an ordinary height shows it piece by piece: of a window as high as the
/// page the browser leaves the foot unpainted.
async fn whole(page: &Page, width: u32) -> Result<Vec<u8>> {
    window(page, width, 800).await?;
    let height = page.eval("Math.ceil(document.documentElement.scrollHeight)").await?;
    let all = json!({ "x": 0, "y": 0, "width": width, "height": height, "scale": 1 });
    let asked = json!({ "captureBeyondViewport": true, "clip": all });
    let taken = page.tell_browser("Page.captureScreenshot", asked).await?;
    let data = taken.get("data").and_then(Value::as_str).context("no picture was taken")?;
    Ok(BASE64_STANDARD.decode(data)?)
}

/// The page at this width from its top down, so high.
async fn part(page: &Page, width: u32, height: u32) -> Result<Vec<u8>> {
    window(page, width, height).await?;
    page.picture().await
}

fn write(path: &Path, picture: &[u8]) -> Result<()> {
    fs::write(path, picture).with_context(|| format!("{} can't be written", path.display()))
}
