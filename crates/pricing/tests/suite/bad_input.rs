//! Books and briefs that are wrong, each in one way: the error must say where, what, and how to mend it, and nothing may panic.

use scantling_pricing::book::{DocumentError, PriceBook, ShopBook};
use scantling_pricing::brief::Brief;
use scantling_pricing::estimate::estimate;
use serde_json::{Value, json};

use crate::start::{DEMO, demo, demo_value, sound};

/// Words an instruction is made of: an error without one leaves its reader alone.
const REMEDIES: [&str; 24] = [
    "write",
    "add ",
    "take ",
    "choose",
    "rename",
    "name ",
    "replace",
    "put ",
    "make ",
    "use ",
    "keep",
    "mend",
    "did you mean",
    "give",
    "swap",
    "move ",
    "measure",
    "narrow",
    "shorten",
    "enlarge",
    "check",
    "raise",
    "ask for",
    "open another",
];

fn says(errors: &[DocumentError], path: &str, words: &str) {
    let found = errors.iter().find(|error| error.path == path && error.to_string().contains(words));
    let found = found.unwrap_or_else(|| panic!("no error at “{path}” says “{words}”: {errors:#?}")).to_string();
    assert!(REMEDIES.iter().any(|remedy| found.contains(remedy)), "no remedy in: {found}");
}

/// A demo book with the value at a JSON pointer replaced; a pointer that ends in a new key adds it.
pub(crate) fn with(pointer: &str, value: Value) -> Value {
    let mut book = demo_value();
    if let Some(place) = book.pointer_mut(pointer) {
        *place = value;
    } else {
        let (parent, key) = pointer.rsplit_once('/').unwrap();
        book.pointer_mut(parent).unwrap()[key.replace("~1", "/")] = value;
    }
    book
}

pub(crate) fn without(pointer: &str) -> Value {
    let mut book = demo_value();
    let (parent, key) = pointer.rsplit_once('/').unwrap();
    book.pointer_mut(parent).unwrap().as_object_mut().unwrap().remove(key).unwrap();
    book
}

pub(crate) fn refused(book: &Value, path: &str, words: &str) {
    refused_text(&book.to_string(), path, words);
}

fn refused_text(text: &str, path: &str, words: &str) {
    says(&ShopBook::read(text).expect_err(words), path, words);
}

#[test]
fn texts_that_are_no_book() {
    refused_text("", "", "does not read as JSON");
    refused_text("{ \"scantling_book\": 1", "", "does not read as JSON");
    refused_text(&"[".repeat(10_000), "", "does not read as JSON");
    refused_text(&format!("\"{}\"", "x".repeat(5 * 1024 * 1024)), "", "at most 4096 are read");
    refused_text("[]", "", "expected a shop book");
    refused_text("{}", "", "this is not a shop book");
    refused_text("{ \"scantling_book\": 2 }", "scantling_book", "use a newer program");
    refused_text("{ \"scantling_book\": 0 }", "scantling_book", "there is no version 0");
    refused_text(include_str!("../../../../public/price-book.json"), "", "this is not a shop book");
    refused_text(
        &DEMO.replacen("\"edition\"", "\"edition\": \"2026-01-01\", \"edition\"", 1),
        "",
        "“edition” is written twice",
    );
}

#[test]
fn shapes_and_keys_that_are_wrong() {
    refused(&with("/timbers/2/work_facter", json!("1")), "timbers[2].work_facter", "did you mean “work_factor”");
    refused(&with("/shop/zzz", json!(1)), "shop.zzz", "take it out");
    refused(&without("/shop/contact"), "shop", "the key “contact” is missing");
    refused(&without("/operations/0/set_up"), "operations[0]", "the key “set_up” is missing");
    refused(&with("/timbers", json!({})), "timbers", "expected a list, found a table");
    refused(&with("/timbers/0", json!(["black-walnut"])), "timbers[0]", "found a list");
    refused(&with("/pricing/margin", json!(0.15)), "pricing.margin", "write it in quotes");
    refused(&with("/pricing/margin", json!(null)), "pricing.margin", "found null");
    refused(&with("/slabs/0/saleable", json!("yes")), "slabs[0].saleable", "found the words “yes”");
    refused(
        &with("/operations/3/driver", json!("board-feet")),
        "operations[3].driver",
        "use one of: job, piece, part, board-foot",
    );
    refused(&with("/operations/3/driver", json!({ "joint": 4 })), "operations[3].driver.joint", "found the number 4");
    refused(&with("/shop/units", json!("cubits")), "shop.units", "use one of: inch, metric");
    refused(&with("/designs/0/parts/0/at", json!(["0 in", "0 in"])), "designs[0].parts[0].at", "expected a list of 3");
}

