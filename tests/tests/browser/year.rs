//! A whole invented year through the maker's page: requests, quotes, contested offers, jobs, and a new price book at its end. Every sum on the
//! page is the command's own, to the cent. The year is `shared/year/year.json`, invented as it says.

mod command;

use anyhow::{Context, Result};
use scantling_tests::{Engine, Page, Visit};
use serde_json::{Value, json};

use crate::nothing_complained;
use command::Desk;

/// The year.
const YEAR: &str = include_str!("../../../shared/year/year.json");

/// What stands for hands and eyes on the page.
const HELP: &str = include_str!("year/help.js");

/// Jobs the demo's book has already.
const THERE: usize = 4;

pub(crate) async fn open_shop(engine: Engine) -> Result<Page> {
    let page = Page::open(Visit::new(engine, "shop.html")).await?;
    help(&page).await?;
    Ok(page)
}

pub(crate) async fn help(page: &Page) -> Result<()> {
    page.until("!!document.querySelector('main tbody tr')").await?;
    bring_help(page).await
}

/// The same where no table may stand on the page.
pub(crate) async fn bring_help(page: &Page) -> Result<()> {
    page.eval(&format!("(() => {{ {HELP} return 1; }})()")).await?;
    Ok(())
}

/// Runs a script on the page, and waits for what it brings about.
pub(crate) async fn act(page: &Page, script: &str, there: &str) -> Result<()> {
    page.eval(&format!("({script}, 1)")).await.with_context(|| script.to_owned())?;
    page.until(there).await
}

pub(crate) async fn go_to(page: &Page, section: &str) -> Result<()> {
    act(page, &format!("press({})", json!(section)), &format!("title() === {}", json!(section))).await
}

/// What was said last at the top of the page starts so.
pub(crate) fn said(words: &str) -> String {
    format!("said().startsWith({})", json!(words))
}

pub(crate) async fn a_whole_year_is_worked_on_the_page_and_its_sums_are_the_command_s(engine: Engine) -> Result<()> {
    let year: Value = serde_json::from_str(YEAR)?;
    let desk = Desk::new()?;
    let page = open_shop(engine).await?;
    requests(&page, &desk, &year["requests"]).await?;
    quotes(&page, &year["quotes"]).await?;
    offers(&page, &year["offers"]).await?;
    jobs(&page, &year["jobs"]).await?;

    let book = save(&page, &desk, "year").await?;
    let held: Value = serde_json::from_str(&std::fs::read_to_string(&book)?)?;
    let counts = ["requests", "quotes", "offers", "jobs"].map(|list| held[list].as_array().map_or(0, Vec::len));
    assert_eq!(counts, [12, 6, 3, THERE + 8], "every step is in the book");
    requests_are_the_command_s(&page, &desk, (&book, &held)).await?;
    quotes_are_the_command_s(&page, &desk, &book).await?;
    offers_are_the_command_s(&page, &desk, (&book, &held)).await?;
    jobs_are_the_command_s(&page, &desk, &book).await?;
    let book = a_cut_is_taken_out_of_its_slab(&page, &desk).await?;
    learned_and_published(&page, &desk, &book).await?;
    nothing_complained(&page).await?;
    page.close().await
}

/// Twelve requests, each told its price by the price book but for one that was altered and one of an older edition.
async fn requests(page: &Page, desk: &Desk, all: &Value) -> Result<()> {
    go_to(page, "Requests").await?;
    for (i, asked) in all.as_array().into_iter().flatten().enumerate() {
        let text = desk.request(asked)?;
        let key = format!("r-{}", i + 1);
        act(page, &format!("type('request-text', {})", json!(text)), &said(&format!("Kept as {key}."))).await?;
        let verdict = match asked["as"].as_str() {
            Some("altered") => "the request was altered",
            Some("old") => "from the book of 2025-11-03",
            _ => "is what it comes to",
        };
        page.until(&format!("main().includes({})", json!(verdict))).await.with_context(|| key)?;
    }
    Ok(())
}

