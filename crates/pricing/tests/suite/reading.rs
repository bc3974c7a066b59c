//! What is written reads back as it was, and no text makes a reader panic.

use proptest::prelude::*;
use rust_decimal::Decimal;
use scantling_pricing::book::ShopBook;
use scantling_pricing::book::Text;
use scantling_pricing::brief::{Brief, Destination};
use scantling_pricing::delivery::{Place, read_place, region_for};
use scantling_pricing::estimate::estimate;
use scantling_pricing::measure::{DecimalMark, Length, LengthUnit, read_length};
use scantling_pricing::money::Money;
use serde_json::json;

use crate::random::{briefs, destination, holds, shops};
use crate::start::{demo, demo_value, selling, sound};

#[test]
fn lengths_are_read_back_as_they_are_written() {
    holds(2000, &(-100_000_000_000i64..100_000_000_000, any::<bool>()), |(nanometres, sixty_fourths)| {
        let length = if sixty_fourths {
            Length::sixty_fourths(i32::try_from(nanometres.div_euclid(400_000)).unwrap())
        } else {
            Length::from_nanometres(nanometres)
        };
        let written = length.to_string();
        for (unit, mark) in [(LengthUnit::Inch, DecimalMark::Point), (LengthUnit::Millimetre, DecimalMark::Point)] {
            prop_assert_eq!(read_length(&written, unit, mark), Ok(length), "{}", written);
        }
        prop_assert_eq!(
            read_length(&length.show(LengthUnit::Millimetre), LengthUnit::Inch, DecimalMark::Point),
            Ok(length)
        );
        Ok(())
    });
}

#[test]
fn a_size_in_millimetres_is_the_size_in_inches() {
    // 1/64 in is 0.396875 mm exactly (NIST SP 811, the inch of 25.4 mm): any size in sixty-fourths can be asked for in either unit.
    let book = demo();
    holds(40, &briefs(), |brief| {
        let mut metric = serde_json::to_value(&brief).unwrap();
        let mut inches = metric.clone();
        for (key, size) in &brief.dimensions {
            let size = size.to_sixty_fourth_down();
            inches["dimensions"][key.as_str()] = json!(size.show(LengthUnit::Inch));
            metric["dimensions"][key.as_str()] = json!(size.show(LengthUnit::Millimetre));
        }
        let [inches, metric] = [inches, metric].map(|value| Brief::read(&value.to_string()).unwrap());
        let priced = |brief: &Brief| estimate(&book, brief).map(|priced| serde_json::to_string(&priced).unwrap());
        prop_assert_eq!(priced(&inches), priced(&metric));
        Ok(())
    });
}

#[test]
fn books_and_briefs_are_read_back_as_they_are_written() {
    holds(60, &(shops(), briefs()), |(shop, brief)| {
        let shop = sound(&shop);
        prop_assert_eq!(&ShopBook::read(&serde_json::to_string(&shop).unwrap()).unwrap(), &shop);
        prop_assert_eq!(Brief::read(&serde_json::to_string(&brief).unwrap()).unwrap(), brief);
        Ok(())
    });
}

#[test]
fn no_text_makes_a_reader_panic() {
    holds(3000, &"\\PC{0,40}", |text| {
        for mark in [DecimalMark::Point, DecimalMark::Comma] {
            drop(read_length(&text, LengthUnit::Inch, mark));
        }
        drop(ShopBook::read(&text));
        drop(Brief::read(&text));
        for place in [destination("US", &text), destination("GB", &text), destination(&text, "60601")] {
            drop(place.map(|place| read_place(&place)));
        }
        Ok(())
    });
    holds(1500, &"[-0-9 ./,'\"½¼ftinmc]{0,14}", |text| {
        drop(read_length(&text, LengthUnit::Millimetre, DecimalMark::Comma));
        Ok(())
    });
}

/// The region a destination is in, and the place it reads as.
fn goes(country: &str, code: &str) -> (String, Place) {
    let (book, destination) = (demo(), destination(country, code).unwrap());
    let place = read_place(&destination).unwrap_or_else(|problem| panic!("{country} {code}: {problem}"));
    (region_for(&book.regions, &place).unwrap().key.to_string(), place)
}

#[test]
fn every_state_resolves() {
    // The first prefix of each state of the postal map (shared/reference/delivery/zip3_state.csv).
    let mut states = std::collections::BTreeMap::new();
    for row in include_str!("../../../../shared/reference/delivery/zip3_state.csv").lines().skip(1) {
        let (zip3, state) = row.split_once(',').unwrap();
        states.entry(state.split(',').next().unwrap().to_owned()).or_insert(format!("{zip3}01"));
    }
    assert!(states.len() >= 51, "{}", states.len());
    for (state, zip) in &states {
        let (region, place) = goes("US", zip);
        assert_eq!(place.state.as_deref(), Some(state.as_str()), "{zip}");
        assert_ne!(region, "elsewhere", "{state}");
    }
}