#[test]
fn values_out_of_bounds() {
    refused(&with("/pricing/margin", json!("0.95")), "pricing.margin", "from 0 to 0.9");
    refused(&with("/pricing/material_markup", json!("-0.1")), "pricing.material_markup", "-0.1 is out of bounds");
    refused(
        &with("/timbers/0/rates/8~14", json!("12,90")),
        "timbers[0].rates.8/4",
        "“12,90” is not an amount of money",
    );
    refused(&with("/timbers/0/rates/8~14", json!("1e9")), "timbers[0].rates.8/4", "write digits");
    refused(&with("/timbers/0/rates/8~14", json!("99999999999")), "timbers[0].rates.8/4", "out of bounds");
    refused(&with("/timbers/0/rates/9~14", json!("12")), "timbers[0].rates", "“9/4” is not a thickness class");
    refused(&with("/timbers/0/yields/low", json!("0")), "timbers[0].yields.low", "write a yield from 0.05 to 1");
    refused(&with("/timbers/0/widest", json!("8")), "timbers[0].widest", "“8” has no unit; write 8 in or 8 mm");
    refused(&with("/timbers/0/widest", json!("8 furlongs")), "timbers[0].widest", "“furlongs” is not a unit of length");
    refused(&with("/timbers/0/key", json!("Black Walnut")), "timbers[0].key", "small letters, digits and hyphens");
    refused(&with("/timbers/0/swatch", json!("brown")), "timbers[0].swatch", "“brown” is not a colour");
    refused(&with("/timbers/0/name", json!("")), "timbers[0].name", "nothing is written here");
    refused(&with("/timbers/0/name", json!("Wal\u{7}nut")), "timbers[0].name", "control character");
    refused(&with("/timbers/0/name", json!("x".repeat(2001))), "timbers[0].name", "over 2000 characters");
    refused(&with("/edition", json!("25.11.2026")), "edition", "is not a day");
    refused(&with("/edition", json!("2026-02-29")), "edition", "is not a day");
    assert!(ShopBook::read(&with("/edition", json!("2028-02-29")).to_string()).is_ok());
    refused(&with("/edition", json!("2026-04-31")), "edition", "is not a day");
    refused(&with("/shop/stands_days", json!(-3)), "shop.stands_days", "write a count from 0 to 100000");
    refused(&with("/operations/4/repeat", json!("0.5")), "operations[4].repeat", "write a repeat rate from 0.7 to 1");
    refused(&with("/designs/0/parts/0/lies", json!("xxz")), "designs[0].parts[0].lies", "write x, y and z once each");
    refused(
        &with("/designs/0/parts/0/finished", json!({ "faces": 3, "edges": 2, "ends": 2 })),
        "designs[0].parts[0].finished.faces",
        "expected 0, 1 or 2",
    );
    refused(
        &with("/designs/0/parts/0/length", json!({ "of": { "length": "half" } })),
        "designs[0].parts[0].length.of.length",
        "is not a fraction",
    );
}

#[test]
fn tables_that_don_t_fit_together() {
    refused(&with("/shop/currency", json!("DOLLARS")), "shop.currency", "write its ISO 4217 code");
    refused(&with("/shop/contact", json!("the workshop")), "shop.contact", "write one, as bench@shop.example");
    for address in ["http://shop.example/requests", "//shop.example", "requests"] {
        refused(&with("/shop/receiver", json!(address)), "shop.receiver", "https://shop.example/requests");
    }
    refused(&with("/shop/deposits/0/share", json!("0.5")), "shop.deposits", "the shares add up to 1.1");
    refused(&with("/timbers/1/key", json!("black-walnut")), "timbers[1].key", "already names a timber");
    refused(&with("/slabs/0/key", json!("black-walnut")), "slabs[0].key", "already names a timber");
    refused(&with("/timbers/0/yields/likely", json!("0.2")), "timbers[0].yields", "out of order");
    refused(&with("/operations/1/each/low", json!("50")), "operations[1].each", "out of order");
    refused(&with("/timbers/0/rates", json!({})), "timbers[0].rates", "no thickness has a rate");
    refused(&with("/timbers", json!([])), "timbers", "the table is empty");
    refused(&with("/operations", json!([])), "operations", "labour is free");
    refused(&with("/slabs/0/widths", json!(["17 in"])), "slabs[0].widths", "three stations or more");
    refused(&with("/slabs/0/timber", json!("ebony")), "slabs[0].timber", "there is no timber “ebony”");
    refused(&with("/delivery/freight/0/breaks/0/from", json!(10)), "delivery.freight[0].breaks", "must start from 0");
    refused(&with("/delivery/freight/0/days_least", json!(90)), "delivery.freight[0].days_least", "swap them");
    refused(
        &with("/delivery/freight/0/over_length/1/from", json!("90 in")),
        "delivery.freight[0].over_length",
        "in order of length",
    );
    refused(&with("/currencies/0/currency", json!("XYZ")), "currencies[0].currency", "ISO 4217");
}

