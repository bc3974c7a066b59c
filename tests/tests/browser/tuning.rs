//! The maker's page: designs beside their drawing, slabs, rates swept, currencies pasted, and anything found.

use anyhow::{Context, Result};
use scantling_tests::{Engine, Page, Visit};
use serde_json::json;

use crate::nothing_complained;
use crate::shop::press;

/// Opens a section of the page.
async fn section(engine: Engine, name: &str) -> Result<Page> {
    let page = Page::open(Visit::new(engine, "shop.html")).await?;
    page.until("!!document.querySelector('main tbody tr')").await?;
    press(&page, name).await?;
    page.until(&format!("document.querySelector('main h2')?.textContent === {}", json!(name))).await?;
    Ok(page)
}

/// Types into a field a letter at a time, as keys do: each is taken at once.
async fn type_letters(page: &Page, id: &str, text: &str) -> Result<()> {
    let field = format!("document.getElementById({})", json!(id));
    page.until(&format!("!!{field}")).await?;
    page.eval(&format!("({field}.focus(), {field}.value = '', 1)")).await?;
    for end in text.char_indices().map(|(at, letter)| at.saturating_add(letter.len_utf8())) {
        let so_far = json!(text.get(..end));
        page.eval(&format!(
            "({field}.value = {so_far}, {field}.dispatchEvent(new Event('input', {{ bubbles: true }})), 1)"
        ))
        .await?;
    }
    page.eval(&format!("({field}.dispatchEvent(new Event('change', {{ bubbles: true }})), 1)")).await?;
    Ok(())
}

/// Chooses in a list by what an entry says.
async fn choose(page: &Page, list: &str, words: &str) -> Result<()> {
    let list = format!("document.querySelector({})", json!(list));
    let entry = format!("[...{list}.options].find(o => o.textContent === {})", json!(words));
    page.until(&format!("!!({list} && {entry})")).await?;
    page.eval(&format!(
        "({list}.value = {entry}.value, {list}.dispatchEvent(new Event('change', {{ bubbles: true }})), 1)"
    ))
    .await?;
    Ok(())
}

/// Opens what is folded away under some words.
async fn unfold(page: &Page, words: &str) -> Result<()> {
    let folded = format!(
        "[...document.querySelectorAll('main details')].find(d => d.querySelector('summary').textContent.trim() === {})",
        json!(words)
    );
    page.until(&format!("!!{folded}")).await?;
    page.eval(&format!("({folded}.open = true, 1)")).await?;
    Ok(())
}

const HOLDS: &str = "document.querySelector('.proof .holds')?.textContent.includes('proved at all 8 corners')";
const DRAWN: &str = "document.querySelector('.board > .drawn')";

pub(crate) async fn a_design_is_drawn_and_proved_as_it_is_typed(engine: Engine) -> Result<()> {
    let page = section(engine, "Designs").await?;
    page.until(HOLDS).await?;
    page.until(&format!("{DRAWN}?.naturalWidth > 0")).await?;
    let before = page.eval(&format!("{DRAWN}.src")).await?;
    // The bearer is the width less 8 in; less 36 in it is nothing at the narrowest table.
    unfold(&page, "Bearer").await?;
    let field = "f-designs[0].parts[1].length";
    page.until(&format!("document.getElementById({})?.value === '-8 in'", json!(field))).await?;
    page.comes_to(&format!("document.getElementById({}).value", json!(format!("{field}-width"))), "1").await?;
    type_letters(&page, field, "-36 in").await?;
    page.until("document.querySelector('.breaks')?.textContent.includes('Bearer: its length comes to -4 in. That is at Length 60 in, Width 32 in')")
        .await?;
    page.until("document.querySelector('.breaks img')?.naturalWidth > 0").await?;
    page.until(
        "document.querySelector('.faults')?.textContent.includes('Designs, Trestle dining table: parts bearer')",
    )
    .await?;
    assert_ne!(page.eval(&format!("{DRAWN}.src")).await?, before, "the drawing follows");
    press(&page, "Set the drawing above to this size").await?;
    page.until("document.getElementById('drawn-width').value === '32 in'").await?;
    // All letters of one field are one edit.
    press(&page, "Undo").await?;
    page.until(&format!("document.getElementById({}).value === '-8 in'", json!(field))).await?;
    page.until(HOLDS).await?;
    page.comes_to("document.querySelector('.tools button').disabled", true).await.context("nothing else was done")?;
    // A size out of bounds, and one that is none, are told where they are typed; the drawing stays.
    type_letters(&page, "drawn-length", "many").await?;
    page.until("document.getElementById('drawn-length').getAttribute('aria-invalid') === 'true'").await?;
    type_letters(&page, "drawn-length", "200").await?;
    page.until("document.querySelector('.board > .fault').textContent.includes('108 in')").await?;
    press(&page, "All at their most").await?;
    page.until("document.getElementById('drawn-length').value === '108 in' && !document.querySelector('.board > .fault').textContent").await?;
    nothing_complained(&page).await?;
    page.close().await
}

