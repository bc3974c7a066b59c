//! The command as a script calls it: exit codes, and what goes to which stream.
#![expect(clippy::unwrap_used, reason = "a test stops where its own set-up fails")]

use std::io::Write;
use std::path::PathBuf;
use std::process::{Command, Output, Stdio};

fn shared(file: &str) -> String {
    format!("{}/../../shared/{file}", env!("CARGO_MANIFEST_DIR"))
}

fn run(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_scantling")).args(arguments).output().unwrap()
}

fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

fn complaint(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).unwrap()
}

/// Writes a file this test alone uses.
fn scratch(name: &str, text: &str) -> String {
    let path: PathBuf = [env!("CARGO_TARGET_TMPDIR"), name].iter().collect();
    std::fs::write(&path, text).unwrap();
    path.display().to_string()
}

#[test]
fn check_says_that_the_demo_book_can_build_all_it_offers() {
    let output = run(&["check", &shared("books/demo-shop.json")]);
    assert_eq!(output.status.code(), Some(0));
    assert!(out(&output).contains("a shop book with 6 designs and 7 timbers"), "{}", out(&output));
}

#[test]
fn check_gives_the_path_and_the_remedy_of_a_slip_of_the_pen() {
    let book = std::fs::read_to_string(shared("books/demo-shop.json")).unwrap();
    let path = scratch("slip.json", &book.replacen("\"work_factor\"", "\"work_facter\"", 1));
    let output = run(&["check", &path]);
    assert_eq!(output.status.code(), Some(1));
    let complaint = complaint(&output);
    assert!(complaint.contains("timbers[0].work_facter"), "{complaint}");
    assert!(complaint.contains("did you mean “work_factor”"), "{complaint}");
}

#[test]
fn what_is_kept_against_movement_is_told_the_maker_and_no_one_else() {
    // The demo keeps 2 % of a rate of 1.38, so that a buyer in Canada is told 1.4076.
    let asked =
        r#"{"scantling_brief": 1, "design": "wall-shelf", "destination": {"country": "CA", "postal_code": "K1A 0B1"}}"#;
    let brief = scratch("shelf-to-canada.json", asked);
    let by = |book: &str, more: &[&str]| out(&run(&[&["price", "--book", &shared(book), &brief], more].concat()));
    let (private, public) = (by("books/demo-shop.json", &[]), by("../public/price-book.json", &[]));
    for text in [&private, &public] {
        let guide = text.lines().find(|line| line.starts_with("As a guide")).unwrap();
        assert!(guide.contains("1.4076 CAD for 1 USD, with something kept against movement"), "{guide}");
    }
    let kept = private.lines().find(|line| line.starts_with("Kept against movement")).unwrap();
    assert!(kept.contains(" 2 %"), "{kept}");
    assert!(!public.contains("Kept against movement"), "{public}");
    let json: serde_json::Value = serde_json::from_str(&by("books/demo-shop.json", &["--json"])).unwrap();
    assert_eq!(json["kept_percent"], "2");
    let json: serde_json::Value = serde_json::from_str(&by("../public/price-book.json", &["--json"])).unwrap();
    assert!(json["kept_percent"].is_null());
}

#[test]
fn price_shows_what_it_costs_the_shop_only_from_the_shop_book() {
    let brief = shared("briefs/table-to-chicago.json");
    let private = out(&run(&["price", "--book", &shared("books/demo-shop.json"), &brief]));
    let public = out(&run(&["price", "--book", &shared("../public/price-book.json"), &brief]));
    assert!(private.contains("costs the shop"), "{private}");
    assert!(!public.contains("costs"), "{public}");
    let workshop = |text: &str| -> Option<String> {
        let line = text.lines().find(|line| line.starts_with("At the workshop"))?;
        line.split(" costs").next().map(|price| price.trim_end().to_owned())
    };
    assert_eq!(workshop(&private), workshop(&public), "both books give one price");
}

