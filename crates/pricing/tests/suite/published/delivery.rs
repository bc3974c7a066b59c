//! Weight, freight class, weight breaks and postal prefixes: `shared/reference/wood/weight.md` and `delivery`.

use rust_decimal::Decimal;
use scantling_pricing::book::delivery::FreightTable;
use scantling_pricing::book::document::Node;
use scantling_pricing::book::values::{Gravity, Percent};
use scantling_pricing::delivery::{Shipment, carriage, density_class, state_of_zip3};
use scantling_pricing::measure::{Area, Volume, Weight};
use scantling_pricing::takeoff::timber_weight;

use super::{close, decimal, length, rows};

#[test]
fn weight_per_board_foot_from_specific_gravity() {
    // FPL-GTR-190 (2010) ch. 4, combined equation (PUB); values computed in shared/reference/wood/weight.md, column lb/bf.
    let published = [
        ("0.51", "8", "3.181"),
        ("0.51", "12", "3.234"),
        ("0.60", "8", "3.816"),
        ("0.60", "12", "3.865"),
        ("0.47", "8", "2.906"),
        ("0.47", "12", "2.960"),
        ("0.56", "8", "3.531"),
        ("0.56", "12", "3.582"),
        ("0.55", "8", "3.460"),
        ("0.55", "12", "3.512"),
        ("0.40", "8", "2.437"),
        ("0.40", "12", "2.489"),
        ("0.34", "8", "2.046"),
        ("0.34", "12", "2.094"),
    ];
    let foot = Area::of(length("12 in"), length("12 in")).by(length("1 in"));
    for (basic, moisture, pounds) in published {
        let weight =
            timber_weight(foot, Gravity::new(decimal(basic)).unwrap(), Percent::new(decimal(moisture)).unwrap());
        close(weight.in_pounds(), decimal(pounds), "0.0006", &format!("{basic} at {moisture} %"));
    }
    // Oregon State University wood property table (PUB): Douglas-fir 34 lb/ft3 air dry; the equation at 0.45 and 12 % gives 33.9.
    let douglas = timber_weight(foot, Gravity::new(decimal("0.45")).unwrap(), Percent::new(decimal("12")).unwrap());
    close(douglas.in_pounds() * Decimal::from(12), decimal("33.9"), "0.05", "Douglas-fir");
}

/// A volume of so many cubic feet.
fn cubic_feet(feet: Decimal) -> Volume {
    Area::of(length("12 in"), length("12 in")).by(length("12 in")) * feet
}

#[test]
fn density_class_on_both_sides_of_every_break() {
    // The 13-sub scale in force since 19 July 2025 (PUB, NMFTA docket 2025-1): shared/reference/delivery/freight_class.csv.
    let one = cubic_feet(Decimal::ONE);
    let hair = decimal("0.0001");
    let scale: Vec<_> = rows(include_str!("../../../../../shared/reference/delivery/freight_class.csv"))
        .into_iter()
        .filter(|row| row[0] == "13-sub")
        .collect();
    assert_eq!(scale.len(), 13);
    for pair in scale.windows(2) {
        let bound = decimal(&pair[1][4]);
        assert_eq!(density_class(Weight::pounds(bound), one).number(), decimal(&pair[1][6]), "at {bound}");
        assert_eq!(density_class(Weight::pounds(bound - hair), one).number(), decimal(&pair[0][6]), "under {bound}");
    }
    // Worked cases (DER), shared/reference/delivery/freight_class.md section 2.
    for (size, pounds, class) in [
        (["80 in", "42 in", "36 in"], "260", "250"),
        (["76 in", "24 in", "38 in"], "240", "175"),
        (["96 in", "44 in", "8 in"], "310", "70"),
        (["48 in", "48 in", "36 in"], "288", "125"),
        (["48 in", "48 in", "36 in"], "287.9", "175"),
        (["12 in", "12 in", "12 in"], "22.5", "65"),
        (["12 in", "12 in", "12 in"], "0.99", "400"),
        (["12 in", "12 in", "12 in"], "50", "50"),
    ] {
        let [long, wide, high] = size.map(length);
        let cube = Area::of(long, wide).by(high);
        assert_eq!(
            density_class(Weight::pounds(decimal(pounds)), cube).number(),
            decimal(class),
            "{size:?} {pounds} lb"
        );
    }
}

#[test]
fn weight_breaks_of_the_worked_table() {
    // shared/reference/delivery/freight_class.md section 4, made-up rates worked there (DER): 80, 60, 45, 36 a hundredweight, discount
    // 70 %, least charge 150, fuel 30 %. Class 100, since 9 lb/ft3 lies between 8 and 10.
    let table: FreightTable = Node::read(
        r#"{"key": "worked", "breaks": [{"from": 0, "per_hundredweight": "80"}, {"from": 500, "per_hundredweight": "60"},
            {"from": 1000, "per_hundredweight": "45"}, {"from": 2000, "per_hundredweight": "36"}], "discount": "0.70", "least": "150",
            "fuel": "0.30", "home_delivery": "0", "days_least": 1, "days_most": 2}"#,
    )
    .unwrap()
    .read_as()
    .unwrap();
    for (pounds, with_fuel) in
        [(300, "195"), (400, "195"), (700, "195"), (900, "195"), (1200, "210.60"), (1700, "280.80"), (1600, "280.80")]
    {
        let gross = Decimal::from(pounds);
        let shipment = Shipment {
            crates: 1,
            cube: cubic_feet(gross / Decimal::from(9)),
            surface: Area::ZERO,
            gross: Weight::pounds(gross),
        };
        assert_eq!(carriage(&table, &shipment), decimal(with_fuel), "{pounds} lb");
    }
}

#[test]
fn zip_prefixes_lie_in_the_state_of_the_postal_map() {
    // shared/reference/delivery/zip3_state.csv (CC0 postal prefix map), every row; what is not in it is in no state.
    let known: std::collections::BTreeMap<String, String> =
        rows(include_str!("../../../../../shared/reference/delivery/zip3_state.csv"))
            .into_iter()
            .map(|row| (row[0].clone(), row[1].clone()))
            .collect();
    assert_eq!(known.len(), 931);
    for prefix in 0..1000 {
        let prefix = format!("{prefix:03}");
        assert_eq!(state_of_zip3(&prefix), known.get(&prefix).map(String::as_str), "{prefix}");
    }
}
