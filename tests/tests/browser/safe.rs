//! Nothing a maker typed is lost: a browser that is full or keeps nothing, two windows on one book, states that were cut off or come from a
//! newer page, and a computer's clock that is set forward and back.

use anyhow::Result;
use scantling_tests::{Engine, Page, Visit};
use serde_json::{Value, json};

use crate::nothing_complained;
use crate::year::{act, bring_help, go_to, help, said};

const DEMO: &str = include_str!("../../../shared/books/demo-shop.json");

/// The price of the book's first screw, which these tests change, and what the demo's book says.
const PRICE: &str = "document.getElementById('c-hardware-0-2')?.value";

/// What is told above a book that is not kept.
const TOLD: &str = "document.querySelector('.unkept')?.textContent ?? ''";

/// The number and the book of every state in the store, the newest first, as they are written: see the maker's page.
const STATES: &str = "Object.keys(localStorage).filter(k => /^scantling-shop-\\d$/.test(k)).map(k => localStorage[k].split('\\n')) \
    .map(([head, book]) => [Number(head.split(' ')[0]), book]).sort(([a], [b]) => b - a)";

async fn open(engine: Engine) -> Result<Page> {
    let page = Page::open(Visit::new(engine, "shop.html").in_a_strange_browser()).await?;
    help(&page).await?;
    kept(&page, "1.35").await?;
    Ok(page)
}

/// Loads the page anew and waits until it stands.
async fn reload(page: &Page) -> Result<()> {
    page.eval("(window.before = true, location.reload(), 1)").await?;
    page.until("!window.before && !!document.querySelector('main h2')").await?;
    bring_help(page).await
}

/// Changes the price, and sees it on the page.
async fn change(page: &Page, price: &str) -> Result<()> {
    go_to(page, "Hardware").await?;
    act(page, &format!("type('c-hardware-0-2', {})", json!(price)), &format!("{PRICE} === {}", json!(price))).await
}

/// The price that stands on the page.
async fn shows(page: &Page, price: &str) -> Result<()> {
    go_to(page, "Hardware").await?;
    page.comes_to(PRICE, price).await
}

/// The newest state in the store has this price.
async fn kept(page: &Page, price: &str) -> Result<()> {
    page.comes_to(&format!("({STATES}[0] ?? [0, '']).map(String)[1].includes({})", json!(priced(price))), true).await
}

fn priced(price: &str) -> String {
    format!("\"price\":\"{price}\"")
}

/// Presses a button, once it is there.
async fn press(page: &Page, words: &str) -> Result<()> {
    page.until(&format!("!!button({})", json!(words))).await?;
    page.eval(&format!("(press({}), 1)", json!(words))).await?;
    Ok(())
}

/// The shop book as the page writes it into a file.
async fn filed(page: &Page) -> Result<Value> {
    page.eval("(window.saved = null, 1)").await?;
    press(page, "Save the shop book as a file").await?;
    page.until("typeof saved === 'string'").await?;
    Ok(serde_json::from_str(page.eval("saved").await?.as_str().unwrap_or_default())?)
}

/// Opens the demo's book as a file of the maker's.
async fn open_demo_file(page: &Page) -> Result<()> {
    go_to(page, "Files and earlier states").await?;
    let open = "const bag = new DataTransfer(); bag.items.add(new File([text], 'demo.json', { type: 'application/json' })); \
        const field = document.getElementById('book-file'); field.files = bag.files; field.dispatchEvent(new Event('change', { bubbles: true }));";
    page.eval(&format!("(text => {{ {open} return 1; }})({})", json!(DEMO))).await?;
    Ok(())
}

/// The file holds the whole book: the demo's but for the price.
fn is_the_demo_with(book: &Value, price: &str) -> Result<()> {
    let mut demo: Value = serde_json::from_str(DEMO)?;
    demo["hardware"][0]["price"] = json!(price);
    assert_eq!(*book, demo);
    Ok(())
}

/// Whether the browser would ask before it lets go of the page.
const ASKS: &str = "!dispatchEvent(new Event('beforeunload', { cancelable: true }))";

