//! A design as it is edited: drawn, priced and proved from the rows it names alone.
#![expect(clippy::unwrap_used, reason = "a test stops where its own set-up fails; helpers are not marked as tests")]

use scantling_drawing::View;
use scantling_pricing::book::check::DesignProof;
use scantling_pricing::book::document::Node;
use scantling_pricing::book::{Key, ShopBook};
use scantling_pricing::brief::Brief;
use scantling_pricing::estimate::estimate;
use scantling_pricing::profit::Rates;
use scantling_shop::basket;
use scantling_shop::draft::{Draft, Shown, broken_in_words};
use serde_json::{Value, json};

const DEMO: &str = include_str!("../../../shared/books/demo-shop.json");

fn demo() -> Value {
    serde_json::from_str(DEMO).unwrap()
}

fn root(book: &Value) -> Node {
    Node::read(&book.to_string()).unwrap()
}

fn typed(sizes: &[(&str, &str)]) -> Vec<(String, String)> {
    sizes.iter().map(|(key, size)| ((*key).to_owned(), (*size).to_owned())).collect()
}

#[test]
fn a_draft_comes_to_what_the_whole_book_says() {
    let book = ShopBook::read(DEMO).unwrap();
    let selling = Rates::new(&book).unwrap().selling;
    for (index, design) in book.designs.iter().enumerate() {
        let draft = Draft::of(&root(&demo()), index, scantling_pricing::learning::from_jobs(&book.jobs)).unwrap();
        for corner in [typed(&[]), typed(&[("length", &design.dimension("length").unwrap().most.to_string())])] {
            let (brief, wrong) = draft.brief(&corner, &[]);
            assert_eq!(wrong, []);
            let (ours, whole) = (draft.estimate(brief.as_ref().unwrap()), estimate(&selling, brief.as_ref().unwrap()));
            assert_eq!(ours.map(|ours| ours.works).ok(), whole.map(|whole| whole.works).ok(), "{}", design.key);
        }
    }
}

/// Whether a length in inches stands in a text: its unit is a word of its own, too.
fn has_inches(text: &str) -> bool {
    text.match_indices(" in")
        .any(|(at, _)| text.get(..at).is_some_and(|before| before.ends_with(|sign: char| sign.is_ascii_digit())))
}

#[test]
fn a_size_that_can_t_be_read_names_its_field_and_one_out_of_bounds_is_told_in_the_shop_s_unit() {
    let mut metric = demo();
    metric["shop"]["units"] = json!("metric");
    let draft = Draft::of(&root(&metric), 0, None).unwrap();
    let (_, wrong) = draft.brief(&typed(&[("length", "long"), ("width", "900")]), &[]);
    assert_eq!(wrong.iter().map(|(key, _)| key.as_str()).collect::<Vec<_>>(), ["length"]);
    // A bare number is in millimetres here: 9 m is too long, and is told so in millimetres.
    let (brief, _) = draft.brief(&typed(&[("length", "9000")]), &[]);
    let why = draft.resolved(&brief.unwrap()).unwrap_err();
    assert!(why.contains("9000 mm") && why.contains("2743.2 mm") && !has_inches(&why), "{why}");
}

#[test]
fn the_basket_of_a_metric_shop_tells_its_faults_in_millimetres() {
    let mut metric = demo();
    metric["shop"]["units"] = json!("metric");
    let book = ShopBook::read(&metric.to_string()).unwrap();
    let mut piece = basket::watched(&book).remove(0);
    piece.brief.dimensions.insert(Key::new("length").unwrap(), scantling_pricing::measure::Length::inches(200));
    let priced = basket::price(&book, &[piece], &[]).unwrap();
    let why = priced.pieces[0].1.as_ref().unwrap_err();
    assert!(why.contains("5080 mm") && !has_inches(why), "{why}");
}