#[test]
fn what_the_checks_are_told_must_exist() {
    refused(
        &with("/designs/0/parts/0/carries/span", json!({ "of": { "girth": "1" } })),
        "designs[0].parts.top.carries.span",
        "no dimension “girth”",
    );
    refused(
        &with("/designs/0/parts/0/held/across", json!({ "of": { "girth": "1" } })),
        "designs[0].parts.top.held.across",
        "no dimension “girth”",
    );
    refused(
        &with("/designs/1/parts/0/carries/stiffened_by", json!(["lid"])),
        "designs[1].parts.seat.carries.stiffened_by",
        "no part “lid” to stiffen it",
    );
}

#[test]
fn designs_that_can_t_be_built() {
    refused(
        &with("/designs/0/dimensions/0/key", json!("breadth")),
        "designs[0].dimensions",
        "the dimension “length” is missing",
    );
    refused(
        &with("/designs/0/dimensions/0/default", json!("10 in")),
        "designs[0].dimensions[0]",
        "put the default between",
    );
    refused(
        &with("/designs/0/roles/0/materials", json!(["unobtainium"])),
        "designs[0].roles[0].materials[0]",
        "unobtainium",
    );
    refused(&with("/designs/0/roles/0/materials", json!([])), "designs[0].roles[0].materials", "name at least one");
    refused(&with("/designs/0/parts/0/role", json!("lid")), "designs[0].parts.top.role", "no role “lid”");
    refused(
        &with("/designs/0/parts/0/length", json!({ "of": { "girth": "1" } })),
        "designs[0].parts.top.length",
        "no dimension “girth”",
    );
    refused(
        &with("/designs/0/parts/2/joints/0/kind", json!("dovetail")),
        "designs[0].parts.post.joints",
        "it would cost nothing",
    );
    refused(&with("/designs/0/hardware/0/item", json!("hinge")), "designs[0].hardware", "no hardware “hinge”");
    refused(&with("/designs/4/work/0/work", json!("carving")), "designs[4].work", "it would cost nothing");
    refused(
        &with("/designs/0/options/0/choices/1/remove", json!(["lid"])),
        "designs[0].options[0].choices[1].remove",
        "no part “lid”",
    );
    refused(
        &with("/designs/5/parts/0/thickness", json!("1 in")),
        "designs[5].parts.side",
        "1 in thick and a sheet of Birch plywood 3/4 in",
    );
    // At the shortest table the stretcher would have no length; the proof names the size that breaks.
    refused(
        &with("/designs/0/parts/4/length", json!({ "of": { "length": "1" }, "plus": "-60 in" })),
        "designs[0].parts.stretcher",
        "at height 28 in, length 60 in, width 32 in, its length comes to 0 in",
    );
    refused(
        &with("/designs/0/parts/0/width", json!({ "of": { "width": "1" }, "plus": "2 in" })),
        "designs[0].parts.top",
        "it reaches from 0 in to 34 in in a piece of width 32 in",
    );
    refused(
        &with("/designs/0/dimensions/0/most", json!("200 in")),
        "designs[0].parts.top",
        "no material offered will do: Top needs a Black walnut board of 201 in",
    );
    refused(
        &with(
            "/designs/2/parts/1/copies",
            json!({ "spread": { "along": "x", "to": { "of": { "length": "1" }, "plus": "-4 in" }, "every": "1/16 in" } }),
        ),
        "designs[2].parts.bracket",
        "there would be over 200 of it",
    );
}

