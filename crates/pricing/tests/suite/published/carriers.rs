//! What is awkward or large as a parcel, the scale a freight table goes by, and what packing flat saves: `shared/reference/delivery`.

use rust_decimal::Decimal;
use scantling_pricing::book::PriceBook;
use scantling_pricing::book::delivery::ParcelTable;
use scantling_pricing::book::document::Node;
use scantling_pricing::delivery::{Parcel, density_class, linehaul, parcel_charge, shipment};
use scantling_pricing::design::resolve;
use scantling_pricing::measure::Weight;
use scantling_pricing::takeoff::take_off;

use super::delivery::cubic_feet;
use super::{decimal, page_rows, rows};
use crate::start::{brief, demo_shop, length};

/// A parcel table of one band, with what is awkward or large as given: 10.00, and what it adds.
fn parcels(more: &str) -> ParcelTable {
    let table = format!(
        r#"{{"key": "list", "divisor": 139, "longest": "108 in", "length_and_girth": "165 in", "heaviest": 150, {more},
            "bands": [{{"to": 500, "price": "10"}}], "home_delivery": "0", "fuel": "0", "days_least": 1, "days_most": 2}}"#
    );
    Node::read(&table).unwrap().read_as().unwrap()
}

#[test]
fn parcels_are_awkward_or_large_over_each_published_threshold_and_not_at_it() {
    // shared/reference/delivery/parcel.md section 4 (V: read in list prices).
    let page = include_str!("../../../../../shared/reference/delivery/parcel.md");
    for said in [
        "longest side over 48 in, or second longest over 30 in, or (old) length + girth over 105 in; since August 2025 also/instead cube over 10,368 in3",
        "| additional handling, weight | over 50 lb",
        "length over 96 in, or cube over 17,280 in3 (10 ft3), or over 110 lb; older test length + girth over 130 in",
    ] {
        assert!(page.contains(said), "{said}");
    }
    let awkward = |more: &str| {
        parcels(&format!(r#""awkward": {{"longest": "48 in", "second": "30 in", "pounds": 50, {more} "adds": "5"}}"#))
    };
    let large = |more: &str| {
        parcels(&format!(
            r#""large": {{"longest": "96 in", "cubic_inches": 17280, {more} "least_pounds": 90, "adds": "7"}}"#
        ))
    };
    let (now, before, plain) =
        (awkward(r#""cubic_inches": 10368,"#), awkward(r#""length_and_girth": "105 in","#), awkward(""));
    let (large_now, large_before) = (large(r#""pounds": 110,"#), large(r#""length_and_girth": "130 in","#));
    for (table, adds, sides, pounds, over) in [
        // The check there: 48 x 30 x 6 hits no dimension trigger, 8,640 cu in; 48.1 in does.
        (&now, "5", ["48", "30", "6"], "50", false),
        (&now, "5", ["48.1", "30", "6"], "50", true),
        (&now, "5", ["48", "30.1", "6"], "50", true),
        (&now, "5", ["48", "30", "6"], "50.1", true),
        // 24 x 18 x 24 in is 10,368 cu in; an inch more is over, though no side is.
        (&now, "5", ["24", "18", "24"], "20", false),
        (&now, "5", ["25", "18", "24"], "20", true),
        (&plain, "5", ["25", "18", "24"], "20", false),
        // 45 and twice 30 are 105 in; an inch of girth more is over.
        (&before, "5", ["45", "15", "15"], "20", false),
        (&before, "5", ["45", "15", "16"], "20", true),
        (&plain, "5", ["45", "15", "16"], "20", false),
        // 70 and twice 30 are 130 in, in 15,750 cu in; 71 in are 131, in 15,975.
        (&large_before, "7", ["70", "15", "15"], "20", false),
        (&large_before, "7", ["71", "15", "15"], "20", true),
        (&large_now, "7", ["71", "15", "15"], "20", false),
        // 30 x 24 x 24 in is 17,280 cu in.
        (&large_now, "7", ["30", "24", "24"], "110", false),
        (&large_now, "7", ["30", "24", "25"], "110", true),
        (&large_now, "7", ["30", "24", "24"], "110.1", true),
        (&large_before, "7", ["30", "24", "24"], "110.1", false),
        (&large_now, "7", ["96", "12", "12"], "20", false),
        (&large_now, "7", ["96.5", "12", "12"], "20", true),
    ] {
        let parcel = Parcel::new(sides.map(|side| length(&format!("{side} in"))), Weight::pounds(decimal(pounds)));
        let charge = decimal("10") + if over { decimal(adds) } else { Decimal::ZERO };
        assert_eq!(parcel_charge(table, &parcel), Ok(charge), "{sides:?}, {pounds} lb");
    }
}

#[test]
fn a_book_may_choose_the_scale_before() {
    // shared/reference/delivery/freight_class.csv: 40 lb/ft3 lies between 35 and 50, class 55, by the 13-sub scale in force; the 11-sub scale
    // before ended at 30 lb/ft3 and class 60. 400 lb in 10 ft3 at 80.00 a hundredweight of class 100: 400 x 0.80 x 0.55 = 176.00, or
    // 400 x 0.80 x 0.60 = 192.00. One class as agreed, 70: 224.00.
    let rows = rows(include_str!("../../../../../shared/reference/delivery/freight_class.csv"));
    let class = |scale: &str| {
        let at_40 = |row: &&Vec<String>| {
            row[0] == scale
                && decimal(&row[4]) <= Decimal::from(40)
                && row[5].parse().map_or(true, |most: Decimal| most > Decimal::from(40))
        };
        rows.iter().find(at_40).unwrap()[6].clone()
    };
    assert_eq!((class("13-sub").as_str(), class("11-sub").as_str()), ("55", "60"));
    let mut book = serde_json::to_value(crate::delivered::worked(&[])).unwrap();
    let mut charged = |rated: serde_json::Value| {
        book["delivery"]["freight"] = serde_json::json!([{ "key": "all", "rated": rated, "breaks": [{ "from": 0, "per_hundredweight": "80" }],
            "least": "0", "fuel": "0", "liftgate": "0", "residential": "0", "limited_access": "0", "days_least": 1, "days_most": 2 }]);
        let shop = crate::start::sound(&book);
        let (gross, cube) = (Weight::pounds(decimal("400")), cubic_feet(decimal("10")));
        // As the shop has it, and as it is published: a carrier's cost is sold 1.10 times itself there.
        let sold = linehaul(&crate::start::selling(&shop).delivery.freight[0], gross, cube);
        let cost = linehaul(&shop.delivery.freight[0], gross, cube);
        assert_eq!(sold, cost * decimal("1.1"));
        cost
    };
    assert_eq!(charged(serde_json::json!("density")), decimal("176"));
    assert_eq!(charged(serde_json::json!("older-density")), decimal("192"));
    assert_eq!(charged(serde_json::json!({ "class": "70" })), decimal("224"));
}

#[test]
fn a_table_packed_flat_rates_below_one_that_is_set_up() {
    // shared/reference/delivery/crating.md section 2, the first two rows: a table of 72 x 36 x 30 in set up is class 175 in its crate, its top alone
    // packed flat class 100. "Knock-down design is the largest freight saving."
    let page = include_str!("../../../../../shared/reference/delivery/crating.md");
    assert!(page.contains("Knock-down design is the largest freight saving"));
    let worked = page_rows(page, "| piece in | lb | inside |");
    assert_eq!((worked[0][13], worked[1][13]), ("175", "100"));
    let [whole, flat] = [&worked[0], &worked[1]].map(|row| (decimal(row[11]), decimal(row[10])));
    let table = &demo_shop().delivery.freight[0];
    let charge = |(gross, cube): (Decimal, Decimal)| linehaul(table, Weight::pounds(gross), cubic_feet(cube));
    assert!(charge(flat) < charge(whole) && flat.1 < whole.1);
    // The trestle table of the demo, whose stretchers come apart, against the same built as one: its packs, top and base, fill less of a truck,
    // are in a lower class and go for less, though there are two crates.
    let knocked_down = crate::start::demo();
    let mut set_up = knocked_down.clone();
    set_up.designs.iter_mut().for_each(|design| design.packs.clear());
    let asked = brief(include_str!("../../../../../shared/briefs/table-to-chicago.json"));
    let freight = |book: &PriceBook| {
        let resolved = resolve(book, &asked).unwrap();
        let takeoff = take_off(book, &resolved).unwrap();
        let shipment = shipment(book, &resolved, &takeoff);
        let charge = linehaul(&book.delivery.freight[0], shipment.gross, shipment.cube);
        (shipment.crates.len(), shipment.cube.in_cubic_feet(), density_class(shipment.gross, shipment.cube), charge)
    };
    let (apart, whole) = (freight(&knocked_down), freight(&set_up));
    assert_eq!((apart.0, whole.0), (2, 1));
    assert!(apart.1 < whole.1 && apart.2 < whole.2 && apart.3 < whole.3, "{apart:?} and {whole:?}");
}