#[test]
fn every_design_is_drawn_in_every_view_and_a_marked_part_stands_out() {
    for index in 0..demo()["designs"].as_array().unwrap().len() {
        let draft = Draft::of(&root(&demo()), index, None).unwrap();
        let brief = Brief::new(draft.design().unwrap().key.clone());
        for shown in [Shown::Measured, Shown::One(View::Solid), Shown::One(View::Front)] {
            let drawn = draft.drawing(&brief, shown, 600).unwrap().svg;
            assert!(drawn.starts_with("<svg") && drawn.contains("class=\"part\""), "{index}");
            assert!(!drawn.contains("#c8321e"));
        }
        let part = draft.design().unwrap().parts[0].key.clone();
        let marked = draft.marked(&[&part]).drawing(&brief, Shown::One(View::Front), 600).unwrap().svg;
        assert!(marked.contains("#c8321e"), "{index}");
    }
}

#[test]
fn a_proof_says_how_far_it_is_and_comes_to_its_last_step() {
    let draft = Draft::of(&root(&demo()), 0, None).unwrap();
    let mut proof = DesignProof::default();
    let mut told = Vec::new();
    while let Some(far) = draft.prove(&mut proof) {
        told.push(far);
    }
    // What is written, the packs, and each of its parts twice; the last step has none after it.
    let steps = 2 * draft.design().unwrap().all_parts().count() + 2;
    assert_eq!(told, (1..steps).map(|done| (done, steps)).collect::<Vec<_>>());
    assert!(proof.holds());
}

#[test]
fn what_breaks_is_told_with_its_part_and_size_and_drawn_there() {
    let mut book = demo();
    // A bearer 36 in shorter than the table is wide, which is 32 in at least.
    book["designs"][0]["parts"][1]["length"]["plus"] = json!("-36 in");
    let draft = Draft::of(&root(&book), 0, None).unwrap();
    let mut proof = DesignProof::default();
    while draft.prove(&mut proof).is_some() {}
    let broken = proof.broken.first().unwrap();
    let words = broken_in_words(draft.design().unwrap(), broken, draft.unit());
    assert_eq!(words, "Bearer: its length comes to -4 in. That is at Length 60 in, Width 32 in, Height 28 in.");
    let brief = draft.where_it_breaks(broken).unwrap();
    assert_eq!(brief.dimensions, broken.sizes.clone().unwrap());
    assert!(draft.drawing(&brief, Shown::Measured, 600).is_ok());
}

#[test]
fn a_fault_elsewhere_in_the_book_is_told_where_it_is_and_the_rows_of_others_don_t_matter() {
    let mut book = demo();
    book["pricing"]["margin"] = json!("much");
    let (place, why) = Draft::of(&root(&book), 0, None).unwrap_err();
    assert_eq!(place.to_string(), "pricing.margin");
    assert!(why.contains("much"), "{why}");
    let mut book = demo();
    book["slabs"][0]["price"] = json!("dear");
    book["jobs"] = json!("none kept");
    book["jobs"] = json!([]);
    assert!(Draft::of(&root(&book), 0, None).is_ok(), "the table is of no slab");
}

/// Whatever is typed into a measure, a drawing comes or a reason why there is none; nothing stops the page.
#[test]
fn no_measure_stops_the_drawing_or_the_proof() {
    let odd = [
        json!("0 in"),
        json!("-40 in"),
        json!("3000 in"),
        json!({"of": {"length": "-1000"}}),
        json!({"of": {"height": "1000"}, "plus": "1 in"}),
    ];
    for index in 0..demo()["designs"].as_array().unwrap().len() {
        for part in 0..demo()["designs"][index]["parts"].as_array().unwrap().len() {
            for (place, value) in
                ["length", "width", "thickness"].iter().flat_map(|place| odd.iter().map(move |value| (*place, value)))
            {
                let mut book = demo();
                book["designs"][index]["parts"][part][place] = value.clone();
                let Ok(draft) = Draft::of(&root(&book), index, None) else { continue };
                let mut proof = DesignProof::default();
                while draft.prove(&mut proof).is_some() {}
                let brief = Brief::new(draft.design().unwrap().key.clone());
                for shown in [Shown::Measured, Shown::One(View::Solid), Shown::One(View::Side)] {
                    drop(draft.drawing(&brief, shown, 300));
                }
                drop(draft.estimate(&brief));
            }
        }
    }
}