/// What the piece comes to at the size that is drawn.
const PRICE: &str = "([...document.querySelectorAll('.board > p')].map(p => p.textContent).find(t => t.startsWith('At this size, at the workshop: ')) ?? '')";

/// The sum in it.
async fn price(page: &Page) -> Result<f64> {
    page.until(&format!("{PRICE} !== ''")).await?;
    let sum = page.eval(&format!("parseFloat({PRICE}.split(': ')[1])")).await?;
    sum.as_f64().context("a sum")
}

pub(crate) async fn joints_faces_and_options_are_edited_beside_the_drawing(engine: Engine) -> Result<()> {
    let page = section(engine, "Designs").await?;
    page.until(HOLDS).await?;
    let start = price(&page).await?;
    let changed = |from: &str| format!("{PRICE} !== '' && {PRICE} !== {}", json!(from));
    let told = async || -> Result<String> { Ok(page.eval(PRICE).await?.as_str().unwrap_or_default().to_owned()) };
    // More joints at each post are more work.
    let before = told().await?;
    unfold(&page, "Post").await?;
    unfold(&page, "Joints").await?;
    type_letters(&page, "c-designs[0].parts[2].joints-0-1", "6").await?;
    page.until(&changed(&before)).await?;
    let jointed = price(&page).await?;
    assert!(jointed > start, "{jointed} after {start}");
    // A tenon of no known kind is told beside its cell; put right, the price is there again.
    type_letters(&page, "c-designs[0].parts[2].joints-0-0", "glue-alone").await?;
    page.until("document.querySelector('.faults')?.textContent.includes('glue-alone')").await?;
    press(&page, "Undo").await?;
    page.until("!document.querySelector('.faults')").await?;
    // Faces of the posts that are neither sanded nor finished are less work.
    let before = told().await?;
    unfold(&page, "Finished").await?;
    type_letters(&page, "f-designs[0].parts[2].finished.faces", "0").await?;
    type_letters(&page, "f-designs[0].parts[2].finished.edges", "0").await?;
    page.until(&changed(&before)).await?;
    let bare = price(&page).await?;
    assert!(bare < jointed, "{bare} after {jointed}");
    // The other ends are drawn once they are chosen, and are more work too.
    let (drawn, before) = (page.eval(&format!("{DRAWN}.src")).await?, told().await?);
    choose(&page, "#drawn-option-ends", "Breadboard ends").await?;
    page.until(&format!("{} && {DRAWN}.src !== {drawn}", changed(&before))).await?;
    let ended = price(&page).await?;
    assert!(ended > bare, "{ended} after {bare}");
    an_option_is_edited(&page).await?;
    nothing_complained(&page).await?;
    page.close().await
}

/// What an option is called, and a part that one of its choices adds: too wide, it runs into the part beside it, and is drawn doing so.
async fn an_option_is_edited(page: &Page) -> Result<()> {
    unfold(page, "Options").await?;
    type_letters(page, "c-designs[0].options-0-1", "How the top ends").await?;
    page.comes_to("document.querySelector('label[for=drawn-option-ends]').textContent", "How the top ends").await?;
    let row = |list: &str, row: usize| format!("document.getElementById({})", json!(format!("b-{list}[{row}]")));
    for (list, index, folded) in [
        ("designs[0].options", 0, "Choices"),
        ("designs[0].options[0].choices", 1, "Add"),
        ("designs[0].options[0].choices[1].add", 1, ""),
    ] {
        page.until(&format!("!!{}", row(list, index))).await?;
        page.eval(&format!("({}.click(), 1)", row(list, index))).await?;
        if !folded.is_empty() {
            unfold(page, folded).await?;
        }
    }
    let wide = "f-designs[0].options[0].choices[1].add[1].width";
    page.comes_to(&format!("document.getElementById({})?.value", json!(wide)), "4 in").await?;
    let drawn = page.eval(&format!("{DRAWN}.src")).await?;
    type_letters(page, wide, "7 in").await?;
    page.until("document.querySelector('.breaks')?.textContent.includes('Breadboard end')").await?;
    page.until(&format!("document.querySelector('.breaks img')?.naturalWidth > 0 && {DRAWN}.src !== {drawn}")).await?;
    press(page, "Undo").await?;
    page.until(HOLDS).await
}

