//! What follows once a quote is ordered: payments that came in, cuts that are taken out of slabs; and rates of
//! currencies that are old where something hangs on them.

use anyhow::Result;
use scantling_tests::{Engine, Page};
use serde_json::json;

use crate::nothing_complained;
use crate::year::{act, go_to, open_shop, said};

/// Invented: a console, collected at the workshop.
const REQUEST: &str = r#"{"scantling_request": 1, "brief": {"scantling_brief": 1, "design": "slab-console"}, "told": {"edition": "2026-11-25",
    "currency": "USD", "low": "2000", "likely": "2500", "high": "3000"}, "from": {"name": "Invented buyer", "mail": "buyer@home.example"}}"#;

const STAGES: &str = "figures('Stages as they went out last')";

/// A request, and a quote for it that went out.
async fn a_quote_that_went_out(page: &Page) -> Result<()> {
    go_to(page, "Requests").await?;
    act(page, &format!("type('request-text', {})", json!(REQUEST)), "!!button('Write a quote for it')").await?;
    act(page, "press('Write a quote for it')", "!!figures('What the quote comes to')").await?;
    page.until("main().includes('Nothing has gone out yet: what is paid when')").await?;
    act(page, "press('Keep it as it goes out today')", &said("Kept as revision 1.")).await?;
    page.until(&format!("!!{STAGES}")).await
}

/// The owed sum of a row of the stages: a stage, or the last row for all of them.
fn owed(row: i32, sum: &str) -> String {
    format!("{STAGES}?.at({row})?.[3] === {}", json!(sum))
}

pub(crate) async fn a_payment_is_marked_corrected_doubted_and_undone(engine: Engine) -> Result<()> {
    let page = open_shop(engine).await?;
    a_quote_that_went_out(&page).await?;
    page.until("document.querySelector('.picks')?.textContent.includes('; nothing paid yet')").await?;
    let rows = page.eval(STAGES).await?;
    let due = |row: usize| rows[row][1].as_str().unwrap_or_default().to_owned();
    let (first, all) = (due(0), due(2));
    assert!(first.ends_with(" USD") && all.ends_with(" USD") && first != all, "{rows}");

    act(&page, "press('Came in today, stage 1')", &owed(0, "0.00 USD")).await?;
    page.until(&said(&format!("{first} of stage 1 came in"))).await?;
    page.until(&owed(-1, &due(1))).await?;
    // Not twice.
    act(&page, "press('Came in today, stage 1')", &said("Stage 1 is paid already.")).await?;
    // As it really came in: a hundred, and the rest is owed.
    let cell = |key: &str| format!("f-quotes[0].came_in[0].{key}");
    page.eval(&format!("type('{}', '100')", cell("amount"))).await?;
    page.until(&format!("{STAGES}?.[0]?.[2]?.startsWith('100.00 USD on ')")).await?;
    page.until("/; [0-9.]+ USD still owed/.test(document.querySelector('.picks').textContent)").await?;
    // A day that is yet to come is doubted beside its cell, and one that is none, and half a cent, are faults there.
    page.eval(&format!("type('{}', '2999-01-01')", cell("day"))).await?;
    page.until("document.querySelector('.doubted')?.textContent.includes('yet to come')").await?;
    page.eval(&format!("type('{}', '2026-02-30')", cell("day"))).await?;
    page.until(&format!("field('{}-fault').textContent.includes('2026-02-30')", cell("day"))).await?;
    page.until("main().includes('A payment below can')").await?;
    act(&page, "press('Undo')", "document.querySelector('.doubted')?.textContent.includes('yet to come')").await?;
    act(&page, "press('Undo')", "document.querySelector('.doubted')?.textContent === ''").await?;
    page.eval(&format!("type('{}', '100.005')", cell("amount"))).await?;
    page.until(&format!("field('{}-fault').textContent.includes('part of a coin')", cell("amount"))).await?;
    act(&page, "press('Undo')", &format!("field('{}').value === '100'", cell("amount"))).await?;
    act(&page, "press('Undo')", &owed(0, "0.00 USD")).await?;
    act(&page, "press('Undo')", &format!("{STAGES}?.[0]?.[3] === {}", json!(first))).await?;
    page.until("!figures('Payments that came in')").await?;

    // On the job's screen it is the same payment.
    act(&page, "press('Came in today, stage 1')", &owed(0, "0.00 USD")).await?;
    act(&page, "press('Begin a job from what went out last')", &said("job-1 is begun.")).await?;
    page.until(&owed(0, "0.00 USD")).await?;
    act(&page, "press('Came in today, stage 2')", &owed(-1, "0.00 USD")).await?;
    page.until("document.querySelector('.picks')?.textContent.includes('on the bench; paid')").await?;
    act(&page, "press('Open quote q-1')", "document.querySelector('.picks')?.textContent.includes('; paid')").await?;
    page.until(&owed(-1, "0.00 USD")).await?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn a_cut_is_taken_out_of_its_slab_once_and_undone(engine: Engine) -> Result<()> {
    let page = open_shop(engine).await?;
    a_quote_that_went_out(&page).await?;
    act(&page, "press('Begin a job from what went out last')", &said("job-1 is begun.")).await?;
    act(
        &page,
        "press('As said, Walnut slab no. 17')",
        "main().includes('Walnut slab no. 17: 100 % of its face is left')",
    )
    .await?;
    let take = "press('Take this cut out of the slab: Walnut slab no. 17')";
    let share = "[...document.querySelectorAll('input')].find(one => one.getAttribute('aria-label')?.startsWith('Share of its face'))";
    page.eval(&format!("(window.share = {share}.id, type(share, '0.6'), 1)")).await?;
    page.until("main().includes('once this cut of 60 % is taken out, 40 %.')").await?;
    act(&page, take, &said("60 % is taken out of Walnut slab no. 17; 40 % of it is left.")).await?;
    page.until("main().includes('60 % was taken out for this job. 40 % of it is left.')").await?;
    // The button is gone, and who goes by keys is still where it stood.
    page.until("!button('Take this cut out of the slab: Walnut slab no. 17')").await?;
    page.until("document.activeElement.localName === 'fieldset'").await?;
    // It stands among the slab's own cuts; undone, it is as it was.
    act(&page, "press('Slabs')", "[...document.querySelectorAll('main tr')].some(row => row.textContent.includes('Sold, cut 1') && row.textContent.includes('60 %'))").await?;
    act(
        &page,
        "press('Undo')",
        "[...document.querySelectorAll('main tr')].some(row => row.textContent.includes('Sold so far'))",
    )
    .await?;
    // More than is left is refused, and says what there is.
    act(&page, "press('Do again')", "main().includes('Sold, cut 1')").await?;
    go_to(&page, "Jobs").await?;
    act(&page, "openRow('2026-034')", "!!document.getElementById('another-slabs')").await?;
    let more = "main().includes('40 % of its face is left, and this job takes 100 %: more than there is.')";
    act(&page, "type('another-slabs', 'walnut-slab-17'), press('Add it to Slabs')", more).await?;
    act(&page, take, &said("Nothing is taken out: the job takes 1 of its face, and 0.4 of it is left")).await?;
    nothing_complained(&page).await?;
    page.close().await
}

/// Invented: a low table to Ottawa, whose buyers reckon in Canadian dollars.
const ABROAD: &str = r#"{"scantling_request": 1, "brief": {"scantling_brief": 1, "design": "river-low-table", "destination": {"country": "CA",
    "postal_code": "K1A 0B1"}}, "told": {"edition": "2026-11-25", "currency": "USD", "low": "2000", "likely": "2500", "high": "3000"},
    "from": {"name": "Invented buyer", "mail": "buyer@home.example"}}"#;

