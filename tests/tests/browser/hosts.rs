//! What the guide to hosts says of them, `docs/papers/hosts.md`: the element's files on a host of their own, a page further down in folders, an
//! element that is put in later than its script, and a block in a frame.

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result};
use scantling_tests::{Engine, Page, Visit};
use serde_json::json;
use xtask::server::{STRICT_POLICY, Serving, Site, WASM};

use crate::{READY, nothing_complained};

/// The strict policy, with the other host named in it as the guide says. Which port the other host is at comes out only as it starts.
const NAMES_THE_OTHER: &str = "default-src 'none'; script-src 'self' http://127.0.0.1:* 'wasm-unsafe-eval'; style-src 'self'; \
     connect-src 'self' http://127.0.0.1:*; img-src 'self' data:; frame-src http://127.0.0.1:*; \
     require-trusted-types-for 'script'; trusted-types 'none'";

/// The policy of a host whose pages are put into frames on others.
const IN_FRAMES: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; connect-src 'self'; \
     img-src 'self' data:; frame-ancestors http://127.0.0.1:*; require-trusted-types-for 'script'; trusted-types 'none'";

/// What stands between the tags is seen, and the element is not defined.
const FALLBACK: &str =
    "!customElements.get('scantling-quote') && document.querySelector('scantling-quote p')?.checkVisibility()";

/// The names of what was fetched of the element, the book and the words.
const FETCHED: &str = "performance.getEntriesByType('resource').map(e => e.name).filter(name => !name.includes('watch.js') && !name.endsWith('icon.svg'))";

/// An empty folder that is the page's own host.
fn host(engine: Engine, name: &str) -> Result<PathBuf> {
    let host = xtask::root().join(format!("target/tmp/hosts-{name}-{engine}"));
    if host.exists() {
        fs::remove_dir_all(&host)?;
    }
    fs::create_dir_all(&host)?;
    Ok(host)
}

/// A host of plain files beside the page's own: the element, the book and the demo's pages.
fn other_host(policy: &'static str, allowed: Option<String>) -> Result<Serving> {
    let folders = vec![xtask::root().join("target/dist"), xtask::root().join("tests/pages")];
    let allowed = allowed.map(|origin| &*origin.leak());
    Ok(Serving::start(Site { folders, policy, wasm: WASM, allowed, watchers: &["watch.js"] }, 0)?)
}

/// The hash that the maker's page puts into the lines for a page.
fn integrity() -> Result<String> {
    let page = fs::read_to_string(xtask::root().join("target/dist/shop.html"))?;
    let hash = page.split("sha384-").nth(1).and_then(|rest| rest.split('"').next()).context("no hash in shop.html")?;
    Ok(format!("sha384-{hash}"))
}

fn page_of(head: &str, body: &str) -> String {
    format!(
        "<!doctype html>\n<html lang=\"en\">\n<head><meta charset=\"utf-8\"><title>A maker's page</title>\
         <link rel=\"icon\" href=\"data:,\">{head}</head>\n<body>{body}</body>\n</html>\n"
    )
}

fn write(host: &Path, name: &str, text: &str) -> Result<()> {
    let file = host.join(name);
    fs::create_dir_all(file.parent().context("a folder")?)?;
    Ok(fs::write(file, text)?)
}

/// The lines of the last step of `START.html`, with addresses in full.
fn lines_in_full(address: &str) -> Result<String> {
    let (script, hash) = (format!("{address}scantling/scantling-quote.js"), integrity()?);
    Ok(format!(
        "<script type=\"module\" src=\"{script}\" integrity=\"{hash}\"></script>\
         <scantling-quote book=\"{address}price-book.json\" postal-code=\"60601\"><p>Write to us.</p></scantling-quote>"
    ))
}

pub(crate) async fn the_element_s_files_may_lie_on_another_host_that_allows_it(engine: Engine) -> Result<()> {
    let host = host(engine, "other")?;
    write(&host, "index.html", &page_of("", "<p>A page without it.</p>"))?;
    let page = Page::open(Visit::new(engine, "index.html").under(NAMES_THE_OTHER).on_host(&host)).await?;
    let allows = other_host(STRICT_POLICY, Some(page.origin()))?;
    let forbids = other_host(STRICT_POLICY, None)?;
    write(&host, "allowed.html", &page_of("", &lines_in_full(&allows.address())?))?;
    write(&host, "forbidden.html", &page_of("", &lines_in_full(&forbids.address())?))?;

    page.go("allowed.html").await?;
    page.until(READY).await?;
    // Words of another language, and where postal codes lie, come from there as well; a price of the maker's van needs the latter.
    page.eval("(document.querySelector('scantling-quote').language = 'de', 1)").await?;
    page.until("root(0).querySelector('[lang]')?.lang === 'de'").await?;
    page.until(READY).await?;
    page.until(&format!("{FETCHED}.some(name => name.endsWith('postal-points.csv'))")).await?;
    let elsewhere = format!("{FETCHED}.filter(name => !name.startsWith({}))", json!(allows.address()));
    assert_eq!(page.eval(&elsewhere).await?, json!([]), "all of it lies on the other host");
    assert_eq!(page.eval("told.filter(([name]) => name === 'scantling-error')").await?, json!([]));
    assert_eq!((page.complaints().await?, allows.missing()), (Vec::new(), Vec::new()));

    page.go("forbidden.html").await?;
    page.until("document.readyState === 'complete'").await?;
    page.until("complained.length > 0").await.context("the console says why")?;
    page.comes_to(FALLBACK, true).await?;
    page.close().await
}

