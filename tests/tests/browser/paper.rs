//! The page laid out as for paper.

use anyhow::{Context, Result};
use scantling_tests::{Engine, Page, Paper, Visit};
use serde_json::{Value, json};

use crate::work::a_quote_from_a_request;
use crate::year::{go_to, help, open_shop};
use crate::{AT_REST, nothing_complained};

/// An A4 sheet across, in CSS pixels. Source: ISO 216, 210 mm; CSS Values, a pixel is 1/96 in.
const SHEET: u32 = 794;

/// The same sheet along, turned. Source: ISO 216, 297 mm.
const TURNED: u32 = 1123;

pub(crate) async fn printed_it_shows_what_was_chosen_and_no_controls(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "")).await?;
    page.until(AT_REST).await?;
    let size = json!({ "width": SHEET, "height": 1123, "deviceScaleFactor": 1, "mobile": false });
    page.tell_browser("Emulation.setDeviceMetricsOverride", size).await?;
    page.tell_browser("Emulation.setEmulatedMedia", json!({ "media": "print" })).await?;
    let shown =
        |css: &str| format!("[...root(0).querySelectorAll({})].filter(e => e.checkVisibility()).length", json!(css));
    page.comes_to(&shown("input[type=radio]"), 0).await.context("paper can't be clicked")?;
    page.comes_to(&shown(".offer, button, textarea"), 0).await.context("the form is not for paper")?;
    let brief = page.text(0, ".brief").await?;
    for chosen in ["Trestle dining table", "84 in", "Black walnut", "Hardwax oil", "60601", "Prices of"] {
        assert!(brief.contains(chosen), "{chosen} is not in what was chosen: {brief}");
    }
    assert!(page.text(0, ".span.delivered .range").await?.starts_with('$'));
    page.comes_to("document.querySelector('nav').checkVisibility()", false).await?;
    let wide = page.eval("document.documentElement.scrollWidth").await?;
    assert!(wide.as_u64().is_some_and(|wide| wide <= SHEET.into()), "{wide} pixels on a sheet of {SHEET}");
    nothing_complained(&page).await?;
    page.close().await
}

/// Takes what the widget has put into its frame for paper into a window of its own, since a driver prints windows: the same nodes in
/// an empty page, with the same rules.
const ONTO_PAPER: &str = "(paper => { \
     const holder = root(0).querySelector('iframe').contentDocument.body.firstChild; \
     const rules = [...holder.shadowRoot.adoptedStyleSheets[0].cssRules].map(rule => rule.cssText); \
     const style = new paper.CSSStyleSheet(); \
     style.replaceSync(rules.join('')); \
     paper.document.body.replaceChildren(paper.document.adoptNode(holder)); \
     holder.shadowRoot.adoptedStyleSheets = [style]; \
     return 1; })(window.paper ??= open('', 'paper'))";

/// What is to be read on paper, in the language of the page.
const ON_PAPER: &str = "(paper => [paper.textContent, ...paper.shadowRoot.querySelectorAll('.scantling')].map(e => e.innerText ?? e).join(' '))(document.body.firstChild)";

/// Presses the button that prints, and waits until what belongs on paper is there.
async fn print(page: &Page) -> Result<()> {
    // Of the buttons under the price the third, in any language.
    let press = "root(0).querySelectorAll('.actions .buttons button')[2].click()";
    page.eval(&format!("(root(0).querySelector('iframe')?.remove(), {press}, 1)")).await?;
    page.until(
        "!!root(0).querySelector('iframe')?.contentDocument?.body?.firstChild?.shadowRoot?.adoptedStyleSheets.length",
    )
    .await
}

/// What the estimate on the screen must have on paper, from the book and the page's own clock and words for days and countries.
async fn that_counts(page: &Page, language: &str) -> Result<Vec<String>> {
    let day = |day: &str| {
        format!("new Intl.DateTimeFormat('{language}', {{ dateStyle: 'long', timeZone: 'UTC' }}).format({day})")
    };
    let now = "new Date()";
    let today = format!("new Date(Date.UTC({now}.getFullYear(), {now}.getMonth(), {now}.getDate()))");
    let country = format!("new Intl.DisplayNames('{language}', {{ type: 'region' }}).of('DE')");
    let title = "root(0).querySelector('.title').firstElementChild.innerText";
    let lines = "...[...root(0).querySelectorAll('.details tr > *')].map(e => e.innerText.trim())";
    let of_the_book =
        format!("[book.shop.name, book.shop.contact, book.shop.terms, book.notice, {}]", day("new Date(book.edition)"));
    let all = format!(
        "fetch('price-book.json').then(answer => answer.json()).then(book => [...{of_the_book}, {title}, '10115', {country}, {}, {lines}, \
         root(0).querySelector('.span.delivered .likely').innerText, document.querySelector('[slot=notes]').innerText])",
        day(&today)
    );
    let all = page.eval(&all).await?;
    all.as_array().context("a list")?.iter().map(|text| Ok(text.as_str().context("a text")?.to_owned())).collect()
}

