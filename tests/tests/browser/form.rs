//! The form: what is folded away and when it unfolds, and what a buyer is told before choosing.

use anyhow::{Context, Result, anyhow};
use scantling_pricing::book::PriceBook;
use scantling_pricing::brief::Brief;
use scantling_pricing::estimate::estimate;
use scantling_tests::{Engine, Key, Page, Visit};
use serde_json::json;

use crate::{AT_REST, READY, nothing_complained};

/// The lines of what is folded away and shown, each with whether it is open.
const FOLDED: &str = "[...root(0).querySelectorAll('.folded')].filter(e => e.checkVisibility()) \
     .map(e => [e.querySelector('summary').innerText, e.open])";

/// Whether the field with this label is to be seen.
fn seen(label: &str) -> String {
    format!("root(0).getElementById(label(0, {}).htmlFor).checkVisibility()", json!(label))
}

pub(crate) async fn what_comes_second_is_folded_away_and_unfolds_for_a_fault_or_a_link(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "gallery.html")).await?;
    page.until(READY).await?;
    let folded = |many: &str, finish: &str, open: [bool; 3]| {
        json!([
            [format!("Lengths in: Inches · How many: {many}"), open[0]],
            [format!("Finish: {finish}"), open[1]],
            ["Ends of the top: Plain, edges eased", open[2]]
        ])
    };
    page.comes_to(FOLDED, folded("1", "Hardwax oil", [false; 3])).await?;
    page.comes_to(&seen("How many"), false).await?;
    page.comes_to(&seen("Length"), true).await.context("what matters first is there")?;
    // Unfolded by a key, like every part of the form.
    page.eval("root(0).querySelector('.folded summary').focus()").await?;
    page.press(Key::Enter).await?;
    page.comes_to(&seen("How many"), true).await?;
    page.type_into(0, "How many", "two").await?;
    page.until("!!root(0).querySelector('.price.earlier')").await?;
    // A field that can't be taken is not hidden.
    page.eval("(root(0).querySelector('.folded summary').click(), 1)").await?;
    page.comes_to(FOLDED, folded("two", "Hardwax oil", [true, false, false])).await?;
    page.comes_to(&seen("How many"), true).await?;
    page.type_into(0, "How many", "2").await?;
    page.until("!root(0).querySelector('.price.earlier')").await?;
    page.pick(0, "Wiped oil-varnish blend").await?;
    page.comes_to(FOLDED, folded("2", "Wiped oil-varnish blend", [true, true, false])).await?;
    page.eval("([...root(0).querySelectorAll('button')].find(b => b.textContent === 'Link to it').click(), 1)").await?;
    page.until("!!root(0).querySelector('.link input')?.value").await?;
    let link = page.eval("root(0).querySelector('.link input').value.split('#')[1]").await?;
    let link = link.as_str().context("a link")?.to_owned();
    page.go(&format!("two.html#{link}")).await?;
    page.until(READY).await?;
    page.comes_to(FOLDED, folded("2", "Wiped oil-varnish blend", [true, true, false]))
        .await
        .context("as the link has it")?;
    // A link that is opened later, in a form where all of it is folded.
    page.go("gallery.html").await?;
    page.until(READY).await?;
    page.eval(&format!("(location.hash = {}, 1)", json!(link))).await?;
    page.comes_to(FOLDED, folded("2", "Wiped oil-varnish blend", [true, true, false])).await?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn a_buyer_reads_what_each_choice_means_before_making_it(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "")).await?;
    page.until(AT_REST).await?;
    let notes = "[...root(0).querySelector('.materials').querySelectorAll('.note[id]')].filter(e => e.checkVisibility()).length";
    page.comes_to(notes, 1).await.context("the wood that is chosen alone tells what it is like")?;
    page.eval("(root(0).querySelector('.materials .each').click(), 1)").await?;
    page.comes_to(notes, 6).await.context("each of the six for the top")?;
    page.eval("(root(0).querySelector('.materials .each').click(), 1)").await?;
    page.comes_to(notes, 1).await?;
    page.eval(
        "([...root(0).querySelectorAll('.folded summary')].find(e => e.innerText.startsWith('Finish')).click(), 1)",
    )
    .await?;
    let finishes = "[...root(0).querySelectorAll('.folded .note')].map(e => e.innerText).filter(text => text.includes('Durability: ') && text.includes('Care: ')).length";
    page.comes_to(finishes, 3).await.context("each of the three finishes")?;
    // Limits are explained where a size is chosen and where it can't be taken.
    let length = "root(0).getElementById(label(0, 'Length').htmlFor)";
    let told =
        format!("{length}.getAttribute('aria-describedby').split(' ').map(id => root(0).getElementById(id).innerText)");
    let why = "Shorter, the trestles stand in each other's way; longer, it would take a third.";
    page.comes_to(&told, json!(["", format!("60 in to 108 in, by 1 in. {why}")])).await?;
    page.type_into(0, "Length", "109").await?;
    page.until(&format!("{told}[0].includes('109 in is outside that') && {told}[0].endsWith({})", json!(why))).await?;
    page.type_into(0, "Length", "84").await?;
    nothing_complained(&page).await?;
    page.close().await
}

