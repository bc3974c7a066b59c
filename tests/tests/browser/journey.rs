//! What a buyer does with an estimate: keep it, reload, link to it, send it, print it; and what can go wrong on the way.

use anyhow::{Context, Result};
use scantling_tests::{Engine, Page, Visit};
use serde_json::{Value, json};

/// Finds a button of the first widget by what it says.
pub(crate) const BUTTON: &str =
    "(text => [...root(0).querySelectorAll('button')].find(b => b.textContent.trim() === text))";

/// What the row of buttons says was done.
const SAID: &str = "root(0).querySelector('.actions .said').textContent";

/// What the form for asking says was done.
pub(crate) const OUTCOME: &str = "root(0).querySelector('.request .said').textContent";

/// The first widget shows a price.
async fn ready(page: &Page) -> Result<()> {
    page.until("!!root(0)?.querySelector('form.form')").await
}

pub(crate) async fn press(page: &Page, button: &str) -> Result<()> {
    page.until(&format!("!!{BUTTON}({})", json!(button))).await?;
    page.eval(&format!("({BUTTON}({}).click(), 1)", json!(button))).await?;
    Ok(())
}

pub(crate) async fn says(page: &Page, what: &str, words: &str) -> Result<()> {
    page.until(&format!("{what}.includes({})", json!(words))).await
}

async fn reload(page: &Page) -> Result<()> {
    page.eval("(window.before = true, location.reload(), 1)").await?;
    page.until("!window.before && !!root(0)?.querySelector('form.form')").await
}

/// Everything the receiver has taken, each as JSON.
async fn taken(page: &Page) -> Result<Vec<Value>> {
    let list = page.eval("fetch('/receiver').then(answer => answer.text())").await?;
    let texts: Vec<String> = serde_json::from_str(list.as_str().unwrap_or_default())?;
    texts.iter().map(|text| Ok(serde_json::from_str(text)?)).collect()
}

pub(crate) async fn fill_in(page: &Page) -> Result<()> {
    page.type_into(0, "Your name", "Ada Byer").await?;
    page.type_into(0, "Your mail address", "ada@home.example").await?;
    page.type_into(0, "Anything the maker should know", "By spring? „Zwei“ stairs.").await?;
    page.pick(0, "Larkmoor Bench may use my name").await
}

/// What the page has been told of requests.
async fn hear_of_requests(page: &Page) -> Result<()> {
    page.eval("(window.heard = [], addEventListener('scantling-request', e => heard.push(e.detail)), 1)").await?;
    Ok(())
}

async fn nothing_refused(page: &Page) -> Result<()> {
    assert_eq!(page.eval("window.refused").await?, json!([]), "the policy refused something");
    assert_eq!(page.fetched_elsewhere().await?, Vec::<String>::new());
    Ok(())
}