#[test]
fn json_holds_the_whole_estimate_with_amounts_as_text() {
    let output = run(&[
        "--json",
        "price",
        "--book",
        &shared("../public/price-book.json"),
        &shared("briefs/table-to-chicago.json"),
    ]);
    let document: serde_json::Value = serde_json::from_str(&out(&output)).unwrap();
    let estimate = &document["estimate"];
    assert_eq!(estimate["currency"], "USD");
    assert_eq!(estimate["chosen"], "freight");
    assert!(estimate["works"]["likely"].is_string());
    assert!(document["cost"].is_null());
}

#[test]
fn a_brief_that_can_t_be_built_exits_with_one_and_names_its_field() {
    let brief = scratch(
        "too-long.json",
        r#"{"scantling_brief": 1, "design": "trestle-table", "dimensions": {"length": "20 ft"}}"#,
    );
    let output = run(&["--json", "price", "--book", &shared("../public/price-book.json"), &brief]);
    assert_eq!(output.status.code(), Some(1));
    let document: serde_json::Value = serde_json::from_str(&out(&output)).unwrap();
    assert_eq!(document["faults"][0]["path"], "dimensions.length");
    assert!(complaint(&output).contains("60 in to 108 in"), "{}", complaint(&output));
}

/// The table to Chicago as it was asked for, with a charge that a carrier named by phone.
const REQUEST: &str = r#"{"scantling_request": 1,
    "brief": {"scantling_brief": 1, "design": "trestle-table", "delivery": "freight",
        "destination": {"country": "US", "postal_code": "60601"}},
    "told": {"edition": "2026-01-05", "currency": "USD", "low": "4000", "likely": "4400", "high": "5000"},
    "from": {"name": "A buyer", "mail": "buyer@home.example"},
    "quoted": {"mode": "freight", "charge": "312.40", "day": "2026-11-20", "by": "Depot, by phone", "days_least": 3, "days_most": 6}}"#;

#[test]
fn a_request_is_priced_with_the_carrier_s_own_quote_and_held_against_what_was_told() {
    let request = scratch("request.json", REQUEST);
    let text = out(&run(&["price", "--book", &shared("books/demo-shop.json"), &request]));
    // Sold with 5 % for handling and 2.9 % for the payment: 312.40 x 1.05 / 0.971 = 337.82.
    assert!(text.contains("Carriage as quoted: Depot, by phone, 2026-11-20") && text.contains("337.82 USD"), "{text}");
    assert!(!text.contains("A lift at the tail"), "{text}");
    assert!(text.contains("The buyer was told 4400 USD from the book of 2026-01-05; by this one"), "{text}");
    // A price book does not know what a carrier's charge is sold for.
    let output = run(&["price", "--book", &shared("../public/price-book.json"), &request]);
    assert_eq!(output.status.code(), Some(2));
    assert!(complaint(&output).contains("give the shop book"), "{}", complaint(&output));
}