/// Six quotes: lines adjusted, one more line, stages and exclusions of their own, one that went out twice.
async fn quotes(page: &Page, all: &Value) -> Result<()> {
    for (i, quote) in all.as_array().into_iter().flatten().enumerate() {
        go_to(page, "Requests").await?;
        act(page, &format!("openRow({})", quote["request"]), "!!button('Write a quote for it')").await?;
        let key = format!("q-{}", i + 1);
        act(page, "press('Write a quote for it')", &said(&format!("Quote {key} is started."))).await?;
        for adjusted in quote["adjusted"].as_array().into_iter().flatten() {
            adjust(page, adjusted).await?;
        }
        if let Some(stages) = quote["stages"].as_array() {
            act(
                page,
                "press('Give it stages of its own')",
                &format!("!!document.getElementById('f-quotes[{i}].deposits[1].share')"),
            )
            .await?;
            for (at, share) in stages.iter().enumerate() {
                page.eval(&format!("type('f-quotes[{i}].deposits[{at}].share', {share})")).await?;
            }
        }
        if let Some(excluded) = quote["excluded"].as_str() {
            page.eval(&format!("type('f-quotes[{i}].excluded', {})", json!(excluded))).await?;
        }
        act(page, "press('Keep it as it goes out today')", &said("Kept as revision 1.")).await?;
        page.until("document.querySelector('.quote img')?.naturalWidth > 0").await?;
        if !quote["again"].is_null() {
            adjust(page, &quote["again"]).await?;
            act(page, "press('Keep it as it goes out today')", &said("Kept as revision 2.")).await?;
            let told = format!(
                "document.querySelector('.trail').textContent.includes({})",
                json!(format!("to {}", quote["again"]["amount"].as_str().unwrap_or_default().trim_end_matches('0')))
            );
            page.until(&told).await?;
            // What is told to the buyer is on paper; what is not is nowhere on it.
            let paper = page.eval("document.querySelector('.quote').textContent").await?;
            let paper = paper.as_str().unwrap_or_default();
            assert!(paper.contains("Asked for in the mail") && !paper.contains("One coat less"), "{paper}");
        }
    }
    // What is the same as what went out last is not kept twice.
    act(page, "press('Keep it as it goes out today')", &said("Nothing differs from revision 1")).await?;
    payments(page, all).await
}

/// Payments of the stages, as they came in: whole, or another sum.
async fn payments(page: &Page, all: &Value) -> Result<()> {
    for (i, quote) in all.as_array().into_iter().flatten().enumerate() {
        for (at, paid) in quote["paid"].as_array().into_iter().flatten().enumerate() {
            act(
                page,
                &format!("openRow('q-{}')", i + 1),
                &format!("!!button('Came in today, stage {}')", paid["stage"]),
            )
            .await?;
            let amount = format!("f-quotes[{i}].came_in[{at}].amount");
            let press = format!("press('Came in today, stage {}')", paid["stage"]);
            act(page, &press, &format!("!!document.getElementById('{amount}')")).await?;
            if let Some(other) = paid["amount"].as_str() {
                page.eval(&format!("type('{amount}', {})", json!(other))).await?;
            }
        }
    }
    Ok(())
}

async fn adjust(page: &Page, adjusted: &Value) -> Result<()> {
    let line = adjusted["line"].as_str().unwrap_or_default();
    page.until(&format!("[...field('adjust-line').options].some(option => option.value === {})", json!(line))).await?;
    act(page, &format!("type('adjust-line', {})", json!(line)), "true").await?;
    if line.is_empty() {
        act(page, "1", "!!document.getElementById('adjust-name')").await?;
        page.eval(&format!("type('adjust-name', {})", adjusted["more"])).await?;
    }
    let told = adjusted["told"] == true;
    let rows = page.eval("document.querySelectorAll('.changed').length").await?;
    let fill = format!(
        "type('adjust-amount', {}), type('adjust-reason', {}), {told} && field('adjust-told').click(), press('Bring the line to that sum')",
        adjusted["amount"], adjusted["reason"]
    );
    act(page, &fill, &format!("document.querySelectorAll('.changed').length === {rows} + 1")).await
}

