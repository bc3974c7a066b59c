//! The maker's page of a shop in another country: its currency, its units.

use anyhow::Result;
use scantling_tests::Engine;
use serde_json::json;

use crate::nothing_complained;
use crate::year::{act, go_to, open_shop};

pub(crate) async fn the_book_is_brought_into_another_currency_as_one_edit(engine: Engine) -> Result<()> {
    let page = open_shop(engine).await?;
    let basket = "document.querySelector('.basket').textContent";
    go_to(&page, "Shop").await?;
    page.until(&format!("{basket}.includes('3480.00 USD')")).await?;
    let fault = "document.getElementById('f-shop.currency-fault').textContent.startsWith('“EURO” is not a currency')";
    act(&page, "type('f-shop.currency', 'euro')", fault).await?;
    // Without a rate nothing is multiplied: it says where one goes.
    act(&page, "type('f-shop.currency', 'jpy')", "main().includes('have no rate of JPY')").await?;
    act(&page, "press('Stay with USD')", "field('f-shop.currency').value === 'USD'").await?;
    // The demo has 0.86 EUR for one USD: 280 x 0.86 = 240.80.
    let multiply = "button('At 0.86 EUR for one USD: multiply every amount')";
    act(&page, "type('f-shop.currency', 'eur')", &format!("!!{multiply}")).await?;
    act(&page, &format!("{multiply}.click()"), "field('f-shop.least_job').value === '240.8'").await?;
    page.until("field('f-shop.currency').value === 'EUR'").await?;
    page.until(&format!("/Trestle dining table.*\\d\\.\\d\\d EUR/.test({basket})")).await?;
    page.until("!document.querySelector('.faults')").await?;
    act(&page, "press('Undo')", "field('f-shop.least_job').value === '280'").await?;
    page.until("field('f-shop.currency').value === 'USD'").await?;
    // Only its name may be changed as well.
    let leave = "button('Leave the figures: they are in EUR as they stand')";
    act(&page, "type('f-shop.currency', 'EUR')", &format!("!!{leave}")).await?;
    act(&page, &format!("{leave}.click()"), &format!("{basket}.includes('3480.00 EUR')")).await?;
    page.until("field('f-shop.least_job').value === '280'").await?;
    nothing_complained(&page).await?;
    page.close().await
}

/// A request whose piece takes timber, slab, resin, finish and a crate.
const RIVER: &str = r#"{"scantling_request": 1, "brief": {"scantling_brief": 1, "design": "river-low-table", "delivery": "freight",
    "destination": {"country": "US", "postal_code": "60601"}}, "told": {"edition": "2026-11-25", "currency": "USD", "low": "2000",
    "likely": "2500", "high": "3000"}, "from": {"name": "Invented buyer", "mail": "buyer@home.example"}}"#;

/// What of the open section is told in units that a metric shop does not read.
const FOREIGN: &str =
    "/board f|square f|sq ft|cubic inch|cu in|\\d lb|\\d miles?|\\d in\\b(?! the)/i.exec(main())?.[0] ?? null";

pub(crate) async fn a_metric_shop_reads_requests_and_jobs_in_its_own_units(engine: Engine) -> Result<()> {
    let page = open_shop(engine).await?;
    go_to(&page, "Shop").await?;
    act(&page, "type('f-shop.units', 'metric')", "field('f-shop.units').value === 'metric'").await?;
    go_to(&page, "Requests").await?;
    act(&page, &format!("type('request-text', {})", json!(RIVER)), "!!figures('To buy and to build')").await?;
    page.until("/\\d m³/.test(main()) && /\\d l/.test(main()) && /\\d m²/.test(main()) && /\\d kg/.test(main())")
        .await?;
    page.comes_to(FOREIGN, json!(null)).await?;
    act(&page, "press('Write a quote for it')", "document.querySelector('.quote img')?.naturalWidth > 0").await?;
    act(&page, "press('Keep it as it goes out today')", "said().startsWith('Kept as revision 1.')").await?;
    act(&page, "press('Begin a job from what went out last')", "!!document.querySelector('.clock')").await?;
    act(&page, "pressAll('As said, ')", "!!document.querySelector('[aria-label^=\"Mixed, l\"]')?.value").await?;
    page.comes_to(FOREIGN, json!(null)).await?;
    // What is typed in litres is held in cubic inches: 2.5 l / 0.016387064 = 152.5594. What is only looked at is held as it was.
    let mixed = page.eval("document.querySelector('[aria-label^=\"Mixed, l\"]').id").await?;
    let bought = page.eval("document.querySelector('[aria-label^=\"Bought, m³\"]').id").await?;
    let job = page.eval("document.querySelector('.record h3').textContent.replace(/^Job /, '')").await?;
    let said = page.eval(&format!("field({bought}).value")).await?;
    act(&page, &format!("type({bought}, field({bought}).value)"), &format!("field({bought}).value === {said}")).await?;
    act(&page, &format!("type({mixed}, '2,5')"), &format!("field({mixed}).value === '2.5'")).await?;
    go_to(&page, "Shop").await?;
    act(&page, "type('f-shop.units', 'inch')", "field('f-shop.units').value === 'inch'").await?;
    go_to(&page, "Jobs").await?;
    act(
        &page,
        &format!("document.getElementById({mixed}) || openRow({job})"),
        &format!("!!document.getElementById({mixed})"),
    )
    .await?;
    page.until(&format!("field({mixed}).value === '152.5594'")).await?;
    let row = format!("field({bought}).closest('tr')");
    page.until(&format!("{row}.cells[1].textContent.split(',')[0] === field({bought}).value")).await?;
    nothing_complained(&page).await?;
    page.close().await
}
