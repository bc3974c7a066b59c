//! The demo page and the element under the strict policy, as a buyer uses them.

use anyhow::{Context, Result};
use scantling_tests::{Engine, Page, Visit};
use serde_json::json;
use xtask::server::NO_WASM_POLICY;

use crate::{AT_REST, READY, nothing_complained, told_what_is_shown};

pub(crate) async fn the_demo_page_shows_a_delivered_range_and_changes_it_at_every_keystroke(
    engine: Engine,
) -> Result<()> {
    let page = Page::open(Visit::new(engine, "")).await?;
    page.until(READY).await?;
    let delivered = page.text(0, ".span.delivered .range").await?;
    assert!(delivered.starts_with('$') && delivered.contains(" to $"), "{delivered}");
    page.type_into(0, "Length", "9").await?;
    page.until("root(0).querySelector('.price').classList.contains('earlier')").await?;
    page.until("root(0).querySelector(\"input[aria-invalid='true'] + .fault\")?.innerText.includes('60 in to 108 in')")
        .await?;
    page.labelled(0, "Length").await?.send_keys("6").await?;
    page.until("!root(0).querySelector('.price').classList.contains('earlier')").await?;
    // 96 in costs more than 84 in.
    page.until(&format!("root(0).querySelector('.span.delivered .range').innerText !== {}", json!(delivered))).await?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn a_buyer_chooses_by_keyboard_and_pointer_and_reads_lines_that_add_up(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "")).await?;
    page.until(READY).await?;
    let walnut = page.text(0, "tfoot td").await?;
    page.pick(0, "Northern red oak").await?;
    page.until(&format!("root(0).querySelector('tfoot td').innerText !== {}", json!(walnut))).await?;
    page.type_into(0, "Postal code", "98101-1234").await?;
    page.until("root(0).querySelector('.ways').innerText.includes('Not offered there')").await?;
    let cents = "s => Math.round(parseFloat(s.innerText.replace(/[$,]/g, '')) * 100)";
    // Asked for at once: the table comes a moment after the price.
    let left_over = format!(
        "(cents => [...root(0).querySelectorAll('tbody td')].map(cents).reduce((a, b) => a + b) - cents(root(0).querySelector('tfoot td')))({cents})"
    );
    page.comes_to(&left_over, 0).await.context("the lines on screen add up to the price on screen")?;
    // The page is told of the buyer's choices, and of no postal code.
    let told = page.eval("told").await?.to_string();
    assert!(told.contains("\"design\":\"trestle-table\"") && told.contains("\"delivery\":\"freight\""), "{told}");
    assert!(!told.contains("98101"), "{told}");
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn a_saving_is_undone_and_what_was_typed_since_stays(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "")).await?;
    page.until(AT_REST).await?;
    let red_oak = "[...root(0).querySelectorAll('.moves button')].find(b => b.innerText.includes('red oak'))";
    page.until(&format!("!!{red_oak}")).await?;
    page.eval(&format!("({red_oak}.click(), 1)")).await?;
    page.until("root(0).querySelector('.undo')?.innerText === 'Undo Top: Northern red oak'").await?;
    page.type_into(0, "Postal code", "98101").await?;
    page.eval("(root(0).querySelector('.undo').click(), 1)").await?;
    page.until("!root(0).querySelector('.undo')").await?;
    let field = |label: &str| format!("root(0).getElementById(label(0, '{label}').htmlFor)");
    page.comes_to(&format!("{}.checked", field("Black walnut")), true).await?;
    page.comes_to(&format!("{}.value", field("Postal code")), "98101").await.context("the code typed since stays")?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn two_widgets_on_a_page_keep_apart_and_the_script_may_load_twice(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "two.html")).await?;
    page.until("[0, 1].every(n => root(n)?.querySelector('form.form'))").await?;
    page.comes_to("root(0).querySelectorAll('.span.delivered').length", 0).await.context("no place was given there")?;
    page.comes_to("root(1).querySelectorAll('.span.delivered').length", 1).await?;
    let ids = "[0, 1].flatMap(n => [...root(n).querySelectorAll('[id]')].map(e => e.id))";
    page.comes_to(&format!("new Set({ids}).size === {ids}.length"), true).await.context("no id stands twice")?;
    let other = page.text(1, ".span.workshop .range").await?;
    page.type_into(0, "Length", "100").await?;
    page.until("root(0).querySelector('.sheet').innerHTML.includes('100 in')").await?;
    assert_eq!(page.text(1, ".span.workshop .range").await?, other);
    page.until("root(1).querySelector('.sheet').innerHTML.includes(' mm')").await?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn an_element_can_be_moved_changed_and_taken_away(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "two.html")).await?;
    page.until("[0, 1].every(n => root(n)?.querySelector('form.form'))").await?;
    page.type_into(0, "Length", "100").await?;
    // A move keeps what was typed.
    page.eval("(document.body.append(document.querySelector('scantling-quote')), 1)").await?;
    page.comes_to("label(1, 'Length').parentNode.querySelector('input').value", "100").await?;
    // The page hears of what the buyer typed; an attribute changes it too, and the page is not told of its own doing.
    page.until(&told_what_is_shown(1)).await?;
    page.eval(
        "(told.length = 0, document.querySelectorAll('scantling-quote')[1].setAttribute('design', 'hall-bench'))",
    )
    .await?;
    page.until("root(1).querySelector('.sizes').innerText.includes('Seat height')").await?;
    assert_eq!(page.eval("told").await?, json!([]));
    // Taken away and put back, it starts afresh and works.
    page.eval("(window.kept = document.querySelectorAll('scantling-quote')[1], kept.remove())").await?;
    page.until("!kept.shadowRoot.querySelector('.widget')").await?;
    page.eval("(document.body.append(kept), kept.scrollIntoView(), 1)").await?;
    page.until("!!root(1).querySelector('form.form')").await?;
    nothing_complained(&page).await?;
    page.close().await
}

/// The page's own words stay, and the page is told why; gives what it is told.
async fn fallback_stays(visit: Visit<'_>, reason: &str) -> Result<String> {
    let page = Page::open(visit).await?;
    page.until("told.length > 0").await?;
    page.comes_to("told[0][1].reason", reason).await?;
    let shown = "(e => e.checkVisibility() && e.getBoundingClientRect().height > 0)(document.querySelector('scantling-quote > *'))";
    page.comes_to(shown, true).await.context("what stands between the tags must show")?;
    let message = page.eval("told[0][1].message").await?.to_string();
    page.close().await?;
    Ok(message)
}

pub(crate) async fn the_fallback_stays_where_the_policy_blocks_wasm(engine: Engine) -> Result<()> {
    fallback_stays(Visit::new(engine, "two.html").under(NO_WASM_POLICY), "widget").await.map(drop)
}

pub(crate) async fn the_fallback_stays_where_the_book_is_missing(engine: Engine) -> Result<()> {
    let message = fallback_stays(Visit::new(engine, "missing.html"), "book").await?;
    assert!(message.contains("no-such-book.json"), "{message}");
    Ok(())
}

pub(crate) async fn the_fallback_stays_where_the_book_is_broken_and_the_command_that_names_the_fault_is_said(
    engine: Engine,
) -> Result<()> {
    let message = fallback_stays(Visit::new(engine, "broken.html"), "book").await?;
    assert!(message.contains("can't be used") && message.contains("scantling check"), "{message}");
    Ok(())
}
