//! The maker's page: several shops side by side, installed from a served copy, and asking for nothing from disk.

use anyhow::{Context, Result};
use scantling_tests::{Engine, Page, Visit};
use serde_json::json;

use crate::nothing_complained;
use crate::shop::{choose_file, press};
use crate::year::{act, go_to, help, open_shop};

const STANDS: &str = "!!document.querySelector('main tbody tr')";

/// What the page says it is called by the maker, where there are several shops.
const WHICH: &str = "document.querySelector('.which')?.textContent";

async fn type_into(page: &Page, id: &str, text: &str) -> Result<()> {
    let field = format!("document.getElementById({})", json!(id));
    page.until(&format!("!!{field}")).await?;
    page.eval(&format!(
        "({field}.focus(), {field}.value = {}, {field}.dispatchEvent(new Event('change', {{ bubbles: true }})), 1)",
        json!(text)
    ))
    .await?;
    Ok(())
}

pub(crate) async fn shops_are_copied_named_opened_put_away_and_brought_back(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "shop.html")).await?;
    page.until(STANDS).await?;
    press(&page, "Shops").await?;
    press(&page, "Copy First shop").await?;
    type_into(&page, "shop-1", "What if screws are dear").await?;
    press(&page, "Open What if screws are dear").await?;
    page.until(&format!("{STANDS} && {WHICH} === 'What if screws are dear'")).await?;
    press(&page, "Hardware").await?;
    type_into(&page, "c-hardware-0-2", "77.70").await?;
    page.until("document.querySelector('.basket')?.textContent.includes('(+')").await?;
    // Kept in its own place: the first shop is as it was, and this one as it was left.
    press(&page, "Shops").await?;
    page.until("[...document.querySelectorAll('a')].some(a => a.textContent === 'First shop in a window of its own' && a.hash === '#shop=0')").await?;
    press(&page, "Open First shop").await?;
    page.until(&format!("{STANDS} && {WHICH} === 'First shop'")).await?;
    press(&page, "Hardware").await?;
    page.until("document.getElementById('c-hardware-0-2').value === '1.35'").await?;
    press(&page, "Shops").await?;
    press(&page, "Put What if screws are dear away").await?;
    press(&page, "Bring What if screws are dear back").await?;
    press(&page, "Open What if screws are dear").await?;
    page.until(&format!("{STANDS} && {WHICH} === 'What if screws are dear'")).await?;
    press(&page, "Hardware").await?;
    page.until("document.getElementById('c-hardware-0-2').value === '77.70'").await?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn all_shops_go_into_one_file_and_come_back_where_the_browser_forgot(engine: Engine) -> Result<()> {
    let page = open_shop(engine).await?;
    go_to(&page, "Shops").await?;
    act(&page, "press('Copy First shop')", "document.querySelectorAll('.shops li').length === 2").await?;
    act(&page, "type('shop-1', 'What if screws are dear')", "!!button('Open What if screws are dear')").await?;
    // What was typed a moment ago is in the file, too.
    go_to(&page, "Hardware").await?;
    type_into(&page, "c-hardware-0-2", "77.70").await?;
    go_to(&page, "Files and earlier states").await?;
    act(&page, "press('Save all shops as one file')", "typeof saved === 'string' && named === 'all-shops.json'")
        .await?;
    let file = page.eval("saved").await?;
    let file = file.as_str().context("no file was written")?;

    // The browser forgets everything while the page is closed.
    page.go("speed/plain.html").await?;
    page.eval("(localStorage.clear(), 1)").await?;
    page.go("shop.html").await?;
    help(&page).await?;
    go_to(&page, "Shops").await?;
    page.comes_to("document.querySelectorAll('.shops li').length", 1).await?;
    go_to(&page, "Files and earlier states").await?;
    choose_file(&page, "all-shops-file", "all-shops.json", "{\"scantling_everything\":2,\"shops\":[]}").await?;
    page.until("said().includes('of version 2')").await?;
    choose_file(&page, "all-shops-file", "all-shops.json", file).await?;
    page.until("said() === 'Taken in, to be opened under Shops: First shop, from the file, What if screws are dear.'")
        .await?;
    // Where a book is opened, the file is known for what it is.
    choose_file(&page, "book-file", "all-shops.json", "{\"scantling_everything\":1,\"shops\":[]}").await?;
    page.until("said().includes('no shop in it can be read')").await?;
    // The field is empty again, so that the same file, mended, is another choice.
    page.comes_to("document.getElementById('book-file').value", "").await?;
    for (shop, price) in [("First shop, from the file", "77.70"), ("What if screws are dear", "1.35")] {
        press(&page, "Shops").await?;
        press(&page, &format!("Open {shop}")).await?;
        page.until(&format!("{STANDS} && {WHICH} === {}", json!(shop))).await?;
        press(&page, "Hardware").await?;
        page.comes_to("document.getElementById('c-hardware-0-2')?.value", price).await?;
    }
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn a_served_page_is_kept_and_opens_with_no_server(engine: Engine) -> Result<()> {
    let mut page = Page::open(Visit::new(engine, "shop.html").unwatched()).await?;
    page.until(STANDS).await?;
    page.until("document.querySelector('link[rel=manifest]')?.href === new URL('shop.webmanifest', location).href")
        .await?;
    let ask = "(navigator.serviceWorker.getRegistrations().then(all => (window.kept = all.some(one => one.active && one.scope.endsWith('/shop.html')))), 1)";
    let mut tries = 0_u32;
    while page.eval("window.kept === true").await? != true && tries < 300 {
        page.eval(ask).await?;
        tokio::time::sleep(std::time::Duration::from_millis(50)).await;
        tries = tries.saturating_add(1);
    }
    page.comes_to("window.kept", true).await.context("the page is kept by now")?;
    page.go_unserved("shop.html").await?;
    page.until(STANDS).await?;
    press(&page, "Hardware").await?;
    page.until("document.getElementById('c-hardware-0-2').value === '1.35'").await?;
    page.close().await
}

pub(crate) async fn from_disk_the_page_asks_for_nothing(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "shop.html")).await?;
    page.go_to_file("shop.html").await?;
    page.until(STANDS).await?;
    page.comes_to("document.querySelectorAll('link[rel=manifest]').length", 0).await?;
    page.comes_to("performance.getEntriesByType('resource').filter(e => !e.name.startsWith('data:') && !e.name.startsWith('blob:')).length", 0).await?;
    page.close().await
}

/// What the browser itself says of a page that is to be installed: only this one's driver tells.
pub(crate) async fn the_browser_finds_it_fit_to_be_installed(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "shop.html")).await?;
    page.until(STANDS).await?;
    page.until("!!document.querySelector('link[rel=manifest]')").await?;
    let manifest = page.tell_browser("Page.getAppManifest", json!({})).await?;
    assert_eq!(manifest["errors"], json!([]), "{manifest}");
    assert!(manifest["data"].as_str().is_some_and(|text| text.contains("the maker's page")), "{manifest}");
    let faults = page.tell_browser("Page.getInstallabilityErrors", json!({})).await?;
    let named: Vec<&str> = faults["installabilityErrors"]
        .as_array()
        .into_iter()
        .flatten()
        .filter_map(|one| one["errorId"].as_str())
        .collect();
    // A window of a test is a private one: nothing is installed there.
    assert!(named.iter().all(|id| *id == "in-incognito"), "{named:?}");
    nothing_complained(&page).await?;
    page.close().await
}
