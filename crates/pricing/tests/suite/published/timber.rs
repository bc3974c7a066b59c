//! Board measure, thickness classes, yields and what timber is: `shared/reference/trade` and `wood`.

use rust_decimal::Decimal;
use scantling_pricing::design::resolve;
use scantling_pricing::measure::{STANDARD_CLASSES, ThicknessClass, board_feet, surface_measure};
use scantling_pricing::takeoff::take_off;
use serde_json::json;

use super::{close, decimal, fraction, net_and_bought, oak_part, rows, the_part};
use crate::start::{demo_shop, length, selling, sound};

#[test]
fn board_feet_and_surface_measure_of_the_published_examples() {
    let (mut rows_read, mut checked) = (0, 0);
    for row in rows(include_str!("../../../../../shared/reference/trade/board_measure.csv")) {
        let [id, method, thick, wide, long, unit, pieces, surface, feet, publication, ..] = row.as_slice() else {
            panic!("{row:?}")
        };
        let (thick, wide) = (length(&format!("{thick} in")), length(&format!("{wide} in")));
        let long = length(&format!("{long} {unit}"));
        let expected = fraction(feet);
        rows_read += 1;
        let actual = match method.as_str() {
            "exact" | "under_one_inch" => board_feet(thick, wide, long).value() * decimal(pieces),
            "surface_measure" => {
                let measured = surface_measure(wide, long);
                assert_eq!(measured.to_string(), *surface, "row {id}, {publication}");
                Decimal::from(measured) * thick.in_inches()
            }
            // King (1911) alternates a pair on the half foot, 8 and 9; an order-free rule can't. Ours takes the even one for
            // both, 16, and is right on the long average: named here as the one place we differ.
            "surface_measure_tie" => {
                assert_eq!(surface_measure(wide, long), 8, "row {id}");
                continue;
            }
            other => panic!("row {id}: {other}"),
        };
        close(actual, expected, "0.000001", &format!("row {id}, {publication}"));
        checked += 1;
    }
    assert_eq!((rows_read, checked), (31, 30), "every row but the tie");
    // The counter-example there: a forum rounds 7 3/4 in down to 7 and gets 9.3 bf; the rule gives 5 for 5.17, times 2 in.
    assert_eq!(surface_measure(length("7 3/4 in"), length("8 ft 3 in")), 5);
}

#[test]
fn thickness_classes_have_the_published_surfaced_thickness() {
    // Two technical reference pages agree (PUB), 10/4 from memory (MEM): shared/reference/trade/board_measure.md section 3.
    let published = [
        ("4/4", "0.8125"),
        ("5/4", "1.0625"),
        ("6/4", "1.3125"),
        ("7/4", "1.5"),
        ("8/4", "1.75"),
        ("10/4", "2.25"),
        ("12/4", "2.75"),
        ("14/4", "3.25"),
        ("16/4", "3.75"),
    ];
    assert_eq!(STANDARD_CLASSES.len(), published.len());
    for (class, inches) in published {
        assert_eq!(ThicknessClass::read(class).unwrap().surfaced().in_inches(), decimal(inches), "{class}");
    }
    assert!(ThicknessClass::read("9/4").is_err());
}

#[test]
fn gross_footage_of_a_part_with_its_allowances() {
    // shared/reference/trade/yield.md section 4 (DER): 3/4 x 4 x 30 in from 4/4, 3/8 and 1 in added: 0.941840 bf, 1.345486 at 70 %.
    let (net, bought) = net_and_bought(["30 in", "4 in", "3/4 in"], "0.70");
    close(net, decimal("0.941840"), "0.000001", "net");
    close(bought, decimal("1.345486"), "0.000001", "bought");
}

#[test]
fn a_finished_thickness_takes_the_class_that_still_covers_it() {
    // shared/reference/trade/board_measure.md section 3: 13/16 -> 4/4, 7/8 -> 5/4, 1 3/8 -> 7/4, 1 1/2 -> 7/4. The board feet tell the
    // class: a part 11 5/8 x 11 in becomes a blank 12 x 12 in, one board foot for every inch of nominal thickness.
    for (finished, nominal) in
        [("13/16 in", "1"), ("7/8 in", "1.25"), ("1 3/8 in", "1.75"), ("1 1/2 in", "1.75"), ("1 3/4 in", "2")]
    {
        let (net, _) = net_and_bought(["11 in", "11 5/8 in", finished], "1");
        assert_eq!(net, decimal(nominal), "{finished}");
    }
    // Over 1 3/4 in the book above sells nothing thick enough: two layers of 5/4, each 1 1/16 surfaced, cover 2 in.
    assert_eq!(net_and_bought(["11 in", "11 5/8 in", "2 in"], "1").0, decimal("2.5"));
}

#[test]
fn grade_yields_say_what_is_bought_for_what_is_used() {
    // Clear-face minimums of the grades (PUB): FAS 10/12, No. 1 Common 8/12, No. 2A 6/12, No. 3A 4/12; AHEC grade summary and a
    // reproduction of the NHLA chart, shared/reference/trade/yield.md section 1. One board foot of blank:
    for (grade, yielded, bought) in [
        ("FAS", "0.8333333333", "1.2"),
        ("No. 1 Common", "0.6666666667", "1.5"),
        ("No. 2A", "0.5", "2"),
        ("No. 3A", "0.3333333333", "3"),
    ] {
        let (net, needed) = net_and_bought(["11 in", "11 5/8 in", "3/4 in"], yielded);
        assert_eq!(net, Decimal::ONE);
        close(needed, decimal(bought), "0.00001", grade);
    }
}

