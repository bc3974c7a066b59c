//! More of a maker's year without a pointer: a slab and a design on the bench, a rate swept. Every step is a key that is pressed on the page as it has the focus, as in `unaided.rs`.

use anyhow::Result;
use scantling_tests::{Engine, Key, Page, Visit};

use crate::nothing_complained;
use crate::unaided::{field, go_to, named, press, tab_to, type_over};
use crate::year::{help, said};

pub(crate) async fn slabs_designs_and_a_sweep_are_worked_by_keys_alone(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "shop.html")).await?;
    help(&page).await?;
    // From where a page starts, the first stop leads into it.
    tab_to(&page, &named("To what is open")).await?;
    press(&page, Key::Enter, "document.activeElement.localName === 'h2'").await?;
    a_slab(&page).await?;
    a_design(&page).await?;
    a_sweep(&page).await?;
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
    tab_to(page, &named("Bearer")).await?;
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
