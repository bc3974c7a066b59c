//! Nothing on the screen moves by itself: not while the widget starts, not while prices come late, not while a buyer types.

use std::time::Duration;

use anyhow::Result;
use scantling_tests::{Engine, Page, Visit};
use serde_json::json;

use crate::{AT_REST, nothing_complained};

/// Gathers what moved, how far and for which element, from the first frame on.
const WATCH: &str = "(() => { window.moved = []; \
     const name = node => node ? `${node.localName ?? node.nodeName}.${node.className ?? ''} ${(node.textContent ?? '').trim().slice(0, 30)}` : 'gone'; \
     const box = r => `${r.x} ${r.y} ${r.width} ${r.height}`; \
     new PerformanceObserver(list => { for (const e of list.getEntries()) \
         moved.push([e.value, ...e.sources.map(s => `${name(s.node)}: ${box(s.previousRect)} to ${box(s.currentRect)}`)].join('; ')); \
     }).observe({ type: 'layout-shift', buffered: true }); return 1; })()";

/// Chromium alone tells of shifts. What a buyer's own key brings about counts here as well.
pub(crate) async fn nothing_moves_by_itself(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "index.html#estimate")).await?;
    page.eval(WATCH).await?;
    page.until(AT_REST).await?;
    tokio::time::sleep(Duration::from_millis(500)).await;
    assert_eq!(page.eval("moved").await?, json!([]), "while it started");
    page.eval("(label(0, 'Length').scrollIntoView({ block: 'center', behavior: 'instant' }), 1)").await?;
    page.type_into(0, "Length", "100").await?;
    tokio::time::sleep(Duration::from_millis(900)).await;
    assert_eq!(page.eval("moved").await?, json!([]), "while a size was typed");
    // That a shift would be seen.
    page.eval("(root(0).querySelector('.form').style.paddingTop = '90px', 1)").await?;
    page.until("moved.length > 0").await?;
    nothing_complained(&page).await?;
    page.close().await
}
