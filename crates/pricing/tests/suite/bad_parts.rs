//! Designs whose parts can't be built together, or would pass their checks unseen: refused, each with its path and remedy.

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
