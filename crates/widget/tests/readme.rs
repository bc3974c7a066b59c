//! The README's tables of the element are what the element has: nothing left out, nothing that is gone.
#![cfg(not(target_arch = "wasm32"))]
#![expect(clippy::unwrap_used, clippy::string_slice, reason = "a test stops where a file is missing")]

use std::collections::BTreeSet;
use std::path::Path;

type Names = BTreeSet<String>;

fn read(path: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(path)).unwrap()
}

/// All the code of the widget.
fn sources(folder: &Path, all: &mut String) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, all);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            all.push_str(&std::fs::read_to_string(&path).unwrap());
        }
    }
}

fn code() -> String {
    let mut all = String::new();
    sources(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut all);
    all
}

/// Everything between these two, wherever they stand on one line.
fn between(text: &str, open: &str, close: &str) -> Names {
    text.lines()
        .flat_map(|line| line.split(open).skip(1).filter_map(|rest| Some(rest.split_once(close)?.0.to_owned())))
        .collect()
}

/// The first column of the README's table whose head starts with this word; a name stands in backticks.
fn table(word: &str) -> Names {
    let readme = read("../../README.md");
    let head = format!("| {word}");
    let rows = readme.lines().skip_while(|line| !line.starts_with(&head)).skip(2);
    let rows = rows.take_while(|line| line.starts_with('|'));
    rows.filter_map(|row| row.split('`').nth(1).map(str::to_owned)).collect()
}

#[test]
fn the_tables_are_there_to_be_compared() {
    for word in ["attribute", "event", "slot", "part", "custom property"] {
        assert!(!table(word).is_empty(), "there is no table of each {word}");
    }
}

#[test]
fn each_attribute_stands_in_the_readme_with_its_property() {
    let script = read("element/scantling-quote.js");
    let observed = between(&script, "observedAttributes = [", "]");
    let observed: Names =
        observed.first().unwrap().split(',').map(|name| name.trim().trim_matches('"').into()).collect();
    assert_eq!(table("attribute"), observed);
    let readme = read("../../README.md");
    for attribute in observed {
        let mut words = attribute.split('-');
        let mut property = words.next().unwrap_or_default().to_owned();
        for word in words {
            property.push_str(&word[..1].to_uppercase());
            property.push_str(&word[1..]);
        }
        let row = format!("| `{attribute}` | `{property}` |");
        assert!(readme.contains(&row), "no row starts with {row}");
    }
}

#[test]
fn each_event_stands_in_the_readme() {
    let script = read("element/scantling-quote.js");
    let code = code();
    let mut told = between(&script, "new CustomEvent(\"", "\"");
    told.extend(between(&code, "\"scantling-", "\"").into_iter().map(|name| format!("scantling-{name}")));
    // Ids and keys, which are no events: they have holes.
    told.retain(|name| !name.contains('{'));
    assert_eq!(table("event"), told);
}

#[test]
fn each_slot_and_part_stands_in_the_readme() {
    let code = code();
    let mut parts = between(&code, "part=\"", "\"");
    parts.extend(between(&code, "\"part\", \"", "\""));
    assert_eq!(table("part"), parts);
    assert_eq!(table("slot"), between(&code, "const NOTES: &str = \"", "\""));
}

#[test]
fn each_custom_property_stands_in_the_readme() {
    let style = read("element/scantling-quote.css");
    let used: Names =
        between(&style, "var(--scantling-", ",").into_iter().map(|name| format!("--scantling-{name}")).collect();
    assert!(used.contains("--scantling-ink"), "{used:?}");
    assert_eq!(table("custom property"), used);
}
