//! What a new maker does with the release folder, by its own page to start at: change a price, publish, put three things on a host, see it.

use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::time::Instant;

use anyhow::{Context, Result};
use scantling_tests::{Engine, Key, Page, Scheme, Visit};
use serde_json::{Value, json};

use crate::nothing_complained;

/// The longest that the browser's part of the way may take. A person reads and types besides; the aim for all of it is a quarter of an hour.
const LONGEST: u64 = 120;

/// The likely price at the workshop that the first widget shows, in whole units.
const LIKELY: &str =
    "+(root(0)?.querySelector('.span.workshop')?.innerText.match(/likely \\$([0-9,]+)/)?.[1].replaceAll(',', ''))";

/// The release folder, the newest where there are several.
fn release() -> Result<PathBuf> {
    let target = fs::read_dir(xtask::root().join("target"))?.flatten().map(|entry| entry.path());
    let mut found: Vec<PathBuf> = target.filter(|path| path.join("START.html").is_file()).collect();
    found.sort_by_key(|path| fs::metadata(path.join("START.html")).and_then(|data| data.modified()).ok());
    found.pop().context("there is no release folder; run cargo xtask dist")
}

/// A host: a folder with what was put there.
fn put(from: &Path, host: &Path) -> Result<()> {
    fs::create_dir_all(host)?;
    for entry in fs::read_dir(from)? {
        let entry = entry?;
        let there = host.join(entry.file_name());
        if entry.file_type()?.is_dir() {
            put(&entry.path(), &there)?;
        } else {
            fs::copy(entry.path(), there)?;
        }
    }
    Ok(())
}

/// Presses a button by its words.
async fn press(page: &Page, words: &str) -> Result<()> {
    let found =
        format!("[...document.querySelectorAll('button')].find(b => b.textContent.trim() === {})", json!(words));
    page.until(&format!("!!{found}")).await?;
    page.eval(&format!("({found}.click(), 1)")).await?;
    Ok(())
}

/// What the page to start at says to press, in its order, and no more: whoever changes the words there changes what is pressed here.
const PRESSED: [&str; 6] = [
    "Pricing",
    "Files and earlier states",
    "Save the shop book as a file",
    "Publish",
    "Write price-book.json",
    "Write a test page",
];

/// Catches what the page would have the browser save, by the file's name.
const CATCH: &str = "(window.files = {}, \
     URL.createObjectURL = blob => (window.last = blob.text(), 'blob:caught'), \
     HTMLAnchorElement.prototype.click = function () { const name = this.download; window.last.then(text => files[name] = text); }, 1)";

/// Types another margin, key by key, and leaves the field.
async fn type_margin(page: &Page, margin: &str) -> Result<()> {
    let field = "document.getElementById('f-pricing.margin')";
    // What it was stands beside what it is only once it has been reckoned.
    page.until(&format!("!!{field} && document.querySelector('.basket')?.textContent.includes('USD')")).await?;
    page.eval(&format!("({field}.focus(), 1)")).await?;
    page.press(Key::Control('a')).await?;
    page.press_text(margin).await?;
    page.comes_to(&format!("{field}.value"), margin).await?;
    page.press(Key::Tab).await
}

/// Opens a page of the host, and sees this price in its first widget.
async fn shows(page: &Page, path: &str, expected: &Value) -> Result<()> {
    page.go(path).await?;
    page.until(&format!("{LIKELY} > 0")).await.with_context(|| path.to_owned())?;
    let shown = page.eval(LIKELY).await?;
    assert_eq!(shown.as_f64(), expected.as_f64(), "{path} shows another price than the maker's basket");
    Ok(())
}

