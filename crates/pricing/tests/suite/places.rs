//! Which region of a book a destination is in: postal ranges, states, countries and their order.

use proptest::prelude::*;
use scantling_pricing::book::Text;
use scantling_pricing::book::delivery::Region;
use scantling_pricing::book::document::Node;
use scantling_pricing::brief::Destination;
use scantling_pricing::delivery::{Place, countries, postal_example, read_place, region_for};

use crate::random::{destination, holds};
use crate::start::demo;

/// A region that takes what these fields say.
fn region(key: &str, takes: &str) -> Region {
    let text = format!(r#"{{"key": "{key}", "name": "{key}", {takes} "collect": true}}"#);
    Node::read(&text).unwrap().read_as().unwrap()
}

fn place(country: &str, code: &str) -> Place {
    read_place(&destination(country, code).unwrap()).unwrap_or_else(|problem| panic!("{country} {code}: {problem}"))
}

/// The key of the region such a destination is in.
fn goes<'r>(regions: &'r [Region], country: &str, code: &str) -> &'r str {
    region_for(regions, &place(country, code)).unwrap().key.as_str()
}

#[test]
fn british_ranges_go_by_the_first_half_of_a_code() {
    // The ranges of shared/reference/delivery/regions.md section 4, where carriers ask more: Isle of Wight PO30 to 41, Argyll PA20 to 80,
    // Scilly TR21 to 25, KA27 and KA28. Without their space PO3 0AB, PA2 9AB and TR2 2AB begin alike, and lie on the mainland.
    let regions = [
        region(
            "islands",
            r#""countries": ["GB"], "prefixes": ["PO30-PO41", "PA20-PA80", "TR21-TR25", "KA27", "KA28"],"#,
        ),
        region("westminster", r#""countries": ["GB"], "prefixes": ["SW1"],"#),
        region("inverness", r#""countries": ["GB"], "prefixes": ["IV"],"#),
        region("one-house", r#""countries": ["GB"], "prefixes": ["W1A1"],"#),
        region("elsewhere", ""),
    ];
    for (code, expected) in [
        ("PO30 1AB", "islands"),
        ("PO41 0XY", "islands"),
        ("po33", "islands"),
        ("PO3 0AB", "elsewhere"),
        ("PO4 1AB", "elsewhere"),
        ("PO29 9ZZ", "elsewhere"),
        ("PO42", "elsewhere"),
        ("PA20 0AB", "islands"),
        ("PA80 5XX", "islands"),
        ("PA2 9AB", "elsewhere"),
        ("PA2", "elsewhere"),
        ("PA8 0AB", "elsewhere"),
        ("TR21 0LN", "islands"),
        ("TR2 2AB", "elsewhere"),
        ("KA27 8AA", "islands"),
        ("KA2 7AA", "elsewhere"),
        // A London district with a letter is part of its number's; the numbers beside it are not.
        ("SW1A 1AA", "westminster"),
        ("SW1", "westminster"),
        ("SW10 1AA", "elsewhere"),
        ("SW1 1AA", "westminster"),
        // An area by its letters alone, and no area that only begins so.
        ("IV51 9XX", "inverness"),
        ("I1 1AA", "elsewhere"),
        // Beyond the first half, as it is written.
        ("W1A 1AA", "one-house"),
        ("W1A 2AA", "elsewhere"),
    ] {
        assert_eq!(goes(&regions, "GB", code), expected, "{code}");
        assert_eq!(goes(&regions, "GB", &code.replace(' ', "")), expected, "{code} without its space");
    }
    // What could be two is none: as far as it is typed, PA2 9AB is neither in PA2 nor in PA29.
    assert!(read_place(&destination("GB", "PA2 9").unwrap()).is_err());
}

#[test]
fn ranges_and_states_take_their_own_and_the_first_that_matches_wins() {
    let regions = [
        region("valley", r#""countries": ["US"], "prefixes": ["546-549"],"#),
        region("wisconsin", r#""countries": ["US"], "states": ["WI"],"#),
        region("nunavut", r#""countries": ["CA"], "prefixes": ["X0A-X0C"],"#),
        region("ontario", r#""countries": ["CA"], "states": ["ON"],"#),
        region("canada", r#""countries": ["CA"],"#),
        region("highlands", r#""countries": ["GB"], "states": ["IV", "KW"],"#),
        // Of no country: what it takes, it takes anywhere.
        region("ones", r#""prefixes": ["10-19"],"#),
        region("elsewhere", ""),
    ];
    for (country, code, expected) in [
        ("US", "54599", "wisconsin"),
        ("US", "54600", "valley"),
        ("US", "54999-1234", "valley"),
        ("US", "55001", "elsewhere"),
        ("US", "53703", "wisconsin"),
        ("CA", "X0A 0H0", "nunavut"),
        ("CA", "X0C 0A1", "nunavut"),
        ("CA", "X0E 0A1", "canada"),
        ("CA", "W0A", "nothing"),
        ("CA", "K1A 0B1", "ontario"),
        ("CA", "H2X 1Y4", "canada"),
        ("GB", "IV51 9XX", "highlands"),
        ("GB", "EH1 1YZ", "elsewhere"),
        ("DE", "10115", "ones"),
        ("DE", "20095", "elsewhere"),
    ] {
        let read = read_place(&destination(country, code).unwrap());
        let found = read.ok().and_then(|place| region_for(&regions, &place)).map_or("nothing", |one| one.key.as_str());
        assert_eq!(found, expected, "{country} {code}");
    }
    // The demo: its own valley before the rest of Wisconsin.
    let demo = demo().regions;
    assert_eq!([goes(&demo, "US", "54601"), goes(&demo, "US", "53703")], ["nearby", "wisconsin"]);
    // Without a last resort there are places in none.
    assert!(region_for(&regions[..7], &place("DE", "20095")).is_none());
}

#[test]
fn countries_halves_and_dashes_are_read_as_people_write_them() {
    // The codes people write for two countries that ISO 3166-1 names otherwise.
    for (written, code, proper, region) in [
        ("UK", "SW1A 1AA", "GB", "united-kingdom"),
        (" uk ", "M1", "GB", "united-kingdom"),
        ("EL", "105 57", "GR", "euro-area"),
        ("el", "EL-105 57", "GR", "euro-area"),
    ] {
        assert_eq!(place(written, code), place(proper, code), "{written}");
        assert_eq!((place(written, code).country.as_str(), goes(&demo().regions, written, code)), (proper, region));
    }
    // Without a code as well.
    let alone = read_place(&Destination::new(Text::new("UK").unwrap(), None)).unwrap();
    assert_eq!(alone.country, "GB");
    // The first half tells a Canadian province and an Irish routing area (D6W has a letter) as it tells a British one.
    let half = |country, code| (place(country, code).postal_code, place(country, code).state);
    assert_eq!(half("CA", "k1a"), ("K1A".into(), Some("ON".into())));
    assert_eq!(half("CA", "X0C"), ("X0C".into(), Some("NU".into())));
    assert_eq!([half("IE", "d02"), half("IE", "D6W")], [("D02".into(), None), ("D6W".into(), None)]);
    // Whatever dash a telephone or a word processor makes of a hyphen.
    for dash in ["-", "\u{2010}", "\u{2011}", "\u{2012}", "\u{2013}", "\u{2014}", "\u{2212}"] {
        for (country, code) in [("US", "98101-1234"), ("PL", "00-001"), ("DE", "D-10115"), ("JP", "100-0001")] {
            assert_eq!(place(country, &code.replace('-', dash)), place(country, code), "{country} by “{dash}”");
        }
    }
}

/// A code of a country by its mask, with digits and letters picked.
fn code_of(country: &str, picks: &[u8]) -> String {
    let mask = match country {
        "CA" => "A9A 9A9",
        "GB" => ["A9 9AA", "A99 9AA", "AA9 9AA", "AA99 9AA", "A9A 9AA", "AA9A 9AA"][usize::from(picks[0]) % 6],
        "US" => ["99999", "99999-9999"][usize::from(picks[0]) % 2],
        _ => postal_example(country).unwrap(),
    };
    // Letters every country with letters in its codes has, Canada too.
    let sign = |(wanted, pick): (char, &u8)| match wanted {
        '9' => char::from(b'0' + pick % 10),
        'A' => char::from(b"ABCEGHJKLMNPRSTV"[usize::from(pick % 16)]),
        '*' => char::from(b"0123456789ACDEFHKNPRTVWXY"[usize::from(pick % 25)]),
        mark => mark,
    };
    mask.chars().zip(picks.iter().cycle()).map(sign).collect()
}

#[test]
fn a_code_of_any_country_reads_as_one_place_however_it_is_written() {
    let regions = demo().regions;
    let known: Vec<&str> = countries().collect();
    let written = (0..known.len(), prop::collection::vec(any::<u8>(), 13), any::<prop::sample::Index>());
    holds(4000, &written, |(which, picks, at)| {
        let country = known[which];
        let code = code_of(country, &picks);
        let read = |country: &str, code: &str| read_place(&destination(country, code).unwrap());
        let Ok(place) = read(country, &code) else { return Err(TestCaseError::fail(format!("{country} {code}"))) };
        let region = region_for(&regions, &place).map(|region| region.key.clone());
        prop_assert!(region.is_some());
        let mut spaced = code.clone();
        spaced.insert(at.index(code.len()), ' ');
        let mut ways = vec![
            code.to_lowercase(),
            format!(" {code} "),
            code.replace(' ', ""),
            code.replace(' ', "-"),
            code.replace(' ', "\u{a0}"),
            code.replace('-', "\u{2013}"),
            spaced,
            // What is kept of it reads again as itself.
            place.postal_code.clone(),
        ];
        if country != "US" {
            ways.push(code.replace('-', ""));
        }
        if code.starts_with(|c: char| c.is_ascii_digit()) && country != "US" {
            ways.extend([
                format!("{country}-{code}"),
                format!("{country} {code}"),
                format!("{}-{code}", country.chars().next().unwrap()),
            ]);
        }
        for way in ways {
            let again = read(&country.to_lowercase(), &way);
            prop_assert_eq!(again.as_ref(), Ok(&place), "{} {} as {}", country, &code, &way);
            let same = region_for(&regions, &again.unwrap()).map(|region| region.key.clone());
            prop_assert_eq!(&same, &region, "{} {}", country, way);
        }
        Ok(())
    });
}

#[test]
fn nothing_typed_for_a_destination_panics_or_is_in_no_region() {
    let regions = demo().regions;
    let known = prop::sample::select(countries().collect::<Vec<_>>()).prop_map(str::to_owned);
    let country = prop_oneof![3 => known, 1 => "[A-Z]{2}", 1 => "\\PC{0,3}"];
    let british = "[A-Z]{1,2}[0-9A-Z]{1,2} ?([0-9][A-Z]{2})?";
    let code = prop_oneof!["[0-9]{4,6}", british, "[0-9A-Za-z \u{2013}-]{0,10}", "\\PC{0,12}"];
    let count = std::cell::Cell::new(0);
    holds(6000, &(country, code), |(country, code)| {
        let Some(destination) = destination(&country, &code) else { return Ok(()) };
        if let Ok(place) = read_place(&destination) {
            count.set(count.get() + 1);
            let region = region_for(&regions, &place);
            prop_assert!(region.is_some(), "{:?}", place);
            // It is the first of those that take it: none before it does, alone.
            let before = regions.iter().take_while(|one| Some(*one) != region);
            for one in before {
                prop_assert!(region_for(std::slice::from_ref(one), &place).is_none(), "{}", one.key);
            }
        }
        Ok(())
    });
    assert!(count.get() > 1000, "{} of these are places", count.get());
}