pub(crate) async fn a_page_in_a_folder_brings_the_script_and_the_element_comes_later(engine: Engine) -> Result<()> {
    let host = host(engine, "folders")?;
    let dist = xtask::root().join("target/dist");
    for name in fs::read_dir(dist.join("scantling"))?.flatten() {
        if name.path().is_file() {
            let there = host.join("files/scantling").join(name.file_name());
            fs::create_dir_all(there.parent().context("a folder")?)?;
            fs::copy(name.path(), there)?;
        }
    }
    write(&host, "files/scantling/words/en.json", &fs::read_to_string(dist.join("scantling/words/en.json"))?)?;
    write(&host, "files/price-book.json", &fs::read_to_string(dist.join("price-book.json"))?)?;
    // The theme of a blog has the script in its head, once, on every page; this post has no element yet.
    let script = "<script type=\"module\" src=\"../../files/scantling/scantling-quote.js\"></script>";
    write(&host, "posts/table/index.html", &page_of(script, "<main>A post about a table.</main>"))?;
    let page = Page::open(Visit::new(engine, "posts/table/index.html").on_host(&host)).await?;
    page.until("!!customElements.get('scantling-quote')").await?;
    let fetched: Vec<String> = serde_json::from_value(page.eval(FETCHED).await?)?;
    assert!(fetched.len() == 1 && fetched[0].ends_with("scantling-quote.js"), "the small script alone: {fetched:?}");

    // Put in later by a script of the page, without its book at first, as a framework does that sets attributes one by one.
    let put = "(e => (e.append(Object.assign(document.createElement('p'), { textContent: 'Write to us.' })), \
         document.querySelector('main').append(e), e.setAttribute('book', '../../files/price-book.json'), 1))(document.createElement('scantling-quote'))";
    page.eval(put).await?;
    page.until(READY).await?;
    page.type_into(0, "Postal code", "60601").await?;
    page.until("!!root(0).querySelector('.span.delivered .range')?.innerText").await?;
    assert_eq!(page.eval("told.filter(([name]) => name === 'scantling-error')").await?, json!([]));
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn a_block_in_a_frame_prices_keeps_and_gives_a_link_that_opens(engine: Engine) -> Result<()> {
    let host = host(engine, "frame")?;
    write(&host, "index.html", &page_of("", "<p>The page around it.</p>"))?;
    let page = Page::open(Visit::new(engine, "index.html").under(NAMES_THE_OTHER).on_host(&host)).await?;
    let blocks = other_host(IN_FRAMES, None)?;
    // The height of a window, and leave to copy, as the guide says.
    let frame = "(e => (e.allow = 'clipboard-write', e.src = to, e.title = 'A block', e.style.cssText = 'width: 600px; height: 1000px', document.body.append(e), 1))";
    page.eval(&format!("(to => {frame}(document.createElement('iframe')))('{}start.html')", blocks.address())).await?;
    page.until("document.querySelector('iframe').getBoundingClientRect().height > 900").await?;
    page.enter_frame().await?;
    page.until(READY).await?;
    // WebKit's driver takes no field of such a frame for one that can be typed into.
    let typed =
        "(e => (e.value = '100', e.dispatchEvent(new InputEvent('input', { bubbles: true, composed: true })), 1))";
    page.eval(&format!("{typed}(root(0).getElementById(label(0, 'Length').htmlFor))")).await?;
    page.until("root(0).querySelector('.sheet').innerHTML.includes('100 in')").await?;
    let button = "(text => [...root(0).querySelectorAll('button')].find(b => b.textContent.trim() === text))";
    page.eval(&format!("({button}('Keep this estimate').click(), 1)")).await?;
    page.until("!!root(0).querySelector('.kept table')").await?;
    page.eval(&format!("({button}('Link to it').click(), 1)")).await?;
    page.until("!!root(0).querySelector('.link input')?.value").await?;
    let link = page.eval("root(0).querySelector('.link input').value").await?;
    assert_eq!(page.eval("refused").await?, json!([]), "the policy of the frame refused something");
    assert_eq!((page.complaints().await?, page.fetched_elsewhere().await?.len() > 3), (Vec::new(), true));
    // The link leads to the block by itself, and that is a page like any other.
    page.leave_frame().await?;
    page.eval(&format!("(location.href = {link}, 1)")).await?;
    page.until("!document.querySelector('iframe')").await?;
    page.until(READY).await?;
    page.comes_to("label(0, 'Length').parentNode.querySelector('input').value", "100 in").await?;
    page.close().await
}