#[test]
fn sizes_and_gravities_that_can_t_be() {
    for path in ["allowances.length", "allowances.width", "allowances.slab_skim"] {
        let pointer = format!("/{}", path.replace('.', "/"));
        refused(&with(&pointer, json!("-1/16 in")), path, "-1/16 in is below zero; write 0 in or more");
    }
    for key in ["padding", "wall", "skid"] {
        let pointer = format!("/delivery/crating/size/{key}");
        refused(&with(&pointer, json!("-1 in")), &format!("delivery.crating.size.{key}"), "is below zero");
    }
    for key in ["bow", "cup", "twist"] {
        refused(&with(&format!("/slabs/1/{key}"), json!("-1/8 in")), &format!("slabs[1].{key}"), "is below zero");
    }
    refused(&with("/slabs/1/thickness", json!("0 in")), "slabs[1]", "not above zero; measure it again");
    refused(&with("/resins/0/deepest_pour", json!("0 in")), "resins[0].deepest_pour", "write one above zero");
    let ply = json!({ "key": "ply", "name": "Plywood", "length": "96 in", "width": "0 in", "thickness": "3/4 in", "price": "90",
        "kerf": "-1/8 in", "trim": "0 in", "grain": true, "stiffness": "1.2", "weight": "2.3", "work_factor": "1",
        "swatch": "#d8c39a", "character": "Plain." });
    refused(&with("/sheets/1", ply.clone()), "sheets[1].width", "0 in is no size");
    refused(&with("/sheets/1", ply), "sheets[1].kerf", "-1/8 in is below zero");
    refused(&with("/timbers/3/specific_gravity", json!("5.6")), "timbers[3].specific_gravity", "as 0.60, at most 1.5");
    refused(&with("/timbers/3/widest", json!("3/8 in")), "timbers[3].widest", "no more than its allowance; enlarge it");
    refused(&with("/shop/rounding_step", json!("0.125")), "shop.rounding_step", "write a multiple of it");
    let mut yen = with("/shop/currency", json!("JPY"));
    yen["shop"]["rounding_step"] = json!("0.50");
    refused(&yen, "shop.rounding_step", "0.50 is no whole number of 1, the smallest coin there is");
}

#[test]
fn work_that_would_be_free() {
    // Taken out of the demo one by one: flattening, casting, wiping, spraying.
    for (operation, path, words) in [
        (5, "slabs", "flattening would cost nothing"),
        (10, "resins", "casting would cost nothing"),
        (16, "finishes[0].method", "putting it on would cost nothing"),
        (17, "finishes[2].method", "“sprayed”"),
    ] {
        let mut book = demo_value();
        book["operations"].as_array_mut().unwrap().remove(operation);
        refused(&book, path, words);
    }
}