#[test]
fn ways_stand_side_by_side_cheapest_first_each_with_range_days_and_what_it_includes_or_its_reason() {
    let book = shared("../public/price-book.json");
    for file in ["briefs/table-to-chicago.json", "briefs/river-table-abroad.json"] {
        let text = out(&run(&["price", "--book", &book, &shared(file)]));
        let json = out(&run(&["--json", "price", "--book", &book, &shared(file)]));
        let document: serde_json::Value = serde_json::from_str(&json).unwrap();
        let document = document.get("estimate").unwrap_or(&document);
        let head = text.split("\n\n").find(|part| part.starts_with("Every way, the cheapest first:")).unwrap();
        let rows: Vec<&str> = head.lines().skip(1).collect();
        let ways = document["ways"].as_array().unwrap();
        assert_eq!(rows.len(), ways.len(), "{head}");
        let mut prices = Vec::new();
        for row in rows {
            let way = ways.iter().find(|way| row.trim_start().starts_with(way["mode"].as_str().unwrap())).unwrap();
            let Some(possible) = way["outcome"].get("possible") else {
                assert!(row.contains("not possible: "), "{row}");
                continue;
            };
            let price = |end: &str| possible["price"][end].as_str().unwrap();
            let range = format!("{} USD ({} to {})", price("likely"), price("low"), price("high"));
            let days = match (possible["days"][0].as_u64().unwrap(), possible["days"][1].as_u64().unwrap()) {
                (0, 0) => "no days".to_owned(),
                (1, 1) => "1 day".to_owned(),
                (fewest, most) if fewest == most => format!("{most} days"),
                (fewest, most) => format!("{fewest} to {most} days"),
            };
            let (before, includes) = row.split_once(&days).unwrap_or_else(|| panic!("{days}: {row}"));
            assert!(before.contains(&range) && includes.trim().len() > 20, "{row}");
            prices.push(price("likely").parse::<f64>().unwrap());
        }
        assert!(prices.len() >= 2 && prices.is_sorted(), "{head}");
    }
    let text = out(&run(&["price", "--book", &book, &shared("briefs/table-to-chicago.json")]));
    let at = |words: &str| text.find(words).unwrap_or_else(|| panic!("{words}: {text}"));
    assert!(["By collect", "By freight (chosen)", "By white-glove", "By van"].map(at).is_sorted(), "{text}");
    // A carton's own figure beside the limit of the demo's parcels, 165 in; abroad is not offered at home; no cover in the maker's van.
    assert!(text.contains("and its carriers take 165 in"), "{text}");
    assert!(text.contains("abroad       not possible: the maker does not offer it there"), "{text}");
    assert!(text.contains("no cover is charged"), "{text}");
}

#[test]
fn the_term_of_delivery_is_named_where_duty_may_be_due() {
    let (book, brief) = (shared("../public/price-book.json"), shared("briefs/river-table-abroad.json"));
    let text = out(&run(&["price", "--book", &book, &brief]));
    assert!(text.contains("DAP K1A 0B1 CA, Incoterms 2020: duty and import tax are not in the price"), "{text}");
    let at_home = out(&run(&["price", "--book", &book, &shared("briefs/table-to-chicago.json")]));
    assert!(!at_home.contains("Incoterms"), "{at_home}");
}

#[test]
fn offers_are_ranked_by_what_they_leave_and_the_highest_that_is_not_the_best_is_pointed_out() {
    let (book, offers) = (shared("books/demo-shop.json"), shared("offers/table-four-buyers.json"));
    let text = out(&run(&["offers", "--book", &book, &offers]));
    assert!(
        text.contains("1. Invented buyer in Seattle, carriage besides") || text.contains("1. Invented neighbour"),
        "{text}"
    );
    assert!(
        text.contains("Invented buyer in Ottawa offers most, ") && text.contains("Kept back against its currency"),
        "{text}"
    );
    let document: serde_json::Value =
        serde_json::from_str(&out(&run(&["--json", "offers", "--book", &book, &offers]))).unwrap();
    let ranked = document["ranked"].as_array().unwrap();
    let left = |one: &serde_json::Value| one["outcome"]["profit"].as_str().unwrap().parse::<f64>().unwrap();
    assert!(ranked.len() == 4 && ranked.is_sorted_by(|a, b| left(a) >= left(b)), "{document}");
    assert_eq!(run(&["offers", "--book", &shared("../public/price-book.json"), &offers]).status.code(), Some(2));
}