pub(crate) async fn from_the_release_folder_alone_a_new_price_is_on_a_page_of_its_own(engine: Engine) -> Result<()> {
    let release = release()?;
    let host = xtask::root().join(format!("target/tmp/host-{engine}"));
    if host.exists() {
        fs::remove_dir_all(&host)?;
    }
    put(&release.join("scantling"), &host.join("scantling"))?;
    for file in ["price-book.json", "page.html"] {
        fs::copy(release.join(file), host.join(file))?;
    }
    // As it was downloaded: the demo's prices.
    let page = Page::open(Visit::new(engine, "page.html").on_host(&host)).await?;
    page.until(&format!("{LIKELY} > 0")).await?;
    let before = page.eval(LIKELY).await?;

    let started = Instant::now();
    page.open_file(&release.join("START.html")).await?;
    let said = page.eval("[...document.querySelectorAll('.press')].map(word => word.textContent)").await?;
    let said: Vec<String> = serde_json::from_value(said)?;
    let snippet = page.eval("document.getElementById('snippet').textContent").await?;
    let pictures = "[...document.images].every(image => image.complete && image.naturalWidth > 0)";
    page.until(pictures).await?;
    page.eval("(document.querySelector('a[href=\"shop.html\"]').click(), 1)").await?;
    page.until("!!document.querySelector('nav button')").await?;
    page.eval(CATCH).await?;
    assert_eq!(said, PRESSED, "START.html says to press something else");
    let now = "+(document.querySelector('.basket').textContent.match(/Trestle dining table[^]*?USD\\s*([0-9.]+) USD \\(\\+/)?.[1])";
    for words in &said {
        press(&page, words).await.with_context(|| words.clone())?;
        if words == "Pricing" {
            type_margin(&page, "0.20").await?;
            page.until(&format!("{now} > 0")).await?;
        }
    }
    let expected = page.eval(now).await?;
    page.until("!!files['price-book.json'] && !!files['shop-book.json']").await?;
    // The file that is private holds the margin as it was typed; the public one has no margin in it.
    page.comes_to("JSON.parse(files['shop-book.json']).pricing.margin", "0.20").await?;
    page.comes_to("files['price-book.json'].includes('margin')", false).await?;
    let book = page.eval("files['price-book.json']").await?;
    fs::write(host.join("price-book.json"), book.as_str().context("no price book was written")?)?;

    // The page with nothing but the lines of step 5 in it, which the maker's page has to the letter.
    let lines = snippet.as_str().context("START.html has no lines to paste")?;
    assert!(lines.contains("integrity=\"sha384-"), "{lines}");
    page.comes_to("document.getElementById('snippet').textContent", lines).await?;
    page.until("!!files['page.html']").await?;
    let own = page.eval("files['page.html']").await?;
    let own = own.as_str().context("no test page was written")?;
    assert!(own.contains(lines), "{own}");
    assert_eq!(own, fs::read_to_string(release.join("page.html"))?, "the release has another");
    fs::write(host.join("own.html"), own)?;
    shows(&page, "own.html", &expected).await?;
    let took = started.elapsed();
    assert_ne!(expected, before, "the price did not change");
    // The page that comes with the folder, and the demo's two, one folder further down.
    put(&release.join("demo"), &host.join("demo"))?;
    for path in ["page.html", "demo/index.html", "demo/embedding.html"] {
        shows(&page, path, &expected).await?;
    }
    nothing_complained(&page).await?;
    // Past the harness, which keeps what a test prints to itself.
    writeln!(
        std::io::stderr(),
        "new maker, {engine}: from START.html to {expected} (it was {before}) on a page of their own in {:.1} s",
        took.as_secs_f32()
    )?;
    assert!(took.as_secs() < LONGEST, "it took {took:?}");
    a_changed_script_is_refused(&page, &host).await?;
    page.close().await
}

/// With the hash in the lines, a script whose bytes were changed does not run, and what stands between the tags stays.
async fn a_changed_script_is_refused(page: &Page, host: &Path) -> Result<()> {
    let script = host.join("scantling/scantling-quote.js");
    for small in ["scantling-quote.js.br", "scantling-quote.js.gz"] {
        fs::remove_file(host.join("scantling").join(small)).ok();
    }
    fs::write(&script, format!("{}\n// changed\n", fs::read_to_string(&script)?))?;
    page.go("own.html?again").await?;
    page.until("document.readyState === 'complete'").await?;
    tokio::time::sleep(std::time::Duration::from_millis(500)).await;
    let seen = "[customElements.get('scantling-quote') === undefined, document.querySelector('scantling-quote p').checkVisibility()]";
    page.comes_to(seen, json!([true, true])).await?;
    Ok(())
}

/// The page and its pictures have come.
const ALL_THERE: &str = "document.readyState === 'complete' && [...document.images].every(image => image.complete && image.naturalWidth > 0)";

/// Every page of the release that is read, not used: no fault of access, nothing refused, nothing sideways at 320 pixels, light and dark.
pub(crate) async fn the_page_to_start_at_and_the_papers_can_be_read_by_all(engine: Engine) -> Result<()> {
    let release = release()?;
    for scheme in [Scheme::Light, Scheme::Dark] {
        let visit = Visit::new(engine, "papers/index.html").on_host(&release).coloured(scheme).with_axe();
        let page = Page::open(visit).await?;
        let papers =
            page.eval("[...document.querySelectorAll('nav a')].map(a => 'papers/' + a.getAttribute('href'))").await?;
        let mut papers: Vec<String> = serde_json::from_value(papers)?;
        assert!(papers.len() > 10, "{papers:?}");
        papers.push("START.html".into());
        for paper in &papers {
            page.go(paper).await?;
            page.until(ALL_THERE).await?;
            assert_eq!(page.faults_of_access().await?, Vec::<String>::new(), "{paper}");
            nothing_complained(&page).await.with_context(|| paper.clone())?;
        }
        let narrow = json!({ "width": 320, "height": 700, "deviceScaleFactor": 1, "mobile": false });
        page.tell_browser("Emulation.setDeviceMetricsOverride", narrow).await?;
        for paper in &papers {
            page.go(paper).await?;
            page.until(ALL_THERE).await?;
            let wide = page.eval("[innerWidth, document.documentElement.scrollWidth]").await?;
            assert_eq!(wide, json!([320, 320]), "{paper} is cut off or scrolls sideways");
        }
        page.close().await?;
    }
    Ok(())
}
