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
