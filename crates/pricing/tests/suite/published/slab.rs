//! Slabs and resin: measured, flattened, charged and poured as worked in `shared/reference/trade/slab.md` and `resin.md`.

use rust_decimal::Decimal;
use scantling_pricing::book::document::Node;
use scantling_pricing::book::stock::{Slab, SlabBasis};
use scantling_pricing::book::values::Gravity;
use scantling_pricing::design::resolve;
use scantling_pricing::measure::{Area, Length};
use scantling_pricing::takeoff::{flattened, resin_weight, slab_area, take_off};
use serde_json::json;

use super::{close, decimal, one_part_of, the_part};
use crate::start::{demo_shop, demo_value, length, selling, sound};

fn worked_slab() -> Slab {
    let mut slab = demo_shop().slabs.first().unwrap().clone();
    let of = |json: &str| Node::read(json).unwrap().read_as::<Length>().unwrap();
    slab.length = length("96 in");
    slab.widths = ["24 in", "20 in", "26 in"].map(length).to_vec();
    slab.thickness = of("\"2 1/4 in\"");
    slab.bow = of("\"3/8 in\"");
    slab.cup = of("\"1/4 in\"");
    slab.twist = of("\"1/4 in\"");
    slab
}

#[test]
fn slabs_measure_and_flatten_as_worked() {
    // shared/reference/trade/slab.md (DER): widths 24, 20, 26 in over 96 in by trapezoids, 33.75 bf at 2 1/4 in.
    let slab = worked_slab();
    let feet = scantling_pricing::measure::BoardFeet::in_volume(slab_area(&slab).by(slab.thickness));
    assert_eq!(feet.value(), decimal("33.75"));
    // Section 2: bow 3/8, cup 1/4, twist 1/4 in, 1/16 in clean-up leaves 1.4375 in of the whole slab.
    let whole = flattened(&slab, length("96 in"), length("22 1/2 in"), length("1/16 in"));
    assert_eq!(whole.in_inches(), decimal("1.4375"));
    // Cutting shorter first: bow 0.5 in over 96 in is 0.1953 in over 60 in.
    let mut bowed = worked_slab();
    (bowed.bow, bowed.cup, bowed.twist) = (length("1/2 in"), Length::ZERO, Length::ZERO);
    let lost = bowed.thickness - flattened(&bowed, length("60 in"), length("20 in"), Length::ZERO);
    close(lost.in_inches(), decimal("0.1953"), "0.00005", "bow of a 60 in cut");
    // Crosscut in n: bow s/n², twist w/n of which half comes off, cup unchanged; ripped in m: cup c/m². Bow 1/2, cup 1/4, twist 1/4:
    // halves 0.125 + 0.25 + 0.0625, thirds 0.05556 + 0.25 + 0.04167; half as wide 0.5 + 0.0625 + 0.0625.
    (bowed.cup, bowed.twist) = (length("1/4 in"), length("1/4 in"));
    for (long, wide, lost) in
        [("48 in", "22 1/2 in", "0.4375"), ("32 in", "22 1/2 in", "0.34722"), ("96 in", "11 1/4 in", "0.625")]
    {
        let left = flattened(&bowed, length(long), length(wide), Length::ZERO);
        close((bowed.thickness - left).in_inches(), decimal(lost), "0.00001", long);
    }
}

#[test]
fn a_slab_s_price_falls_on_the_piece_by_the_basis() {
    // shared/reference/trade/slab.md section 4 (DER): $900 for 33.75 bf, of which 27 are used, worth $30 a foot, the rest worth $8. By
    // volume 720.00, by sales value 843.75, whole 900, nothing 0; replacement is what 27 bf would cost today, 27 x 30 = 810.
    // Here 72 of 90 in are used: a part of 71 in and the inch for squaring it.
    for (basis, expected) in [
        (SlabBasis::Volume, "720"),
        (SlabBasis::Face, "720"),
        (SlabBasis::SalesValue, "843.75"),
        (SlabBasis::Whole, "900"),
        (SlabBasis::Replacement, "810"),
        (SlabBasis::Nothing, "0"),
    ] {
        let mut value = demo_value();
        value["designs"] = one_part_of("slab", ["71 in", "24 in", "1 in"]);
        // 90 x 24 x 2 1/4 in is 33.75 bf; 72 in of it is 27.
        value["slabs"] = json!([{ "key": "slab", "name": "Slab", "timber": "white-oak", "length": "90 in", "widths": ["24 in", "24 in", "24 in"],
            "thickness": "2 1/4 in", "bow": "0 in", "cup": "0 in", "twist": "0 in", "moisture": "8", "price": "900", "basis": serde_json::to_value(basis).unwrap(),
            "worth": "30", "leftover_worth": "8", "saleable": true, "character": "Plain." }]);
        let book = scantling_pricing::publish::fold(&sound(&value), scantling_pricing::publish::Basis::Cost).unwrap();
        let resolved = resolve(&book, &the_part()).unwrap();
        let takeoff = take_off(&book, &resolved).unwrap();
        let used = takeoff.slabs.first().unwrap();
        assert_eq!(used.board_feet.value(), Decimal::from(27));
        assert_eq!(used.value(), decimal(expected), "{basis:?}");
    }
}

#[test]
fn resin_void_and_pours_of_the_worked_channel() {
    // shared/reference/trade/resin.md section 1 (DER): 84 x 6 x 2 in is 1008 cu in; with 10 % more, 4.8 gal of 231 cu in.
    // It is poured as deep as the slab is before flattening (CP, same section): 1 1/2 in finished and 1/2 in proud.
    let mut value = demo_value();
    let resin =
        value["resins"].as_array_mut().unwrap().iter_mut().find(|resin| resin["key"] == "clear-casting-resin").unwrap();
    resin["overage"] = json!("0.10");
    resin["deepest_pour"] = json!("3/4 in");
    resin["proud"] = json!("1/2 in");
    value["designs"] = one_part_of("clear-casting-resin", ["84 in", "6 in", "1 1/2 in"]);
    let book = selling(&sound(&value));
    let resolved = resolve(&book, &the_part()).unwrap();
    let takeoff = take_off(&book, &resolved).unwrap();
    assert_eq!(takeoff.resins.first().unwrap().mixed.in_cubic_inches() / Decimal::from(231), decimal("4.8"));
    // Section 3: layers are depth over the deepest pour, rounded up: 2 in by 3/4 in is three.
    let pours = takeoff.drivers.get(&scantling_pricing::book::work::Driver::Pour).unwrap();
    assert_eq!(pours.amount, Decimal::from(3));
}

#[test]
fn resin_weighs_what_its_density_says() {
    // shared/reference/trade/resin.md section 2: pounds in a US gallon of 231 cu in (PUB/mem, NIST Handbook 44), density (MEM/CP).
    let gallon = Area::of(length("21 in"), length("11 in")).by(length("1 in"));
    for (density, pounds) in [("1.05", "8.763"), ("1.10", "9.180"), ("1.15", "9.597")] {
        let weight = resin_weight(gallon, Gravity::new(decimal(density)).unwrap());
        close(weight.in_pounds(), decimal(pounds), "0.0005", density);
    }
}