/// Three pieces more than one buyer wants: as a table, from a request, by hand; in four currencies, two with a carrier's own charge.
async fn offers(page: &Page, all: &Value) -> Result<()> {
    for (i, piece) in all.as_array().into_iter().flatten().enumerate() {
        let key = format!("o-{}", i + 1);
        let kept = said(&format!("Offers for it are kept as {key}."));
        if let Some(request) = piece["request"].as_str() {
            go_to(page, "Requests").await?;
            act(page, &format!("openRow({})", json!(request)), "!!button('Weigh offers for it')").await?;
            act(page, "press('Weigh offers for it')", &kept).await?;
        } else {
            go_to(page, "Offers").await?;
            page.eval("(document.querySelectorAll('main > section > details').forEach(one => one.open = true), 1)")
                .await?;
            if piece["table"].is_null() {
                act(
                    page,
                    &format!("type('offered-design', {})", piece["design"]),
                    "!!document.getElementById('offered-dimensions.channel')",
                )
                .await?;
                act(page, "press('Weigh offers for this piece')", &kept).await?;
            } else {
                let table = json!(piece["table"].to_string());
                act(page, &format!("type('offers-text', {table})"), &kept).await?;
            }
        }
        for (at, offer) in piece["offers"].as_array().into_iter().flatten().enumerate() {
            one_offer(page, &format!("f-offers[{i}].offers[{at}]"), offer).await?;
        }
        page.until("!!figures('Offers, the best first')").await?;
    }
    // The table's highest offer is not its best, and the page says why.
    act(page, "openRow('o-1')", "main().includes('Invented buyer in Ottawa offers most')").await?;
    page.until("main().includes('From the highest go carriage')").await
}

async fn one_offer(page: &Page, id: &str, offer: &Value) -> Result<()> {
    act(page, "press('Add an offer')", &format!("!!document.getElementById('{id}.amount')")).await?;
    for key in ["from", "amount", "currency", "carriage"] {
        if let Some(text) = offer[key].as_str() {
            page.eval(&format!("type('{id}.{key}', {})", json!(text))).await?;
        }
    }
    let nth = "[...document.querySelectorAll('.offer')].at(-1)";
    let pressed = |words: &str| {
        format!("[...{nth}.querySelectorAll('button')].find(b => b.textContent === {}).click()", json!(words))
    };
    if let Some(country) = offer["country"].as_str() {
        act(
            page,
            &pressed("It is brought somewhere"),
            &format!("!!document.getElementById('{id}.destination.country')"),
        )
        .await?;
        page.eval(&format!(
            "(type('{id}.destination.country', {}), type('{id}.destination.postal_code', {}))",
            json!(country),
            offer["postal_code"]
        ))
        .await?;
    }
    if offer["carrier"].is_object() {
        let carrier = &offer["carrier"];
        act(
            page,
            &pressed("A carrier has named its charge"),
            &format!("!!document.getElementById('{id}.quoted.charge')"),
        )
        .await?;
        page.eval(&format!(
            "(type('{id}.quoted.mode', {}), type('{id}.quoted.charge', {}), type('{id}.quoted.by', {}))",
            carrier["mode"], carrier["charge"], carrier["by"]
        ))
        .await?;
    }
    Ok(())
}

/// Eight jobs: from quotes, from requests and by hand; two with a clock, one still on the bench at the end.
async fn jobs(page: &Page, all: &Value) -> Result<()> {
    for (i, job) in all.as_array().into_iter().flatten().enumerate() {
        let begun = said(&format!("job-{} is begun.", i + 1));
        if let Some(quote) = job["quote"].as_str() {
            go_to(page, "Quotes").await?;
            act(page, &format!("openRow({})", json!(quote)), "!!button('Begin a job from what went out last')").await?;
            act(page, "press('Begin a job from what went out last')", &begun).await?;
        } else if let Some(request) = job["request"].as_str() {
            go_to(page, "Requests").await?;
            act(page, &format!("openRow({})", json!(request)), "!!button('Begin a job from it')").await?;
            act(page, "press('Begin a job from it')", &begun).await?;
        } else {
            go_to(page, "Jobs").await?;
            page.eval("(document.querySelector('main > section > details').open = true, 1)").await?;
            let design = job["design"].as_str().unwrap_or_default();
            act(
                page,
                &format!("type('begun-design', {})", json!(design)),
                &format!("field('begun-design').value === {}", json!(design)),
            )
            .await?;
            for (dimension, size) in job["sizes"].as_object().into_iter().flatten() {
                page.until(&format!("!!document.getElementById('begun-dimensions.{dimension}')")).await?;
                page.eval(&format!("type('begun-dimensions.{dimension}', {size})")).await?;
            }
            act(page, "press('Begin the job')", &begun).await?;
        }
        one_job(page, &format!("f-jobs[{}]", THERE + i), job).await?;
    }
    Ok(())
}

