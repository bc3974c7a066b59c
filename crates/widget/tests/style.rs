//! What the style sheets hold to, whatever they come to look like.
#![cfg(not(target_arch = "wasm32"))]
#![expect(clippy::unwrap_used, clippy::string_slice, reason = "a test stops where a file is missing")]

use std::path::Path;

/// The style sheets of everything that a person opens in a browser.
const SHEETS: [&str; 6] = [
    "element/scantling-quote.css",
    "../shop/page/shop.css",
    "../xtask/release/start.css",
    "../../public/site.css",
    "../../public/embedding.css",
    "../../docs/papers/papers.css",
];

/// What a reader who wants no motion is asked by: rules inside are for the others.
const GUARD: &str = "prefers-reduced-motion: no-preference";

fn read(path: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(path)).unwrap()
}

/// A style sheet without its comments.
fn without_comments(style: &str) -> String {
    let mut pieces = style.split("/*");
    let first = pieces.next().unwrap_or_default().to_owned();
    pieces.filter_map(|piece| piece.split_once("*/")).fold(first, |all, (_, rest)| all + rest)
}

/// Whatever would move something on the screen and is not kept from those who want no motion: what is declared, outside of the guard.
fn moving(style: &str) -> Vec<String> {
    let style = without_comments(style);
    let (mut around, mut found, mut said): (Vec<String>, Vec<String>, String) = Default::default();
    for letter in style.chars() {
        match letter {
            '{' => around.push(std::mem::take(&mut said)),
            '}' | ';' => {
                let declared = std::mem::take(&mut said);
                if moves(declared.trim()) && !around.iter().any(|rule| rule.contains(GUARD)) {
                    found.push(declared.trim().to_owned());
                }
                if letter == '}' {
                    around.pop();
                }
            }
            letter => said.push(letter),
        }
    }
    assert!(around.is_empty(), "braces are left open: {around:?}");
    found
}

/// Whether a declaration makes something move. Source: CSS Transitions, CSS Animations (with those that scrolling drives), CSS View
/// Transitions, CSSOM View (`scroll-behavior`).
fn moves(declared: &str) -> bool {
    let Some((property, value)) = declared.split_once(':') else { return declared.starts_with("@view-transition") };
    let property = property.trim().trim_start_matches("-webkit-");
    let stands = matches!(value.trim(), "none" | "auto" | "0s");
    let kinds = ["transition", "animation", "view-transition", "offset-path"];
    !stands && kinds.iter().any(|kind| property.starts_with(kind))
        || property == "scroll-behavior" && value.contains("smooth")
}

/// Source: WCAG 2.2, 2.3.3: motion that an interaction sets off can be left out; who wants none says so by the system.
#[test]
fn nothing_moves_for_those_who_want_no_motion() {
    for sheet in SHEETS {
        assert_eq!(moving(&read(sheet)), Vec::<String>::new(), "{sheet}");
    }
}

#[test]
fn what_moves_is_found_and_what_is_guarded_is_let_be() {
    let bad = "a { color: red; transition: color 1s } @media print { b { animation-name: x; } } \
               /* c { transition: all 1s } */ html { scroll-behavior: smooth; } d:hover { -webkit-animation: y 2s }";
    let found = ["transition: color 1s", "animation-name: x", "scroll-behavior: smooth", "-webkit-animation: y 2s"];
    assert_eq!(moving(bad), found);
    let good = "a { transition: none; scroll-behavior: auto } \
                @media screen and (prefers-reduced-motion: no-preference) { b { transition: color 1s; } c { animation: x 1s } }";
    assert_eq!(moving(good), Vec::<String>::new());
}

/// No script makes a page glide either.
#[test]
fn no_script_scrolls_smoothly() {
    for script in [
        "element/scantling-quote.js",
        "element/scantling_later.js",
        "../../public/site.js",
        "../../public/embedding.js",
    ] {
        let script = read(script);
        assert!(!script.contains("smooth") && !script.contains(".animate("), "{script}");
    }
}

/// The size of a rem is the page's: a widget measured in them would grow and shrink with pages that were built on other ones.
#[test]
fn nothing_is_measured_by_the_page_s_text_size() {
    let style = read("element/scantling-quote.css");
    let by_the_page: Vec<&str> = style
        .lines()
        .filter(|line| line.match_indices("rem").any(|(at, _)| line[..at].ends_with(|c: char| c.is_ascii_digit())))
        // What a media query calls a rem is the reader's own size.
        .filter(|line| !line.trim_start().starts_with("@media"))
        .collect();
    assert_eq!(by_the_page, Vec::<&str>::new());
}
