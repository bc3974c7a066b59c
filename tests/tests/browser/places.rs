//! Buyers in different places: the ways that reach each, and sums that add up on screen, on paper and in what is sent.

use anyhow::{Context, Error, Result, anyhow};
use scantling_pricing::book::delivery::Shown;
use scantling_pricing::book::{Key, PriceBook, Text};
use scantling_pricing::brief::{Brief, Destination};
use scantling_pricing::delivery::Mode;
use scantling_pricing::estimate::{Estimate, estimate};
use scantling_pricing::money::Money;
use scantling_pricing::request::Request;
use scantling_tests::{Engine, Page, Visit};
use serde_json::{Value, json};

use crate::{READY, nothing_complained, told_what_is_shown};

/// A buyer somewhere: what they want, country, postal code, the ways that reach them, the one they pick, words that must stand on the screen.
struct Buyer {
    design: &'static str,
    country: &'static str,
    code: &'static str,
    ways: &'static [&'static str],
    picks: Mode,
    says: &'static str,
}

const BUYERS: [Buyer; 5] = [
    Buyer {
        design: "trestle-table",
        country: "US",
        code: "54636",
        ways: &["Collect it", "The maker brings it", "By freight", "Carried in and placed"],
        picks: Mode::Freight,
        says: "Wisconsin sales tax",
    },
    Buyer {
        design: "wall-shelf",
        country: "US",
        code: "98101-1234",
        ways: &["Collect it", "By parcel", "By freight", "Carried in and placed"],
        picks: Mode::Parcel,
        says: "use tax may be due",
    },
    Buyer {
        design: "trestle-table",
        country: "CA",
        code: "k1a 0b1",
        ways: &["Collect it", "Sent abroad, crated"],
        picks: Mode::Abroad,
        says: "CAD",
    },
    Buyer {
        design: "trestle-table",
        country: "GB",
        code: "sw1a1aa",
        ways: &["Collect it", "Sent abroad, crated"],
        picks: Mode::Abroad,
        says: "GBP",
    },
    Buyer {
        design: "trestle-table",
        country: "US",
        code: "99501",
        ways: &["Collect it"],
        picks: Mode::Collect,
        says: "quoted by hand",
    },
];

impl Buyer {
    /// What the engine says of it, with the way they pick.
    fn estimate(&self) -> Result<Estimate> {
        let mut brief = Brief::new(Key::new(self.design).map_err(Error::msg)?);
        let words = |text| Text::new(text).map_err(Error::msg);
        brief.destination = Some(Destination::new(words(self.country)?, Some(words(self.code)?)));
        brief.delivery = Some(self.picks);
        reckoned(&brief)
    }
}

/// What a brief comes to by the price book of the page.
fn reckoned(brief: &Brief) -> Result<Estimate> {
    let book = include_str!("../../../public/price-book.json");
    let book = PriceBook::read(book).map_err(|faults| anyhow!("{faults:?}"))?;
    estimate(&book, brief).map_err(|problems| anyhow!("{problems:?}"))
}

/// The cents of a text with one amount in it, and those of each of its amounts.
const CENTS: &str = "(text => Math.round(parseFloat(text.replace(/[$,]/g, '')) * 100))";
const AMOUNTS: &str = "(text => (text.match(/[$][0-9,]+([.][0-9]+)?/g) ?? []).map(one => Math.round(parseFloat(one.replace(/[$,]/g, '')) * 100)))";

/// The ways that can be picked, by what they are called.
const WAYS: &str = "[...root(0).querySelectorAll('.ways .offer')].filter(o => !o.querySelector('input').disabled) \
     .map(o => o.querySelector('label').firstChild.textContent.trim()).sort()";

/// The lines follow the price a moment later: they come to it.
const OF_THE_PRICE: &str = "['.details tfoot td', '.price .likely'].map(css => root(0).querySelector(css).textContent.replace(/[^0-9]/g, '')) \
     .every((digits, _, [price]) => digits === price)";

