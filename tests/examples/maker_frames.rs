use scantling_tests::{Engine, Page, Visit, large_book};
use serde_json::json;
const WATCH: &str = "(() => { window.frames50 = []; window.worst = 0; \
     window.po && window.po.disconnect(); window.po = new PerformanceObserver(list => { for (const e of list.getEntries()) frames50.push(Math.round(e.duration)); }); po.observe({ type: 'long-animation-frame' }); \
     if(!window.ticking){window.ticking=1; let last = performance.now(); \
     const tick = now => { worst = Math.max(worst, now - last); last = now; requestAnimationFrame(tick); }; \
     requestAnimationFrame(tick);} \
     return 1; })()";
const TOLD: &str = "JSON.stringify([frames50, Math.round(worst)])";
async fn sleep(ms: u64) {
    tokio::time::sleep(std::time::Duration::from_millis(ms)).await
}
async fn press(p: &Page, s: &str) -> anyhow::Result<()> {
    p.until(&format!(
        "!![...document.querySelectorAll('button')].find(b => b.textContent.trim().startsWith({0}))",
        json!(s)
    ))
    .await?;
    p.eval(&format!(
        "([...document.querySelectorAll('button')].find(b => b.textContent.trim().startsWith({})).click(), 1)",
        json!(s)
    ))
    .await?;
    Ok(())
}
#[tokio::main(flavor = "current_thread")]
async fn main() -> anyhow::Result<()> {
    let book = large_book()?;
    let page = Page::open(Visit::new(Engine::Chromium, "shop.html").unwatched()).await?;
    page.until("!!document.querySelector('main tbody tr')").await?;
    let state = format!("1 {}\n{book}", book.len());
    page.eval(&format!(
        "(localStorage.clear(), localStorage['scantling-shop-1'] = {}, localStorage['scantling-shop-newest'] = '1', 1)",
        json!(state)
    ))
    .await?;
    page.go("shop.html").await?;
    page.until("!!document.querySelector('main tbody tr')").await?;
    sleep(3000).await;
    println!("{}", page.eval("navigator.userAgent").await?);
    page.eval(WATCH).await?;
    press(&page, "Designs").await?;
    sleep(3000).await;
    println!("open designs {}", page.eval(TOLD).await?);
    page.eval("(()=>{const d=document.querySelector('.parts details'); d.open=true; return 1})()").await?;
    sleep(1500).await;
    println!("open part {}", page.eval(TOLD).await?);
    page.eval("(frames50=[],worst=0,1)").await?;
    for t in ["-", "-2", "-2 ", "-2 i", "-2 in", "-2", "-", "", "1", "12"] {
        page.eval(&format!("(e=>(e.focus(),e.value={},e.dispatchEvent(new Event('input',{{bubbles:true}})),1))(document.querySelectorAll('.measure .term:last-child input')[0])",json!(t))).await?;
        sleep(150).await;
    }
    sleep(3000).await;
    println!("type {}", page.eval(TOLD).await?);
    page.eval("(frames50=[],worst=0,1)").await?;
    for _ in 0..10 {
        press(&page, "Undo").await?;
        sleep(200).await;
    }
    sleep(2000).await;
    println!("undo {}", page.eval(TOLD).await?);
    page.eval("(frames50=[],worst=0,1)").await?;
    press(&page, "Sweep").await?;
    sleep(4000).await;
    println!("sweep {}", page.eval(TOLD).await?);
    page.eval("(frames50=[],worst=0,1)").await?;
    press(&page, "Reckon what").await?;
    sleep(15000).await;
    println!(
        "every piece {} rows {}",
        page.eval(TOLD).await?,
        page.eval("[...document.querySelectorAll('main table')].at(-1).querySelectorAll('tbody tr').length").await?
    );
    page.eval("(frames50=[],worst=0,1)").await?;
    press(&page, "Find in").await?;
    sleep(500).await;
    for t in ["w", "wa", "wal", "waln", "walnut", "walnut 8/4"] {
        page.eval(&format!("(e=>(e.focus(),e.value={},e.dispatchEvent(new Event('input',{{bubbles:true}})),1))(document.getElementById('find'))",json!(t))).await?;
        sleep(400).await;
    }
    sleep(2000).await;
    println!("find {}", page.eval(TOLD).await?);
    page.eval("(frames50=[],worst=0,1)").await?;
    press(&page, "Slabs").await?;
    sleep(2500).await;
    println!("slabs {}", page.eval(TOLD).await?);
    page.eval("(frames50=[],worst=0,1)").await?;
    press(&page, "Currencies").await?;
    sleep(1500).await;
    println!("currencies {}", page.eval(TOLD).await?);
    page.close().await
}