#[test]
fn learn_lists_what_the_jobs_would_correct_and_what_that_does_to_the_prices() {
    let text = out(&run(&["learn", &shared("books/demo-shop.json")]));
    assert!(
        text.contains("Minutes of “Shaping and sanding”: 4 jobs") && text.contains("Yield of Black walnut: 3 jobs"),
        "{text}"
    );
    assert!(text.contains("nothing is changed by this list"), "{text}");
    // What the maker left as it is stands apart, and what the jobs make of ranges by themselves beside what they take.
    assert!(text.contains("Minutes of “Photographs and wrapping”: left as it is at 4 jobs"), "{text}");
    assert!(!text.contains("Photographs and wrapping”: 4 jobs"), "{text}");
    assert!(
        text.contains("  trestle-table                from 3060.00 USD to 4030.00 USD; without the jobs from "),
        "{text}"
    );
    let document: serde_json::Value =
        serde_json::from_str(&out(&run(&["--json", "learn", &shared("books/demo-shop.json")]))).unwrap();
    assert_eq!(document["jobs"], 4);
    let left = |one: &&serde_json::Value| one["left"] == true;
    let all = document["suggestions"].as_array().unwrap();
    let left: Vec<_> = all.iter().filter(left).map(|one| &one["suggestion"]["subject"]["stage"]).collect();
    assert_eq!(left, ["Photographs and wrapping"]);
    let table = &document["ranges"][0];
    assert_eq!((&table["design"], &table["with"]["low"]), (&"trestle-table".into(), &"3060.00".into()), "{table}");
    assert_ne!(table["with"], table["without"]);
    assert!(document["suggestions"][0]["effects"].as_array().unwrap().len() == 6, "{document}");
}

#[test]
fn draw_writes_a_measured_sheet_with_the_sizes_asked_for() {
    let (book, brief) = (shared("../public/price-book.json"), shared("briefs/table-to-chicago.json"));
    let inches = out(&run(&["draw", "--book", &book, &brief]));
    assert!(inches.starts_with("<svg") && inches.contains(">84 in<") && inches.contains(">29 1/2 in<"), "{inches}");
    // 84 in is 2133.6 mm exactly.
    let metric = out(&run(&["draw", "--book", &book, &brief, "--metric"]));
    assert!(metric.contains(">2133.6 mm<"), "{metric}");
    let whole = out(&run(&["draw", "--book", &book, &brief, "--whole"]));
    assert!(whole.starts_with("<svg") && !whole.contains(">84 in<"), "{whole}");
}

#[test]
fn what_can_t_be_read_exits_with_two() {
    assert_eq!(run(&["check", "no-such-book.json"]).status.code(), Some(2));
    assert_eq!(run(&["publish", &shared("../public/price-book.json")]).status.code(), Some(2));
    assert_eq!(run(&["frobnicate"]).status.code(), Some(2));
}

#[test]
fn publish_folds_the_demo_book_into_the_page_s_own() {
    let output = run(&["publish", &shared("books/demo-shop.json")]);
    let committed = std::fs::read_to_string(shared("../public/price-book.json")).unwrap();
    assert_eq!(
        out(&output),
        committed,
        "run `cargo run -p scantling-cli -- publish shared/books/demo-shop.json --out public/price-book.json`"
    );
}

#[test]
fn price_answers_what_moves_it_and_what_fits() {
    let (book, brief) = (shared("../public/price-book.json"), shared("briefs/table-to-chicago.json"));
    let text = out(&run(&["price", "--book", &book, &brief, "--moves", "--budget", "3500"]));
    assert!(text.contains("base in yellow-poplar"), "{text}");
    assert!(text.contains("The budget: it fits with the fewest changes"), "{text}");
    let text = out(&run(&["price", "--book", &book, &brief, "--budget", "100"]));
    assert!(text.contains("The least it can be had for"), "{text}");
}

#[test]
fn takeoff_lists_what_is_cut_and_bought_and_from_the_shop_book_what_is_worked() {
    let brief = shared("briefs/console-to-seattle.json");
    let private = out(&run(&["takeoff", "--book", &shared("books/demo-shop.json"), &brief]));
    let public = out(&run(&["takeoff", "--book", &shared("../public/price-book.json"), &brief]));
    // 30 1/2 in of leg and an inch: 31 1/2 in; 1 3/4 in and 3/8 for its edges: 2 1/8 in.
    let leg = "4 x Leg, White oak: 30 1/2 in x 1 3/4 in x 1 3/4 in, each from 1 of 8/4 31 1/2 in x 2 1/8 in";
    for text in [&private, &public] {
        assert!(text.contains(leg), "{text}");
        assert!(text.contains("4 x Levelling foot"), "{text}");
    }
    assert!(private.contains("Flatten slab") && private.contains("(the book's way)"), "{private}");
    assert!(!public.contains(" min") && !public.contains("leaves"), "{public}");
    // The top of 84 x 38 in, packed 3 in high: 1 1/2 in of padding and 3/4 in of wall on every side, a 3 1/2 in skid. Its panel is that of
    // the inside, 2 x (87 x 41 + 87 x 6 + 41 x 6) / 144 = 60.2 sq ft; battens 8 x (87 + 41 + 6) / 12 = 89.3 ft; runners 3 x 41 / 12.
    let table = shared("briefs/table-to-chicago.json");
    let text = out(&run(&["takeoff", "--book", &shared("../public/price-book.json"), &table]));
    let crated = "88 1/2 in x 42 1/2 in x 11 in outside, 237 lb with what it holds, of 60.2 sq ft of panel, 89.3 ft of batten, 10.3 ft of runner";
    assert!(text.contains(crated) && text.contains("2 joints of each piece left dry"), "{text}");
}