async fn one_job(page: &Page, id: &str, job: &Value) -> Result<()> {
    page.until("!!button('Paid as said')").await?;
    if job["as_said"] == true {
        page.eval("pressAll('As said, ')").await?;
    }
    if job["quote"].is_string() {
        page.eval("press('Paid as said')").await?;
    }
    if let Some(work) = job["clock"]["work"].as_str() {
        let row = format!("field('{id}.hours.{work}').closest('tr')");
        act(
            page,
            &format!("{row}.querySelector('.clock').click()"),
            &format!("{row}.querySelector('.clock').textContent === 'Stop'"),
        )
        .await?;
        page.eval(&format!("(window.shift += {}, 1)", job["clock"]["seconds"])).await?;
        act(page, &format!("{row}.querySelector('.clock').click()"), &said("The clock is stopped")).await?;
    }
    for (place, text) in job["filled"].as_object().into_iter().flatten() {
        let work = place.strip_prefix("hours.").unwrap_or_default();
        let there = format!("!!document.getElementById('{id}.{place}')");
        if !work.is_empty() && page.eval(&there).await? == false {
            act(page, &format!("type('other-work', {}), press('Add it')", json!(work)), &there).await?;
        }
        act(page, &format!("type('{id}.{place}', {text})"), "true").await?;
    }
    if let Some(day) = job["finished"].as_str() {
        page.eval(&format!("type('{id}.finished', {})", json!(day))).await?;
    }
    page.until("!document.querySelector('.faults')").await
}

/// The shop book as the page writes it, in a file of its own.
async fn save(page: &Page, desk: &Desk, name: &str) -> Result<std::path::PathBuf> {
    go_to(page, "Files and earlier states").await?;
    let text = written(page, "Save the shop book as a file").await?;
    desk.keep(name, &text)
}

/// What a button writes as a file.
async fn written(page: &Page, words: &str) -> Result<String> {
    page.eval("(window.saved = null, 1)").await?;
    act(page, &format!("press({})", json!(words)), "typeof saved === 'string'").await?;
    Ok(page.eval("saved").await?.as_str().unwrap_or_default().to_owned())
}

/// The figures of a table on the page are these, once it has reckoned.
async fn reads(page: &Page, caption: &str, rows: &Value) -> Result<()> {
    let there = format!("JSON.stringify(figures({})) === {}", json!(caption), json!(rows.to_string()));
    if page.until(&there).await.is_err() {
        let shown = page.eval(&format!("figures({})", json!(caption))).await?;
        assert_eq!(&shown, rows, "{caption}");
    }
    Ok(())
}

fn usd(amount: &Value) -> Value {
    amount.as_str().map_or_else(|| json!(""), |amount| json!(format!("{amount} USD")))
}

async fn requests_are_the_command_s(page: &Page, desk: &Desk, (book, held): (&std::path::Path, &Value)) -> Result<()> {
    go_to(page, "Requests").await?;
    for kept in held["requests"].as_array().into_iter().flatten() {
        let key = kept["key"].as_str().unwrap_or_default();
        let file = desk.keep(key, &kept["request"].to_string())?;
        let told = desk.json(&["price", "--book"], &[book, &file])?;
        let (costs, sold) = (&told["costs"], &told["as_estimated"]);
        page.eval(&format!("openRow({})", json!(key))).await?;
        page.until(&format!("document.querySelector('.record h3')?.textContent.startsWith('{key}:')")).await?;
        let rows = json!([
            ["Full cost", usd(&costs["full"])],
            ["Floor: below it someone works for nothing", usd(&costs["floor"])],
            ["Floor of what is still to be spent", usd(&costs["outlay_floor"])],
            ["Left over full cost at that price", usd(&sold["profit"])],
            ["Hours", costs["hours"]],
            ["Pay an hour", usd(&sold["pay_per_hour"])],
        ]);
        reads(page, "What it comes to", &rows).await.with_context(|| key.to_owned())?;
        let sheet =
            desk.json(&["takeoff", "--book"], &[book, &desk.keep("brief", &kept["request"]["brief"].to_string())?])?;
        let minutes: Vec<Value> = sheet["hours"]
            .as_array()
            .into_iter()
            .flatten()
            .map(|work| json!([work["operation"], work["stage"], work["minutes"]]))
            .collect();
        let shown = page.eval("figures('Hours by operation').slice(0, -1)").await?;
        assert_eq!(shown, json!(minutes), "{key}");
        let cuts = sheet["worksheet"]["cuts"].as_array().map_or(0, Vec::len);
        assert_eq!(page.eval("figures('Cutting list').length").await?, json!(cuts), "{key}");
    }
    Ok(())
}

