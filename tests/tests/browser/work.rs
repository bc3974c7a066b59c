//! The sections of the maker's running work as they stand filled in: requests, quotes, offers, jobs; no fault of access in any, in light and in
//! dark, and nothing cut off on a narrow window.

use anyhow::{Result, bail};
use scantling_tests::{Engine, Page, Scheme, Visit};
use serde_json::json;

use crate::nothing_complained;
use crate::year::{act, go_to, help, said};

const REQUEST: &str = r#"{"scantling_request": 1, "brief": {"scantling_brief": 1, "design": "slab-console", "delivery": "freight",
    "destination": {"country": "US", "postal_code": "60601"}}, "told": {"edition": "2026-11-25", "currency": "USD", "low": "2000",
    "likely": "2500", "high": "3000"}, "from": {"name": "Invented buyer", "mail": "buyer@home.example", "message": "By spring, please."}}"#;

const OFFERS: &str = include_str!("../../../shared/offers/table-four-buyers.json");

/// A request and the quote for it, as it goes out.
pub(crate) async fn a_quote_from_a_request(page: &Page) -> Result<()> {
    go_to(page, "Requests").await?;
    act(page, &format!("type('request-text', {})", json!(REQUEST)), "!!button('Write a quote for it')").await?;
    act(page, "press('Write a quote for it')", "document.querySelector('.quote img')?.naturalWidth > 0").await?;
    act(page, "press('Keep it as it goes out today')", &said("Kept as revision 1.")).await?;
    page.until("document.querySelector('.quote')?.textContent.includes('Accepted, name and date:')").await
}

/// Each section in turn, filled in, and what is said of it there.
async fn each_section<F: AsyncFn(&str) -> Result<()>>(page: &Page, judge: F) -> Result<()> {
    go_to(page, "Requests").await?;
    act(page, &format!("type('request-text', {})", json!(REQUEST)), "!!figures('Cutting list')").await?;
    act(page, "press('A carrier has named its charge')", "!!document.querySelector('.record [aria-invalid=true]')")
        .await?;
    judge("a request, a carrier's charge missing").await?;
    act(page, "type('f-requests[0].request.quoted.charge', '212.50')", "!!button('Write a quote for it')").await?;
    act(page, "press('Write a quote for it')", "document.querySelector('.quote img')?.naturalWidth > 0").await?;
    // The focus goes to what was opened, and stays near what was pressed.
    page.until("document.activeElement.className === 'record'").await?;
    act(page, "press('Give it stages of its own')", "!!document.getElementById('f-quotes[0].deposits[0].share')")
        .await?;
    page.until("document.activeElement.localName === 'fieldset'").await?;
    act(page, "press('Bring the line to that sum')", "!!document.querySelector('#adjust-reason[aria-invalid=true]')")
        .await?;
    act(page, "press('Keep it as it goes out today')", &said("Kept as revision 1.")).await?;
    act(page, "press('Came in today, stage 1')", "!!figures('Payments that came in')").await?;
    let doubted = "document.querySelector('.doubted')?.textContent.includes('yet to come')";
    act(page, "type('f-quotes[0].came_in[0].day', '2999-01-01')", doubted).await?;
    judge("a quote, an adjustment half typed, a payment of a day to come").await?;
    act(page, "press('Begin a job from what went out last')", "!!document.querySelector('.clock')").await?;
    act(
        page,
        "pressAll('As said, '), document.querySelector('.clock').click()",
        "!!document.querySelector('.took-bar')",
    )
    .await?;
    judge("a job, its clock running").await?;
    go_to(page, "Offers").await?;
    page.eval("(document.querySelectorAll('main > section > details').forEach(one => one.open = true), 1)").await?;
    judge("offers, none yet").await?;
    act(page, &format!("type('offers-text', {})", json!(OFFERS)), "!!figures('Offers, the best first')").await?;
    judge("offers").await
}

pub(crate) async fn axe_finds_nothing_in_the_running_work(engine: Engine) -> Result<()> {
    for scheme in [Scheme::Light, Scheme::Dark] {
        let page = Page::open(Visit::new(engine, "shop.html").coloured(scheme)).await?;
        help(&page).await?;
        page.bring_axe().await?;
        each_section(&page, async |what| {
            let mut faults = page.faults_of_access().await?;
            // Cells that a wide table has scrolled out of sight are coloured as those in sight, which axe has judged.
            faults.retain(|fault| !fault.starts_with("perhaps color-contrast; tr:"));
            assert_eq!(faults, Vec::<String>::new(), "{what}");
            Ok(())
        })
        .await?;
        nothing_complained(&page).await?;
        page.close().await?;
    }
    Ok(())
}

pub(crate) async fn nothing_of_the_running_work_is_cut_off_at_320_pixels(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "shop.html")).await?;
    help(&page).await?;
    let size = json!({ "width": 320, "height": 800, "deviceScaleFactor": 1, "mobile": false });
    page.tell_browser("Emulation.setDeviceMetricsOverride", size).await?;
    each_section(&page, async |what| {
        let over = "document.documentElement.scrollWidth - document.documentElement.clientWidth";
        if page.until(&format!("{over} === 0")).await.is_err() {
            let widest = "[...document.querySelectorAll('body *')].filter(e => e.getBoundingClientRect().right > 320) \
                .map(e => `${e.localName}.${e.className} to ${Math.round(e.getBoundingClientRect().right)}`).slice(0, 8)";
            bail!("{what} runs over the side: {}", page.eval(widest).await?);
        }
        Ok(())
    })
    .await?;
    page.close().await
}