/// Brings a design onto the screen, delivered abroad, with all that is said of it.
async fn show(page: &Page, design: &str) -> Result<()> {
    page.eval(&format!("document.querySelector('scantling-quote').setAttribute('design', {})", json!(design))).await?;
    page.until(&format!("root(0).querySelector('input[value={}]').checked", json!(design))).await?;
    // What it is made of follows the price a moment later.
    let likely = "root(0).querySelector('.span.delivered .likely').innerText";
    let named = "root(0).querySelector('input[name$=-design]:checked').labels[0].textContent";
    let drawn = "root(0).querySelector('.title').firstElementChild.innerText";
    page.until(&format!(
        "{named}.includes({drawn}) && {likely}.includes(root(0).querySelector('.details tfoot td').innerText)"
    ))
    .await
}

/// Source: CSS Paged Media, the sheet is as large as the paper; the sizes of the two kinds stand by [`Paper`].
pub(crate) async fn an_estimate_is_one_page_with_all_that_counts_on_it(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "gallery.html")).await?;
    page.until(AT_REST).await?;
    let screen = page.window().await?;
    page.eval(
        "(quote => (quote.country = 'DE', quote.postalCode = '10115', 1))(document.querySelector('scantling-quote'))",
    )
    .await?;
    let designs = page.eval("[...root(0).querySelectorAll('input[name$=-design]')].map(e => e.value)").await?;
    let designs: Vec<&str> = designs.as_array().into_iter().flatten().filter_map(Value::as_str).collect();
    assert!(designs.len() >= 6, "{designs:?}");
    for language in ["en", "de", "fr", "es"] {
        let named = json!(language);
        page.eval(&format!("document.querySelector('scantling-quote').setAttribute('language', {named})")).await?;
        page.until(&format!("{AT_REST} && root(0).querySelector('[lang]').lang === {named}")).await?;
        // Where words are longest, every design; elsewhere two of them.
        let many = if ["en", "de"].contains(&language) { designs.len() } else { 2 };
        for design in designs.iter().take(many) {
            show(&page, design).await?;
            let counts = that_counts(&page, language).await?;
            print(&page).await?;
            page.eval(ONTO_PAPER).await?;
            page.go_on_in(&page.other_window().await?).await?;
            one_page(&page, &counts).await.with_context(|| format!("{design} in {language}"))?;
            page.go_on_in(&screen).await?;
        }
    }
    nothing_complained(&page).await?;
    // That a second page would be counted.
    page.go_on_in(&page.other_window().await?).await?;
    page.eval("(document.body.append(document.body.firstChild.cloneNode(), 'more'), document.body.firstChild.nextSibling.style.height = '20cm', 1)")
        .await?;
    assert_eq!(page.sheets(Paper::A4).await?, 2);
    page.close().await
}

/// The window has one page with all of this on it.
async fn one_page(page: &Page, counts: &[String]) -> Result<()> {
    page.tell_browser("Emulation.setEmulatedMedia", json!({ "media": "print" })).await?;
    let text = page.eval(ON_PAPER).await?;
    let text = text.as_str().context("no text")?;
    let squeezed = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let missing: Vec<&String> = counts.iter().filter(|part| !squeezed(text).contains(&squeezed(part))).collect();
    assert!(missing.is_empty(), "{missing:?} is not on {text}");
    let drawings = "[...document.body.firstChild.shadowRoot.querySelectorAll('.sheet svg')].filter(e => e.getBoundingClientRect().height > 80 && e.checkVisibility()).length";
    page.comes_to(drawings, 2).await.context("the piece whole, and measured")?;
    // Firefox paints no lettering of a drawing inside of what is asked how wide it is (seen in version 153), and packs what it prints, so
    // that nothing of it can be counted here: what brought that about is held instead.
    let asked = "[...document.body.firstChild.shadowRoot.querySelectorAll('*')].filter(e => getComputedStyle(e).containerType !== 'normal').length";
    page.comes_to(asked, 0).await.context("on paper nothing is asked how wide it is")?;
    for paper in [Paper::A4, Paper::Letter] {
        assert_eq!(page.sheets(paper).await?, 1, "{paper:?}");
    }
    Ok(())
}