pub(crate) async fn where_the_browser_is_full_it_is_told_and_kept_once_there_is_room(engine: Engine) -> Result<()> {
    let page = open(engine).await?;
    // To the last letter: what the browser says by itself when it is full is what the page has to hear.
    page.eval("(() => { let piece = 'x'.repeat(1 << 20); for (let n = 0; piece; n++) { try { localStorage[`junk-${n}`] = piece; } catch { piece = piece.slice(0, piece.length >> 1); } } return 1; })()")
        .await?;
    change(&page, "101.35").await?;
    page.until(&format!("({TOLD}).includes('no room left')")).await?;
    // The edit stands on the page and counts; what was kept before is kept.
    page.until("document.querySelector('.basket').textContent.includes('(+')").await?;
    shows(&page, "101.35").await?;
    kept(&page, "1.35").await?;
    assert_eq!(page.eval(ASKS).await?, true);
    // Nothing is opened over it before it is in a file; and in the file is all of it.
    open_demo_file(&page).await?;
    page.until("said().includes('kept nowhere yet and would be lost')").await?;
    shows(&page, "101.35").await?;
    is_the_demo_with(&filed(&page).await?, "101.35")?;
    page.comes_to(ASKS, false).await?;
    // Editing goes on, and so does undoing.
    change(&page, "102.35").await?;
    page.comes_to(ASKS, true).await?;
    act(&page, "press('Undo')", &format!("{PRICE} === '101.35'")).await?;
    act(&page, "press('Do again')", &format!("{PRICE} === '102.35'")).await?;
    // A shop that finds no room is not begun.
    go_to(&page, "Shops").await?;
    act(&page, "press('Copy First shop')", "said().includes('no room left')").await?;
    assert_eq!(page.eval("document.querySelectorAll('.shops li').length").await?, 1);
    // Once there is room, it is kept by itself.
    page.eval(
        "(Object.keys(localStorage).filter(k => k.startsWith('junk')).forEach(k => localStorage.removeItem(k)), 1)",
    )
    .await?;
    kept(&page, "102.35").await?;
    page.comes_to(TOLD, "").await?;
    page.comes_to(ASKS, false).await?;
    reload(&page).await?;
    shows(&page, "102.35").await?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn where_the_browser_keeps_nothing_it_is_told_and_the_file_holds_all(engine: Engine) -> Result<()> {
    let page = open(engine).await?;
    page.eval("(sessionStorage['strange-store'] = 'none', 1)").await?;
    reload(&page).await?;
    // Told before anything is typed, and for as long as it is so.
    page.until(&format!("({TOLD}).includes('keeps nothing for this page')")).await?;
    assert_eq!(page.eval(ASKS).await?, false, "nothing is lost yet");
    change(&page, "7.35").await?;
    page.until("document.querySelector('.basket').textContent.includes('(+')").await?;
    page.until(&format!("({TOLD}).includes('keeps nothing for this page')")).await?;
    page.comes_to(ASKS, true).await?;
    open_demo_file(&page).await?;
    page.until("said().includes('kept nowhere yet and would be lost')").await?;
    is_the_demo_with(&filed(&page).await?, "7.35")?;
    // What is in a file makes way for another.
    open_demo_file(&page).await?;
    page.until(&said("demo.json is open.")).await?;
    shows(&page, "1.35").await?;
    // Every section stands as it does anywhere.
    for section in ["Files and earlier states", "Shops", "Requests", "Publish"] {
        go_to(&page, section).await?;
    }
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn of_two_windows_the_maker_says_whose_book_is_the_newest(engine: Engine) -> Result<()> {
    let page = open(engine).await?;
    let one = page.window().await?;
    let other = page.open_window("shop.html").await?;
    help(&page).await?;
    assert_eq!(page.eval(TOLD).await?, "", "two windows that have changed nothing are in no one's way");

    // The one is changed; the other hears of it before it is typed in, and what is typed there goes over nothing.
    page.go_on_in(&one).await?;
    change(&page, "11.35").await?;
    kept(&page, "11.35").await?;
    page.go_on_in(&other).await?;
    page.until(&format!("({TOLD}).includes('Another window has changed')")).await?;
    change(&page, "12.35").await?;
    page.until(&format!("localStorage['scantling-shop-aside']?.includes({})", json!(priced("12.35")))).await?;
    kept(&page, "11.35").await?;
    // The other is chosen: it is the newest, and the one's comes right after it.
    act(&page, "press(\"Keep this window's book\")", &format!("({TOLD}) === ''")).await?;
    kept(&page, "12.35").await?;
    let prices = format!("{STATES}.map(([, book]) => /\"price\":\"(1?[12]\\.35)\"/.exec(book)?.[1])");
    page.comes_to(&prices, json!(["12.35", "11.35", "1.35"])).await?;

    // The one hears of that, has changed something meanwhile, and gives way: its own is a state all the same.
    page.go_on_in(&one).await?;
    page.until(&format!("({TOLD}).includes('Another window has changed')")).await?;
    change(&page, "2.35").await?;
    act(&page, "press(\"Show the other window's book\")", &format!("{PRICE} === '12.35'")).await?;
    page.comes_to(TOLD, "").await?;
    page.comes_to(
        &format!("[...new Set({STATES}.map(([, book]) => /\"price\":\"(1?[12]\\.35)\"/.exec(book)?.[1]))]"),
        json!(["12.35", "2.35", "11.35", "1.35"]),
    )
    .await?;
    // Both show the same now: the other need not choose again.
    page.go_on_in(&other).await?;
    page.comes_to(TOLD, "").await?;

    // A window that is closed before anyone has chosen leaves what was typed in it, and the next start says so.
    change(&page, "13.35").await?;
    kept(&page, "13.35").await?;
    page.go_on_in(&one).await?;
    page.until(&format!("({TOLD}).includes('Another window has changed')")).await?;
    change(&page, "14.35").await?;
    page.until(&format!("localStorage['scantling-shop-aside']?.includes({})", json!(priced("14.35")))).await?;
    page.close_window(&other).await?;
    kept(&page, "13.35").await?;
    reload(&page).await?;
    page.until("said().includes('A window was closed with changes')").await?;
    shows(&page, "13.35").await?;
    go_to(&page, "Files and earlier states").await?;
    let aside = "[...document.querySelectorAll('.entries button')].find(b => b.textContent.startsWith('What another window held'))";
    page.until(&format!("!!{aside}")).await?;
    act(&page, &format!("{aside}.click()"), "said() === 'What another window held is open again.'").await?;
    shows(&page, "14.35").await?;
    kept(&page, "14.35").await?;
    page.until("localStorage['scantling-shop-aside'] === undefined").await?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn a_state_that_was_cut_off_is_passed_over_told_and_left(engine: Engine) -> Result<()> {
    let page = open(engine).await?;
    for price in ["2.35", "3.35"] {
        change(&page, price).await?;
        kept(&page, price).await?;
    }
    // The power failed as the newest was written, and as its number was.
    page.eval("(localStorage['scantling-shop-3'] = localStorage['scantling-shop-3'].slice(0, 9000), localStorage['scantling-shop-newest'] = '', 1)").await?;
    let all = "JSON.stringify(Object.fromEntries(Object.entries(localStorage).sort()))";
    let before = page.eval(all).await?;
    reload(&page).await?;
    page.until("said().includes('state 3, is damaged. What is open is state 2')").await?;
    shows(&page, "2.35").await?;
    // What is left of it can be looked at, and the way back leads to the last that is good.
    go_to(&page, "Files and earlier states").await?;
    let damaged = "[...document.querySelectorAll('.entries button')].find(b => /^State 3, 9 kB of 3\\d kB, damaged/.test(b.textContent))";
    page.until(&format!("!!{damaged}")).await?;
    act(&page, &format!("{damaged}.click()"), "document.querySelector('.held')?.textContent.includes('bytes can')")
        .await?;
    page.until("document.querySelector('h1').textContent === 'Larkmoor Bench'").await?;
    assert_eq!(page.eval(all).await?, before, "looking changes nothing");
    act(&page, "press('Back to the book before')", "!document.querySelector('.held')").await?;
    shows(&page, "2.35").await?;
    // What is changed from here on comes after it; it is there still.
    change(&page, "4.35").await?;
    kept(&page, "4.35").await?;
    assert_eq!(page.eval("localStorage['scantling-shop-3'].length").await?, 9000);
    // Where no state is whole, as much is shown as can be read, and nothing is written over it.
    page.eval("(Object.keys(localStorage).filter(k => /^scantling-shop-\\d$/.test(k)).forEach(k => localStorage[k] = localStorage[k].slice(0, 8000)), 1)").await?;
    let before = page.eval(all).await?;
    reload(&page).await?;
    page.until("said().includes('No state kept in this browser is whole: this is what can be read of state 4, 8 kB of 3') && !!document.querySelector('.held')")
        .await?;
    page.until("document.querySelector('h1').textContent === 'Larkmoor Bench'").await?;
    assert_eq!(page.eval(all).await?, before);
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn an_earlier_state_tells_when_it_was_kept_and_what_differs_from_it(engine: Engine) -> Result<()> {
    let page = open(engine).await?;
    for price in ["2.35", "3.35"] {
        change(&page, price).await?;
        kept(&page, price).await?;
    }
    go_to(&page, "Files and earlier states").await?;
    let row = |state: &str| {
        format!(
            "[...document.querySelectorAll('.entries > li')].find(li => li.querySelector('button')?.textContent.startsWith('State {state},'))"
        )
    };
    let label = |state: &str| format!("{}?.querySelector('button').textContent", row(state));
    page.until(&format!(
        "/^State 3, \\d+ kB; 20\\d\\d-\\d\\d-\\d\\d \\d\\d:\\d\\d; Price, row 1$/.test({})",
        label("3")
    ))
    .await?;
    // The moment is the clock's on this wall, which the browser tells by itself: a time without a zone is local (ECMA-262).
    let at = format!("new Date(/20[-\\d]+ [:\\d]+/.exec({})[0].replace(' ', 'T'))", label("3"));
    page.until(&format!("Math.abs(Date.now() - {at}) < 300000")).await?;
    for (state, differs) in [("2", "2.35 to 3.35"), ("1", "1.35 to 3.35")] {
        page.eval(&format!("({}.querySelector('details').open = true, 1)", row(state))).await?;
        let told = format!("[...{}.querySelectorAll('details li')].map(li => li.textContent)", row(state));
        page.comes_to(&told, json!([format!("Hardware, Slotted top fixing: price: {differs}")])).await?;
    }
    // States of a page that told nothing of them are listed as ever.
    page.eval("(localStorage.removeItem('scantling-shop-told'), 1)").await?;
    reload(&page).await?;
    shows(&page, "3.35").await?;
    go_to(&page, "Files and earlier states").await?;
    page.until(&format!("/^State 3, \\d+ kB$/.test({})", label("3"))).await?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn a_book_of_a_newer_page_is_looked_at_and_the_one_before_comes_back(engine: Engine) -> Result<()> {
    let page = open(engine).await?;
    change(&page, "2.35").await?;
    kept(&page, "2.35").await?;
    // A newer page was used on this browser meanwhile.
    page.eval("(book => { const newer = JSON.stringify({ ...JSON.parse(book), scantling_book: 2, kiln: { heat: '60' } }); \
        localStorage['scantling-shop-3'] = `3 ${newer.length}\\n${newer}`; localStorage['scantling-shop-newest'] = '3'; return 1; })(localStorage['scantling-shop-2'].split('\\n')[1])")
        .await?;
    let newer = page.eval("localStorage['scantling-shop-3']").await?;
    reload(&page).await?;
    page.until("document.querySelector('.held')?.textContent.includes('of version 2')").await?;
    go_to(&page, "Hardware").await?;
    page.until("document.getElementById('c-hardware-0-2').readOnly").await?;
    act(&page, "press('Back to the book before')", "!document.querySelector('.held')").await?;
    shows(&page, "2.35").await?;
    change(&page, "5.35").await?;
    kept(&page, "5.35").await?;
    page.comes_to("localStorage['scantling-shop-3']", newer).await?;
    // Among the earlier states it is looked at as before, and the way back is the newest that is good.
    go_to(&page, "Files and earlier states").await?;
    let newer = "[...document.querySelectorAll('.entries button')].find(b => b.textContent.startsWith('State 3,'))";
    page.until(&format!("!!{newer}")).await?;
    act(&page, &format!("{newer}.click()"), "document.querySelector('.held')?.textContent.includes('of version 2')")
        .await?;
    act(&page, "press('Back to the book before')", "!document.querySelector('.held')").await?;
    reload(&page).await?;
    shows(&page, "5.35").await?;
    nothing_complained(&page).await?;
    page.close().await
}

/// A day, in seconds.
const DAY: i64 = 86_400;

/// The page is closed, and opened again on a computer whose clock is so far ahead.
async fn reload_at(page: &Page, seconds: i64) -> Result<()> {
    page.eval(&format!("(sessionStorage['strange-clock'] = '{seconds}', 1)")).await?;
    reload(page).await
}

pub(crate) async fn whatever_the_clock_does_the_newest_state_is_the_newest_and_no_hour_is_made_up(
    engine: Engine,
) -> Result<()> {
    let page = open(engine).await?;
    change(&page, "2.35").await?;
    kept(&page, "2.35").await?;
    // A year ahead: a job is begun and its clock started.
    reload_at(&page, 400 * DAY).await?;
    shows(&page, "2.35").await?;
    change(&page, "3.35").await?;
    kept(&page, "3.35").await?;
    go_to(&page, "Jobs").await?;
    page.eval("(document.querySelector('main > section > details').open = true, 1)").await?;
    act(&page, "type('begun-design', 'hall-bench')", "!!document.getElementById('begun-materials.wood')").await?;
    act(&page, "press('Begin the job')", &said("job-1 is begun.")).await?;
    act(&page, "press('Start the clock: Mill four faces')", "!!button('Stop the clock: Mill four faces')").await?;
    page.until(&format!("{STATES}[0][1].includes('running')")).await?;
    // Then 800 days back, 19 200 hours but for what the page took: the newest state is the one that was typed last, and no time was worked.
    reload_at(&page, -400 * DAY).await?;
    shows(&page, "3.35").await?;
    go_to(&page, "Jobs").await?;
    act(&page, "openRow('job-1')", "main().includes('clock was set back')").await?;
    press(&page, "Stop the clock: Mill four faces").await?;
    page.until("/set back by at least (1919\\d|19200) h/.test(said())").await?;
    assert_eq!(page.eval("field('f-jobs[4].hours.mill-four-faces').value").await?, "");
    change(&page, "4.35").await?;
    kept(&page, "4.35").await?;
    // And right again: no state went, and each is in its place.
    reload_at(&page, 0).await?;
    shows(&page, "4.35").await?;
    let numbers = format!("{STATES}.map(([number]) => number)");
    let there = page.eval(&numbers).await?;
    let there: Vec<u64> = serde_json::from_value(there)?;
    // Of changes in quick succession one state is made, so that there are four at least: each that was waited for.
    let newest = there.first().copied().unwrap_or_default();
    assert!(newest >= 4 && there.iter().copied().eq((1..=newest).rev()), "{there:?}");
    go_to(&page, "Files and earlier states").await?;
    let listed =
        "[...document.querySelectorAll('.entries button')].map(b => Number(/^State (\\d+),/.exec(b.textContent)[1]))";
    page.comes_to(listed, json!(there)).await?;
    let old = "[...document.querySelectorAll('.entries button')].find(b => b.textContent.startsWith('State 3,'))";
    act(&page, &format!("{old}.click()"), &said("State 3 is open again.")).await?;
    shows(&page, "3.35").await?;
    nothing_complained(&page).await?;
    page.close().await
}
