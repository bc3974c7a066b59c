//! Buyers in different places: the ways that reach each, and sums that add up on screen, on paper and in what is sent.

use anyhow::{Context, Result};
use scantling_tests::{Engine, Page, Visit};
use serde_json::{Value, json};

use crate::{READY, nothing_complained};

/// A buyer somewhere: country, postal code, the ways that reach them, words that must stand on the screen.
struct Buyer {
    country: &'static str,
    code: &'static str,
    ways: &'static [&'static str],
    says: &'static str,
}

const BUYERS: [Buyer; 5] = [
    Buyer {
        country: "US",
        code: "54636",
        ways: &["Collect it", "The maker brings it", "By freight", "Carried in and placed"],
        says: "Wisconsin sales tax",
    },
    Buyer {
        country: "US",
        code: "98101-1234",
        ways: &["Collect it", "By freight", "Carried in and placed"],
        says: "use tax may be due",
    },
    Buyer { country: "CA", code: "k1a 0b1", ways: &["Collect it", "Sent abroad, crated"], says: "CAD" },
    Buyer { country: "DE", code: "D-10115", ways: &["Collect it", "Sent abroad, crated"], says: "EUR" },
    Buyer { country: "US", code: "99501", ways: &["Collect it"], says: "quoted by hand" },
];

/// The cents of what an element shows.
const CENTS: &str = "(s => Math.round(parseFloat(s.textContent.replace(/[$,]/g, '')) * 100))";

/// The ways that can be picked, by what they are called.
const WAYS: &str = "[...root(0).querySelectorAll('.ways .offer')].filter(o => !o.querySelector('input').disabled) \
     .map(o => o.querySelector('label').firstChild.textContent.trim()).sort()";

/// The lines follow the price a moment later: they come to it.
const OF_THE_PRICE: &str = "['.details tfoot td', '.price .likely'].map(css => root(0).querySelector(css).textContent.replace(/[^0-9]/g, '')) \
     .every((digits, _, [price]) => digits === price)";

async fn choose_country(page: &Page, country: &str) -> Result<()> {
    let choose = format!(
        "(s => (s.value = {}, s.dispatchEvent(new Event('change')), 1))(root(0).getElementById(label(0, 'Country').htmlFor))",
        json!(country)
    );
    page.eval(&choose).await.map(drop)
}

async fn go_to(page: &Page, buyer: &Buyer) -> Result<()> {
    choose_country(page, buyer.country).await?;
    page.type_into(0, "Postal code", buyer.code).await?;
    let mut ways: Vec<&str> = buyer.ways.to_vec();
    ways.sort_unstable();
    page.until(&format!("JSON.stringify({WAYS}) === {}", json!(json!(ways).to_string()))).await?;
    page.until(&format!("root(0).querySelector('.widget').textContent.includes({})", json!(buyer.says))).await?;
    page.until(OF_THE_PRICE).await
}

/// Whether the lines of a table add up to its foot, and what that is, in cents.
async fn adds_up(page: &Page, table: &str) -> Result<i64> {
    let lines =
        page.eval(&format!("[...{table}.querySelectorAll('tbody td')].map({CENTS}).reduce((a, b) => a + b)")).await?;
    let total = page.eval(&format!("{CENTS}({table}.querySelector('tfoot td'))")).await?;
    assert_eq!(lines, total, "the lines add up");
    total.as_i64().context("a total in cents")
}

/// A sum as it is written in a request, in cents: `3695`, `89.5` and `89.50` are.
fn cents(written: &str) -> Result<i64> {
    let (whole, part) = written.split_once('.').unwrap_or((written, ""));
    Ok(format!("{whole}{part:0<2}").parse()?)
}

pub(crate) async fn buyers_in_five_places_see_the_ways_that_reach_them_and_sums_that_add_up(
    engine: Engine,
) -> Result<()> {
    for buyer in &BUYERS {
        sees_prints_and_sends(engine, buyer).await.with_context(|| format!("to {}", buyer.code))?;
    }
    Ok(())
}

/// Each on a page of their own: not every browser prints a second time before the first is on paper.
async fn sees_prints_and_sends(engine: Engine, buyer: &Buyer) -> Result<()> {
    let page = Page::open(Visit::new(engine, "receiver.html")).await?;
    page.until(READY).await?;
    page.type_into(0, "Your name", "A Buyer").await?;
    page.type_into(0, "Your mail address", "buyer@home.example").await?;
    page.pick(0, "Larkmoor Bench may use my name").await?;
    go_to(&page, buyer).await?;
    let on_screen = adds_up(&page, "root(0).querySelector('.details table')").await?;

    let button = |words: &str| {
        format!("[...root(0).querySelectorAll('button')].find(b => b.textContent.trim() === {})", json!(words))
    };
    page.eval(&format!("({}.click(), 1)", button("Send it to Larkmoor Bench"))).await?;
    let taken = "fetch('/receiver').then(answer => answer.json()).then(list => list.at(-1) ?? '')";
    page.until(&format!("{taken}.then(text => text !== '')")).await?;
    let request: Value = serde_json::from_str(page.eval(taken).await?.as_str().unwrap_or_default())?;
    assert_eq!(request["brief"]["destination"]["country"], buyer.country, "{request}");
    let told = cents(request["told"]["likely"].as_str().context("a price")?)?;
    assert_eq!(told, on_screen, "what is sent is what is shown");

    // On paper: what a browser prints is a copy of its own.
    let paper = "root(0).querySelector('iframe')?.contentDocument?.body?.firstChild?.shadowRoot";
    page.eval(&format!("({}.click(), 1)", button("Print"))).await?;
    page.until(&format!("{paper}?.textContent.includes({})", json!(buyer.code))).await?;
    let printed = adds_up(&page, &format!("{paper}.querySelector('.details table')")).await?;
    assert_eq!(printed, on_screen, "what is printed is what is shown");
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn where_postal_codes_lie_is_asked_for_once_a_destination_is_given(engine: Engine) -> Result<()> {
    let asked = "performance.getEntriesByType('resource').filter(e => e.name.endsWith('postal-points.csv')).length";
    let page = Page::open(Visit::new(engine, "two.html")).await?;
    page.until("[0, 1].every(n => root(n)?.querySelector('form.form'))").await?;
    // The second widget there has a destination from the start.
    page.until(&format!("{asked} === 1")).await?;
    page.close().await?;

    let page = Page::open(Visit::new(engine, "nowhere.html")).await?;
    page.until(READY).await?;
    page.comes_to(asked, 0).await.context("no destination, no request")?;
    // A country alone has ways and lies nowhere: a form may start with one, where the shop is not in the United States.
    choose_country(&page, "DE").await?;
    page.until("root(0).querySelector('.ways').textContent.includes('Sent abroad, crated')").await?;
    page.comes_to(asked, 0).await.context("no postal code, no request")?;
    choose_country(&page, "US").await?;
    page.type_into(0, "Postal code", "60601").await?;
    page.until(&format!("{asked} === 1")).await?;
    // It has come: the van knows how far Chicago is.
    page.until("root(0).querySelector('.ways').textContent.includes('The maker brings it') && !root(0).querySelector('.ways').textContent.includes('How far it is')").await?;
    page.type_into(0, "Postal code", "54636").await?;
    page.until("root(0).querySelector('.widget').textContent.includes('Wisconsin')").await?;
    page.comes_to(asked, 1).await.context("and it is asked for once")?;
    page.close().await
}
