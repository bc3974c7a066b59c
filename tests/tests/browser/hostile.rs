//! Pages that are careless of others, or hostile: none of them changes how the widget looks, and the widget changes nothing in them.

use std::collections::BTreeSet;

use anyhow::{Context, Result};
use scantling_tests::{Engine, Page, Visit};
use serde_json::json;

use crate::{AT_REST, nothing_complained};

/// The pages, in `tests/pages/hostile`; `plain` is what they are compared with.
const PAGES: [&str; 10] =
    ["prototypes", "reset", "root", "inherited", "controls", "turned", "tiny", "policy", "upright", "quirks"];

/// What the widget says it takes from the page where it stands: the direction, which moves what stands at the sides.
fn taken_from(page: &str, property: &str) -> bool {
    let sides =
        ["direction", "text-align", "unicode-bidi", "background-image", "left", "right", "margin", "padding", "border"];
    page == "upright" && sides.iter().any(|side| property.contains(side))
}

/// Lines of a look.
async fn look(page: &Page, at: &str) -> Result<BTreeSet<String>> {
    let lines = page.eval(&format!("look.{at}()")).await?;
    let lines = lines.as_str().with_context(|| format!("there is no look {at}"))?;
    Ok(lines.lines().map(str::to_owned).collect())
}

/// How the widget looks on a page, which must look after it as it did before.
async fn on(page: &Page, name: &str) -> Result<BTreeSet<String>> {
    page.go(&format!("hostile/{name}.html")).await?;
    // Chromium's driver keeps a name of its own on the window, from the first script it runs there.
    page.until("!!window.look").await?;
    let before = look(page, "page").await?;
    assert!(before.len() > 1000, "{name}: hardly anything was looked at");
    page.eval("(look.enter(), 1)").await?;
    if let Err(error) = page.until(AT_REST).await {
        let told = page.eval("JSON.stringify(told) + complained").await?;
        return Err(error).with_context(|| format!("on the page {name}: {told}"));
    }
    let after = look(page, "page").await?;
    let changed: Vec<&String> = before.symmetric_difference(&after).filter(|line| !is_the_widget_s(line)).collect();
    assert!(changed.is_empty(), "{name} was changed: {changed:#?}");
    look(page, "widget").await
}

/// What the README says the widget leaves on a page: it listens to the window while it is there.
fn is_the_widget_s(line: &str) -> bool {
    line.contains("listeners: window ")
}

pub(crate) async fn no_page_changes_the_widget_and_the_widget_changes_no_page(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "hostile/plain.html")).await?;
    let plain = on(&page, "plain").await?;
    // WebKit's driver works inside the page, with what such a page has taken away.
    let pages = PAGES.iter().filter(|name| engine != Engine::WebKit || **name != "prototypes");
    for name in pages.copied() {
        let there = on(&page, name).await?;
        let other: Vec<&String> = plain
            .symmetric_difference(&there)
            .filter(|line| !line.split_once("{ ").is_some_and(|(_, property)| taken_from(name, property)))
            // A text that keeps its own direction may break its lines elsewhere.
            .filter(|line| name != "upright" || !line.contains(" span "))
            // Without a document type a line is as high as what stands in it, which no style changes.
            .filter(|line| {
                name != "quirks" || ["{ font", "{ color", "{ line", "{ margin"].iter().any(|set| line.contains(set))
            })
            // WebKit sets the lettering of a drawing by the size it has on the screen.
            .filter(|line| name != "turned" || !line.starts_with("svg text "))
            .collect();
        assert!(other.is_empty(), "on {name} the widget looks otherwise: {other:#?}");
        assert_eq!(page.eval("refused").await?, json!([]), "on {name} the policy refused something");
        assert_eq!(page.complaints().await?, Vec::<String>::new(), "on {name}");
    }
    // That a change would be seen.
    page.eval("(root(0).querySelector('.price').style.letterSpacing = '1px', 1)").await?;
    assert_ne!(look(&page, "widget").await?, plain);
    page.close().await
}

pub(crate) async fn a_page_keeps_its_own_element_of_the_same_name(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "hostile/taken.html")).await?;
    page.eval("(look.enter(), 1)").await?;
    page.until("performance.getEntriesByType('resource').some(e => e.name.endsWith('scantling-quote.js'))").await?;
    let element = "(e => [e.title, e.shadowRoot, e.innerText])(document.querySelector('scantling-quote'))";
    page.comes_to(element, json!(["the page's own", null, "Write to us."])).await?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn a_page_may_take_it_away_and_put_it_back_all_the_time(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "hostile/restless.html")).await?;
    page.eval("(look.enter(), 1)").await?;
    page.until("turns > 60").await?;
    page.eval("(rest(), 1)").await?;
    page.until(AT_REST).await?;
    page.comes_to("root(0).querySelectorAll('.widget').length", 1).await?;
    // However often it came, the book was asked for once or, by a start that was overtaken, a few times.
    let books = "performance.getEntriesByType('resource').filter(e => e.name.endsWith('price-book.json')).length";
    let books = page.eval(books).await?.as_u64().context("no number of books")?;
    assert!((1..=5).contains(&books), "the book was fetched {books} times");
    nothing_complained(&page).await?;
    page.close().await
}