#[test]
fn what_is_added_to_a_cutting_list_is_what_is_wasted_of_the_purchase() {
    // shared/reference/trade/yield.md section 3: +50 % ordered is 33.33 % wasted (PUB, the article states both); +25, +100 and
    // +15 % by the same conversion (DER). A shop that adds writes the yield 1 / (1 + added): here what it then buys and wastes.
    for (added, yielded, wasted) in [
        ("0.50", "0.6666666667", "0.3333"),
        ("0.25", "0.8", "0.20"),
        ("1.00", "0.5", "0.50"),
        ("0.15", "0.8695652174", "0.1304"),
    ] {
        let (net, bought) = net_and_bought(["11 in", "11 5/8 in", "3/4 in"], yielded);
        close(bought / net - Decimal::ONE, decimal(added), "0.00001", "added");
        close(Decimal::ONE - net / bought, decimal(wasted), "0.00005", "wasted");
    }
}

#[test]
fn cutting_units_of_the_worked_board() {
    // shared/reference/trade/yield.md section 1 (DER): a board 8 in x 12 ft has surface measure 8 and 96 cutting units; FAS asks for 80
    // of them clear, No. 1 Common 64, No. 2A 48. Parts that take just those are bought as the whole board of 8 bf.
    assert_eq!(surface_measure(length("8 in"), length("12 ft")), 8);
    for (units, grade_yield) in [("80", "0.8333333333"), ("64", "0.6666666667"), ("48", "0.5")] {
        // A unit is 1 in x 1 ft: a blank 12 in wide and as many inches long as there are units, by 12.
        let long = format!("{} in", decimal(units) - Decimal::ONE);
        let (net, bought) = net_and_bought([&long, "11 5/8 in", "3/4 in"], grade_yield);
        close(net, decimal(units) / Decimal::from(12), "0.000000000001", units);
        close(bought, Decimal::from(8), "0.0001", units);
    }
}

#[test]
fn timbers_of_the_demo_have_their_published_properties() {
    // FPL-GTR-190 (2010), tables 4-3, 5-3 and 13-5, and FIA green gravities: shared/reference/wood/species.csv with its provenance.
    let species = rows(include_str!("../../../../../shared/reference/wood/species.csv"));
    for timber in demo_shop().timbers {
        let row = species.iter().find(|row| row[1] == timber.botanical.as_str()).unwrap();
        let properties = &timber.properties;
        let held = [
            timber.specific_gravity.value(),
            properties.radial_shrinkage.value(),
            properties.tangential_shrinkage.value(),
            properties.stiffness.value(),
            properties.radial_movement.value(),
            properties.tangential_movement.value(),
        ];
        assert_eq!(held, [2, 4, 5, 7, 10, 11].map(|column| decimal(&row[column])), "{}", timber.name);
    }
}

#[test]
fn what_is_bought_follows_the_tally_of_its_seller() {
    // shared/reference/trade/board_measure.md section 2: surface measure is whole square feet, times the thickness (AHEC, NHLA);
    // a retail yard bills up to the next quarter board foot (CP; one dealer's page). Blank 12 x 12 in at a yield of 0.8: 1.25 sq ft.
    for (tally, thickness, bought) in [
        ("exact", "3/4 in", "1.25"),
        ("surface-measure", "3/4 in", "2"),
        ("round-up-quarter", "3/4 in", "1.25"),
        // 8/4 is 2 in: 2.5 board feet are 1.25 sq ft of surface, bought as 2 of them, 4 board feet.
        ("exact", "1 3/4 in", "2.5"),
        ("surface-measure", "1 3/4 in", "4"),
        ("round-up-quarter", "1 3/4 in", "2.5"),
        // 5/4 is 1 1/4 in: 1.5625 board feet, 1.25 sq ft, 2 of them 2.5; the next quarter is 1.75.
        ("exact", "1 in", "1.5625"),
        ("surface-measure", "1 in", "2.5"),
        ("round-up-quarter", "1 in", "1.75"),
    ] {
        let mut value = oak_part(["11 in", "11 5/8 in", thickness], "0.8");
        let timbers = value["timbers"].as_array_mut().unwrap();
        timbers.iter_mut().for_each(|timber| timber["tally"] = json!(tally));
        let book = selling(&sound(&value));
        let resolved = resolve(&book, &the_part()).unwrap();
        let takeoff = take_off(&book, &resolved).unwrap();
        let timber = takeoff.timbers.first().unwrap();
        assert_eq!(timber.bought.likely.value(), decimal(bought), "{tally} at {thickness}");
        // Each foot is sold at one rate whatever the tally.
        let rate = timber.timber.rates.get(&timber.class).unwrap().value();
        assert_eq!(timber.value.likely, decimal(bought) * rate, "{tally} at {thickness}");
    }
}