#[test]
fn packs_and_rows_that_can_t_be() {
    refused(
        &with("/designs/0/packs/0/height", json!({ "of": { "depth": "1" } })),
        "designs[0].packs[0].height",
        "no dimension “depth”; name one of its dimensions",
    );
    // The second pack is 26 in shorter than the table: 60 in short of it, the shortest table's would have no length.
    refused(&with("/designs/0/packs/0/holds", json!(["lid"])), "designs[0].packs[0].holds", "no part “lid”");
    refused(
        &with("/designs/0/packs/1/holds", json!(["top"])),
        "designs[0].packs[1].holds",
        "“top” is in a pack already",
    );
    refused(
        &with("/designs/0/packs/0/height", json!("1 in")),
        "designs[0].packs[0]",
        "Top of 1 1/4 in x 32 in x 60 in does not go into its pack",
    );
    let mut glued = demo_value();
    glued["designs"][0]["hardware"] = json!([]);
    glued["designs"][0]["parts"][4]["joints"][0]["apart"] = json!(false);
    refused(&glued, "designs[0].packs", "nothing of it comes apart");
    refused(
        &with("/designs/0/packs/1/length/plus", json!("-60 in")),
        "designs[0].packs[1]",
        "at height 28 in, length 60 in, width 32 in, its length comes to 0 in; change the pack or narrow the limits",
    );
    // A row of brackets whose last one stands beyond the end of the shelf.
    refused(
        &with(
            "/designs/2/parts/1/copies",
            json!({ "spread": { "along": "x", "to": { "of": { "length": "1" } }, "every": "16 in" } }),
        ),
        "designs[2].parts.bracket",
        "it reaches from 3 in to 18 3/4 in in a piece of length 18 in",
    );
    refused(
        &with("/designs/2/parts/1/copies", json!({ "spread": { "along": "x", "to": "2 in", "every": "16 in" } })),
        "designs[2].parts.bracket",
        "which is no row; change the part",
    );
    refused(
        &with("/designs/0/dimensions/1/step", json!("0 in")),
        "designs[0].dimensions[1].step",
        "write one above zero",
    );
    refused(
        &with("/designs/0/options/0/choices", json!([])),
        "designs[0].options[0].choices",
        "add one at least, or take the option out",
    );
    let six: Vec<Value> = ["a", "b", "c", "d"]
        .map(|key| json!({ "key": key, "label": key, "least": "1 in", "most": "2 in", "step": "1 in", "default": "1 in" }))
        .to_vec();
    let mut book = demo_value();
    book["designs"][0]["dimensions"].as_array_mut().unwrap().extend(six);
    refused(&book, "designs[0].dimensions", "at most 6 can be offered; take some out");
    refused(&with("/designs", json!([])), "designs", "add at least one");
    refused(&with("/designs/1/parts", json!([])), "designs[1].parts", "there is no part; add at least one");
    let one = &demo_value()["designs"][1]["parts"][0];
    let parts: Vec<Value> = (0..201)
        .map(|i| {
            let mut part = one.clone();
            part["key"] = json!(format!("seat-{i}"));
            part
        })
        .collect();
    refused(&with("/designs/1/parts", json!(parts)), "designs[1].parts", "there are 201 in one list, and at most 200");
    let many: Vec<Value> = (0..101).map(|_| json!("black-walnut")).collect();
    refused(&with("/designs/1/roles/0/materials", json!(many)), "designs[1].roles", "at most 100");
}

#[test]
fn tables_and_shares_that_can_t_be() {
    refused(&with("/delivery/freight/0/breaks", json!([])), "delivery.freight[0].breaks", "must start from 0");
    refused(&with("/delivery/freight/0/breaks/1/from", json!(0)), "delivery.freight[0].breaks", "put them in order");
    refused(&with("/delivery/freight/1/key", json!("east")), "delivery.freight[2].key", "give one of the two another");
    refused(&with("/shop/deposits", json!([])), "shop.deposits", "the shares add up to 0; make them add up to 1");
    refused(&with("/finishes", json!([])), "finishes", "add at least one");
    refused(&with("/timbers/0/yields/low", json!("1.2")), "timbers[0].yields.low", "write a yield from 0.05 to 1");
    refused(&with("/finishes/1/key", json!("hardwax-oil")), "finishes[1].key", "give one of the two another");
    refused(&with("/pricing/fee_share", json!("1.2")), "pricing.fee_share", "write a share of the price from 0 to 0.9");
    refused(&with("/hardware/0/price", json!("-1.35")), "hardware[0].price", "write an amount of money from 0");
    refused(
        &with("/pricing/shop_rate/yearly/billable_hours", json!("0")),
        "pricing.shop_rate.yearly.billable_hours",
        "write hours",
    );
    // Every factor at its limit at once makes a rate no book may hold: said once, not overflowed.
    let mut dear = with("/pricing/margin", json!("0.9"));
    dear["pricing"]["fee_share"] = json!("0.9");
    dear["pricing"]["material_markup"] = json!("10");
    dear["timbers"][0]["rates"]["4/4"] = json!("10000000");
    refused(&dear, "timbers", "more than a book may hold; check the cost, the margin and the fee");
}