/// Every way in the order it stands, by its word, with the price and the range of those that are to be had.
fn offers() -> String {
    format!(
        "JSON.stringify([...root(0).querySelectorAll('.ways .offer')].map(o => [o.querySelector('input').id.replace(/^.*?way-/, ''), \
         ...(o.querySelector('input').disabled ? [] : {AMOUNTS}(o.querySelector('label').textContent))]))"
    )
}

/// An amount in cents.
fn cents(money: Money) -> Result<i64> {
    let written = money.amount().to_string();
    let (whole, part) = written.split_once('.').unwrap_or((&written, ""));
    Ok(format!("{whole}{part:0<2}").parse()?)
}

/// The same of an estimate: the cheapest first, and what is not to be had after them.
fn offered(estimate: &Estimate) -> Result<String> {
    let mut all = Vec::new();
    for way in estimate.ways_by_price() {
        let mut row = vec![json!(way.mode.word())];
        if let Ok(delivered) = &way.outcome {
            for money in [delivered.price.likely, delivered.price.low, delivered.price.high] {
                row.push(json!(cents(money)?));
            }
        }
        all.push(row);
    }
    Ok(json!(all).to_string())
}

/// What is said of ways that are not to be had, each text in the pieces between its figures.
fn reasons() -> Result<Vec<Vec<String>>> {
    let words: Value = serde_json::from_str(include_str!("../../../crates/widget/element/words/en.json"))?;
    let words = words.as_object().context("the words are a table")?;
    let told = words.iter().filter(|(key, _)| key.starts_with("unreachable.")).filter_map(|(_, text)| text.as_str());
    Ok(told.map(|text| text.split(['{', '}']).step_by(2).map(str::to_owned).collect()).collect())
}

/// Each way that can't be picked says why.
async fn says_why_not(page: &Page) -> Result<()> {
    let notes = "[...root(0).querySelectorAll('.ways .offer')].filter(o => o.querySelector('input').disabled) \
                 .map(o => o.querySelector('.note').textContent)";
    let (notes, reasons) = (page.eval(notes).await?, reasons()?);
    for note in notes.as_array().context("a list of notes")? {
        let note = note.as_str().context("a note")?;
        let known = reasons.iter().any(|pieces| pieces.iter().all(|piece| note.contains(piece)));
        assert!(known && !note.is_empty(), "“{note}” is no reason");
    }
    Ok(())
}

/// Picks a way.
async fn pick_way(page: &Page, mode: Mode) -> Result<()> {
    page.eval(&format!("(root(0).querySelector('[id$=way-{}]').click(), 1)", mode.word())).await.map(drop)
}

/// The amounts of a table of lines, from its first line to the rounding and a tax within, in cents.
fn amounts(estimate: &Estimate) -> Result<Vec<i64>> {
    let delivered = estimate.delivered();
    let carried = delivered.map(|delivered| delivered.lines.as_slice()).unwrap_or_default();
    let rounding = delivered.map_or(estimate.rounding, |delivered| delivered.rounding);
    let within = estimate.tax().filter(|tax| tax.shown == Shown::Within).map(|tax| tax.amount);
    let lines = estimate.lines.iter().chain(carried).map(|line| line.amount);
    lines.chain([rounding]).chain(within).map(cents).collect()
}

