//! Briefs in links: there and back for every brief, short, and safe against any text.

use scantling_pricing::map::Map;

use proptest::prelude::*;
use scantling_pricing::book::values::{Count, Day};
use scantling_pricing::book::{Key, Text};
use scantling_pricing::brief::{Brief, Destination, Site};
use scantling_pricing::delivery::Mode;
use scantling_pricing::estimate::estimate;
use scantling_pricing::link::{LONGEST, Link, LinkFault};
use scantling_pricing::measure::Length;

use crate::random::{briefs, holds};
use crate::start::demo;

/// No link of the demo's book has so many letters; the papers name it.
const DEMO_LONGEST: usize = 400;

fn link(brief: Brief) -> Link {
    Link { brief, edition: Day::new("2026-11-25").unwrap() }
}

#[test]
fn every_brief_over_all_the_demo_offers_goes_there_and_back_in_fewer_than_400_letters() {
    let book = demo();
    holds(500, &briefs(), |brief| {
        for (brief, delivery) in [(brief.clone(), None), (brief.spelled_out(&book), Some(Mode::WhiteGlove))] {
            let link = link(Brief { delivery, ..brief });
            let text = link.write().unwrap();
            prop_assert!(text.len() < DEMO_LONGEST, "{} letters", text.len());
            prop_assert!(text.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'-' || b == b'_'));
            prop_assert_eq!(Link::read(&text), Ok(link));
        }
        Ok(())
    });
}

/// Briefs that no book of ours could fill: any keys, lengths, places.
fn wild() -> impl Strategy<Value = Brief> {
    let key = || "[a-z0-9-]{1,40}".prop_map(|text| Key::new(&text).unwrap());
    let nanometres = prop_oneof![
        -100_000_000_000..=100_000_000_000_i64,
        (-250_000..250_000_i64).prop_map(|n| n * 396_875),
        (-1_000_000..1_000_000_i64).prop_map(|n| n * 100_000),
    ];
    let length = nanometres.prop_map(Length::from_nanometres);
    let choices = || prop::collection::btree_map(key(), key(), 0..6);
    let words = || prop::option::of("\\PC{1,60}".prop_filter("words", |text| Text::new(text).is_ok()));
    let sizes = prop::collection::btree_map(key(), length, 0..6);
    let rest = (prop::option::of(key()), 0..=100_000_u32, words(), words(), 0..7_usize);
    (key(), sizes, choices(), choices(), rest).prop_map(|(design, dimensions, materials, options, rest)| {
        let (finish, quantity, country, code, mode) = rest;
        let words = |text: String| Text::new(&text).unwrap();
        let destination = country.map(|country| Destination {
            site: [Site::Home, Site::Dock, Site::LimitedAccess][mode % 3],
            inside: quantity % 2 == 1,
            ..Destination::new(words(country), code.map(words))
        });
        Brief {
            dimensions: dimensions.into_iter().collect(),
            materials: materials.into_iter().collect(),
            options: options.into_iter().collect(),
            finish,
            quantity: Count::new(quantity).unwrap(),
            destination,
            delivery: Mode::ALL.get(mode).copied(),
            ..Brief::new(design)
        }
    })
}

#[test]
fn any_brief_that_is_written_reads_back_the_same() {
    let written = std::cell::Cell::new(0);
    holds(2000, &wild(), |brief| {
        let link = link(brief);
        if let Some(text) = link.write() {
            written.set(written.get() + 1);
            prop_assert!(text.len() <= LONGEST);
            prop_assert_eq!(Link::read(&text), Ok(link));
        }
        Ok(())
    });
    assert!(written.get() > 1900, "only {} of 2000 were short enough", written.get());
}

#[test]
fn what_is_too_long_to_be_read_back_is_not_written() {
    let long = |letters: usize| {
        let code = Text::new(&"1".repeat(letters)).unwrap();
        let place = Destination::new(Text::new("US").unwrap(), Some(code));
        link(Brief { destination: Some(place), ..Brief::new(Key::new("table").unwrap()) }).write()
    };
    assert!(long(200).is_some());
    assert_eq!(long(201), None);
    assert_eq!(long(2000), None);
}

