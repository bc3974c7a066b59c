//! The maker's page: edited by keyboard and pointer, undone, kept over a reload, told what is wrong beside the cell.

use anyhow::{Result, ensure};
use scantling_tests::{Engine, Page, Scheme, Visit};
use serde_json::json;

use crate::nothing_complained;

/// A button by what it says, anywhere on the page.
pub(crate) async fn press(page: &Page, words: &str) -> Result<()> {
    let found =
        format!("[...document.querySelectorAll('button')].find(b => b.textContent.trim() === {})", json!(words));
    page.until(&format!("!!{found}")).await?;
    page.eval(&format!("({found}.click(), 1)")).await?;
    Ok(())
}

/// Opens a file in a field, as one that was chosen from disk.
pub(crate) async fn choose_file(page: &Page, id: &str, name: &str, text: &str) -> Result<()> {
    let field = format!("document.getElementById({})", json!(id));
    page.until(&format!("!!{field}")).await?;
    let put = "bag.items.add(new File([text], name)), field.files = bag.files, field.dispatchEvent(new Event('change', { bubbles: true }))";
    page.eval(&format!(
        "((field, bag, name, text) => ({put}, 1))({field}, new DataTransfer(), {}, {})",
        json!(name),
        json!(text)
    ))
    .await?;
    Ok(())
}

/// Goes to the timbers, where a mark beside the word may say that something is wrong.
const TIMBERS: &str =
    "([...document.querySelectorAll('nav button')].find(b => b.textContent.startsWith('Timbers')).click(), 1)";

/// Types into a cell of the grid and leaves it.
async fn type_into_cell(page: &Page, id: &str, text: &str) -> Result<()> {
    let cell = format!("document.getElementById({})", json!(id));
    page.until(&format!("!!{cell}")).await?;
    page.eval(&format!(
        "({cell}.focus(), {cell}.value = {}, {cell}.dispatchEvent(new Event('change', {{ bubbles: true }})), 1)",
        json!(text)
    ))
    .await?;
    Ok(())
}

pub(crate) async fn a_rate_is_edited_seen_in_the_basket_undone_and_kept_over_a_reload(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "shop.html")).await?;
    let basket = "document.querySelector('.basket').textContent";
    press(&page, "Hardware").await?;
    page.until(&format!("{basket}.includes('3480.00 USD')")).await?;
    // What is no price is told beside its cell, and the basket stands as it was.
    type_into_cell(&page, "c-hardware-0-2", "dear").await?;
    page.until(
        "document.querySelector('.cell .fault:not(:empty)')?.textContent.includes('“dear” is not an amount of money')",
    )
    .await?;
    page.until("document.querySelector('.faults')?.textContent.includes('Hardware, Slotted top fixing: price')")
        .await?;
    // A comma is the point where it can be nothing else; where it could group thousands, neither is taken.
    type_into_cell(&page, "c-hardware-0-2", "1,350").await?;
    page.until(
        "document.querySelector('.cell .fault:not(:empty)')?.textContent === '“1,350” can be read two ways: write 1350 or 1.350'",
    )
    .await?;
    type_into_cell(&page, "c-hardware-0-2", "101,35").await?;
    page.until("!document.querySelector('.faults')").await?;
    page.until("document.getElementById('c-hardware-0-2').value === '101.35'").await?;
    // Written over with the same, it still shows what is held.
    type_into_cell(&page, "c-hardware-0-2", "101,35").await?;
    page.until("document.getElementById('c-hardware-0-2').value === '101.35'").await?;
    // What it was stands struck out before what it is, and by how much it rose after.
    page.until("/^Trestle dining table\\s*3480\\.00 USD\\s*\\d{4}\\.00 USD \\(\\+/.test(document.querySelector('.basket').textContent)")
        .await?;
    // Undone three times it is as before; done again as often, and kept over a reload.
    press(&page, "Undo").await?;
    press(&page, "Undo").await?;
    press(&page, "Undo").await?;
    page.until("document.getElementById('c-hardware-0-2').value === '1.35'").await?;
    press(&page, "Do again").await?;
    press(&page, "Do again").await?;
    press(&page, "Do again").await?;
    page.until("document.getElementById('c-hardware-0-2').value === '101.35'").await?;
    page.until(
        "Object.keys(localStorage).some(k => k.startsWith('scantling-shop') && localStorage[k].includes('101.35'))",
    )
    .await?;
    page.eval("(window.before = true, location.reload(), 1)").await?;
    page.until("!window.before && !!document.querySelector('main tbody tr')").await?;
    press(&page, "Hardware").await?;
    page.until("document.getElementById('c-hardware-0-2').value === '101.35'").await?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn it_opens_from_disk_and_keeps_what_was_edited_there(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "shop.html")).await?;
    page.go_to_file("shop.html").await?;
    press(&page, "Hardware").await?;
    page.until("document.querySelector('.basket').textContent.includes('3480.00 USD')").await?;
    type_into_cell(&page, "c-hardware-0-2", "101.35").await?;
    page.until("/3480\\.00 USD\\s*\\d{4}\\.00 USD \\(\\+/.test(document.querySelector('.basket').textContent)").await?;
    page.go_to_file("shop.html").await?;
    press(&page, "Hardware").await?;
    page.until("document.getElementById('c-hardware-0-2').value === '101.35'").await?;
    page.close().await
}