async fn quotes_are_the_command_s(page: &Page, desk: &Desk, book: &std::path::Path) -> Result<()> {
    go_to(page, "Quotes").await?;
    let all = desk.json(&["quotes"], &[book])?;
    for quote in all["quotes"].as_array().into_iter().flatten() {
        let (key, now) = (quote["quote"].as_str().unwrap_or_default(), &quote["now"]);
        page.eval(&format!("openRow({})", json!(key))).await?;
        page.until(&format!("document.querySelector('.record h3')?.textContent === 'Quote {key}'")).await?;
        let tax = now["tax"].as_object().map_or_else(String::new, |tax| {
            format!("{} USD ({})", tax["amount"].as_str().unwrap_or_default(), tax["name"].as_str().unwrap_or_default())
        });
        let rows = json!([
            ["Rounding", usd(&now["rounding"])],
            ["The piece at the workshop", usd(&now["piece"])],
            ["Packing and delivery", usd(&now["carriage"])],
            ["Tax", tax],
            ["To pay", usd(&now["to_pay"])],
            ["Full cost", usd(&now["costs"]["full"])],
            ["Floor: below it someone works for nothing", usd(&now["costs"]["floor"])],
            ["Left over full cost", usd(&now["outcome"]["profit"])],
            ["Pay an hour", usd(&now["outcome"]["pay_per_hour"])],
        ]);
        reads(page, "What the quote comes to", &rows).await.with_context(|| key.to_owned())?;
        assert_eq!(
            quote["sent"]["to_pay"].as_str().map(cents),
            now["to_pay"].as_str().map(cents),
            "{key} went out as it stands"
        );
        if let Some(guide) = now["guide"].as_object() {
            let amount = guide["amount"].as_str().unwrap_or_default();
            let told = format!("come to about {amount} CAD");
            page.until(&format!("document.querySelector('.guide').textContent.includes({})", json!(told))).await?;
        }
        let stages = quote["owed"]["stages"].as_array().into_iter().flatten();
        let mut rows: Vec<Value> = stages.map(|stage| json!([usd(&stage["due"]), usd(&stage["owed"])])).collect();
        rows.push(json!([usd(&quote["owed"]["to_pay"]), usd(&quote["owed"]["owed"])]));
        let shown = "JSON.stringify(figures('Stages as they went out last').map(row => [row[1], row[3]]))";
        page.comes_to(shown, json!(rows).to_string()).await.with_context(|| key.to_owned())?;
        let stages = page.eval("[...document.querySelectorAll('.quote h3')].find(h => h.textContent === 'Payment').nextElementSibling.innerText").await?;
        for stage in now["stages"].as_array().into_iter().flatten() {
            assert!(
                stages.as_str().is_some_and(|told| told.contains(stage["amount"].as_str().unwrap_or("?"))),
                "{stages}"
            );
        }
    }
    Ok(())
}

/// An amount in cents: documents write `2577.5`, estimates `2577.50`.
fn cents(amount: &str) -> String {
    let (whole, part) = amount.split_once('.').unwrap_or((amount, ""));
    format!("{whole}.{part:0<2}")
}