/// Holds what a place of the page shows against the engine: every line, the sum under them, a tax on top and what is paid when.
async fn shows(page: &Page, details: &str, estimate: &Estimate) -> Result<()> {
    let (lines, likely) = (amounts(estimate)?, cents(estimate.price().likely)?);
    assert_eq!(lines.iter().sum::<i64>(), likely, "the lines add up");
    page.comes_to(
        &format!("[...{details}.querySelectorAll('tbody td')].map(cell => {CENTS}(cell.textContent))"),
        lines,
    )
    .await?;
    page.comes_to(&format!("{CENTS}({details}.querySelector('tfoot td').textContent)"), likely).await?;
    let apart = estimate.tax().filter(|tax| tax.shown == Shown::Apart);
    let tax: Vec<i64> = apart.map(|tax| cents(tax.amount)).transpose()?.into_iter().collect();
    let told =
        format!("[...{details}.querySelectorAll('table ~ p.note .figure')].map(one => {CENTS}(one.textContent))");
    page.comes_to(&told, tax).await?;
    let stages: Vec<i64> = estimate.payments.iter().map(|stage| cents(stage.amount)).collect::<Result<_>>()?;
    let whole = apart.map(|_| stages.iter().sum());
    let paid: Vec<i64> = whole.into_iter().chain(stages).collect();
    let payment = format!("[...{details}.querySelectorAll('p')].find(p => p.textContent.startsWith('Payment'))");
    page.comes_to(&format!("{AMOUNTS}({payment}.textContent)"), paid).await
}

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
    page.eval(&format!("(document.querySelector('scantling-quote').design = {}, 1)", json!(buyer.design))).await?;
    go_to(&page, buyer).await?;
    let estimate = buyer.estimate()?;
    page.comes_to(&offers(), offered(&estimate)?).await?;
    says_why_not(&page).await?;
    pick_way(&page, buyer.picks).await?;
    shows(&page, "root(0).querySelector('.details')", &estimate).await.context("on the screen")?;
    page.until(OF_THE_PRICE).await?;

    let button = |words: &str| {
        format!("[...root(0).querySelectorAll('button')].find(b => b.textContent.trim() === {})", json!(words))
    };
    page.eval(&format!("({}.click(), 1)", button("Send it to Larkmoor Bench"))).await?;
    let taken = "fetch('/receiver').then(answer => answer.json()).then(list => list.at(-1) ?? '')";
    page.until(&format!("{taken}.then(text => text !== '')")).await?;
    let sent = page.eval(taken).await?;
    let request = Request::read(sent.as_str().unwrap_or_default()).map_err(|fault| anyhow!("{fault:?}"))?;
    assert_eq!(request.brief.destination.as_ref().map(|to| to.country.as_str()), Some(buyer.country));
    // The maker prices it again, and comes to what the buyer saw: by the way that was picked, line by line, and to both ends of the range.
    let again = reckoned(&request.brief)?;
    assert_eq!(again.chosen, Some(buyer.picks));
    assert_eq!(amounts(&again)?, amounts(&estimate)?, "what is sent is what is shown");
    let (told, price) = (&request.told, again.price());
    assert_eq!(
        [told.low, told.likely, told.high].map(|amount| amount.value()),
        [price.low, price.likely, price.high].map(Money::amount),
        "what is sent is what it comes to"
    );

    // On paper: what a browser prints is a copy of its own.
    let paper = "root(0).querySelector('iframe')?.contentDocument?.body?.firstChild?.shadowRoot";
    page.eval(&format!("({}.click(), 1)", button("Print"))).await?;
    page.until(&format!("{paper}?.textContent.includes({})", json!(buyer.code))).await?;
    shows(&page, &format!("{paper}.querySelector('.details')"), &estimate).await.context("on paper")?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn another_way_that_is_picked_brings_the_total_along(engine: Engine) -> Result<()> {
    let [near, ..] = &BUYERS;
    let page = Page::open(Visit::new(engine, "nowhere.html")).await?;
    page.until(READY).await?;
    go_to(&page, near).await?;
    let offered_ways = near.estimate()?;
    let possible = offered_ways.ways_by_price().into_iter().filter(|way| way.outcome.is_ok()).map(|way| way.mode);
    // The dearest first, so that each pick is another than the one that stands there.
    for mode in possible.collect::<Vec<_>>().into_iter().rev() {
        let estimate = Buyer { picks: mode, ..*near }.estimate()?;
        pick_way(&page, mode).await?;
        shows(&page, "root(0).querySelector('.details')", &estimate).await.with_context(|| mode.word())?;
        page.until(OF_THE_PRICE).await.with_context(|| mode.word())?;
        // Which one is picked changes no price and no order.
        page.comes_to(&offers(), offered(&offered_ways)?).await?;
    }
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
    page.until(&told_what_is_shown(0)).await.context("the page hears of the way, too")?;
    page.type_into(0, "Postal code", "54636").await?;
    page.until("root(0).querySelector('.widget').textContent.includes('Wisconsin')").await?;
    page.comes_to(asked, 1).await.context("and it is asked for once")?;
    page.close().await
}