pub(crate) async fn kept_it_is_there_after_a_reload_and_its_link_opens_on_a_fresh_page_and_is_sent(
    engine: Engine,
) -> Result<()> {
    let page = Page::open(Visit::new(engine, "receiver.html")).await?;
    ready(&page).await?;
    page.type_into(0, "Length", "100").await?;
    page.pick(0, "Northern red oak").await?;
    press(&page, "Keep this estimate").await?;
    says(&page, SAID, "It is kept below").await?;
    press(&page, "Keep this estimate").await?;
    says(&page, SAID, "It is kept already").await?;
    page.type_into(0, "Length", "72").await?;
    press(&page, "Keep this estimate").await?;
    page.until("root(0).querySelectorAll('.kept thead th').length === 2").await?;

    reload(&page).await?;
    page.until("root(0).querySelectorAll('.kept thead th').length === 2").await?;
    let table = page.text(0, ".kept table").await?;
    assert!(table.contains("100 in") && table.contains("72 in") && table.contains("Northern red oak"), "{table}");
    page.eval("(root(0).querySelector('.kept td button').click(), 1)").await?;
    page.until("label(0, 'Length').parentNode.querySelector('input').value === '100 in'").await?;
    page.until("root(0).activeElement?.classList.contains('price')").await?;

    press(&page, "Link to it").await?;
    page.until("!!root(0).querySelector('.link input')?.value").await?;
    let link = page.eval("root(0).querySelector('.link input').value").await?;
    let (_, fragment) = link.as_str().and_then(|link| link.split_once('#')).context("a link with a fragment")?;
    assert!(fragment.len() < 400 && fragment.starts_with("scantling="), "{fragment}");
    nothing_refused(&page).await?;
    page.close().await?;

    // Another page, another browser, another edition of the book; the second widget there is left alone.
    let page = Page::open(Visit::new(engine, &format!("later.html#{fragment}"))).await?;
    ready(&page).await?;
    page.until("label(0, 'Length').parentNode.querySelector('input').value === '100 in'").await?;
    let notice = page.text(0, ".actions .notice").await?;
    assert!(notice.contains("Opened from a link") && notice.contains("May 1, 2027"), "{notice}");
    page.until("root(0).querySelector('.brief, .title').innerText.includes('Trestle')").await?;
    page.until("!!root(1)?.querySelector('form.form')").await?;
    page.until("root(1).querySelector('.title').innerText.includes('shelf')").await?;
    // The same link for the second widget, without a reload.
    let letters = fragment.trim_start_matches("scantling=");
    page.eval(&format!("(location.hash = 'scantling.shelves={letters}', 1)")).await?;
    page.until("root(1).querySelector('.title').innerText.includes('Trestle')").await?;
    page.eval("(location.hash = 'scantling=AAAA', 1)").await?;
    says(&page, "root(0).querySelector('.actions .notice').textContent", "is damaged").await?;

    // What is missing is told at its field.
    hear_of_requests(&page).await?;
    press(&page, "Send it to Larkmoor Bench").await?;
    page.until("root(0).activeElement?.getAttribute('aria-invalid') === 'true'").await?;
    page.comes_to("root(0).querySelectorAll('.request [aria-invalid=\"true\"]').length", 3).await?;
    let told = "root(0).getElementById(root(0).activeElement.getAttribute('aria-describedby')).innerText";
    page.until(&format!("{told}.includes('needs a name')")).await?;
    assert_eq!(taken(&page).await?, Vec::<Value>::new(), "nothing is sent that has faults");
    fill_in(&page).await?;
    let faulty = "[...root(0).querySelectorAll('.request [aria-invalid=\"true\"]')].map(e => `${e.id}: ${e.value} ${e.checked}`)";
    page.comes_to(faulty, json!([])).await?;
    assert_eq!(taken(&page).await?, Vec::<Value>::new(), "nothing is sent before the button is pressed");
    press(&page, "Send it to Larkmoor Bench").await?;
    says(&page, OUTCOME, "Sent.").await?;
    let requests = taken(&page).await?;
    assert_eq!(requests.len(), 1);
    assert_eq!(requests[0]["brief"]["dimensions"]["length"], "100 in");
    assert_eq!(requests[0]["from"]["name"], "Ada Byer");
    assert_eq!(requests[0]["from"]["message"], "By spring? „Zwei“ stairs.");
    assert_eq!(requests[0]["told"]["edition"], "2027-05-01");
    let heard = page.eval("heard").await?;
    assert_eq!(heard, json!([{ "by": "post", "outcome": "sent", "design": "trestle-table" }]));
    let kept = page.eval("JSON.stringify(localStorage) + location.href").await?.to_string();
    assert!(!kept.contains("ada@") && !kept.contains("Ada"), "{kept}");
    nothing_refused(&page).await?;
    page.close().await
}

/// Lets no post leave the page, as without a connection.
const CUT_OFF: &str = "(window.line = window.fetch, window.fetch = (to, how) => how?.method === 'POST' \
     ? Promise.reject(new TypeError('no connection')) : line(to, how), 1)";

pub(crate) async fn without_a_connection_it_waits_and_is_sent_once_there_is_one(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "receiver.html")).await?;
    ready(&page).await?;
    hear_of_requests(&page).await?;
    fill_in(&page).await?;
    page.eval(CUT_OFF).await?;
    press(&page, "Send it to Larkmoor Bench").await?;
    says(&page, OUTCOME, "attempt 2 of 4").await?;
    says(&page, OUTCOME, "waits in this browser").await?;
    page.until("root(0).querySelector('.waiting')?.textContent.includes('One request waits')").await?;
    page.comes_to("Object.keys(localStorage).filter(k => k.includes('waiting')).length", 1).await?;
    page.eval("(window.fetch = line, dispatchEvent(new Event('online')), 1)").await?;
    page.until("!root(0).querySelector('.waiting')").await?;
    says(&page, OUTCOME, "has been sent").await?;
    assert_eq!(taken(&page).await?.len(), 1);
    page.comes_to("Object.keys(localStorage).filter(k => k.includes('waiting')).length", 0).await?;
    page.comes_to("heard.map(h => h.outcome)", json!(["queued", "sent"])).await?;

    // It waits over a reload, too; one that is older than a week only until the button is pressed.
    page.eval(CUT_OFF).await?;
    press(&page, "Send it to Larkmoor Bench").await?;
    page.until("!!root(0).querySelector('.waiting')").await?;
    let age = "(k => localStorage.setItem(k, localStorage.getItem(k).replace(/\"written\":\"[^\"]*\"/, '\"written\":\"2020-01-01\"')))";
    page.eval(&format!("({age}(Object.keys(localStorage).find(k => k.includes('waiting'))), 1)")).await?;
    reload(&page).await?;
    page.until("!!root(0).querySelector('.waiting')").await?;
    assert_eq!(taken(&page).await?.len(), 1);
    press(&page, "Send it now").await?;
    page.until("!root(0).querySelector('.waiting')").await?;
    assert_eq!(taken(&page).await?.len(), 2);
    nothing_refused(&page).await?;
    page.close().await
}