#[test]
fn every_province_postal_area_and_country_of_the_union_resolves() {
    // Canada: a first letter for every province and territory (regions.md section 3).
    for (code, province) in [
        ("A1A 1A1", "NL"),
        ("B3H 4R2", "NS"),
        ("C1A 7N8", "PE"),
        ("E1A 1A1", "NB"),
        ("H2X 1Y4", "QC"),
        ("k1a0b1", "ON"),
        ("R3C 4T3", "MB"),
        ("S4P 3Y2", "SK"),
        ("T2P 2M5", "AB"),
        ("V6B 4Y8", "BC"),
        ("X0A 0H0", "NU"),
        ("X1A 2P7", "NT"),
        ("Y1A 2C6", "YT"),
    ] {
        let (region, place) = goes("CA", code);
        assert_eq!((region.as_str(), place.state.as_deref()), ("canada", Some(province)), "{code}");
    }
    // The United Kingdom, whole or by its outward half, by area.
    for (code, area) in
        [("SW1A 1AA", "SW"), ("b33 8th", "B"), ("IV51", "IV"), ("BT1 5GS", "BT"), ("M1 1AE", "M"), ("W1A", "W")]
    {
        let (region, place) = goes("GB", code);
        assert_eq!((region.as_str(), place.state.as_deref()), ("united-kingdom", Some(area)), "{code}");
    }
    // The European Union, by a code of each country as it is written there (from memory), and by the country alone.
    for (country, code) in [
        ("AT", "A-1010"),
        ("BE", "1000"),
        ("BG", "1000"),
        ("CY", "1010"),
        ("CZ", "110 00"),
        ("DE", "D-10115"),
        ("DK", "1050"),
        ("EE", "10111"),
        ("ES", "28001"),
        ("FI", "00100"),
        ("FR", "75001"),
        ("GR", "105 57"),
        ("HR", "HR-10000"),
        ("HU", "1011"),
        ("IE", "D02 X285"),
        ("IT", "00118"),
        ("LT", "LT-01001"),
        ("LU", "L-1111"),
        ("LV", "LV-1010"),
        ("MT", "VLT 1117"),
        ("NL", "1012 JS"),
        ("PL", "00-001"),
        ("PT", "1000-001"),
        ("RO", "010011"),
        ("SE", "111 20"),
        ("SI", "1000"),
        ("SK", "811 01"),
    ] {
        // Members that do not pay in euro: CZ, DK, HU, PL, RO, SE (Bulgaria does since 2026: insurance_tax_currency.md section 6).
        let region = if ["CZ", "DK", "HU", "PL", "RO", "SE"].contains(&country) { "europe" } else { "euro-area" };
        assert_eq!(goes(country, code).0, region, "{country}");
        let alone = read_place(&Destination::new(Text::new(country).unwrap(), None)).unwrap();
        assert_eq!(alone.country, country);
        assert_eq!(region_for(&demo().regions, &alone).unwrap().key.as_str(), region, "{country} alone");
    }
}

#[test]
fn codes_that_are_none_of_their_country_say_what_one_looks_like() {
    for (country, code, example) in [
        ("US", "6060", "60601 or 60601-1234"),
        ("US", "K1A 0B1", "60601"),
        ("CA", "D1A 0B1", "K1A 0B1"),
        ("CA", "W1A 0B1", "K1A 0B1"),
        ("CA", "90210", "K1A 0B1"),
        ("GB", "SW1A 1A", "SW1A 1AA"),
        ("GB", "123", "first half"),
        ("DE", "1011", "99999"),
        ("NL", "1012", "9999 AA"),
        ("PL", "0-001", "99-999"),
        ("IE", "D0", "A9* ****"),
        ("IE", "D02 X", "A9* ****"),
        ("CA", "K1A 0", "K1A 0B1"),
        ("CA", "D1A", "K1A 0B1"),
        ("US", "60601--1234", "60601"),
    ] {
        let problem = read_place(&destination(country, code).unwrap()).unwrap_err().to_string();
        assert!(problem.contains(example), "{country} {code}: {problem}");
    }
    // Without a code the United States can't be told apart.
    let alone = Destination::new(Text::new("US").unwrap(), None);
    assert!(read_place(&alone).is_err());
}

#[test]
fn a_book_with_a_letter_changed_is_read_priced_or_refused_but_never_panics() {
    let text = serde_json::to_string(&demo_value()).unwrap();
    let brief = crate::start::brief(r#"{"scantling_brief": 1, "design": "trestle-table"}"#);
    let letter = prop::sample::select(vec!['"', '0', '9', '-', 'x', '{', '}', '[', ']', ',', ':', '.', ' ', 'é']);
    holds(300, &(any::<prop::sample::Index>(), letter), |(at, letter)| {
        let mut changed: Vec<char> = text.chars().collect();
        let place = at.index(changed.len());
        changed[place] = letter;
        if let Ok(shop) = ShopBook::read(&changed.into_iter().collect::<String>()) {
            let zero = Money::zero(scantling_pricing::money::Currency::USD);
            let price = estimate(&selling(&shop), &brief).map_or(zero, |estimate| estimate.works.likely);
            prop_assert!(price.amount() >= Decimal::ZERO);
        }
        Ok(())
    });
}
