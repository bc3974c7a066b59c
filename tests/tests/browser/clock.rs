//! A job without a pointer: begun, clocked over a reload, finished; and a clock of the computer's that is set back.

use anyhow::Result;
use scantling_tests::{Engine, Key, Page};
use serde_json::json;

use crate::keyboard::{focus_is_seen, tab_until};
use crate::nothing_complained;
use crate::year::{go_to, help, open_shop, said};

/// What has the focus goes by this name.
fn named(words: &str) -> String {
    format!(
        "(document.activeElement?.getAttribute('aria-label') ?? document.activeElement?.textContent ?? '').trim() === {}",
        json!(words)
    )
}

/// What has the focus is labelled so.
fn labelled(words: &str) -> String {
    format!("[...document.activeElement?.labels ?? []].some(l => l.textContent === {})", json!(words))
}

const HOURS: &str = "field('f-jobs[4].hours.mill-four-faces').value";

pub(crate) async fn a_job_is_clocked_by_keys_alone_over_a_reload_and_a_clock_set_back_is_told(
    engine: Engine,
) -> Result<()> {
    let page = open_shop(engine).await?;
    begun(&page).await?;
    over_a_reload(&page).await?;
    set_back(&page).await?;
    finished(&page).await?;
    nothing_complained(&page).await?;
    page.close().await
}

/// To the heading, from where a reader starts.
async fn from_the_top(page: &Page) -> Result<()> {
    page.eval("(document.querySelector('h1').tabIndex = -1, document.querySelector('h1').focus(), 1)").await?;
    Ok(())
}

/// To the section, to the form, a design, and the job is begun.
async fn begun(page: &Page) -> Result<()> {
    from_the_top(page).await?;
    tab_until(page, &named("Jobs")).await?;
    page.press(Key::Enter).await?;
    page.until("title() === 'Jobs'").await?;
    tab_until(page, &named("Begin a job by hand")).await?;
    page.press(Key::Enter).await?;
    tab_until(page, &labelled("For whom")).await?;
    page.press_text("Invented buyer").await?;
    tab_until(page, &labelled("Design")).await?;
    page.press(Key::Down).await?;
    page.until("!!document.getElementById('begun-materials.wood')").await?;
    tab_until(page, &labelled("How many")).await?;
    tab_until(page, &named("Begin the job")).await?;
    page.press(Key::Enter).await?;
    page.until(&said("job-1 is begun.")).await?;
    let title = page.eval("document.querySelector('.record h3').textContent").await?;
    assert_eq!(title, "job-1: hall-bench for Invented buyer, on the bench");
    // The focus goes to what was begun.
    page.until("document.activeElement.className === 'record'").await
}

/// Where a clock was started stands in the book.
async fn over_a_reload(page: &Page) -> Result<()> {
    tab_until(page, &named("Start the clock: Mill four faces")).await?;
    page.press(Key::Enter).await?;
    page.until("document.activeElement.textContent === 'Stop'").await?;
    focus_is_seen(page).await?;
    page.until(
        "Object.values(localStorage).some(text => text.includes('mill-four-faces') && text.includes('running'))",
    )
    .await?;
    page.eval("(window.before = true, location.reload(), 1)").await?;
    page.until("!window.before && !!document.querySelector('main tbody tr')").await?;
    help(page).await?;
    page.eval("(window.shift = 7200, 1)").await?;
    go_to(page, "Jobs").await?;
    page.eval("(openRow('job-1'), 1)").await?;
    page.until("/2 h 0\\d min/.test(field('f-jobs[4].hours.mill-four-faces').closest('tr').textContent)").await?;
    from_the_top(page).await?;
    tab_until(page, &named("Stop the clock: Mill four faces")).await?;
    page.press(Key::Enter).await?;
    page.until(&format!("/^2(\\.\\d\\d?)?$/.test({HOURS})")).await
}

/// Set back by an hour while it runs: told, and nothing counted; undone, the clock runs again and is told again.
async fn set_back(page: &Page) -> Result<()> {
    let row = "document.activeElement.closest('tr').textContent";
    let told = "/set back by at least (0 h 59|1 h 00) min/.test(said())";
    let before = page.eval(HOURS).await?;
    page.press(Key::Enter).await?;
    page.until("document.activeElement.textContent === 'Stop'").await?;
    page.eval("(window.shift += 5400, 1)").await?;
    page.until(&format!("/1 h 30 min/.test({row})")).await?;
    page.eval("(window.shift -= 3600, 1)").await?;
    page.until(&format!("{row}.includes('clock was set back')")).await?;
    page.press(Key::Enter).await?;
    page.until(told).await?;
    assert_eq!(page.eval(HOURS).await?, before);
    page.eval("(press('Undo'), 1)").await?;
    page.until("!!button('Stop the clock: Mill four faces')").await?;
    page.eval("(press('Stop the clock: Mill four faces'), 1)").await?;
    page.until(told).await?;
    assert_eq!(page.eval(HOURS).await?, before);
    Ok(())
}

/// Hours typed, paid typed, finished by a button, and told what it came to.
async fn finished(page: &Page) -> Result<()> {
    tab_until(page, "document.activeElement?.id === 'f-jobs[4].hours.mortise-and-tenon'").await?;
    page.press_text("2.5").await?;
    tab_until(page, &labelled("Paid for the piece, tax apart")).await?;
    page.eval("(document.activeElement.select(), 1)").await?;
    page.press_text("1460").await?;
    tab_until(page, &named("Finished today")).await?;
    page.press(Key::Enter).await?;
    page.until(&said("Finished.")).await?;
    page.until("figures('What is left')?.[0][2] === '1460.00 USD'").await
}