pub(crate) async fn a_busy_address_is_asked_again_and_one_that_refuses_is_told(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "receiver.html")).await?;
    ready(&page).await?;
    fill_in(&page).await?;
    page.eval("fetch('/receiver?refuse=503x2').then(() => 1)").await?;
    press(&page, "Send it to Larkmoor Bench").await?;
    says(&page, OUTCOME, "attempt 2 of 4").await?;
    says(&page, OUTCOME, "Sent.").await?;
    assert_eq!(taken(&page).await?.len(), 1);
    page.eval("fetch('/receiver?refuse=400x1').then(() => 1)").await?;
    press(&page, "Send it to Larkmoor Bench").await?;
    says(&page, OUTCOME, "(answer 400)").await?;
    page.comes_to("Object.keys(localStorage).length", 0).await.context("what is refused does not wait")?;
    assert_eq!(taken(&page).await?.len(), 1);
    page.close().await
}

pub(crate) async fn the_mail_link_and_the_text_hold_the_whole_request(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "")).await?;
    ready(&page).await?;
    page.comes_to(&format!("!!{BUTTON}('Send it to Larkmoor Bench')"), false).await.context("no address, no button")?;
    fill_in(&page).await?;
    page.eval(
        "(document.execCommand = () => false, Object.defineProperty(navigator, 'clipboard', { value: undefined }), 1)",
    )
    .await?;
    press(&page, "Copy the text").await?;
    says(&page, OUTCOME, "is selected below").await?;
    let text = page.eval("root(0).querySelector('.request textarea[readonly]').value").await?;
    let text = text.as_str().context("the text")?;
    assert!(text.contains("Ada Byer") && text.contains("\"scantling_request\":1"), "{text}");
    let selected = "(t => t.selectionEnd - t.selectionStart === t.value.length)(root(0).activeElement)";
    page.comes_to(selected, true).await?;
    // No mail program must open on whoever's machine runs this.
    let caught = "HTMLElement.prototype.click = function () { window.opened = this.href }";
    page.eval(&format!("(window.mailing = {BUTTON}('Write it as a mail'), {caught}, 1)")).await?;
    page.eval("(mailing.dispatchEvent(new MouseEvent('click')), 1)").await?;
    page.until("!!root(0).querySelector('.request a')").await?;
    page.comes_to("opened === root(0).querySelector('.request a').href", true).await?;
    let link = page.eval("root(0).querySelector('.request a').href").await?;
    let link = link.as_str().context("a link")?;
    assert!(link.starts_with("mailto:bench@larkmoor.example?subject=Request:%20Trestle"), "{link}");
    assert!(link.len() <= 1900 && link.contains("scantling_request"), "{} {link}", link.len());
    nothing_refused(&page).await?;
    page.close().await
}

pub(crate) async fn the_system_s_sharing_and_a_file_take_the_same_request(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "receiver.html")).await?;
    ready(&page).await?;
    // A system with a sheet for sharing: taken away and put back, the widget finds it.
    let sheet =
        "Object.defineProperty(navigator, 'share', { value: what => (window.shared = what, Promise.resolve()) })";
    page.eval(&format!("({sheet}, window.kept = document.querySelector('scantling-quote'), kept.remove(), 1)")).await?;
    page.until("!kept.shadowRoot.querySelector('.widget')").await?;
    page.eval("(document.body.append(kept), 1)").await?;
    ready(&page).await?;
    press(&page, "Link to it").await?;
    // What comes of copying it is said first, however long the browser takes to refuse.
    page.until(&format!("!!{SAID}")).await?;
    press(&page, "Share…").await?;
    page.until("!!window.shared").await?;
    assert!(page.eval("shared.url").await?.to_string().contains("#scantling="));
    says(&page, SAID, "Passed on.").await?;
    fill_in(&page).await?;
    page.eval("([...root(0).querySelectorAll('.request button')].find(b => b.textContent === 'Share…').click(), 1)")
        .await?;
    page.until("shared.text?.includes('scantling_request')").await?;
    assert!(page.eval("shared.text").await?.to_string().contains("Ada Byer"));
    // The file, caught on its way to the folder for downloads.
    let catch = "URL.createObjectURL = blob => (blob.text().then(text => window.saved = text), 'blob:caught'), \
         HTMLElement.prototype.click = function () { window.named = this.download }";
    page.eval(&format!("(window.saving = {BUTTON}('Save as a file'), {catch}, 1)")).await?;
    page.eval("(saving.dispatchEvent(new MouseEvent('click')), 1)").await?;
    page.until("!!window.saved").await?;
    says(&page, OUTCOME, "The file is saved").await?;
    let saved: Value = serde_json::from_str(page.eval("saved").await?.as_str().unwrap_or_default())?;
    assert_eq!((&saved["scantling_request"], &saved["shop"]), (&json!(1), &json!("Larkmoor Bench")));
    let named = page.eval("named").await?;
    assert_eq!(named, json!(format!("request-{}.json", saved["written"].as_str().unwrap_or_default())));
    nothing_refused(&page).await?;
    page.close().await
}