#[test]
fn a_shop_that_measures_in_millimetres_reads_metric_figures() {
    let book = std::fs::read_to_string(shared("books/demo-shop.json")).unwrap();
    assert_eq!(book.matches("\"units\": \"inch\"").count(), 1);
    let metric = scratch("metric.json", &book.replace("\"units\": \"inch\"", "\"units\": \"metric\""));
    let demo = shared("books/demo-shop.json");
    let table = shared("briefs/table-to-chicago.json");
    for action in ["price", "takeoff"] {
        let [ours, theirs] = [&metric, &demo].map(|book| out(&run(&[action, "--book", book, &table])));
        let words: Vec<&str> = ours.split_whitespace().collect();
        let number = |word: &str| word.trim_end_matches('"').ends_with(|last: char| last.is_ascii_digit());
        let foreign = ["board", "sq", "cu", "ft", "lb", "miles"];
        // A figure may well stand before “in the blanks”.
        let inches =
            |word: &str, next: &str| foreign.contains(&word) || word == "in" && !["the", "all"].contains(&next);
        let left =
            words.windows(3).find(|three| number(three[0]) && inches(three[1].trim_matches([',', ';', ')']), three[2]));
        assert_eq!(left, None, "{ours}");
        assert_eq!(ours.lines().count(), theirs.lines().count());
        // For programs it is the same to the byte.
        let json = [&metric, &demo].map(|book| out(&run(&["--json", action, "--book", book, &table])));
        assert_eq!(json[0], json[1]);
    }
    // 237 lb x 0.45359237 = 107.5 kg; 60.2 sq ft x 0.09290304 = 5.59 m2; 89.3 ft and 10.3 ft x 0.3048 = 27.2 m and 3.1 m; 88 1/2 in, 42 1/2 in
    // and 11 in by 25.4.
    let crated = "2247.9 mm x 1079.5 mm x 279.4 mm outside, 107.5 kg with what it holds, of 5.59 m² of panel, 27.2 m of batten, 3.1 m of runner";
    let text = out(&run(&["takeoff", "--book", &metric, &table]));
    assert!(text.contains(crated), "{text}");
}

#[test]
fn takeoff_for_programs_has_every_way_a_slab_can_be_charged() {
    let book = shared("books/demo-shop.json");
    let output = run(&["--json", "takeoff", "--book", &book, &shared("briefs/console-to-seattle.json")]);
    let document: serde_json::Value = serde_json::from_str(&out(&output)).unwrap();
    let profits = document["slab_profits"].as_array().unwrap();
    let bases: Vec<&str> = profits.iter().map(|profit| profit["basis"].as_str().unwrap()).collect();
    assert_eq!(bases, ["volume", "face", "sales-value", "replacement", "whole", "nothing"]);
    // What is charged and what is left always come to the same sum, the profit before the slab.
    let number = |value: &serde_json::Value| value.as_str().unwrap().parse::<rust_decimal::Decimal>().unwrap();
    let sums: Vec<_> = profits.iter().map(|profit| number(&profit["charged"]) + number(&profit["profit"])).collect();
    assert!(sums.windows(2).all(|pair| pair[0] == pair[1]), "{sums:?}");
    assert_eq!(document["worksheet"]["cuts"][1]["rough"]["class"], "8/4");
}

