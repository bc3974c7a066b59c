//! What a new maker does with the release folder, by its own page to start at: change a price, publish, put three things on a host, see it.

use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::time::Instant;

use anyhow::{Context, Result, bail};
use scantling_tests::{Engine, Page, Scheme, Visit};
use serde_json::json;

use crate::nothing_complained;

/// The longest that the browser's part of the way may take. A person reads and types besides; the aim for all of it is a quarter of an hour.
const LONGEST: u64 = 120;

/// The likely price at the workshop that the first widget shows, in whole units.
const LIKELY: &str =
    "+(root(0)?.querySelector('[part=price]')?.innerText.match(/likely \\$([0-9,]+)/)?.[1].replaceAll(',', ''))";

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

/// Presses what the page to start at says to press, by its words.
async fn press(page: &Page, said: &[String], words: &str) -> Result<()> {
    if !said.iter().any(|word| word == words) {
        bail!("START.html does not say to press “{words}”, but: {said:?}");
    }
    let found =
        format!("[...document.querySelectorAll('button')].find(b => b.textContent.trim() === {})", json!(words));
    page.until(&format!("!!{found}")).await?;
    page.eval(&format!("({found}.click(), 1)")).await?;
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
    press(&page, &said, "Pricing").await?;
    let margin = "document.getElementById('f-pricing.margin')";
    // What it was stands beside what it is only once it has been reckoned.
    page.until(&format!("!!{margin} && document.querySelector('.basket')?.textContent.includes('USD')")).await?;
    let typed = "m.value = '0.20', m.dispatchEvent(new Event('change', { bubbles: true }))";
    page.eval(&format!("(m => ({typed}, 1))({margin})")).await?;
    let now = "+(document.querySelector('.basket').textContent.match(/Trestle dining table[^]*?USD\\s*([0-9.]+) USD \\(\\+/)?.[1])";
    page.until(&format!("{now} > 0")).await?;
    let expected = page.eval(now).await?;
    press(&page, &said, "Publish").await?;
    page.eval(
        "(URL.createObjectURL = blob => (blob.text().then(text => window.saved = text), 'blob:caught'), \
         HTMLAnchorElement.prototype.click = function () { window.named = this.download }, 1)",
    )
    .await?;
    press(&page, &said, "Write price-book.json").await?;
    page.until("!!window.saved").await?;
    page.comes_to("named", "price-book.json").await?;
    let book = page.eval("saved").await?;
    fs::write(host.join("price-book.json"), book.as_str().context("no price book was written")?)?;

    // The page with nothing but the lines of step 5 in it, which the maker's page has to the letter.
    let lines = snippet.as_str().context("START.html has no lines to paste")?;
    assert!(lines.contains("integrity=\"sha384-"), "{lines}");
    page.comes_to("document.getElementById('snippet').textContent", lines).await?;
    page.eval("(window.saved = null, 1)").await?;
    press(&page, &said, "Write a test page").await?;
    page.until("named === 'page.html' && !!window.saved").await?;
    let own = page.eval("saved").await?;
    let own = own.as_str().context("no test page was written")?;
    assert!(own.contains(lines), "{own}");
    assert_eq!(own, fs::read_to_string(release.join("page.html"))?, "the release has another");
    fs::write(host.join("own.html"), own)?;
    page.go("own.html").await?;
    page.until(&format!("{LIKELY} > 0")).await?;
    let shown = page.eval(LIKELY).await?;
    let took = started.elapsed();
    assert_eq!(shown.as_f64(), expected.as_f64(), "the page shows another price than the maker's basket");
    assert_ne!(shown, before, "the price did not change");
    nothing_complained(&page).await?;
    // Past the harness, which keeps what a test prints to itself.
    writeln!(
        std::io::stderr(),
        "new maker, {engine}: from START.html to {shown} (it was {before}) on a page of their own in {:.1} s",
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