pub(crate) async fn every_section_opens_and_says_what_it_is(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "shop.html")).await?;
    page.until("!!document.querySelector('main tbody tr')").await?;
    let sections = page.eval("[...document.querySelectorAll('nav button')].map(b => b.textContent.trim())").await?;
    let sections: Vec<String> = serde_json::from_value(sections)?;
    assert!(sections.len() > 24, "{sections:?}");
    for section in &sections {
        press(&page, section).await?;
        page.until(&format!("document.querySelector('main h2')?.textContent === {}", json!(section))).await?;
    }
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn offers_and_requests_are_reckoned_and_a_price_book_published(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "shop.html")).await?;
    page.until("!!document.querySelector('main tbody tr')").await?;
    let paste = |id: &str, text: &str| {
        format!(
            "(t => (t.value = {}, t.dispatchEvent(new Event('change')), 1))(document.getElementById('{id}'))",
            json!(text)
        )
    };
    press(&page, "Offers").await?;
    page.eval(&paste("offers-text", include_str!("../../../shared/offers/table-four-buyers.json"))).await?;
    // As the command says of the same offers.
    page.until("document.querySelector('main .said')?.textContent.includes('Invented buyer in Ottawa offers most')")
        .await?;
    page.until("document.querySelector('main tbody tr th').textContent === 'Invented neighbour, collects'").await?;
    press(&page, "Requests").await?;
    let request = r#"{"scantling_request": 1, "brief": {"scantling_brief": 1, "design": "trestle-table", "delivery": "freight",
        "destination": {"country": "US", "postal_code": "60601"}}, "told": {"edition": "2026-11-25", "currency": "USD", "low": "4050",
        "likely": "4490", "high": "5055"}, "from": {"name": "A buyer", "mail": "buyer@home.example"}}"#;
    page.eval(&paste("request-text", request)).await?;
    page.until("document.querySelector('main').textContent.includes('4490.00 USD, is what it comes to')").await?;
    page.until("document.querySelector('main').textContent.includes('Cutting list')").await?;
    press(&page, "Write a quote for it").await?;
    page.until("document.querySelector('.quote img')?.naturalWidth > 0").await?;
    press(&page, "Requests").await?;
    page.eval(&paste("request-text", &request.replace("4490", "3990"))).await?;
    page.until("document.querySelector('main').textContent.includes('the request was altered')").await?;
    // The same one again is not kept twice.
    page.eval(&paste("request-text", request)).await?;
    page.until("document.querySelector('.said').textContent === 'That request is kept already, as r-1.'").await?;
    page.until("document.querySelectorAll('.picks button').length === 2").await?;
    press(&page, "Publish").await?;
    let catch = "(URL.createObjectURL = blob => (blob.text().then(text => window.saved = text), 'blob:caught'), \
         HTMLAnchorElement.prototype.click = function () { window.named = this.download }, 1)";
    page.eval(catch).await?;
    press(&page, "Write price-book.json").await?;
    page.until("!!window.saved").await?;
    // What the page publishes is what the command publishes, to the byte.
    let saved = page.eval("saved").await?;
    let committed = include_str!("../../../public/price-book.json");
    assert_eq!(saved.as_str(), Some(committed.trim_end()));
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn a_book_that_was_cut_off_is_looked_at_until_the_maker_goes_on_with_it(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "shop.html")).await?;
    page.until("!!document.querySelector('main tbody tr')").await?;
    press(&page, "Files and earlier states").await?;
    // The demo's book, cut off in the middle of its timbers, opened as a file.
    let demo = include_str!("../../../shared/books/demo-shop.json");
    let cut = demo.find("\"white-oak\"").and_then(|at| demo.get(..at.saturating_add(4))).unwrap_or_default();
    let open = "const bag = new DataTransfer(); bag.items.add(new File([text], 'cut.json', { type: 'application/json' })); \
        const field = document.getElementById('book-file'); field.files = bag.files; field.dispatchEvent(new Event('change', { bubbles: true }));";
    page.eval(&format!("(text => {{ {open} return 1; }})({})", json!(cut))).await?;
    page.until("document.querySelector('.held')?.textContent.includes('bytes can')").await?;
    page.eval(TIMBERS).await?;
    // Nothing in it is changed, and the book before is the one that is kept.
    page.until("document.getElementById('c-timbers-0-1')?.readOnly").await?;
    press(&page, "Add a row").await?;
    page.until("document.querySelector('.said').textContent.includes('only looked at')").await?;
    press(&page, "Back to the book before").await?;
    page.until("!document.querySelector('.held') && document.querySelectorAll('.grid tbody tr').length > 5").await?;
    press(&page, "Files and earlier states").await?;
    page.eval(&format!("(text => {{ {open} return 1; }})({})", json!(cut))).await?;
    press(&page, "Go on with what could be read").await?;
    page.until("!document.querySelector('.held')").await?;
    page.eval(TIMBERS).await?;
    type_into_cell(&page, "c-timbers-0-1", "Another").await?;
    page.until("document.getElementById('c-timbers-0-1').value === 'Another'").await?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn the_basket_holds_the_maker_s_own_pieces(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "shop.html")).await?;
    let names = "[...document.querySelectorAll('main tbody th[scope=row]')].map(th => th.textContent.trim()).slice(0, 6).join()";
    let every = "Trestle dining table,Hall bench,Wall shelf,Slab-top console,River low table,Bookcase";
    page.until(&format!("{names} === '{every}'")).await?;
    page.eval("(design => { design.value = 'hall-bench'; design.dispatchEvent(new Event('change', { bubbles: true })); return 1; })(document.getElementById('watch'))").await?;
    press(&page, "Add this piece").await?;
    page.until(&format!("{names}.startsWith('hall-bench,')")).await?;
    // It costs what the design at its defaults did, and goes by the name the maker gives it.
    page.until("document.querySelector('main tbody tr').textContent.includes('1460.00 USD')").await?;
    type_into_cell(&page, "c-basket-0-0", "Our bench").await?;
    page.until(&format!("{names}.startsWith('Our bench,')")).await?;
    press(&page, "Undo").await?;
    press(&page, "Undo").await?;
    page.until(&format!("{names} === '{every}'")).await?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn the_basket_is_delivered_to_places_that_are_in_the_book(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "shop.html")).await?;
    let heads = "[...document.querySelectorAll('main thead th')].map(h => h.textContent).filter(t => t.startsWith('Delivered to ')).join()";
    let figures =
        "[...document.querySelector('main tbody tr').querySelectorAll('td')].slice(6).map(d => d.textContent)";
    // The demo's book names three.
    page.comes_to(heads, "Delivered to 60601,Delivered to 98101,Delivered to CA K1A 0B1").await?;
    page.until(&format!("{figures}.length === 3 && {figures}.every(f => f.endsWith(' USD'))")).await?;
    type_into_cell(&page, "places", "60601, 54601").await?;
    page.comes_to(heads, "Delivered to 60601,Delivered to 54601").await?;
    page.until(&format!("{figures}.length === 2 && {figures}.every(f => f.endsWith(' USD'))")).await?;
    // It is an edit of the book: kept over a reload, and undone.
    let kept = "Object.keys(localStorage).some(k => k.startsWith('scantling-shop') && localStorage[k].includes('[\"60601\",\"54601\"]'))";
    page.until(kept).await?;
    page.eval("(window.before = true, location.reload(), 1)").await?;
    page.until("!window.before && !!document.querySelector('main tbody tr')").await?;
    page.comes_to("document.getElementById('places').value", "60601, 54601").await?;
    page.comes_to(heads, "Delivered to 60601,Delivered to 54601").await?;
    type_into_cell(&page, "places", "").await?;
    page.until(&format!("{heads} === '' && {figures}.length === 0")).await?;
    press(&page, "Undo").await?;
    page.comes_to("document.getElementById('places').value", "60601, 54601").await?;
    page.until(&format!("{figures}.length === 2")).await?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn what_becomes_public_is_listed_and_told_from_what_was_written_last(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "shop.html")).await?;
    page.until("!!document.querySelector('main tbody tr')").await?;
    let catch = "(URL.createObjectURL = blob => (blob.text().then(text => window.saved = text), 'blob:caught'), \
         HTMLAnchorElement.prototype.click = function () { window.named = this.download }, 1)";
    page.eval(catch).await?;
    let said = "document.querySelector('.said').textContent";
    let differs = "[...document.querySelectorAll('.differs li')].map(li => li.textContent)";
    let listed = |part: &str| format!("[...document.querySelectorAll('.{part} li')].map(li => li.textContent)");
    press(&page, "Publish").await?;
    page.until(&format!("{}.includes('Hardware, 5 rows: key, name, price, weight')", listed("public"))).await?;
    page.until(&format!("{}.some(line => line.startsWith('Pricing: ') && line.includes('margin'))", listed("private")))
        .await?;
    page.until("document.querySelector('main').textContent.includes('None was written on this page yet')").await?;
    press(&page, "Write price-book.json").await?;
    page.comes_to(differs, json!(["Nothing differs."])).await?;
    page.until("!!window.saved").await?;
    let written = page.eval("saved").await?;
    let written = written.as_str().unwrap_or_default();
    let price = "JSON.parse(saved).hardware[0].price";
    // What is dearer now is told by what it is sold for, also after the page was closed.
    press(&page, "Hardware").await?;
    type_into_cell(&page, "c-hardware-0-2", "2.70").await?;
    press(&page, "Publish").await?;
    page.until(&format!(
        "{differs}.length === 1 && {differs}[0].startsWith(`Hardware, Slotted top fixing: price: ${{{price}}} to `)"
    ))
    .await?;
    page.until(
        "Object.keys(localStorage).some(k => /^scantling-shop-\\d$/.test(k) && localStorage[k].includes('2.70'))",
    )
    .await?;
    let told = page.eval(differs).await?;
    page.eval("(window.before = true, location.reload(), 1)").await?;
    page.until("!window.before && !!document.querySelector('main h2')").await?;
    press(&page, "Publish").await?;
    page.comes_to(differs, told).await?;
    page.until("/Against the one written here on 20\\d\\d-\\d\\d-\\d\\d \\d\\d:\\d\\d,/.test(document.querySelector('main').textContent)").await?;
    // One out of a file stands in for it; what is no price book does not.
    choose_file(&page, "last-file", "shop-book.json", include_str!("../../../shared/books/demo-shop.json")).await?;
    page.comes_to(said, "shop-book.json can't be compared: it is no price book.").await?;
    choose_file(&page, "last-file", "older.json", &written.replacen("2026-11-25", "2026-01-01", 1)).await?;
    page.until(&format!("{differs}[0] === 'Edition: 2026-01-01 to 2026-11-25' && {differs}.length === 2")).await?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn the_lines_for_a_page_are_copied_and_a_page_to_try_them_is_written(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "shop.html")).await?;
    page.until("!!document.querySelector('main tbody tr')").await?;
    let said = "document.querySelector('.said').textContent";
    let lines = "document.getElementById('snippet')?.textContent";
    // As it stands on the page that was built with the script.
    page.eval("(document.getElementById('shop').dataset.integrity = 'sha384-abc', 1)").await?;
    press(&page, "Publish").await?;
    page.until(&format!("{lines}.startsWith('<script type=\"module\" src=\"scantling/scantling-quote.js\"\\n        integrity=\"sha384-abc\"></script>')")).await?;
    let clipboard = |way: &str| {
        format!("(Object.defineProperty(navigator, 'clipboard', {{ configurable: true, value: {way} }}), 1)")
    };
    page.eval(&clipboard("{ writeText: async text => { window.copied = text; } }")).await?;
    press(&page, "Copy the lines").await?;
    page.comes_to(said, "The lines are copied.").await?;
    assert_eq!(page.eval("copied").await?, page.eval(lines).await?);
    // Where the browser refuses, or has no clipboard for the page, they are selected.
    for way in ["{ writeText: async () => { throw new Error('not allowed'); } }", "undefined"] {
        page.eval(&clipboard(way)).await?;
        page.eval("(getSelection().removeAllRanges(), 1)").await?;
        press(&page, "Copy the lines").await?;
        page.comes_to("getSelection().toString().trim()", page.eval(lines).await?).await?;
        page.until(&format!("{said}.includes('copy them by hand')")).await?;
    }
    page.eval(
        "(URL.createObjectURL = blob => (blob.text().then(text => window.saved = [blob.type, text]), 'blob:caught'), \
         HTMLAnchorElement.prototype.click = function () { window.named = this.download }, 1)",
    )
    .await?;
    press(&page, "Write a test page").await?;
    page.until("window.named === 'page.html' && saved?.[0].startsWith('text/html')").await?;
    page.until(&format!("saved[1].includes({lines})")).await?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn axe_finds_nothing_in_the_maker_s_page(engine: Engine) -> Result<()> {
    no_faults_in_sections(Visit::new(engine, "shop.html")).await
}

