//! Documents as large as are read, each the worst of its kind: shared by the test of what they allocate and the bench of how long they
//! take.

use serde_json::{Value, json};

/// Just under half of what is read: what it takes grows with what is read, no faster.
const ROOM: usize = 2 * 1024 * 1024 - 4096;

const DEMO: &str = include_str!("../../../../shared/books/demo-shop.json");

/// So many copies of a text, with commas, as fit.
fn filled(one: &str, room: usize) -> String {
    let count = room.div_euclid(one.len() + 1);
    vec![one; count].join(",")
}

/// The demo book with a table replaced by rows made one by one until the document is full.
fn with_rows(pointer: &str, row: impl Fn(usize) -> Value) -> String {
    let mut book: Value = serde_json::from_str(DEMO).unwrap();
    let one = row(1_000_000).to_string().len() + 1;
    let rest = book.to_string().len();
    let count = ROOM.saturating_sub(rest).div_euclid(one);
    *book.pointer_mut(pointer).unwrap() = (0..count).map(row).collect();
    book.to_string()
}

/// The demo book with two tables that refer to one another, each of them half the document.
fn with_two(tables: [&str; 2], rows: [&dyn Fn(usize) -> Value; 2]) -> String {
    let mut book: Value = serde_json::from_str(DEMO).unwrap();
    let half = ROOM.saturating_sub(book.to_string().len()).div_euclid(2);
    for (pointer, row) in tables.into_iter().zip(rows) {
        let count = half.div_euclid(row(1_000_000).to_string().len() + 1);
        *book.pointer_mut(pointer).unwrap() = (0..count).map(row).collect();
    }
    book.to_string()
}

/// Copies of a row of the demo book, each with a key of its own.
fn copies_of(pointer: &str) -> impl Fn(usize) -> Value {
    let book: Value = serde_json::from_str(DEMO).unwrap();
    let first = book.pointer(pointer).unwrap().clone();
    move |i| {
        let mut row = first.clone();
        row["key"] = json!(format!("k{i}"));
        row
    }
}

/// A design of six dimensions and so many small parts that none is in another's way.
fn crowded_design(i: usize) -> Value {
    let named = ["length", "width", "height", "a", "b", "c"];
    let dimension = |key: &str| json!({ "key": key, "label": key, "least": "20 in", "most": "40 in", "step": "1 in", "default": "20 in" });
    let part = |n: usize| {
        let (row, column) = (n.div_euclid(14), n.rem_euclid(14));
        json!({ "key": format!("p{n}"), "name": "p", "role": "r", "length": "1 in", "width": "1 in", "thickness": "1 in",
            "at": [format!("{column} in"), format!("{row} in"), "0 in"], "lies": "xyz" })
    };
    json!({ "key": format!("d{i}"), "name": "d", "summary": "d", "dimensions": named.map(dimension),
        "roles": [{ "key": "r", "label": "r", "materials": ["hard-maple"] }], "parts": (0..190).map(part).collect::<Vec<_>>() })
}

/// Every document with its name.
pub(crate) fn documents() -> Vec<(&'static str, String)> {
    let (timber, table) = (copies_of("/timbers/0"), copies_of("/delivery/freight/0"));
    let operation = |i: usize| {
        json!({ "name": format!("o{i}"), "stage": "s", "driver": { "joint": format!("j{i}") }, "by_timber": false,
            "each": { "low": "1", "likely": "1", "high": "1" }, "set_up": { "low": "1", "likely": "1", "high": "1" } })
    };
    let region = |i: usize| json!({ "key": format!("r{i}"), "name": "r", "countries": ["US"], "prefixes": [format!("{i}")], "collect": true });
    let to_table = |i: usize| {
        json!({ "key": format!("r{i}"), "name": "r", "countries": ["US"], "prefixes": [format!("{i}")], "collect": true,
            "freight": format!("k{i}") })
    };
    let key = |i: usize| json!(format!("k{i}"));
    let joint = |i: usize| json!({ "kind": format!("j{i}"), "count": 1 });
    vec![
        ("zeros", format!("[{}]", filled("0", ROOM))),
        ("empty lists", format!("[{}]", filled("[]", ROOM))),
        ("empty words", format!("[{}]", filled("\"\"", ROOM))),
        ("one key over and over", format!("{{{}}}", filled("\"a\":0", ROOM))),
        ("lists in lists", "[".repeat(ROOM)),
        ("one long word", format!("\"{}\"", "a".repeat(ROOM))),
        ("one long key", format!("{{\"scantling_book\": 1, \"{}\": 0}}", "a".repeat(ROOM))),
        ("one long number", "9".repeat(ROOM)),
        (
            "a long length",
            format!(
                "{{\"scantling_brief\":1,\"design\":\"d\",\"dimensions\":{{\"length\":\"{}\"}}}}",
                "1 ".repeat(ROOM.div_euclid(2) - 64)
            ),
        ),
        ("timbers", with_rows("/timbers", &timber)),
        ("regions", with_rows("/regions", region)),
        ("operations", with_rows("/operations", operation)),
        ("designs that are full", with_rows("/designs", crowded_design)),
        ("jobs", with_rows("/jobs", copies_of("/jobs/0"))),
        ("countries that are none", with_rows("/regions/0/countries", |_| json!("x"))),
        ("stations of a slab", with_rows("/slabs/0/widths", |_| json!("9 in"))),
        ("timbers and roles of them", with_two(["/timbers", "/designs/0/roles/0/materials"], [&timber, &key])),
        ("operations and joints", with_two(["/operations", "/designs/0/parts/2/joints"], [&operation, &joint])),
        ("freight tables and regions", with_two(["/delivery/freight", "/regions"], [&table, &to_table])),
        ("parts to take out", with_rows("/designs/0/options/0/choices/1/remove", |_| json!("x"))),
        ("parts that stiffen", with_rows("/designs/1/parts/0/carries/stiffened_by", |_| json!("x"))),
    ]
}
