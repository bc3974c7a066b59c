//! Cells of a grid: copied out of another window as a spreadsheet copies them, pasted into the rows that are found, walked through by keys.

use anyhow::Result;
use scantling_tests::{Engine, Key, Page};
use serde_json::json;

use crate::nothing_complained;
use crate::year::{go_to, open_shop};

/// Copies a text with the keys of the engine, out of a field that is there only for that.
async fn copy(page: &Page, text: &str) -> Result<()> {
    page.eval(&format!(
        "(t => (t.id = 'copied-from', t.value = {}, document.body.append(t), t.focus(), t.select(), 1))(document.createElement('textarea'))",
        json!(text)
    ))
    .await?;
    page.press(Key::Control('c')).await?;
    page.eval("(document.getElementById('copied-from').remove(), 1)").await?;
    Ok(())
}

/// Pastes into a cell with the keys of the engine.
async fn paste_at(page: &Page, cell: &str) -> Result<()> {
    page.eval(&format!("(field('{cell}').focus(), 1)")).await?;
    page.press(Key::Control('v')).await
}

async fn find(page: &Page, word: &str, rows: usize) -> Result<()> {
    page.eval(&format!(
        "(f => (f.value = '{word}', f.dispatchEvent(new Event('input', {{ bubbles: true }})), 1))(document.querySelector('main input[type=search]'))"
    ))
    .await?;
    page.comes_to("document.querySelectorAll('main .grid tbody tr').length", rows).await
}

/// What stands in a column of the hardware, row by row.
fn column(number: usize) -> String {
    format!(
        "[...document.querySelectorAll('main .grid tbody tr')].map(row => row.querySelectorAll('input')[{number}].value).join('; ')"
    )
}

pub(crate) async fn what_is_pasted_and_walked_through_are_the_rows_that_are_found(engine: Engine) -> Result<()> {
    let page = open_shop(engine).await?;
    go_to(&page, "Hardware").await?;
    // The focus goes there by itself, in a frame that WebKit may take its time for.
    page.until("document.activeElement.localName === 'h2'").await?;
    page.comes_to(&column(2), "1.35; 2.10; 3.20; 2.75; 4.40").await?;
    // The first, the second and the fourth have it in their names.
    find(&page, "ing", 3).await?;
    copy(&page, "2.22\n3.33\n").await?;
    paste_at(&page, "c-hardware-1-2").await?;
    page.comes_to(&column(2), "1.35; 2.22; 3.33").await?;
    page.press(Key::Down).await?;
    page.comes_to("document.activeElement.id", "c-hardware-3-2").await?;
    page.press(Key::Up).await?;
    page.comes_to("document.activeElement.id", "c-hardware-1-2").await?;
    find(&page, "", 5).await?;
    page.comes_to(&column(2), "1.35; 2.22; 3.20; 3.33; 4.40").await?;
    added_and_walked_through(&page).await?;
    nothing_complained(&page).await?;
    page.close().await
}

/// More rows than are on the page at once, one of their cells with a line end in it; the keys go over the edge and back.
async fn added_and_walked_through(page: &Page) -> Result<()> {
    let more: String = (1..45).map(|n| format!("invented-{n}\tInvented {n}\t{n}.50\t0.1\r\n")).collect();
    copy(page, &format!("wall-strap\t\"Wall strap\nof \"\"our\"\" own\"\t4.40\t0.1\r\n{more}")).await?;
    paste_at(page, "c-hardware-4-0").await?;
    page.comes_to("document.querySelector('.pages')?.textContent.includes(' 1 to 40 of 49 ')", true).await?;
    page.comes_to("field('c-hardware-4-1').value", "Wall strap of \"our\" own").await?;
    page.comes_to("!!document.getElementById('c-hardware-39-2')", true).await?;
    page.eval("(field('c-hardware-39-2').focus(), field('c-hardware-39-2').select(), 1)").await?;
    page.press_text("7.75").await?;
    page.press(Key::Down).await?;
    page.comes_to("document.activeElement.id", "c-hardware-40-2").await?;
    page.comes_to("document.querySelector('.pages').textContent.includes(' 41 to 49 of 49 ')", true).await?;
    page.comes_to("document.activeElement.value", "36.50").await?;
    page.press(Key::Up).await?;
    page.comes_to("document.activeElement.id", "c-hardware-39-2").await?;
    // What was typed as the row went off the page was taken.
    page.comes_to("document.activeElement.value", "7.75").await?;
    page.eval("(press('Undo'), press('Undo'), 1)").await?;
    page.comes_to(
        &column(1),
        "Slotted top fixing; Keyhole hanging plate; Turned coat peg; Levelling foot; Wall strap with screws",
    )
    .await
}
