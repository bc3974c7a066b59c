//! The sections of the maker's running work as they stand filled in: requests, quotes, offers, jobs; no fault of access in any, in light and in
//! dark, and nothing cut off on a narrow window.

use anyhow::{Result, bail};
use scantling_tests::{Engine, Page, Scheme, Visit};
use serde_json::json;

use crate::nothing_complained;
use crate::year::{act, go_to, help, said};

const REQUEST: &str = r#"{"scantling_request": 1, "brief": {"scantling_brief": 1, "design": "slab-console", "delivery": "freight",
    "destination": {"country": "US", "postal_code": "60601"}}, "told": {"edition": "2026-11-25", "currency": "USD", "low": "2000",
    "likely": "2500", "high": "3000"}, "from": {"name": "Invented buyer", "mail": "buyer@home.example", "message": "By spring, please."}}"#;

const OFFERS: &str = include_str!("../../../shared/offers/table-four-buyers.json");

/// The table of a quote's lines, and the line of what the carrier named.
const LINES: &str = "'Lines of the quote, tax apart: for you alone'";
const QUOTED: &str = "'quoted: Depot, by phone, 2026-11-20'";

/// A request and the quote for it, as it goes out.
pub(crate) async fn a_quote_from_a_request(page: &Page) -> Result<()> {
    go_to(page, "Requests").await?;
    act(page, &format!("type('request-text', {})", json!(REQUEST)), "!!button('Write a quote for it')").await?;
    act(page, "press('Write a quote for it')", "document.querySelector('.quote img')?.naturalWidth > 0").await?;
    act(page, "press('Keep it as it goes out today')", &said("Kept as revision 1.")).await?;
    page.until("document.querySelector('.quote')?.textContent.includes('Accepted, name and date:')").await
}

/// Each section in turn, filled in, and what is said of it there.
async fn each_section<F: AsyncFn(&str) -> Result<()>>(page: &Page, judge: F) -> Result<()> {
    go_to(page, "Requests").await?;
    act(page, &format!("type('request-text', {})", json!(REQUEST)), "!!figures('Cutting list')").await?;
    act(page, "press('A carrier has named its charge')", "!!document.querySelector('.record [aria-invalid=true]')")
        .await?;
    judge("a request, a carrier's charge missing").await?;
    // As it was named by phone, on a day of its own.
    for (key, text) in [("day", "2026-11-20"), ("by", "Depot, by phone"), ("charge", "212.50")] {
        page.eval(&format!("(type('f-requests[0].request.quoted.{key}', '{text}'), 1)")).await?;
    }
    page.until("!!button('Write a quote for it')").await?;
    act(page, "press('Write a quote for it')", "document.querySelector('.quote img')?.naturalWidth > 0").await?;
    // The line names who and when. 212.50 with 5 % for handling, and 2.9 % of the price for the payment: 212.50 x 1.05 / 0.971 = 229.79.
    page.until(&format!("!!figures({LINES})?.some(row => row[0] === {QUOTED} && row[1] === '229.79 USD')")).await?;
    // The focus goes to what was opened, and stays near what was pressed.
    page.until("document.activeElement.className === 'record'").await?;
    act(page, "press('Give it stages of its own')", "!!document.getElementById('f-quotes[0].deposits[0].share')")
        .await?;
    page.until("document.activeElement.localName === 'fieldset'").await?;
    act(page, "press('Bring the line to that sum')", "!!document.querySelector('#adjust-reason[aria-invalid=true]')")
        .await?;
    act(page, "press('Keep it as it goes out today')", &said("Kept as revision 1.")).await?;
    act(page, "press('Came in today, stage 1')", "!!figures('Payments that came in')").await?;
    let doubted = "document.querySelector('.doubted')?.textContent.includes('yet to come')";
    act(page, "type('f-quotes[0].came_in[0].day', '2999-01-01')", doubted).await?;
    judge("a quote, an adjustment half typed, a payment of a day to come").await?;
    act(page, "press('Begin a job from what went out last')", "!!document.querySelector('.clock')").await?;
    act(
        page,
        "pressAll('As said, '), document.querySelector('.clock').click()",
        "!!document.querySelector('.took-bar')",
    )
    .await?;
    judge("a job, its clock running").await?;
    go_to(page, "Offers").await?;
    page.eval("(document.querySelectorAll('main > section > details').forEach(one => one.open = true), 1)").await?;
    judge("offers, none yet").await?;
    act(page, &format!("type('offers-text', {})", json!(OFFERS)), "!!figures('Offers, the best first')").await?;
    judge("offers").await
}

pub(crate) async fn axe_finds_nothing_in_the_running_work(engine: Engine) -> Result<()> {
    for scheme in [Scheme::Light, Scheme::Dark] {
        let page = Page::open(Visit::new(engine, "shop.html").coloured(scheme)).await?;
        help(&page).await?;
        page.bring_axe().await?;
        each_section(&page, async |what| {
            let mut faults = page.faults_of_access().await?;
            // Cells that a wide table has scrolled out of sight are coloured as those in sight, which axe has judged.
            faults.retain(|fault| !fault.starts_with("perhaps color-contrast; tr:"));
            assert_eq!(faults, Vec::<String>::new(), "{what}");
            Ok(())
        })
        .await?;
        nothing_complained(&page).await?;
        page.close().await?;
    }
    Ok(())
}