pub(crate) async fn axe_finds_nothing_in_the_maker_s_page_in_the_dark(engine: Engine) -> Result<()> {
    no_faults_in_sections(Visit::new(engine, "shop.html").coloured(Scheme::Dark)).await
}

/// Faults of access; but cells that a wide grid has scrolled out of sight are coloured as those in sight, which axe has judged.
async fn faults_in_sight(page: &Page) -> Result<Vec<String>> {
    let mut faults = page.faults_of_access().await?;
    faults.retain(|fault| !fault.starts_with("perhaps color-contrast; #c-"));
    Ok(faults)
}

/// Of the book: forms, grids, a grid with a row open, tables within tables, screens of their own; and one with a fault in it.
const BOOK: [&str; 8] = ["Pricing", "Currencies", "Delivery", "Regions", "Operations", "Slabs", "Designs", "Hardware"];

/// Opens what is folded away, and what is folded away in that: of the parts of a design the first, whose tables are those of all others.
async fn unfold_all(page: &Page) -> Result<()> {
    let folded = "[...document.querySelectorAll('main details:not([open])')].filter(d => { \
         const part = d.closest('.parts > details'); return !part || part === document.querySelector('.parts > details'); })";
    page.eval(&format!("({folded}.forEach(d => d.open = true), 1)")).await?;
    // What is folded away is made when it is first wanted, with more that is folded away in it.
    page.until(&format!("({folded}.forEach(d => d.open = true), {folded}.length === 0)")).await
}

