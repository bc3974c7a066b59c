//! Weight, freight class, weight breaks and postal prefixes: `shared/reference/wood/weight.md` and `delivery`.

use rust_decimal::Decimal;
use scantling_pricing::book::delivery::{CrateSize, FreightTable, Insurance};
use scantling_pricing::book::document::Node;
use scantling_pricing::book::values::{Amount, Gravity, Measured, Percent};
use scantling_pricing::cost::LineKind;
use scantling_pricing::delivery::{
    Excess, Packed, Parcel, crated, density_class, insurance_charge, linehaul, must_be_marked, older_density_class,
    parcel_charge, state_of_zip3, wood_packaging_rule,
};
use scantling_pricing::estimate::Estimate;
use scantling_pricing::measure::{Area, Length, Volume, Weight};
use scantling_pricing::profit::Rates;
use scantling_pricing::takeoff::timber_weight;

use super::{close, decimal, page_rows, rows};
use crate::start::{brief, demo_shop, length};

#[test]
fn weight_per_board_foot_from_specific_gravity() {
    // FPL-GTR-190 (2010) ch. 4, combined equation (PUB); values computed in shared/reference/wood/weight.md, column lb/bf.
    let foot = Area::of(length("12 in"), length("12 in")).by(length("1 in"));
    let page = include_str!("../../../../../shared/reference/wood/weight.md");
    let published = page_rows(page, "| species | Gb |");
    assert_eq!(published.len(), 16, "eight species at 8 and 12 %");
    for row in published {
        let [species, basic, moisture, _, _, per_cubic_foot, pounds, ..] = row.as_slice() else { panic!("{row:?}") };
        let weight =
            timber_weight(foot, Gravity::new(decimal(basic)).unwrap(), Percent::new(decimal(moisture)).unwrap());
        close(weight.in_pounds(), decimal(pounds), "0.0005", &format!("{species} at {moisture} %"));
        close(weight.in_pounds() * Decimal::from(12), decimal(per_cubic_foot), "0.005", species);
    }
    // Oregon State University wood property table (PUB): Douglas-fir 34 lb/ft3 air dry; the equation at 0.45 and 12 % gives 33.9.
    let douglas = timber_weight(foot, Gravity::new(decimal("0.45")).unwrap(), Percent::new(decimal("12")).unwrap());
    close(douglas.in_pounds() * Decimal::from(12), decimal("33.9"), "0.05", "Douglas-fir");
    // A sawmill page citing the handbook (PUB): white ash 42 lb/ft3 air dry.
    let ash = timber_weight(foot, Gravity::new(decimal("0.55")).unwrap(), Percent::new(decimal("12")).unwrap());
    close(ash.in_pounds() * Decimal::from(12), decimal("42"), "0.5", "white ash");
    // University of Missouri forestry page (PUB): gravity 0.40 *at 12 %* gives 27.968 lb/ft3. Ours starts from the basic gravity, which
    // for 0.40 at 12 % is 0.40 / (1 + 0.265 x 0.6 x 0.40) = 0.40 / 1.0636; from there it must come out again, but for
    // the water: 62.43 lb a cubic foot as the handbook rounds it, against 62.428 there.
    let basic = decimal("0.40") / decimal("1.0636");
    let missouri = timber_weight(foot, Gravity::new(basic).unwrap(), Percent::new(decimal("12")).unwrap());
    close(missouri.in_pounds() * Decimal::from(12), decimal("27.968"), "0.001", "University of Missouri");
}

/// A volume of so many cubic feet.
pub(super) fn cubic_feet(feet: Decimal) -> Volume {
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
    // Worked cases (DER), shared/reference/delivery/freight_class.md section 2, every row.
    let page = include_str!("../../../../../shared/reference/delivery/freight_class.md");
    let cases = page_rows(page, "| case | L x W x H in |");
    assert_eq!(cases.len(), 11);
    for row in cases {
        let [case, size, pounds, _, _, class] = row.as_slice() else { panic!("{row:?}") };
        let sides: Vec<_> = size.split(" x ").map(|side| length(&format!("{side} in"))).collect();
        let cube = Area::of(sides[0], sides[1]).by(sides[2]);
        // The last row gives both scales, the one in force first: "50 (13-sub), 60 (11-sub)".
        let class = decimal(class.split(' ').next().unwrap());
        assert_eq!(density_class(Weight::pounds(decimal(pounds)), cube).number(), class, "{case}, {size}, {pounds} lb");
    }
}

