//! The maker's page to one who has never seen it: whose book it is, and what is said where there is nothing to show.

use anyhow::Result;
use scantling_tests::{Engine, Page, Visit};
use serde_json::json;

use crate::nothing_complained;
use crate::shop::press;

const TOLD: &str = "document.querySelector('.welcome')";

/// Prices stand in the basket: the book has been judged, and kept.
const PRICED: &str = "!!document.querySelector('main tbody td')?.textContent.includes('USD')";

async fn again(page: &Page) -> Result<()> {
    page.eval("(window.before = true, location.reload(), 1)").await?;
    page.until(&format!("!window.before && {PRICED}")).await
}

pub(crate) async fn whoever_comes_first_is_told_whose_book_it_is_until_it_is_put_away(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "shop.html").with_axe()).await?;
    page.until(PRICED).await?;
    page.until(&format!("{TOLD}?.textContent.includes('an invented maker')")).await?;
    assert_eq!(page.faults_of_access().await?, Vec::<String>::new());
    // It leads to what it speaks of, and is still there, also the next time, while nothing was changed.
    page.eval(&format!("([...{TOLD}.querySelectorAll('button')].find(b => b.textContent === 'Publish').click(), 1)"))
        .await?;
    page.until(
        "document.querySelector('main h2')?.textContent === 'Publish' && document.activeElement.localName === 'h2'",
    )
    .await?;
    again(&page).await?;
    page.until(&format!("!!{TOLD}")).await?;
    press(&page, "Put this away").await?;
    page.until(&format!("!{TOLD} && document.activeElement.localName === 'h2'")).await?;
    again(&page).await?;
    page.comes_to(&format!("!!{TOLD}"), false).await?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn a_table_without_rows_and_a_basket_without_prices_say_why(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "shop.html")).await?;
    page.until(PRICED).await?;
    press(&page, "Resins").await?;
    page.until("document.querySelectorAll('main tbody tr').length === 2").await?;
    let find = "document.querySelector('main input[type=search]')";
    let look_for = |words: &str| {
        format!("({find}.value = {}, {find}.dispatchEvent(new Event('input', {{ bubbles: true }})), 1)", json!(words))
    };
    let told = |words: &str| {
        format!(
            "document.querySelector('main .note').textContent === {} && !document.querySelector('main table').checkVisibility()",
            json!(words)
        )
    };
    page.eval(&look_for("no such resin")).await?;
    page.until(&told("No row has that word in it.")).await?;
    page.eval(&look_for("")).await?;
    page.until("document.querySelector('main table').checkVisibility() && !document.querySelector('main .note')")
        .await?;
    for left in [1, 0] {
        press(&page, "1").await?;
        press(&page, "Take this row out").await?;
        page.until(&format!("document.querySelectorAll('main tbody tr').length === {left}")).await?;
    }
    page.until(&told("Nothing stands here yet. “Add a row” begins it.")).await?;
    // A book that was never right has no price yet, and the basket says what to do.
    page.until("Object.keys(localStorage).filter(k => /^scantling-shop-\\d$/.test(k)).some(k => JSON.parse(localStorage[k].split('\\n')[1]).resins.length === 0)").await?;
    page.eval("(window.before = true, location.reload(), 1)").await?;
    page.until("!window.before && !!document.querySelector('main h2')").await?;
    press(&page, "Resins").await?;
    page.until("document.querySelector('aside')?.textContent.includes('There are prices once what is not right yet')")
        .await?;
    nothing_complained(&page).await?;
    page.close().await
}