#[test]
fn price_from_the_shop_book_ends_with_what_the_maker_alone_may_know() {
    let text =
        out(&run(&["price", "--book", &shared("books/demo-shop.json"), &shared("briefs/table-to-chicago.json")]));
    for line in ["Floor  ", "Floor of what is still to be spent", "Profit at the price", " an hour for "] {
        assert!(text.contains(line), "{line}: {text}");
    }
}

/// Runs `price --lines` on lines given to standard input.
fn lines(book: &str, lines: &[u8]) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_scantling"))
        .args(["price", "--book", &shared(book), "--lines", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let (mut stdin, lines) = (child.stdin.take().unwrap(), lines.to_vec());
    let writer = std::thread::spawn(move || stdin.write_all(&lines).unwrap());
    let output = child.wait_with_output().unwrap();
    writer.join().unwrap();
    output
}

fn answers(output: &Output) -> Vec<serde_json::Value> {
    out(output).lines().map(|line| serde_json::from_str(line).unwrap()).collect()
}

#[test]
fn a_stream_of_briefs_is_answered_line_by_line_in_order() {
    // More lines than are priced side by side at once; lengths tell them apart.
    let brief = |i: usize| {
        let length = 60 + i % 24;
        format!(r#"{{"scantling_brief": 1, "design": "trestle-table", "dimensions": {{"length": "{length} in"}}}}"#)
    };
    let text: String = (0..9000).map(|i| brief(i) + "\n").collect();
    let output = lines("../public/price-book.json", text.as_bytes());
    assert_eq!(output.status.code(), Some(0), "{}", complaint(&output));
    let answers = answers(&output);
    assert_eq!(answers.len(), 9000);
    for (i, answer) in answers.iter().enumerate() {
        assert_eq!(answer["line"], i + 1);
        assert_eq!(answer["estimate"], answers[i % 24]["estimate"], "line {}", i + 1);
    }
    // One of them as the command prices it alone.
    let path = scratch("one.json", &brief(5));
    let alone = out(&run(&["--json", "price", "--book", &shared("../public/price-book.json"), &path]));
    let alone: serde_json::Value = serde_json::from_str(&alone).unwrap();
    assert_eq!(alone["estimate"], answers[5]["estimate"]);
}

#[test]
fn a_faulty_line_is_answered_with_its_faults_and_stops_nothing() {
    let text = b"{\"scantling_brief\": 1, \"design\": \"hall-bench\"}\n\nnonsense\n{\"scantling_brief\": 1, \"design\": \"hal-bench\"}\n\xff\xfe\n{\"scantling_brief\": 1, \"design\": \"wall-shelf\"}";
    let output = lines("books/demo-shop.json", text);
    assert_eq!(output.status.code(), Some(1));
    let answers = answers(&output);
    let told: Vec<_> =
        answers.iter().map(|answer| (answer["line"].as_u64().unwrap(), answer["faults"].is_null())).collect();
    assert_eq!(told, [(1, true), (3, false), (4, false), (5, false), (6, true)], "the empty line has no answer");
    assert!(answers[2]["faults"][0]["what"].as_str().unwrap().contains("did you mean “hall-bench”"));
    assert_eq!(answers[2]["faults"][0]["path"], "design");
    assert!(answers[3]["faults"][0]["what"].as_str().unwrap().contains("not UTF-8"));
    // From the shop book, what each costs the shop.
    assert!(answers[4]["costs"]["floor"].is_string() && answers[4]["as_estimated"]["profit"].is_string());
}

#[test]
fn a_file_of_lines_that_is_not_there_exits_with_two() {
    let book = shared("books/demo-shop.json");
    assert_eq!(run(&["price", "--book", &book, "--lines", "nowhere.jsonl"]).status.code(), Some(2));
    assert_eq!(run(&["price", "--book", &book]).status.code(), Some(2), "neither a brief nor lines");
}