/// What an amount of the page comes to in cents.
const CENTS: &str = "(e => Math.round(parseFloat(e.innerText.replace(/[$,]/g, '')) * 100))";

/// The lines of the table that the price is made of, each with its amount in cents; what is rounded up is no line.
const LINES: &str = "[...root(0).querySelectorAll('.details tbody tr:not(.rounding)')].map(row => [row.firstElementChild.firstChild.textContent.trim(), \
     Math.round(parseFloat(row.lastElementChild.innerText.replace(/[$,]/g, '')) * 100)])";

/// What the lines come to that are work, those that bring it to the buyer, and all others, which are materials: work is what the book names
/// as a stage of work; what brings it has its name from the widget's own words, but for what is rubbed and glued.
fn grouped() -> String {
    format!(
        "Promise.all(['price-book.json', 'scantling/words/en.json'].map(file => fetch(file).then(answer => answer.json()))).then(([book, words]) => {{ \
     const work = new Set(book.operations.map(operation => operation.stage)); \
     const brings = new Set(Object.keys(words).filter(key => key.startsWith('line.') && key !== 'line.sundries').map(key => words[key])); \
     const group = line => work.has(line) ? 'Work' : brings.has(line) ? 'Packing and delivery' : 'Materials'; \
     const sums = new Map(); \
     for (const [line, cents] of {LINES}) sums.set(group(line), (sums.get(group(line)) ?? 0) + cents); \
     return [...sums]; }})"
    )
}

/// The two lines of the demo's table to Chicago that the price hangs on most, by the engine itself, whose own tests say what they must be.
fn least_sure() -> Result<[String; 2]> {
    let read = |path: &str| std::fs::read_to_string(xtask::root().join(path));
    let book = PriceBook::read_published(&read("public/price-book.json")?).map_err(|fault| anyhow!("{fault}"))?;
    book.atlas.fill(read("crates/pricing/data/postal-points.csv")?);
    let brief = Brief::read(&read("shared/briefs/table-to-chicago.json")?).map_err(|fault| anyhow!("{fault}"))?;
    let priced = estimate(&book, &brief).map_err(|problem| anyhow!("{problem:?}"))?;
    match priced.unsure().as_slice() {
        [first, second, ..] => Ok([first.name.to_string(), second.name.to_string()]),
        few => Err(anyhow!("two lines at least are unsure: {few:?}")),
    }
}

pub(crate) async fn the_estimate_says_whom_it_has_room_for_and_why_it_is_a_range(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "")).await?;
    page.until(AT_REST).await?;
    page.until("root(0).querySelector('.room-for')?.innerText.includes('6 places along its sides.')").await?;
    let why = page.text(0, ".why-range").await?;
    let named = why.split_once("Most of the doubt here: ").context("the lines that spread most")?.1;
    let (first, second) = named.trim_end_matches('.').split_once(", then ").context("two of them")?;
    let lines = page.eval(&format!("{LINES}.map(([line]) => line)")).await?;
    let lines = lines.as_array().context("the table's lines")?;
    assert!(first != second && [first, second].iter().all(|name| lines.contains(&json!(name))), "{why} of {lines:?}");
    assert_eq!([first.to_owned(), second.to_owned()], least_sure()?, "as the engine reckons them on any machine");
    // The picture has the price in parts, each the sum of its lines in the table below.
    let shares = page.eval(&format!("[...root(0).querySelectorAll('.shares li')].map(li => [li.firstElementChild.innerText, {CENTS}(li.querySelector('.figure'))])")).await?;
    assert_eq!(shares, page.eval(&grouped()).await?, "the parts and the table");
    let all = format!(
        "{shares}.reduce((sum, [, cents]) => sum + cents, 0) + {CENTS}(root(0).querySelector('tr.rounding td'))"
    );
    page.comes_to(&format!("{all} === {CENTS}(root(0).querySelector('tr.total td'))"), true)
        .await
        .context("the parts are the whole")?;
    // Each bar is as long as its part of the whole, to the percent and the pixel.
    let long = "[...root(0).querySelectorAll('.shares .bar')].map(bar => bar.firstElementChild.getBoundingClientRect().width / bar.getBoundingClientRect().width)";
    let off = format!(
        "(total => Math.max(...{long}.map((long, i) => Math.abs(long - {shares}[i][1] / total))))({CENTS}(root(0).querySelector('tr.total td')))"
    );
    let off = page.eval(&off).await?.as_f64().context("a bar for each part")?;
    assert!(off < 0.02, "a bar is off by {off} of the whole");
    nothing_complained(&page).await?;
    page.close().await
}
