//! The languages the widget speaks, and pages in languages it has no words in.

use anyhow::Result;
use scantling_tests::{Engine, Page, Visit};
use serde_json::json;

use crate::nothing_complained;

pub(crate) async fn a_page_is_answered_in_its_language_and_in_english_where_there_are_no_words_in_it(
    engine: Engine,
) -> Result<()> {
    let page = Page::open(Visit::new(engine, "languages.html")).await?;
    page.until("[0, 1, 2, 3].every(n => root(n)?.querySelector('form.form'))").await?;
    let legend = "[0, 1, 2, 3].map(n => root(n).querySelector('.ways legend').innerText)";
    let in_each = json!(["Wie es zu Ihnen kommt", "Comment il vous parvient", "Cómo le llega", "How it gets there"]);
    page.comes_to(legend, in_each).await?;
    let languages = "[0, 1, 2, 3].map(n => root(n).querySelector('.scantling').lang)";
    page.comes_to(languages, json!(["de", "fr", "es", "en"])).await?;
    // The page's own language is no mistake; words that were asked for by the attribute and are not there are told.
    assert_eq!(page.eval("told").await?, json!([]));
    nothing_complained(&page).await?;
    page.eval("document.querySelector('scantling-quote').setAttribute('language', 'nl')").await?;
    page.until("told.length > 0 && root(0).querySelector('.ways legend')?.innerText === 'How it gets there'").await?;
    page.comes_to("told.map(([name, detail]) => [name, detail.reason])", json!([["scantling-error", "words"]])).await?;
    assert_eq!(page.fetched_elsewhere().await?, Vec::<String>::new());
    page.close().await
}