pub(crate) async fn a_design_is_started_from_another_and_taken_out_again(engine: Engine) -> Result<()> {
    let page = section(engine, "Designs").await?;
    let named = "document.querySelector('main select').selectedOptions[0]?.textContent";
    let count = "document.querySelector('main select').options.length";
    choose(&page, "main select", "Bookcase").await?;
    page.until("document.querySelector('.proof .holds')?.textContent.includes('proved at all')").await?;
    let all = page.eval(count).await?.as_u64().unwrap_or(0);
    press(&page, "Start one from it").await?;
    page.until(&format!("{named} === 'Bookcase, copy' && {count} === {}", all.saturating_add(1))).await?;
    page.until("document.getElementById('f-designs[6].key').value === 'bookcase-2'").await?;
    press(&page, "Start a new one").await?;
    page.until(&format!("{named} === 'New design'")).await?;
    page.until("document.querySelector('.proof .holds')?.textContent.includes('Length 12 in to 36 in')").await?;
    press(&page, "Add a part").await?;
    // It stands where the board does: both are named, and drawn.
    page.until("document.querySelector('.breaks')?.textContent.includes('into “New part”')").await?;
    for _ in 0..3 {
        press(&page, "Undo").await?;
    }
    page.until(&format!("{count} === {all}")).await?;
    page.until("!document.querySelector('.faults')").await?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn a_slab_is_drawn_and_a_cut_of_it_reckoned(engine: Engine) -> Result<()> {
    let page = section(engine, "Slabs").await?;
    page.until("document.querySelector('.slab img')?.naturalWidth > 0").await?;
    type_letters(&page, "cut-length", "39 in").await?;
    type_letters(&page, "cut-width", "16 in").await?;
    // Half of 78 in keeps a quarter of its 1/4 in of bow.
    let first = "[...document.querySelectorAll('main table')][0].querySelector('tbody tr')";
    page.until(&format!("{first}?.children[1].textContent === '1/16 in'")).await?;
    let bases =
        "[...[...document.querySelectorAll('main table')][2].querySelectorAll('tbody th')].map(h => h.textContent)";
    let six = page.eval(bases).await?;
    assert_eq!(six.as_array().map(Vec::len), Some(6), "{six}");
    assert!(six.to_string().contains("What cut and rest would sell for, this slab's own"), "{six}");
    page.until("[...document.querySelectorAll('main table')][2].textContent.includes('420.00 USD')").await?;
    type_letters(&page, "cut-length", "80 in").await?;
    page.until("document.querySelector('main').textContent.includes('The slab is 78 in long')").await?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn a_rate_is_swept_and_what_a_price_hangs_on_is_ranked(engine: Engine) -> Result<()> {
    let page = section(engine, "Sweep and sensitivity").await?;
    choose(&page, "#sweep-rate", "Timbers, Black walnut: rates 8/4").await?;
    page.until(
        "document.getElementById('sweep-from').value === '7.7' && document.getElementById('sweep-to').value === '23.1'",
    )
    .await?;
    page.until("[...document.querySelectorAll('.plot svg path.curve')].length === 3").await?;
    page.until(
        "document.querySelector('main').textContent.includes('Timbers, Black walnut: rates 8/4, 15.4 in the book')",
    )
    .await?;
    // The table beneath says the same: at the book's own rate the price is that of the basket.
    let rows = "[...document.querySelectorAll('main table')][0].querySelectorAll('tbody tr')";
    page.until(&format!("{rows}.length === 25")).await?;
    let own = format!("[...{rows}].find(r => r.children[0].textContent === '15.4').children[1].textContent");
    let basket = "document.querySelector('.basket li .figure').textContent.trim()";
    assert_eq!(page.eval(&own).await?, page.eval(basket).await?);
    type_letters(&page, "sweep-to", "1").await?;
    page.until("document.getElementById('sweep-fault').textContent.includes('is not below')").await?;
    // Ranked: the largest first, and a way to each.
    page.until("document.querySelectorAll('.ranked li').length === 15").await?;
    let shares = page
        .eval("[...document.querySelectorAll('.ranked .figure')].map(f => Math.abs(parseFloat(f.textContent)))")
        .await?;
    let shares: Vec<f64> = serde_json::from_value(shares)?;
    assert!(shares.windows(2).all(|pair| pair.first() >= pair.last()), "{shares:?}");
    press(&page, "Reckon what every piece hangs on").await?;
    page.until("[...document.querySelectorAll('main table')].at(-1).querySelectorAll('tbody tr').length === 6").await?;
    unfold(&page, "All of them as a table").await?;
    press(&page, "Timbers, Black walnut: rates 8/4").await?;
    page.until("document.querySelector('main h2').textContent === 'Timbers' && document.querySelector('.record h3').textContent === 'Row 1'").await?;
    nothing_complained(&page).await?;
    page.close().await
}

/// On a slow machine; on a fast one the bar would only flash up, and does not come.
pub(crate) async fn work_that_takes_long_shows_how_far_it_is(engine: Engine) -> Result<()> {
    let page = section(engine, "Sweep and sensitivity").await?;
    page.until("document.querySelectorAll('.ranked li').length === 15").await?;
    page.tell_browser("Emulation.setCPUThrottlingRate", json!({ "rate": 20 })).await?;
    press(&page, "Reckon what every piece hangs on").await?;
    let bar = "document.querySelector('main progress')";
    page.until(&format!("{bar}?.max === 6 && /^ [0-5] of 6 pieces$/.test({bar}.parentNode.textContent)")).await?;
    page.comes_to(&format!("{bar}.getAttribute('aria-label')"), "What every piece hangs on is being reckoned").await?;
    page.tell_browser("Emulation.setCPUThrottlingRate", json!({ "rate": 1 })).await?;
    page.until("[...document.querySelectorAll('main table')].at(-1).querySelectorAll('tbody tr').length === 6").await?;
    page.comes_to(&format!("!!{bar}"), false).await?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn currencies_are_pasted_flagged_when_old_and_undone(engine: Engine) -> Result<()> {
    let page = section(engine, "Currencies").await?;
    let cell = "document.getElementById('c-currencies-1-1').value";
    page.until(&format!("{cell} === '0.86'")).await?;
    unfold(&page, "Type or paste rates").await?;
    type_letters(&page, "rates-text", "EUR 0,9 2020-02-01 evening paper").await?;
    press(&page, "Take these rates").await?;
    page.until("document.querySelector('main .old')?.textContent.includes('EUR of 2020-02-01')").await?;
    let row = "[...document.querySelectorAll('main tbody tr')][1].innerHTML && [...document.querySelectorAll('main tbody tr')[1].querySelectorAll('input')].map(i => i.value).join(' ')";
    let told = page.eval(row).await?.to_string();
    assert!(told.contains("0.9") && told.contains("evening paper"), "{told}");
    type_letters(&page, "rates-text", "EURO 1").await?;
    press(&page, "Take these rates").await?;
    page.until("document.getElementById('rates-fault').textContent.includes('“EURO” is not a currency')").await?;
    press(&page, "Undo").await?;
    page.until("!document.querySelector('main .old')?.textContent.includes('2020-02-01')").await?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn a_word_is_found_in_any_table_and_led_to(engine: Engine) -> Result<()> {
    let page = section(engine, "Find in the book").await?;
    type_letters(&page, "find", "walnut 8/4").await?;
    page.until("[...document.querySelectorAll('main .entries li')].some(l => l.textContent.includes('Timbers, Black walnut: rates 8/4'))").await?;
    press(&page, "Timbers, Black walnut: rates 8/4").await?;
    page.until("document.querySelector('main h2').textContent === 'Timbers' && document.querySelector('.record h3').textContent === 'Row 1'").await?;
    press(&page, "Find in the book").await?;
    type_letters(&page, "find", "nothing of the kind").await?;
    page.until("document.querySelector('main').textContent.includes('Nothing in the book has all of these words.')")
        .await?;
    nothing_complained(&page).await?;
    page.close().await
}