const OFFERS: &str = include_str!("../../../shared/offers/table-four-buyers.json");

pub(crate) async fn an_old_rate_is_flagged_where_something_hangs_on_it(engine: Engine) -> Result<()> {
    let page = open_shop(engine).await?;
    go_to(&page, "Currencies").await?;
    // Whatever the day is: one rate of today, and one that is old.
    page.eval("type('c-currencies-0-2', new Date().toLocaleDateString('sv'))").await?;
    go_to(&page, "Offers").await?;
    page.eval("(document.querySelectorAll('main > section > details').forEach(one => one.open = true), 1)").await?;
    act(&page, &format!("type('offers-text', {})", json!(OFFERS)), "!!figures('Offers, the best first')").await?;
    page.comes_to("document.querySelectorAll('.offer .old').length", 0).await?;
    let day = "figures('Offers, the best first').map(row => row[1]).find(cell => cell.includes('CAD'))";
    page.until(&format!("!{day}.includes('which is old')")).await?;
    go_to(&page, "Requests").await?;
    act(&page, &format!("type('request-text', {})", json!(ABROAD)), "!!button('Write a quote for it')").await?;
    act(
        &page,
        "press('Write a quote for it')",
        "/come to about [0-9.]+ CAD/.test(document.querySelector('.guide')?.textContent)",
    )
    .await?;
    // How much the rate of the guide keeps: the demo's 2 %, for the maker alone.
    page.until("document.querySelector('.guide').textContent.includes('with 2 % kept against movement')").await?;
    page.comes_to("document.querySelector('article.quote').textContent.includes('kept against movement')", false)
        .await?;
    page.comes_to("document.querySelectorAll('main .old').length", 0).await?;

    go_to(&page, "Currencies").await?;
    page.eval("type('c-currencies-0-2', '2020-02-01')").await?;
    go_to(&page, "Quotes").await?;
    act(
        &page,
        "openRow('q-1')",
        "document.querySelector('main .old')?.textContent.includes('The rate of CAD is of 2020-02-01')",
    )
    .await?;
    go_to(&page, "Offers").await?;
    act(&page, "openRow('o-1')", &format!("{day}?.includes('which is old')")).await?;
    // Beside the one offer in that currency, and no other.
    page.comes_to(
        "[...document.querySelectorAll('.offer')].map(one => !!one.querySelector('.old'))",
        json!([false, false, true, false]),
    )
    .await?;
    act(&page, "press('Go to the rate of CAD')", "title() === 'Currencies'").await?;
    page.until("document.querySelector('.record h3')?.textContent === 'Row 1'").await?;
    nothing_complained(&page).await?;
    page.close().await
}