#[test]
fn a_letter_changed_dropped_or_added_is_told_and_nothing_panics() {
    let text = link(demo_brief()).write().unwrap();
    for (at, was) in text.char_indices() {
        for other in ['A', 'z', '_', '=', '%', ' ', 'é'] {
            if other != was {
                let mut changed = text.clone();
                changed.replace_range(at..=at, &other.to_string());
                let read = Link::read(&changed);
                // The first letters hold the version; of a later one no more is said.
                let newer = at < 2 && read == Err(LinkFault::Newer);
                assert!(newer || read == Err(LinkFault::Damaged), "{changed}: {read:?}");
            }
        }
        assert!(Link::read(text.get(..at).unwrap()).is_err());
    }
    assert_eq!(Link::read(&"A".repeat(LONGEST + 1)), Err(LinkFault::TooLong));
    assert_eq!(Link::read("Ag"), Err(LinkFault::Newer));
    assert_eq!(Link::read(""), Err(LinkFault::Damaged));
    holds(5000, &"[A-Za-z0-9_-]{0,400}", |noise| {
        let _ = Link::read(&noise);
        Ok(())
    });
}

/// Bytes with a right checksum, and any content: what someone could make on purpose.
#[test]
fn content_made_on_purpose_is_read_within_bounds_or_refused() {
    let forge = |body: &[u8]| {
        let crc = body.iter().fold(u32::MAX, |crc, byte| {
            (0..8).fold(crc ^ u32::from(*byte), |crc, _| crc >> 1 ^ if crc & 1 == 1 { 0xedb8_8320 } else { 0 })
        });
        let bytes: Vec<u8> = [1].into_iter().chain((!crc).to_be_bytes()).chain(body.iter().copied()).collect();
        let letters: Vec<char> = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_".chars().collect();
        let bits: Vec<u8> = bytes.iter().flat_map(|byte| (0..8).rev().map(move |bit| byte >> bit & 1)).collect();
        let six = |bits: &[u8]| (0..6).fold(0, |value, bit| value << 1 | usize::from(*bits.get(bit).unwrap_or(&0)));
        bits.chunks(6).map(|bits| letters[six(bits)]).collect::<String>()
    };
    // 2026-11-25, design “a”, nothing else: the shortest there is.
    let least = [0x85, 0xd2, 0xd4, 0x09, 1, b'a', 0, 0, 0, 0, 1, 0, 0, 0, 0, 0];
    assert_eq!(Link::read(&forge(&least)).unwrap().brief, Brief::new(Key::new("a").unwrap()));
    let with = |place: usize, bytes: &[u8]| {
        let mut body = least.to_vec();
        body.splice(place..=place, bytes.iter().copied());
        Link::read(&forge(&body))
    };
    let refused = [
        ("a day there is not", with(3, &[0x7f])),
        ("a key in capitals", with(5, b"A")),
        ("a million dimensions", with(6, &[0xc0, 0x84, 0x3d])),
        ("the same dimension twice", with(6, &[2, 1, b'l', 8, 1, b'l', 8])),
        ("a unit there is not", with(6, &[1, 1, b'l', 0b1011])),
        ("more pieces than can be counted", with(10, &[0xff, 0xff, 0xff, 0x7f])),
        ("a code without a country", with(12, &[1, b'1'])),
        ("a way there is not", with(15, b"\x04boat")),
        ("a kind of place there is not", with(13, b"\x04moon")),
        ("a dock without a country", with(13, b"\x04dock")),
        ("inside by half", with(14, &[2])),
        ("something behind the end", with(15, &[0, 0])),
        ("a control character in a country", with(11, &[1, 7])),
    ];
    for (what, read) in refused {
        assert_eq!(read, Err(LinkFault::Damaged), "{what}");
    }
    holds(3000, &prop::collection::vec(any::<u8>(), 0..300), |body| {
        let _ = Link::read(&forge(&body));
        Ok(())
    });
}

fn demo_brief() -> Brief {
    crate::start::brief(include_str!("../../../../shared/briefs/table-to-chicago.json")).spelled_out(&demo())
}

#[test]
fn spelled_out_a_brief_comes_to_the_same() {
    let book = demo();
    holds(100, &briefs(), |brief| {
        let bare = Brief { dimensions: Map::new(), finish: None, ..brief };
        let out = bare.spelled_out(&book);
        prop_assert_eq!(estimate(&book, &out), estimate(&book, &bare));
        prop_assert!(out.finish.is_some() && out.dimensions.len() >= 3);
        Ok(())
    });
}
