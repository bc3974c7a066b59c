//! The moment a book is opened: nothing has been said of it yet, and what it costs as it was opened is what edits are compared with.

use anyhow::Result;
use scantling_tests::Engine;
use serde_json::json;

use crate::nothing_complained;
use crate::year::{go_to, open_shop};

const DEMO: &str = include_str!("../../../shared/books/demo-shop.json");

/// What the other thread is asked is held back, as on a slow machine.
const HOLD: &str = "(window.asked = Worker.prototype.postMessage, window.waits = [], \
    Worker.prototype.postMessage = function (...all) { waits.push(() => asked.apply(this, all)); }, 1)";

/// It gets there after all.
const LET_GO: &str = "(Worker.prototype.postMessage = asked, waits.forEach(one => one()), 1)";

pub(crate) async fn what_is_edited_at_once_is_compared_with_the_book_as_it_was_opened(engine: Engine) -> Result<()> {
    let page = open_shop(engine).await?;
    page.eval(HOLD).await?;
    go_to(&page, "Files and earlier states").await?;
    let book = DEMO.replace("\"Larkmoor Bench\"", "\"Another bench\"");
    page.eval(&format!(
        "(() => {{ const bag = new DataTransfer(); bag.items.add(new File([{}], 'another.json', {{ type: 'application/json' }})); \
         const file = field('book-file'); file.files = bag.files; file.dispatchEvent(new Event('change', {{ bubbles: true }})); return 1; }})()",
        json!(book)
    ))
    .await?;
    page.until("document.querySelector('h1')?.textContent === 'Another bench'").await?;
    // Nothing is right or wrong with it yet.
    go_to(&page, "What jobs teach").await?;
    page.until("main().includes('The book is being reckoned')").await?;
    page.until("document.querySelector('aside').textContent.includes('The prices are being reckoned.')").await?;
    page.comes_to("document.body.textContent.includes('not right yet')", false).await?;
    // A dear screw, before it is known what the book came to, and long enough for that to be asked.
    go_to(&page, "Hardware").await?;
    page.eval("type('c-hardware-0-2', '77.70')").await?;
    page.until("(window.typed ??= performance.now(), performance.now() - typed > 600)").await?;
    page.eval(LET_GO).await?;
    page.until("!!document.querySelector('.basket s') && document.querySelector('.basket').textContent.includes('(+')")
        .await?;
    page.until("!document.querySelector('aside').textContent.includes('being reckoned')").await?;
    nothing_complained(&page).await?;
    page.close().await
}
