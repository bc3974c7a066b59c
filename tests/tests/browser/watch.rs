//! That the other tests would see it if something went wrong.

use anyhow::Result;
use scantling_tests::{Engine, Page, Visit};
use serde_json::json;

/// What comes of text that is given to the page as markup, which the strict policy forbids (`require-trusted-types-for`).
/// Source: W3C, Trusted Types: it is a `TypeError` in the script that tried.
const MARKUP: &str = "(() => { try { document.createElement('p').innerHTML = '<b>'; return 'taken'; } catch (error) { return error.name; } })()";

/// Whether the engine heeds that part of the policy; one that does not is named in what the tests print. Chromium must.
async fn knows_trusted_types(page: &Page, engine: Engine) -> Result<bool> {
    let knows = page.eval("typeof trustedTypes === 'object'").await? == json!(true);
    assert!(knows || engine != Engine::Chromium, "{engine} has heeded trusted types for years");
    if !knows {
        println!("{engine} knows no trusted types: there, nothing but our own code keeps markup out");
    }
    Ok(knows)
}

pub(crate) async fn whatever_goes_wrong_on_a_page_is_seen(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "wrong.html")).await?;
    page.until("complained.length >= 5 && refused.length >= 2").await?;
    let complaints = page.complaints().await?.join("\n");
    let all = [
        "error: an error in two words",
        "warn: a warning",
        "thrown",
        "nobody caught: Error: rejected",
        "no-such-picture.png",
        "not found: /no-such-picture.png",
        "not found: /no-such-file.json",
    ];
    for wrong in all {
        assert!(complaints.contains(wrong), "{wrong} is not among:\n{complaints}");
    }
    let refused = page.eval("refused.join(', ')").await?.to_string();
    assert!(refused.contains("script-src") && refused.contains("inline"), "{refused}");
    assert!(refused.contains("connect-src") && refused.contains("http://127.0.0.1:9"), "{refused}");
    page.comes_to("typeof ranInline", "undefined").await?;
    page.comes_to(MARKUP, json!(if knows_trusted_types(&page, engine).await? { "TypeError" } else { "taken" })).await?;
    page.comes_to("told", json!([["scantling-estimate", { "likely": "1240.00" }]])).await?;
    page.close().await
}