async fn offers_are_the_command_s(page: &Page, desk: &Desk, (book, held): (&std::path::Path, &Value)) -> Result<()> {
    go_to(page, "Offers").await?;
    for piece in held["offers"].as_array().into_iter().flatten() {
        let key = piece["key"].as_str().unwrap_or_default();
        let offers = json!({ "scantling_offers": 1, "brief": piece["brief"], "offers": piece["offers"] });
        let ranking = desk.json(&["offers", "--book"], &[book, &desk.keep(key, &offers.to_string())?])?;
        page.eval(&format!("openRow({})", json!(key))).await?;
        page.until(&format!("document.querySelector('.record h3')?.textContent.startsWith('{key}:')")).await?;
        let row = |one: &Value| {
            let outcome = &one["outcome"];
            json!([
                one["from"],
                usd(&one["worth"]),
                usd(&one["kept_back"]),
                usd(&one["carriage_paid"]),
                usd(&one["tax"]),
                usd(&outcome["fees"]),
                usd(&one["carriage_cost"]),
                usd(&outcome["profit"]),
                usd(&outcome["over_outlay"]),
                usd(&outcome["pay_per_hour"])
            ])
        };
        let rows: Vec<Value> = ranking["ranked"].as_array().into_iter().flatten().map(row).collect();
        assert!(rows.len() >= 3, "{ranking}");
        let shown = "figures('Offers, the best first').map(r => [0, 7, 8, 9, 10, 11, 12, 3, 4, 5].map(at => r[at]))";
        page.until(&format!("JSON.stringify({shown}) === {}", json!(json!(rows).to_string())))
            .await
            .with_context(|| key.to_owned())?;
    }
    Ok(())
}

async fn jobs_are_the_command_s(page: &Page, desk: &Desk, book: &std::path::Path) -> Result<()> {
    go_to(page, "Jobs").await?;
    let all = desk.json(&["jobs"], &[book])?;
    for account in all["jobs"].as_array().into_iter().flatten() {
        let key = account["job"].as_str().unwrap_or_default();
        page.eval(&format!("openRow({})", json!(key))).await?;
        page.until(&format!("document.querySelector('.record h3')?.textContent.startsWith('{key}:')")).await?;
        let (said, took) = (&account["said"], &account["took"]);
        let pay = |left: &Value| {
            left["pay_per_hour"].as_str().map_or_else(|| "no hour worked".to_owned(), |pay| format!("{pay} USD"))
        };
        let rows = json!([
            ["Price, tax apart", usd(&said["price"]), usd(&took["price"])],
            ["Fees", usd(&said["fees"]), usd(&took["fees"])],
            ["Cost, work with it", usd(&said["cost"]), usd(&took["cost"])],
            ["Profit", usd(&said["profit"]), usd(&took["profit"])],
            ["Hours", said["hours"], took["hours"]],
            ["Pay an hour", pay(said), pay(took)],
        ]);
        reads(page, "What is left", &rows).await.with_context(|| key.to_owned())?;
        let lines: Vec<Value> = account["lines"]
            .as_array()
            .into_iter()
            .flatten()
            .map(|line| json!([line["what"], line["said"], line["took"]]))
            .collect();
        let shown = page.eval("figures('Costs line by line').map(r => r.slice(0, 3))").await?;
        assert_eq!(shown, json!(lines), "{key}");
    }
    // Half an hour and an hour, and a second over an hour, as the clock counted them.
    let clocked = |job: usize, work: &str| {
        let worked = all["jobs"][THERE + job]["worked"].as_array().into_iter().flatten();
        worked.filter(|row| row["key"] == work).map(|row| row["took"].clone()).collect::<Vec<_>>()
    };
    assert_eq!(
        (clocked(0, "select-and-mark-out"), clocked(3, "level-and-polish-resin")),
        (vec![json!("1.5")], vec![json!("1.02")])
    );
    assert_eq!(written(page, "Write jobs.csv, a row a job").await?, desk.text(&["jobs", "--csv"], &[book])?);
    assert_eq!(
        written(page, "Write job-lines.csv, a row a line").await?,
        desk.text(&["jobs", "--csv-lines"], &[book])?
    );
    Ok(())
}

/// The console of the third job took three quarters of the oak slab: a quarter is left for others, and its own quote stands as it did.
async fn a_cut_is_taken_out_of_its_slab(page: &Page, desk: &Desk) -> Result<std::path::PathBuf> {
    act(page, "openRow('job-3')", "main().includes('100 % of its face is left; once this cut of 75 %')").await?;
    let told = said("75 % is taken out of White oak slab no. 4; 25 % of it is left.");
    act(page, "press('Take this cut out of the slab: White oak slab no. 4')", &told).await?;
    page.until("main().includes('75 % was taken out for this job. 25 % of it is left.')").await?;
    let book = save(page, desk, "cut").await?;
    let (jobs, quotes) = (desk.json(&["jobs"], &[&book])?, desk.json(&["quotes"], &[&book])?);
    let stands = json!([{ "slab": "oak-slab-04", "share": "0.75", "taken_out": "0.75", "left": "0.25" }]);
    assert_eq!(jobs["jobs"][THERE + 2]["slabs"], stands);
    let own = &quotes["quotes"][2];
    assert_eq!((&own["quote"], own["now"]["to_pay"].is_string()), (&json!("q-3"), true), "{own}");
    Ok(book)
}