#[test]
fn texts_that_are_no_brief() {
    let no = |text: &str, path: &str, words: &str| says(&[Brief::read(text).expect_err(words)], path, words);
    no("", "", "does not read as JSON");
    no("[]", "", "expected a brief, a table in curly brackets");
    no(&"{\"a\":".repeat(10_000), "", "does not read as JSON");
    no(&"9".repeat(5 * 1024 * 1024), "", "at most 4096 are read");
    no(DEMO, "", "this is not a brief");
    no(r#"{"scantling_brief": 3, "design": "wall-shelf"}"#, "scantling_brief", "use a newer program");
    no(r#"{"scantling_brief": "1", "design": "wall-shelf"}"#, "", "the number 1 is missing");
    no(r#"{"scantling_brief": 1}"#, "", "the key “design” is missing; add it");
    no(r#"{"scantling_brief": 1, "design": "Wall shelf"}"#, "design", "use 1 to 40 small letters");
    no(r#"{"scantling_brief": 1, "design": "<b>"}"#, "design", "is not a key");
    no(r#"{"scantling_brief": 1, "design": "wall-shelf", "design": "hall-bench"}"#, "", "“design” is written twice");
    no(r#"{"scantling_brief": 1, "design": "wall-shelf", "quantity": 2.5}"#, "quantity", "a number with decimals");
    no(r#"{"scantling_brief": 1, "design": "wall-shelf", "quantity": 99999999999999999999}"#, "quantity", "replace it");
    no(r#"{"scantling_brief": 1, "design": "wall-shelf", "dimensions": ["30 in"]}"#, "dimensions", "found a list");
    no(
        r#"{"scantling_brief": 1, "design": "wall-shelf", "destination": {"postal_code": "54601"}}"#,
        "destination",
        "“country” is missing",
    );
}

fn asked(change: impl FnOnce(&mut Value)) -> Result<(), Vec<(String, String)>> {
    let mut brief = json!({ "scantling_brief": 1, "design": "trestle-table" });
    change(&mut brief);
    let brief = Brief::read(&brief.to_string()).map_err(|error| vec![(error.path.clone(), error.to_string())])?;
    let told = |problem: &scantling_pricing::problem::Problem| (problem.field(), problem.to_string());
    estimate(&demo(), &brief).map(drop).map_err(|problems| problems.iter().map(told).collect())
}

fn problem(field: &str, words: &str, change: impl FnOnce(&mut Value)) {
    let problems = asked(change).expect_err(words);
    let found = problems.iter().find(|(path, text)| path == field && text.contains(words));
    let (_, text) = found.unwrap_or_else(|| panic!("nothing at {field} says “{words}”: {problems:?}"));
    assert!(REMEDIES.iter().any(|remedy| text.contains(remedy)), "no remedy in: {text}");
}

#[test]
fn briefs_that_can_t_be_filled() {
    assert_eq!(asked(|_| ()), Ok(()));
    problem("design", "did you mean “trestle-table”", |brief| brief["design"] = json!("trestel-table"));
    problem("dimensions.length", "is built from 60 in to 108 in; 59 in is outside", |brief| {
        brief["dimensions"] = json!({ "length": "59 in" });
    });
    problem("dimensions.length", "109 in is outside", |brief| brief["dimensions"] = json!({ "length": "109 in" }));
    problem("dimensions.girth", "no dimension “girth”", |brief| brief["dimensions"] = json!({ "girth": "9 in" }));
    problem("dimensions.length", "has no unit", |brief| brief["dimensions"] = json!({ "length": "84" }));
    problem("materials.top", "choose one of: black-walnut", |brief| {
        brief["materials"] = json!({ "top": "yellow-poplar" });
    });
    problem("materials.lid", "no role “lid”", |brief| brief["materials"] = json!({ "lid": "white-oak" }));
    problem("finish", "choose one of: hardwax-oil", |brief| brief["finish"] = json!("shellac"));
    problem("options.drawers", "no option “drawers”", |brief| brief["options"] = json!({ "drawers": "two" }));
    problem("options.ends", "choose one of: plain, breadboard", |brief| brief["options"] = json!({ "ends": "round" }));
    problem("quantity", "ask for 1 to 50", |brief| brief["quantity"] = json!(0));
    problem("quantity", "ask for 1 to 50", |brief| brief["quantity"] = json!(51));
    problem("quantity", "write a count from", |brief| brief["quantity"] = json!(-1));
    for zip in ["6060", "606011", "60601-12", "60601-", "6O601", "60601-12345"] {
        problem("destination.postal_code", "write it as 60601", |brief| {
            brief["destination"] = json!({ "country": "US", "postal_code": zip });
        });
    }
    problem("destination.country", "write two letters", |brief| {
        brief["destination"] = json!({ "country": "USA", "postal_code": "60601" });
    });
    problem("delivery", "van is not possible here: the maker does not offer it there", |brief| {
        brief["destination"] = json!({ "country": "US", "postal_code": "98101" });
        brief["delivery"] = json!("van");
    });
    problem("delivery", "use one of: collect, van, parcel, freight, white-glove, abroad", |brief| {
        brief["delivery"] = json!("mule");
    });
    problem("desing", "did you mean “design”", |brief| brief["desing"] = json!("x"));
}

#[test]
fn slabs_that_can_t_give_the_piece() {
    let console = |change: &dyn Fn(&mut Value)| {
        let mut value = demo_value();
        change(&mut value);
        let shop = sound(&value);
        let brief = Brief::read(
            r#"{"scantling_brief": 1, "design": "slab-console", "dimensions": {"length": "60 in", "width": "16 in"}}"#,
        )
        .unwrap();
        estimate(&crate::start::selling(&shop), &brief).map(drop).map_err(|problems| problems[0].to_string())
    };
    assert_eq!(console(&|_| ()), Ok(()));
    let sold = console(&|book| book["slabs"][0]["saleable"] = json!(false)).unwrap_err();
    assert!(sold.contains("is sold") && sold.contains("choose another"), "{sold}");
    let cut = console(&|book| book["slabs"][0]["cut"] = json!(["0.4"])).unwrap_err();
    assert!(cut.contains("too little of it is left"), "{cut}");
    let thin = console(&|book| book["slabs"][0]["bow"] = json!("1 1/2 in")).unwrap_err();
    assert!(thin.contains("once flat") && thin.contains("1 1/2 in is needed"), "{thin}");
    let narrow = console(&|book| book["slabs"][0]["widths"][1] = json!("15 in")).unwrap_err();
    assert!(narrow.contains("choose another slab"), "{narrow}");
}

#[test]
fn two_parts_of_one_slab_can_t_be_more_than_there_is_of_it() {
    // The slab is 78 in long. A second top of 40 in after one of 36: 41 in and 37 in with their inch, just the 78 there are.
    let two = |length: &str| {
        let mut value = demo_value();
        let design = &mut value["designs"][3];
        let mut second = design["parts"][0].clone();
        second["key"] = json!("second");
        (design["parts"][0]["length"], second["length"]) = (json!(length), json!("40 in"));
        (design["parts"][0]["width"], second["width"]) = (json!("12 in"), json!("12 in"));
        // On the floor, without the legs that would be in its way.
        second["at"] = json!(["0 in", "0 in", "0 in"]);
        design["parts"] = json!([design["parts"][0], second]);
        let brief = Brief::read(r#"{"scantling_brief": 1, "design": "slab-console"}"#).unwrap();
        let book = crate::start::selling(&sound(&value));
        estimate(&book, &brief).map_err(|problems| problems[0].to_string())
    };
    let both = two("36 in").unwrap();
    let slabs = both.lines.iter().filter(|line| line.kind == scantling_pricing::cost::LineKind::Slab);
    // 78 x 12 in at 2 1/4 in: 14.625 board feet, one line.
    assert_eq!(slabs.map(|line| line.quantity.unwrap().to_string()).collect::<Vec<_>>(), ["14.63"]);
    let more = two("36 1/4 in").unwrap_err();
    assert!(more.contains("too little of it is left; choose another"), "{more}");
}

#[test]
fn words_that_look_like_markup_stay_words() {
    let book = with("/timbers/0/name", json!("<img src=x onerror=alert(1)>"));
    let read = ShopBook::read(&book.to_string()).unwrap();
    assert_eq!(read.timbers[0].name.as_str(), "<img src=x onerror=alert(1)>");
    assert!(PriceBook::read("<html>").is_err());
}

#[test]
fn carriers_that_can_t_be_priced() {
    let rise = "the bands must rise, in weight and in price";
    refused(&with("/delivery/parcels/0/bands/1/to", json!(10)), "delivery.parcels[0].bands", rise);
    refused(&with("/delivery/parcels/0/bands/1/price", json!("1")), "delivery.parcels[0].bands", rise);
    refused(&with("/delivery/white_glove/1/bands", json!([])), "delivery.white_glove[1].bands", rise);
    refused(&with("/delivery/white_glove/0/days_least", json!(99)), "delivery.white_glove[0].days_least", "swap them");
    refused(&with("/delivery/parcels/0/divisor", json!(0)), "delivery.parcels[0].divisor", "divides by nothing");
    refused(&without("/delivery/cartons"), "delivery.cartons", "parcels go in cartons");
    refused(&with("/delivery/cartons/size/padding", json!("-1 in")), "delivery.cartons.size.padding", "below zero");
    refused(&with("/delivery/abroad/0/days_least", json!(99)), "delivery.abroad[0].days_least", "swap them");
    refused(&with("/delivery/freight/0/longest", json!("143 in")), "delivery.freight[0].longest", "raise it");
}