/// The link of a buyer's estimate, whatever it tells of, as its widget wrote it.
async fn link_of_an_estimate(page: &Page) -> Result<String> {
    page.until(crate::READY).await?;
    page.type_into(0, "Length", "72").await?;
    let link = "[...root(0).querySelectorAll('button')].find(b => b.textContent.trim() === 'Link to it')";
    page.eval(&format!("({link}.click(), 1)")).await?;
    page.until("!!root(0).querySelector('.link input')?.value").await?;
    let link = page.eval("root(0).querySelector('.link input').value").await?;
    Ok(link.as_str().unwrap_or_default().to_owned())
}

pub(crate) async fn a_link_to_an_estimate_is_taken_in_and_says_once_it_is_outdated(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "receiver.html")).await?;
    let link = link_of_an_estimate(&page).await?;
    page.go("shop.html").await?;
    help(&page).await?;
    go_to(&page, "Requests").await?;
    act(&page, &format!("type('request-text', {})", json!(link)), &said("Kept as r-1.")).await?;
    // What the buyer saw by the book of the same day, at the size that was chosen; who it is, a link does not say.
    page.until("main().includes('No price came with it; by this book it comes to ')").await?;
    page.until("main().includes('Someone with a link') && !!figures('Cutting list')").await?;
    go_to(&page, "Files and earlier states").await?;
    act(&page, "press('Save the shop book as a file')", "typeof saved === 'string'").await?;
    page.comes_to("JSON.parse(saved).requests[0].request.brief.dimensions.length", "72 in").await?;
    // The book is changed and dated anew: the link is of the one before.
    let edition = "type('f-edition', '2027-01-15')";
    go_to(&page, "Edition").await?;
    act(&page, edition, "document.getElementById('f-edition').value === '2027-01-15'").await?;
    go_to(&page, "Requests").await?;
    act(&page, "openRow('r-1')", "main().includes('which is outdated: by this one, of 2027-01-15, it comes to ')")
        .await?;
    nothing_complained(&page).await?;
    page.close().await
}

/// What a hand does with files: drops them on a place of the page, or chooses them in its field.
pub(crate) const WITH_FILES: &str = r"
    window.bagOf = texts => {
      const bag = new DataTransfer();
      texts.forEach((text, i) => bag.items.add(new File([text], `request-${i}.txt`, { type: 'text/plain' })));
      return bag;
    };
    window.dropOn = (place, bag) => {
      const event = kind => new DragEvent(kind, { bubbles: true, cancelable: true, dataTransfer: bag });
      // A page that does not take what hangs over it is never dropped on.
      if (place.dispatchEvent(event('dragover'))) throw new Error('nothing can be dropped there');
      return place.dispatchEvent(event('drop'));
    };
    window.choose = (id, bag) => {
      const chosen = field(id);
      chosen.files = bag.files;
      chosen.dispatchEvent(new Event('change', { bubbles: true }));
    };";

pub(crate) async fn a_request_comes_in_dropped_and_opened_as_a_file(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "shop.html")).await?;
    help(&page).await?;
    page.eval(&format!("(() => {{ {WITH_FILES} return 1; }})()")).await?;
    go_to(&page, "Requests").await?;
    let of = |name: &str| REQUEST.replace("Invented buyer", name);
    // Two files at once, one of them a mail that was passed on, as a mail program saves it.
    let quoted: Vec<String> = of("Second buyer").lines().map(|line| format!("> {line}")).collect();
    let texts = json!([of("First buyer"), format!("Dear maker,\n\n{}\n\nYours", quoted.join("\n"))]);
    let place = "document.querySelector('.dropped')";
    act(&page, &format!("dropOn({place}, bagOf({texts}))"), "document.querySelectorAll('.picks button').length === 2")
        .await?;
    for name in ["First buyer", "Second buyer"] {
        page.until(&format!("document.querySelector('.picks').textContent.includes({})", json!(name))).await?;
    }
    // Words that were marked elsewhere and pulled over.
    let words = format!("(bag => (bag.setData('text/plain', {}), bag))(new DataTransfer())", json!(of("Third buyer")));
    act(&page, &format!("dropOn({place}, {words})"), "main().includes('r-3: Third buyer')").await?;
    // Chosen in the field for a file.
    let chosen = format!("choose('request-file', bagOf([{}]))", json!(of("Fourth buyer")));
    act(&page, &chosen, "main().includes('r-4: Fourth buyer')").await?;
    // What holds no request says so, and nothing is kept of it.
    let other = said("There is no request in that: ");
    act(&page, &format!("dropOn({place}, bagOf(['A picture of a table.']))"), &other).await?;
    page.comes_to("document.querySelectorAll('.picks button').length", 4).await?;
    nothing_complained(&page).await?;
    page.close().await
}

pub(crate) async fn nothing_of_the_running_work_is_cut_off_at_320_pixels(engine: Engine) -> Result<()> {
    let page = Page::open(Visit::new(engine, "shop.html")).await?;
    help(&page).await?;
    let size = json!({ "width": 320, "height": 800, "deviceScaleFactor": 1, "mobile": false });
    page.tell_browser("Emulation.setDeviceMetricsOverride", size).await?;
    each_section(&page, async |what| {
        let over = "document.documentElement.scrollWidth - document.documentElement.clientWidth";
        if page.until(&format!("{over} === 0")).await.is_err() {
            let widest = "[...document.querySelectorAll('body *')].filter(e => e.getBoundingClientRect().right > 320) \
                .map(e => `${e.localName}.${e.className} to ${Math.round(e.getBoundingClientRect().right)}`).slice(0, 8)";
            bail!("{what} runs over the side: {}", page.eval(widest).await?);
        }
        Ok(())
    })
    .await?;
    page.close().await
}
