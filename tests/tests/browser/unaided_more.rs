//! More of a maker's year without a pointer: a slab and a design on the bench, a rate swept, a cut taken out of its slab, the file and an
//! earlier state, shops side by side. Every step is a key that is pressed on the page as it has the focus, as in `unaided.rs`.

use anyhow::Result;
use scantling_tests::{Engine, Key, Page, Visit};
use serde_json::json;

use crate::nothing_complained;
use crate::unaided::{field, go_to, press, press_until, tab_to, tab_to_named, type_over};
use crate::year::{bring_help, help, said};

pub(crate) async fn slabs_designs_and_a_sweep_are_worked_by_keys_alone(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "shop.html")).await?;
    help(&page).await?;
    // From where a page starts, the first stop leads into it.
    tab_to_named(&page, "To what is open").await?;
    press(&page, Key::Enter, "document.activeElement.localName === 'h2'").await?;
    a_slab(&page).await?;
    a_design(&page).await?;
    a_sweep(&page).await?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn a_cut_files_and_shops_are_worked_by_keys_alone(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "shop.html")).await?;
    help(&page).await?;
    tab_to_named(&page, "To what is open").await?;
    press(&page, Key::Enter, "document.activeElement.localName === 'h2'").await?;
    a_cut(&page).await?;
    a_file_and_an_earlier_state(&page).await?;
    shops(&page).await?;
    nothing_complained(&page).await?;
    page.close().await
}

/// Another slab chosen, a cut of it sized, and its name changed in the grid below.
async fn a_slab(page: &Page) -> Result<()> {
    go_to(page, "Slabs").await?;
    let chooser = "document.activeElement.localName === 'select' && document.activeElement.closest('label')?.textContent.startsWith('Slab ')";
    tab_to(page, chooser).await?;
    press(page, Key::Down, "document.activeElement.value === '1'").await?;
    press(page, Key::Up, "document.activeElement.value === '0'").await?;
    tab_to(page, &field("cut-length")).await?;
    type_over(page, "80 in").await?;
    page.until("main().includes('The slab is 78 in long')").await?;
    type_over(page, "39 in").await?;
    page.until("!main().includes('The slab is 78 in long')").await?;
    tab_to(page, &field("c-slabs-0-1")).await?;
    type_over(page, "The wide one").await?;
    page.press(Key::Tab).await?;
    page.until("document.querySelector('main select').options[0].textContent === 'The wide one'").await?;
    press(page, Key::Control('z'), &said("Undone: Name, row 1.")).await
}

/// A part's measure, which breaks at the narrowest table, and is put back.
async fn a_design(page: &Page) -> Result<()> {
    go_to(page, "Designs").await?;
    page.until("document.querySelector('.proof .holds')?.textContent.includes('proved at all')").await?;
    tab_to(page, &field("drawn-length")).await?;
    type_over(page, "96 in").await?;
    tab_to(page, &field("f-designs[0].key")).await?;
    tab_to_named(page, "Bearer").await?;
    press(page, Key::Enter, "!!document.getElementById('f-designs[0].parts[1].length')").await?;
    tab_to(page, &field("f-designs[0].parts[1].length")).await?;
    type_over(page, "-36 in").await?;
    page.until("document.querySelector('.breaks')?.textContent.includes('Bearer')").await?;
    page.press(Key::Tab).await?;
    press(page, Key::Control('z'), "said().startsWith('Undone: Length')").await?;
    page.until("document.querySelector('.proof .holds')?.textContent.includes('proved at all')").await
}

/// Another rate, over another range, as curves.
async fn a_sweep(page: &Page) -> Result<()> {
    go_to(page, "Sweep and sensitivity").await?;
    page.until("[...document.querySelectorAll('.plot svg path.curve')].length === 3").await?;
    tab_to(page, &field("sweep-rate")).await?;
    let rate = page.eval("document.activeElement.value").await?;
    press(page, Key::Down, &format!("document.activeElement.value !== {rate}")).await?;
    tab_to(page, &field("sweep-to")).await?;
    let most = page.eval("document.activeElement.value * 2").await?.to_string();
    type_over(page, &most).await?;
    page.until("[...document.querySelectorAll('.plot svg path.curve')].length === 3").await
}

/// A slab put to a job, and the cut taken out of what is left of it.
async fn a_cut(page: &Page) -> Result<()> {
    go_to(page, "Jobs").await?;
    tab_to(page, "document.activeElement.textContent.startsWith('2026-034')").await?;
    press(page, Key::Enter, "!!document.getElementById('another-slabs')").await?;
    tab_to(page, &field("another-slabs")).await?;
    press_until(page, Key::Down, "document.activeElement.value === 'walnut-slab-17'").await?;
    tab_to_named(page, "Add it to Slabs").await?;
    press(page, Key::Enter, "main().includes('Walnut slab no. 17: 100 % of its face is left')").await?;
    let share = "document.activeElement.getAttribute('aria-label')?.startsWith('Share of its face')";
    press_until(page, Key::BackTab, share).await?;
    type_over(page, "0.6").await?;
    tab_to_named(page, "Take this cut out of the slab: Walnut slab no. 17").await?;
    press(page, Key::Enter, &said("60 % is taken out of Walnut slab no. 17; 40 % of it is left.")).await?;
    press(page, Key::Control('z'), &said("Undone: Taking a cut out of Walnut slab no. 17.")).await
}

/// The book as a file, and an earlier state opened and left again.
async fn a_file_and_an_earlier_state(page: &Page) -> Result<()> {
    go_to(page, "Files and earlier states").await?;
    page.eval("(window.saved = null, 1)").await?;
    tab_to_named(page, "Save the shop book as a file").await?;
    press(page, Key::Enter, "typeof saved === 'string'").await?;
    // The window that a file is chosen in is the browser's own.
    tab_to(page, &field("book-file")).await?;
    tab_to(page, "!!document.activeElement.closest('.entries')").await?;
    tab_to(page, "!!document.activeElement.closest('.entries li + li')").await?;
    press(page, Key::Enter, "said().includes('is open again. Undo brings back what was open.')").await?;
    press(page, Key::Control('z'), &said("Undone: Opening ")).await
}

/// A shop copied, opened, and left for the first.
async fn shops(page: &Page) -> Result<()> {
    go_to(page, "Shops").await?;
    tab_to_named(page, "Copy First shop").await?;
    press(page, Key::Enter, &said("First shop, copy is there.")).await?;
    for (from, to) in [("First shop", "First shop, copy"), ("First shop, copy", "First shop")] {
        if from != "First shop" {
            tab_to_named(page, "To what is open").await?;
            press(page, Key::Enter, "document.activeElement.localName === 'h2'").await?;
            go_to(page, "Shops").await?;
        }
        tab_to_named(page, &format!("Open {to}")).await?;
        page.press(Key::Enter).await?;
        let there = format!("document.querySelector('.which')?.textContent === {}", json!(to));
        page.until(&format!("!!document.querySelector('main tbody tr') && {there}")).await?;
        bring_help(page).await?;
    }
    Ok(())
}