pub(crate) async fn deleted_it_can_be_put_back_and_what_can_t_be_read_is_left_as_it_is(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "receiver.html")).await?;
    ready(&page).await?;
    press(&page, "Keep this estimate").await?;
    page.until("!!root(0).querySelector('.kept table')").await?;
    let foreign = "localStorage.setItem('scantling.kept.7', '{\"scantling_kept\":9}'), localStorage.setItem('scantling.kept.8', '{'), \
         localStorage.setItem('scantling.waiting.1', '{\"scantling_request\":2}'), localStorage.setItem('scantling.waiting.2', '{'), \
         localStorage.setItem('scantling.waiting.3', '{\"scantling_request\":1}'), \
         localStorage.setItem('basket', 'of the page')";
    page.eval(&format!("({foreign}, 1)")).await?;
    let all = "JSON.stringify(Object.entries(localStorage).sort())";
    let before = page.eval(all).await?;
    reload(&page).await?;
    let note = "root(0).querySelector('.kept > .note').textContent";
    says(&page, note, "One kept estimate was made by a newer page than this one.").await?;
    says(&page, note, "One kept estimate can't be read.").await?;
    let queue = "root(0).querySelector('.waiting').textContent";
    says(&page, queue, "One request that waits was written by a newer page than this one").await?;
    says(&page, queue, "2 requests that wait can't be read").await?;
    page.comes_to("root(0).querySelectorAll('.waiting button').length", 0)
        .await
        .context("nothing there can be sent")?;
    press(&page, "Delete").await?;
    page.until("root(0).activeElement?.textContent === 'Put it back'").await?;
    page.comes_to("localStorage.length", 6).await?;
    press(&page, "Put it back").await?;
    page.until("root(0).activeElement?.textContent === 'Open'").await?;
    assert_eq!(page.eval(all).await?, before);

    // No room: said, nothing lost, and the estimate works on.
    let full = "Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError') }";
    page.eval(&format!("({full}, 1)")).await?;
    page.type_into(0, "Length", "90").await?;
    press(&page, "Keep this estimate").await?;
    says(&page, SAID, "There is no room left").await?;
    assert_eq!(page.eval(all).await?, before);
    // No storage at all. WebKit's window keeps its own whatever is defined on it.
    if engine != Engine::WebKit {
        let gone = "Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('no', 'SecurityError') } })";
        page.eval(&format!("({gone}, 1)")).await?;
        press(&page, "Keep this estimate").await?;
        says(&page, SAID, "lets the page keep nothing").await?;
    }
    page.type_into(0, "Length", "80").await?;
    page.until("root(0).querySelector('.sheet').innerHTML.includes('80 in')").await?;
    nothing_refused(&page).await?;
    page.close().await
}

pub(crate) async fn printing_takes_the_estimate_alone_onto_paper(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "")).await?;
    ready(&page).await?;
    press(&page, "Print").await?;
    let paper = "root(0).querySelector('iframe')?.contentDocument?.body?.firstChild?.shadowRoot";
    page.until(&format!("!!{paper}?.querySelector('.details table')")).await?;
    let text = page.eval(&format!("{paper}.textContent")).await?.to_string();
    for part in ["Larkmoor Bench", "Trestle dining table", "Estimated on", "Prices of", "Likely price", "60601"] {
        assert!(text.contains(part), "{part} is not on {text}");
    }
    page.comes_to(&format!("{paper}.querySelectorAll('select, button, form').length"), 0).await?;
    page.comes_to(&format!("{paper}.querySelectorAll('.sheet svg').length >= 2"), true).await?;
    page.comes_to(&format!("{paper}.adoptedStyleSheets[0].cssRules.length > 50"), true).await?;
    nothing_refused(&page).await?;
    page.close().await
}