/// A suggestion is left as it is: its card goes, and the command says so too. It changes no price.
async fn one_is_left(page: &Page, desk: &Desk, one: &Value) -> Result<()> {
    let cards = page.eval("document.querySelectorAll('.card:not(.ranges)').length").await?.as_u64().unwrap_or(0);
    let gone = format!("document.querySelectorAll('.card:not(.ranges)').length === {}", cards.saturating_sub(1));
    act(
        page,
        "[...document.querySelectorAll('.card:not(.ranges)')].at(-1).querySelectorAll('button')[1].click()",
        &gone,
    )
    .await?;
    let left = format!("suggested {} times", one["factor"].as_str().unwrap_or_default());
    page.until(&format!("document.querySelector('.left').textContent.includes({})", json!(left))).await?;
    let book = save(page, desk, "left").await?;
    let learned = desk.json(&["learn"], &[&book])?;
    let told = learned["suggestions"].as_array().into_iter().flatten().find(|told| told["suggestion"] == *one);
    assert_eq!(told.map(|told| &told["left"]), Some(&json!(true)), "{learned}");
    let text = desk.text(&["learn"], &[&book])?;
    assert!(text.contains("left as it is at "), "{text}");
    Ok(())
}

/// What the jobs teach is what the command says; one suggestion is taken, and the price book that comes of it is the command's.
async fn learned_and_published(page: &Page, desk: &Desk, book: &std::path::Path) -> Result<()> {
    go_to(page, "What jobs teach").await?;
    let learned = desk.json(&["learn"], &[book])?;
    // What the jobs bear out as it stands is nothing to take; what was left as it was is no card.
    let moves = |one: &&Value| one["suggestion"]["factor"] != "1" && one["left"] == false;
    let suggestions: Vec<Value> =
        learned["suggestions"].as_array().into_iter().flatten().filter(moves).cloned().collect();
    page.until(&format!("document.querySelectorAll('.card:not(.ranges)').length === {}", suggestions.len())).await?;
    // What the jobs make of ranges by themselves, piece by piece.
    let past = &learned["past_jobs"];
    let told = format!("took {} times the hours that were said", past["hours_take"].as_str().unwrap_or_default());
    page.until(&format!("document.querySelector('.ranges').textContent.includes({})", json!(told))).await?;
    let sum = |amount: &Value| usd(amount).as_str().unwrap_or_default().to_owned();
    let span = |range: &Value| json!(format!("{} to {}", sum(&range["low"]), sum(&range["high"])));
    let rows = learned["ranges"].as_array().into_iter().flatten();
    let rows: Vec<Value> = rows.map(|row| json!([row["design"], span(&row["without"]), span(&row["with"])])).collect();
    let shown =
        "[...document.querySelectorAll('.ranges tbody tr')].map(row => [...row.cells].map(cell => cell.textContent))";
    page.comes_to(shown, json!(rows)).await?;
    for (i, one) in suggestions.iter().enumerate() {
        let one = &one["suggestion"];
        for words in [
            format!("{} times", one["seen"].as_str().unwrap_or_default()),
            format!("Suggested: {} times", one["factor"].as_str().unwrap_or_default()),
        ] {
            page.until(&format!("document.querySelectorAll('.card')[{i}].textContent.includes({})", json!(words)))
                .await?;
        }
    }
    one_is_left(page, desk, suggestions.last().map_or(&Value::Null, |one| &one["suggestion"])).await?;
    go_to(page, "What jobs teach").await?;
    page.until("document.querySelectorAll('.card:not(.ranges)').length > 0").await?;
    act(
        page,
        "document.querySelector('.card button').click()",
        "[...document.querySelectorAll('.basket s')].length > 0",
    )
    .await?;
    let after = save(page, desk, "taught").await?;
    go_to(page, "Publish").await?;
    let published = written(page, "Write price-book.json").await?;
    assert_eq!(published, desk.text(&["publish"], &[&after])?.trim_end());
    assert_ne!(published, desk.text(&["publish"], &[book])?.trim_end(), "the year has moved the price book");
    Ok(())
}
