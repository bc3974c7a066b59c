//! The form: what is folded away and when it unfolds, and what a buyer is told before choosing.

use anyhow::{Context, Result};
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

pub(crate) async fn the_estimate_says_whom_it_has_room_for_and_why_it_is_a_range(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "")).await?;
    page.until(AT_REST).await?;
    page.until("root(0).querySelector('.room-for')?.innerText.includes('6 places along its sides.')").await?;
    let why = page.text(0, ".why-range").await?;
    let named = why.split_once("Most of the doubt here: ").context("the lines that spread most")?.1;
    let (first, second) = named.trim_end_matches('.').split_once(", then ").context("two of them")?;
    let table = page.text(0, ".details tbody").await?;
    assert!(first != second && table.contains(first) && table.contains(second), "{why} of {table}");
    // The picture of what it is made of has the price in parts, and a bar for each.
    let cents = "s => Math.round(parseFloat(s.innerText.replace(/[$,]/g, '')) * 100)";
    let shares = format!("[...root(0).querySelectorAll('.shares .figure')].map({cents}).reduce((a, b) => a + b)");
    let rounding = format!("({cents})(root(0).querySelector('tr.rounding td'))");
    let likely = format!("({cents})(root(0).querySelector('tr.total td'))");
    page.comes_to(&format!("{shares} + {rounding} === {likely}"), true).await.context("the parts are the whole")?;
    page.comes_to(
        "root(0).querySelectorAll('.shares .bar').length === root(0).querySelectorAll('.shares .figure').length",
        true,
    )
    .await?;
    nothing_complained(&page).await?;
    page.close().await
}