#[test]
fn the_older_scale_differs_only_where_it_ended() {
    // The 11-sub scale before 19 July 2025 (PUB, same docket): shared/reference/delivery/freight_class.csv, both sides of every bound.
    let one = cubic_feet(Decimal::ONE);
    let hair = decimal("0.0001");
    let scale: Vec<_> = rows(include_str!("../../../../../shared/reference/delivery/freight_class.csv"))
        .into_iter()
        .filter(|row| row[0] == "11-sub")
        .collect();
    assert_eq!(scale.len(), 11);
    for pair in scale.windows(2) {
        let bound = decimal(&pair[1][4]);
        assert_eq!(older_density_class(Weight::pounds(bound), one).number(), decimal(&pair[1][6]), "at {bound}");
        assert_eq!(
            older_density_class(Weight::pounds(bound - hair), one).number(),
            decimal(&pair[0][6]),
            "under {bound}"
        );
    }
    // Section 2 of freight_class.md, the last worked row: 50 lb/ft3 is class 50 now and was class 60.
    assert_eq!(older_density_class(Weight::pounds(decimal("50")), one).number(), decimal("60"));
}

#[test]
fn crates_grow_as_worked_and_land_in_the_worked_class() {
    // shared/reference/delivery/crating.md section 2 (computed there): 2 in of foam and 1/2 in of clearance, 1/2 in panel and 3/4 in
    // batten, 3 1/2 in skid; panel 1.50 lb a foot, 1x4 batten at 0.51, 4x4 runners at 2.38. All of it must come out: panel, battens, weight,
    // outside, class. The lumber there is worked at 28 lb/ft3, of which 0.51 and 2.38 are rounded: within 0.5 lb.
    let size = CrateSize {
        padding: length("2 1/2 in"),
        fragile_padding: None,
        wall: length("1 1/4 in"),
        skid: length("3 1/2 in"),
        footprint: None,
        panel_weight: Measured::new(decimal("1.5")).unwrap(),
        batten_weight: Measured::new(decimal("0.51")),
        runner_weight: Measured::new(decimal("2.38")),
        solid_wood: None,
    };
    let page = include_str!("../../../../../shared/reference/delivery/crating.md");
    let published = page_rows(page, "| piece in | lb | inside |");
    assert_eq!(published.len(), 3);
    for row in published {
        let [piece, pounds, _, panel, _, batten, _, _, crate_pounds, outside, cube, _, _, class] = row.as_slice()
        else {
            panic!("{row:?}")
        };
        let inches = |text: &str| text.split(" x ").map(|side| length(&format!("{side} in"))).collect::<Vec<_>>();
        let sides: [Length; 3] = inches(piece).try_into().unwrap();
        let pack = Packed { sides, fragile: [false; 3], on_pallet: false, holds: &[] };
        let crated = crated(&size, &pack, Weight::pounds(decimal(pounds)));
        assert_eq!(crated.sides.to_vec(), inches(outside), "{piece}");
        close(crated.panel.in_square_feet(), decimal(panel), "0.005", piece);
        close(crated.batten.in_feet(), decimal(batten), "0.005", piece);
        close(crated.gross.in_pounds() - decimal(pounds), decimal(crate_pounds), "0.5", piece);
        let volume = Area::of(crated.sides[0], crated.sides[1]).by(crated.sides[2]);
        close(volume.in_cubic_feet(), decimal(cube), "0.0005", piece);
        assert_eq!(density_class(crated.gross, volume).number(), decimal(class), "{piece}");
    }
}