pub(crate) async fn a_quote_of_the_maker_s_page_has_the_sheet_to_itself(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "shop.html")).await?;
    help(&page).await?;
    a_quote_from_a_request(&page).await?;
    let size = json!({ "width": SHEET, "height": 1123, "deviceScaleFactor": 1, "mobile": false });
    page.tell_browser("Emulation.setDeviceMetricsOverride", size).await?;
    page.tell_browser("Emulation.setEmulatedMedia", json!({ "media": "print" })).await?;
    let shown = |css: &str| {
        format!(
            "[...document.querySelectorAll({})].filter(e => e.checkVisibility()).map(e => e.outerHTML.slice(0, 80))",
            json!(css)
        )
    };
    page.comes_to(&shown("header, nav, aside, button, input, select, textarea, .picks, .record"), json!([])).await?;
    page.comes_to(&format!("{}.length", shown(".quote")), 1).await?;
    let quote = page.eval("document.querySelector('.quote').innerText").await?;
    let quote = quote.as_str().unwrap_or_default();
    for told in [
        "Quote: Slab-top console",
        "For Invented buyer, buyer@home.example",
        "Stands until: ",
        "To pay",
        "Payment",
        "Terms",
        "Accepted, name and date:",
    ] {
        assert!(quote.contains(told), "{told} is not on paper: {quote}");
    }
    page.until("document.querySelector('.quote .drawn').naturalWidth > 0").await?;
    let wide = page.eval("document.documentElement.scrollWidth").await?;
    assert!(wide.as_u64().is_some_and(|wide| wide <= SHEET.into()), "{wide} pixels on a sheet of {SHEET}");
    // As the browser's own PDF it is a sheet, with its back at most.
    let printed = page.tell_browser("Page.printToPDF", json!({ "paperWidth": 8.27, "paperHeight": 11.69 })).await?;
    let sheets = format!(r"(atob({}).match(/\/Type\s*\/Page\b/g) ?? []).length", printed["data"]);
    let sheets = page.eval(&sheets).await?;
    assert!(sheets == 1 || sheets == 2, "{sheets} pages");
    nothing_complained(&page).await?;
    page.close().await
}

/// Sections of the maker's page, as tables, cards, pictures and forms; and whether they are grids, for which the sheet is turned.
const SECTIONS: [(&str, bool); 6] = [
    ("Basket", false),
    ("What jobs teach", false),
    ("Sweep and sensitivity", false),
    ("Designs", false),
    ("Operations", true),
    ("Timbers", true),
];

pub(crate) async fn the_maker_s_page_keeps_to_the_sheet_in_ink_however_dark_it_is(engine: Engine) -> Result<()> {
    let page = open_shop(engine).await?;
    let dark = json!([{ "name": "prefers-color-scheme", "value": "dark" }]);
    let ink = "getComputedStyle(document.querySelector('main section')).color";
    for (section, grid) in SECTIONS {
        page.tell_browser("Emulation.clearDeviceMetricsOverride", json!({})).await?;
        page.tell_browser("Emulation.setEmulatedMedia", json!({ "media": "screen", "features": dark })).await?;
        page.comes_to(ink, "rgb(241, 232, 216)").await.context("the screen has to be dark")?;
        go_to(&page, section).await?;
        page.until("!document.querySelector('main progress')").await?;
        page.tell_browser("Emulation.setEmulatedMedia", json!({ "media": "print", "features": dark })).await?;
        page.comes_to(ink, "rgb(0, 0, 0)").await.with_context(|| section.to_owned())?;
        let turned = "getComputedStyle(document.querySelector('main section')).page === 'turned'";
        page.comes_to(turned, grid).await.with_context(|| section.to_owned())?;
        let across = if grid { TURNED } else { SHEET };
        let size = json!({ "width": across, "height": 1123, "deviceScaleFactor": 1, "mobile": false });
        page.tell_browser("Emulation.setDeviceMetricsOverride", size).await?;
        let wide =
            "Math.max(...[document.documentElement, ...document.querySelectorAll('.scroll')].map(e => e.scrollWidth))";
        page.comes_to(&format!("{wide} <= {across}"), true).await.with_context(|| format!("{section} is cut off"))?;
    }
    nothing_complained(&page).await?;
    page.close().await
}
