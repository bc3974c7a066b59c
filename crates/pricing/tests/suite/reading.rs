//! What is written reads back as it was, and no text makes a reader panic.

use proptest::prelude::*;
use rust_decimal::Decimal;
use scantling_pricing::book::ShopBook;
use scantling_pricing::brief::Brief;
use scantling_pricing::delivery::{read_place, region_for};
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
        if let Some(place) = destination("US", &text).or_else(|| destination(&text, "60601")) {
            drop(read_place(&place));
        }
        Ok(())
    });
    holds(1500, &"[-0-9 ./,'\"½¼ftinmc]{0,14}", |text| {
        drop(read_length(&text, LengthUnit::Millimetre, DecimalMark::Comma));
        Ok(())
    });
}

#[test]
fn every_place_is_in_one_region_and_no_postal_code_panics() {
    let book = demo();
    holds(1000, &("[A-Z]{2}", "[0-9A-Z -]{1,10}"), |(country, code)| {
        let Some(destination) = destination(&country, &code) else { return Ok(()) };
        if let Ok(place) = read_place(&destination) {
            prop_assert!(region_for(&book.regions, &place).is_some());
        }
        Ok(())
    });
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