#[test]
fn weight_breaks_of_the_worked_table() {
    // shared/reference/delivery/freight_class.md section 4, made-up rates worked there (DER): 80, 60, 45, 36 a hundredweight, discount
    // 70 %, least charge 150, fuel 30 %. Class 100, since 9 lb/ft3 lies between 8 and 10.
    let table: FreightTable = Node::read(
        r#"{"key": "worked", "breaks": [{"from": 0, "per_hundredweight": "80"}, {"from": 500, "per_hundredweight": "60"},
            {"from": 1000, "per_hundredweight": "45"}, {"from": 2000, "per_hundredweight": "36"}], "discount": "0.70", "least": "150",
            "fuel": "0.30", "liftgate": "0", "residential": "0", "limited_access": "0", "days_least": 1, "days_most": 2}"#,
    )
    .unwrap()
    .read_as()
    .unwrap();
    for (pounds, with_fuel) in
        [(300, "195"), (400, "195"), (700, "195"), (900, "195"), (1200, "210.60"), (1700, "280.80"), (1600, "280.80")]
    {
        let gross = Decimal::from(pounds);
        let cube = cubic_feet(gross / Decimal::from(9));
        assert_eq!(linehaul(&table, Weight::pounds(gross), cube), decimal(with_fuel), "{pounds} lb");
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

#[test]
fn parcels_are_charged_by_weight_or_space_as_worked() {
    // shared/reference/delivery/parcel.md section 2, check values (computed there by the published rules): sides rounded up, cubic inches, pounds
    // at 139 to the pound, length and girth.
    let page = include_str!("../../../../../shared/reference/delivery/parcel.md");
    let mut checked = 0;
    for row in page_rows(page, "| sides in | rounded | in3 |") {
        let sides: Vec<&str> = row[0].split(" x ").collect();
        let (&[a, b, c], Ok(pounds)) = (sides.as_slice(), row[3].parse::<u32>()) else { continue };
        let parcel = Parcel::new([a, b, c].map(|side| length(&format!("{side} in"))), Weight::ZERO);
        assert_eq!(parcel.cubic_inches().to_string(), row[2].replace(',', ""), "{}", row[0]);
        assert_eq!(parcel.charged_pounds(139), pounds, "{}", row[0]);
        assert_eq!(parcel.length_and_girth().to_string(), row[5], "{}", row[0]);
        checked += 1;
    }
    assert_eq!(checked, 5);
    // A pound and a bit is two; what weighs more than its space is charged by its weight.
    let heavy = Parcel::new([length("12 in"); 3], Weight::pounds(decimal("20.01")));
    assert_eq!((heavy.pounds, heavy.charged_pounds(139)), (21, 21));
}

#[test]
fn parcels_over_a_limit_cost_more_or_are_not_taken() {
    // Section 3: 108 in, 165 in of length and girth, 150 lb. Section 4, and its check: 48 x 30 x 6 is over no limit of handling; 48.1 in is;
    // 26 x 24 x 38 is large by its 23,712 cu in. Bands and amounts are the demo's, at cost.
    let table = &demo_shop().delivery.parcels[0];
    let charge = |sides: [&str; 3], pounds: &str| {
        parcel_charge(
            table,
            &Parcel::new(sides.map(|side| length(&format!("{side} in"))), Weight::pounds(decimal(pounds))),
        )
    };
    // 8640 / 139 = 63 lb: (52 + 6) x 1.18.
    assert_eq!(charge(["48", "30", "6"], "20"), Ok(decimal("68.44")));
    // 49 x 30 x 6 = 8820, 64 lb: the same band, and 34 for handling.
    assert_eq!(charge(["48.1", "30", "6"], "20"), Ok(decimal("108.56")));
    // Over 50 lb is as hard to handle: 17 x 17 x 17 in at 51 lb, band of 70: (52 + 34 + 6) x 1.18.
    assert_eq!(charge(["17", "17", "17"], "51"), Ok(decimal("108.56")));
    // Large: 171 lb by its space, and no band goes so far; 30 x 26 x 23 in is 17,940 cu in, 130 lb: (105 + 260 + 6) x 1.18.
    assert_eq!(charge(["38", "26", "24"], "20"), Err(Excess::ChargedWeight { is: 171, most: 150 }));
    assert_eq!(charge(["30", "26", "23"], "20"), Ok(decimal("437.78")));
    // Not taken: too long; 80 and twice 44, 168 in; too heavy. Each says what it is and what is taken.
    let (is, most) = (length("109 in"), length("108 in"));
    assert_eq!(charge(["108.5", "4", "4"], "20"), Err(Excess::Length { is, most }));
    let (is, most) = (length("168 in"), length("165 in"));
    assert_eq!(charge(["80", "24", "20"], "20"), Err(Excess::LengthAndGirth { is, most }));
    assert_eq!(charge(["17", "17", "17"], "150.2"), Err(Excess::Weight { is: 151, most: 150 }));
}

#[test]
fn cover_costs_what_the_rule_says_and_is_on_the_price() {
    // shared/reference/delivery/insurance_tax_currency.md section 1, the check there: 100 included, 1.20 a hundred. 1850: 18 hundreds, 21.60;
    // 100: nothing; 100.01: one hundred, 1.20.
    let cover = |least: &str| Insurance {
        included: Amount::new(decimal("100")).unwrap(),
        per_hundred: Amount::new(decimal("1.20")).unwrap(),
        least: Amount::new(decimal(least)).unwrap(),
    };
    for (declared, least, charge) in
        [("1850", "0", "21.60"), ("100", "0", "0"), ("100.01", "0", "1.20"), ("100.01", "4", "4"), ("99", "4", "0")]
    {
        assert_eq!(insurance_charge(&cover(least), decimal(declared)), decimal(charge), "{declared}");
    }
    // The table to Chicago by freight: the line is on what the buyer is told at the workshop, at cost as in the price.
    let asked = brief(include_str!("../../../../../shared/briefs/table-to-chicago.json"));
    let costs = Rates::new(&demo_shop()).unwrap().costs(&asked).unwrap();
    let line = |estimate: &Estimate| {
        let freight = estimate.delivered().unwrap();
        freight.lines.iter().find(|line| line.kind == LineKind::Insurance).unwrap().amount.amount()
    };
    // 3480: 34 hundreds at 1.20 are 40.80 at cost; sold with 5 % for handling and 2.9 % for the payment: 40.80 x 1.05 / 0.971 = 44.12.
    assert_eq!(costs.selling.works.likely.amount(), decimal("3480"));
    assert_eq!(line(&costs.cost), decimal("40.80"));
    assert_eq!(line(&costs.selling), decimal("44.12"));
}

#[test]
fn crate_timber_is_marked_where_the_rule_asks_it() {
    // ISPM 15 by shared/reference/delivery/crating.md section 4: where the countries differ, but not between the United States and Canada, nor
    // within the European Union.
    for (from, to, marked) in [
        ("US", "US", false),
        ("US", "CA", false),
        ("CA", "US", false),
        ("US", "DE", true),
        ("DE", "FR", false),
        ("DE", "GB", true),
        ("GB", "FR", true),
        ("SE", "NO", true),
        ("US", "MX", true),
        ("CA", "FR", true),
    ] {
        assert_eq!(wood_packaging_rule(from, to), marked, "{from} to {to}");
    }
}

#[test]
fn solid_wood_over_six_millimetres_is_marked_and_panels_made_with_glue_are_not() {
    // The same section, which says of ISPM 15 (PUB) and of 7 CFR 319.40-1 (PUB):
    let page = include_str!("../../../../../shared/reference/delivery/crating.md");
    for said in [
        "Exempt: wood 6 mm thick or less throughout; packaging made wholly of processed wood (plywood",
        "US rule 7 CFR 319.40-1 has the same 6 mm and manufactured-wood exclusions. **[P, V]**",
        "A plywood crate with solid 2x4 or 4x4 framing **is** regulated because of the frame. An all-plywood crate is not. **[P]**",
    ] {
        assert!(page.contains(said), "{said}");
    }
    let size = |batten: Option<&str>, runner: Option<&str>, solid: Option<&str>| CrateSize {
        padding: length("2 in"),
        fragile_padding: None,
        wall: length("1 in"),
        skid: length("3 in"),
        footprint: None,
        panel_weight: Measured::new(decimal("1.5")).unwrap(),
        batten_weight: batten.and_then(|weight| Measured::new(decimal(weight))),
        runner_weight: runner.and_then(|weight| Measured::new(decimal(weight))),
        solid_wood: solid.map(length),
    };
    let (two_by_four, four_by_four) = (Some("1.02"), Some("2.38"));
    for (size, marked, of) in [
        (size(None, None, None), false, "an all-plywood crate"),
        (size(two_by_four, None, None), true, "a plywood crate with solid 2x4 framing"),
        (size(None, four_by_four, None), true, "a plywood crate on 4x4 runners"),
        (size(None, None, Some("3/4 in")), true, "a crate of boards"),
        (size(two_by_four, None, Some("6 mm")), false, "slats of 6 mm"),
        (size(two_by_four, None, Some("6.1 mm")), true, "slats of more"),
        (size(two_by_four, four_by_four, Some("0 in")), false, "framing of plywood"),
    ] {
        assert_eq!(must_be_marked(&size, "US", "DE"), marked, "{of}");
        assert!(!must_be_marked(&size, "US", "CA") && !must_be_marked(&size, "DE", "FR"), "{of}");
    }
}