/// Every section of the work and of the book what is above.
async fn no_faults_in_sections(visit: Visit<'_>) -> Result<()> {
    let page = Page::open(visit).await?;
    page.until("!!document.querySelector('main tbody tr')").await?;
    page.bring_axe().await?;
    let work = page
        .eval("[...document.querySelector('nav ul').querySelectorAll('button')].map(b => b.textContent.trim())")
        .await?;
    let work: Vec<String> = serde_json::from_value(work)?;
    for section in work.iter().map(String::as_str).chain(BOOK) {
        press(&page, section).await?;
        page.until(&format!("document.querySelector('main h2')?.textContent === {}", json!(section))).await?;
        page.eval("(document.querySelector('main tbody [aria-label=\"Open row 1\"]')?.click(), 1)").await?;
        if BOOK.contains(&section) {
            unfold_all(&page).await?;
        }
        if section == "Hardware" {
            type_into_cell(&page, "c-hardware-0-2", "dear").await?;
            page.until("!!document.querySelector('.faults')").await?;
        }
        let mut faults = faults_in_sight(&page).await?;
        for _ in 0..10 {
            if faults.is_empty() {
                break;
            }
            // What is reckoned a slice at a time may still be arriving: a fault that stays is one.
            tokio::time::sleep(std::time::Duration::from_millis(800)).await;
            faults = faults_in_sight(&page).await?;
        }
        ensure!(faults.is_empty(), "in {section}:\n{}", faults.join("\n"));
    }
    page.close().await
}
