//! How far it is: `shared/reference/delivery/own_van.md` and the postal tables in `regions.md`.

use rust_decimal::Decimal;
use scantling_pricing::book::values::Factor;
use scantling_pricing::delivery::{Atlas, Point, great_circle_miles, read_place, road_miles};

use super::{close, decimal, rows};
use crate::random::destination;

/// A place by its degrees, as published.
fn at(degrees: &str) -> Point {
    let (north, east) = degrees.split_once(',').unwrap();
    let whole = |text: &str| (decimal(text) * Decimal::from(10_000)).try_into().unwrap();
    Point { north: whole(north), east: whole(east) }
}

#[test]
fn great_circles_between_known_cities() {
    // Section 4, check values computed there by the haversine formula on the IUGG mean radius, miles.
    for (from, to, miles) in [
        ("40.7128,-74.0060", "34.0522,-118.2437", "2445.563"),
        ("41.8781,-87.6298", "39.7392,-104.9903", "918.204"),
        ("40.7128,-74.0060", "42.3601,-71.0589", "190.207"),
        ("47.6062,-122.3321", "25.7617,-80.1918", "2731.611"),
        ("51.5074,-0.1278", "48.8566,2.3522", "213.476"),
        ("51.5074,-0.1278", "55.9533,-3.1883", "331.597"),
        ("52.5200,13.4050", "48.1351,11.5820", "313.430"),
        ("43.6532,-79.3832", "49.2827,-123.1207", "2087.133"),
        ("0,0", "1,0", "69.093"),
        ("40.77,-73.97", "34.04,-118.31", "2450.999"),
    ] {
        close(great_circle_miles(at(from), at(to)), decimal(miles), "0.001", &format!("{from} to {to}"));
    }
    // The antipode, 20015.11444 km at 1.609344; the date line, one degree across; the same point.
    let antipode = decimal("20015.11444") / decimal("1.609344");
    close(great_circle_miles(at("0,0"), at("0,180")), antipode, "0.001", "antipode");
    close(great_circle_miles(at("0,179.5"), at("0,-179.5")), decimal("69.093"), "0.001", "date line");
    assert_eq!(great_circle_miles(at("43.8,-91.2"), at("43.8,-91.2")), Decimal::ZERO);
    // There and back is as far.
    let (here, there) = (at("43.8,-91.2"), at("30.1,-97.7"));
    assert_eq!(great_circle_miles(here, there), great_circle_miles(there, here));
}

#[test]
fn roads_take_what_the_design_rule_says_and_never_less_for_more() {
    // Section 3, the design rule (CP, derived there): 1.42 times up to 10 miles, 1.30 at 50, 1.22 at 250 and 1.18 beyond in the United
    // States and Canada; 1.35 and 1.30 for the last two in Europe. Rounded up to whole miles.
    let road = |crow: &str, country: &str| road_miles(decimal(crow), country, None);
    assert_eq!((road("10", "US"), road("50", "CA"), road("250", "US")), (15, 65, 305));
    assert_eq!((road("250", "GB"), road("1000", "DE")), (338, 1313));
    // 750 miles beyond the 250: 305 + 885.
    assert_eq!(road("1000", "US"), 1190);
    assert_eq!(road("0", "US"), 0);
    // Half way from 10 to 50: 14.2 and half of 50.8.
    assert_eq!(road("30", "US"), 40);
    let own = Factor::new(decimal("1.5"));
    assert_eq!(road_miles(decimal("100.1"), "US", own), 151);
    for country in ["US", "GB"] {
        let by_tens: Vec<u32> = (0..3000).map(|crow| road_miles(Decimal::from(crow), country, None)).collect();
        assert!(by_tens.is_sorted() && by_tens[0] == 0, "farther is never nearer");
    }
}

#[test]
fn every_postal_area_lies_where_the_open_tables_say() {
    // U.S. Census Bureau 2023 Gazetteer by three digits (PUB, public domain) and one town for each British area (PUB, CC BY 4.0).
    let atlas = Atlas::bundled();
    let point = |country: &str, code: &str| atlas.point(&read_place(&destination(country, code).unwrap()).unwrap());
    let hundredths = |text: &str| -> i32 { (decimal(text) * Decimal::ONE_HUNDRED).try_into().unwrap() };
    let zips = rows(include_str!("../../../../../shared/reference/delivery/zip3_centroids.csv"));
    assert_eq!(zips.len(), 896);
    for row in zips {
        let there = Point { north: hundredths(&row[2]) * 100, east: hundredths(&row[3]) * 100 };
        assert_eq!(point("US", &format!("{}01", row[0])), Some(there), "{}", row[0]);
    }
    let areas = rows(include_str!("../../../../../shared/reference/delivery/uk_postcode_areas.csv"));
    assert_eq!(areas.len(), 124);
    for row in areas {
        let there = Point { north: hundredths(&row[3]) * 100, east: hundredths(&row[4]) * 100 };
        assert_eq!(point("GB", &format!("{}1", row[0])), Some(there), "{}", row[0]);
    }
    // regions.md section 2: a prefix of post boxes takes the next lower of its state (901 CA: 900); the forces' lie nowhere.
    assert_eq!(point("US", "90101"), point("US", "90001"));
    assert_eq!((point("US", "09001"), point("US", "96601")), (None, None));
    assert_eq!((point("CA", "K1A 0B1"), point("DE", "10115")), (None, None), "no open table that may be shipped");
    // Before it is filled, it knows nothing.
    let empty = Atlas::default();
    assert_eq!(empty.point(&read_place(&destination("US", "60601").unwrap()).unwrap()), None);
}

#[test]
fn spot_values_of_the_prefix_table() {
    // regions.md section 2, spot values (PUB): 606 IL 41.87,-87.67 and others; Chicago from New York, 100 NY 40.77,-73.97.
    let atlas = Atlas::bundled();
    let point = |code: &str| atlas.point(&read_place(&destination("US", code).unwrap()).unwrap()).unwrap();
    for (zip, degrees) in
        [("60601", "41.87,-87.67"), ("10001", "40.77,-73.97"), ("02101", "42.34,-71.07"), ("97301", "44.74,-123.19")]
    {
        assert_eq!(point(zip), at(degrees), "{zip}");
    }
}
