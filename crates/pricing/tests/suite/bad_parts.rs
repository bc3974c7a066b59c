//! Designs whose parts can't be built together, or would pass their checks unseen: refused, each with its path and remedy.

use scantling_pricing::book::check::DesignProof;
use scantling_pricing::book::document::Node;
use scantling_pricing::book::{Key, ShopBook};
use scantling_pricing::publish::draft;
use serde_json::json;

use crate::bad_input::{refused, with};
use crate::start::{demo_value, sound};

#[test]
fn what_would_pass_its_checks_unseen() {
    refused(
        &with("/designs/1/parts/0/carries/span", json!({ "of": { "length": "1" }, "plus": "-30 in" })),
        "designs[1].parts.seat",
        "the span it carries over comes to 0 in",
    );
    refused(
        &with("/designs/0/parts/0/held/across", json!("-1 in")),
        "designs[0].parts.top",
        "it is held -1 in across its grain",
    );
    let upside_down = json!({ "humidity": { "least": "60", "most": "30", "celsius": 20 } });
    refused(&with("/regions/0/indoors", upside_down), "regions[0].indoors.humidity", "the other way round");
}

#[test]
fn parts_that_fill_the_same_place() {
    // The stretcher of the table goes right through posts of 1 3/4 in: with a shallower joint, or none, that is a fault.
    for (depth, allowed) in [("1 1/2 in", "1 1/2 in"), ("0 in", "1 in")] {
        let why = format!("at some size it runs 1 3/4 in into “Stretcher”, and their joints allow {allowed}; move one");
        refused(&with("/designs/0/parts/4/joints/0/depth", json!(depth)), "designs[0].parts.post", &why);
    }
    // A bookcase's shelves every 14 in at most: at half that they would stand 7 in apart, so a part of 8 in is too thick a row.
    let mut thick = demo_value();
    for part in ["1", "4"] {
        *thick.pointer_mut(&format!("/designs/5/parts/{part}/copies/spread/every")).unwrap() = json!("1 in");
    }
    refused(&thick, "designs[5].parts.shelf", "its row leaves 1/2 in from one to the next, and each takes 3/4 in");
    // A plinth that stands where the lowest shelf front is; mirrored legs that cross in the middle at the narrowest table.
    let in_front = with("/designs/5/parts/5/at", json!(["3/4 in", "0 in", "1/2 in"]));
    refused(&in_front, "designs[5].parts.shelf-front", "runs 1/2 in into “Plinth”, and their joints allow 0 in");
    let mut crossed = demo_value();
    let leg = &mut crossed["designs"][3]["parts"][1];
    assert_eq!(leg["copies"], "mirror-xy");
    leg["at"][1] = json!({ "of": { "width": "1/2" }, "plus": "-1 in" });
    refused(&crossed, "designs[3].parts.leg", "into “Leg”");
}

#[test]
fn parts_of_rival_choices_may_fill_the_same_place() {
    // The table's second top comes with the choice that takes the first out: both lie in one place, and that is no fault.
    let book = demo_value();
    let choice = &book["designs"][0]["options"][0]["choices"][1];
    assert_eq!(choice["remove"], json!(["top"]));
    let mut rivals = book.clone();
    let mut third = choice.clone();
    third["key"] = json!("third");
    rivals["designs"][0]["options"][0]["choices"].as_array_mut().unwrap().push(third);
    sound(&rivals);
    // Left in, the first top is in the way.
    refused(&with("/designs/0/options/0/choices/1/remove", json!([])), "designs[0].parts.top", "into “");
}

/// A design of a book proved a step at a time.
fn stepwise(book: &serde_json::Value, index: usize) -> DesignProof {
    let shop: ShopBook = Node::read(&book.to_string()).unwrap().read_as().unwrap();
    let draft = draft(&shop).unwrap();
    let mut proof = DesignProof::default();
    while proof.step(&draft, &draft.designs[index]) {}
    proof
}

#[test]
fn a_design_is_proved_a_step_at_a_time_as_it_is_at_once() {
    let book = demo_value();
    for index in 0..book["designs"].as_array().unwrap().len() {
        let proof = stepwise(&book, index);
        assert!(proof.holds(), "{index}: {proof:?}");
        assert!(proof.corners() >= 8, "length, width and height");
    }
    // Nothing is proved of what is written wrong: it is said where.
    let proof = stepwise(&with("/designs/0/parts/0/role", json!("no-such-role")), 0);
    assert_eq!(proof.written.first().unwrap().path, "designs[0].parts.top.role");
    assert!(!proof.holds() && proof.is_done() && proof.broken.is_empty());
    // The load is carried over no span at the shortest bench: the size is named, and no other part is.
    let over_nothing = with("/designs/1/parts/0/carries/span", json!({ "of": { "length": "1" }, "plus": "-30 in" }));
    let proof = stepwise(&over_nothing, 1);
    let [broken] = proof.broken.as_slice() else { panic!("{proof:?}") };
    assert_eq!(broken.part.as_ref().map(Key::as_str), Some("seat"));
    let least = over_nothing["designs"][1]["dimensions"].as_array().unwrap();
    let least = least.iter().find(|dimension| dimension["key"] == "length").unwrap()["least"].as_str().unwrap();
    assert_eq!(broken.sizes.as_ref().unwrap().get(&Key::new("length").unwrap()).unwrap().to_string(), least);
    assert_eq!(broken.why, "the span it carries over comes to 0 in");
}

#[test]
fn parts_that_meet_are_shown_at_a_size_at_which_they_do() {
    // The stretcher goes through posts of 1 3/4 in at every size; the size that is named is one that may be chosen.
    let proof = stepwise(&with("/designs/0/parts/4/joints/0/depth", json!("0 in")), 0);
    let broken = proof.broken.iter().find(|broken| broken.other.is_some()).unwrap();
    assert_eq!(broken.part.as_ref().map(Key::as_str), Some("post"));
    assert_eq!(broken.other.as_ref().map(Key::as_str), Some("stretcher"));
    assert!(broken.sizes.is_some());
    // Legs that cross the middle of the table only where it is narrow.
    let mut crossed = demo_value();
    let leg = &mut crossed["designs"][3]["parts"][1];
    leg["at"][1] = json!({ "of": { "width": "1/2" }, "plus": "-1 in" });
    let proof = stepwise(&crossed, 3);
    let broken = proof.broken.iter().find(|broken| broken.other.is_some()).unwrap();
    assert_eq!((broken.part.as_ref(), broken.sizes.is_some()), (broken.other.as_ref(), true));
}

#[test]
fn a_metric_shop_is_told_in_millimetres() {
    let mut book = with("/designs/1/parts/0/carries/span", json!({ "of": { "length": "1" }, "plus": "-30 in" }));
    book["shop"]["units"] = json!("metric");
    let why = stepwise(&book, 1).broken.first().unwrap().why.clone();
    assert_eq!(why, "the span it carries over comes to 0 mm");
}
