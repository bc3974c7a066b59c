//! Postal codes against the published patterns: `shared/reference/delivery/regions.md`.

use scantling_pricing::delivery::read_place;

use crate::random::destination;

/// The pattern of regions.md section 3: `^[ABCEGHJ-NPRSTVXY]\d[ABCEGHJ-NPRSTV-Z]`.
fn is_forward_sortation_area(code: &[u8]) -> bool {
    let in_letters = |set: &[u8], sign: &u8| set.contains(sign);
    matches!(code, [first, digit, last] if in_letters(b"ABCEGHJKLMNPRSTVXY", first)
        && digit.is_ascii_digit() && in_letters(b"ABCEGHJKLMNPRSTVWXYZ", last))
}

/// The pattern of section 4 there: `^[A-Z]{1,2}\d[A-Z\d]?$`.
fn is_outward(code: &[u8]) -> bool {
    let area = code.iter().take_while(|sign| sign.is_ascii_uppercase()).count();
    let rest = &code[area..];
    (1..=2).contains(&area)
        && rest.first().is_some_and(u8::is_ascii_digit)
        && rest.len() <= 2
        && rest.iter().all(|sign| sign.is_ascii_uppercase() || sign.is_ascii_digit())
}

/// The pattern of section 2 there: `^\d{5}(-\d{4})?$`.
fn is_zip(code: &[u8]) -> bool {
    let digits = |part: &[u8]| part.iter().all(u8::is_ascii_digit);
    match code.len() {
        5 => digits(code),
        10 => digits(&code[..5]) && code[5] == b'-' && digits(&code[6..]),
        _ => false,
    }
}

/// Every text of so many signs of an alphabet.
fn every(alphabet: &[u8], length: usize) -> Vec<Vec<u8>> {
    (0..length).fold(vec![Vec::new()], |shorter, _| {
        let longer =
            |text: &Vec<u8>| alphabet.iter().map(|sign| [text.as_slice(), &[*sign]].concat()).collect::<Vec<_>>();
        shorter.iter().flat_map(longer).collect()
    })
}

#[test]
fn postal_codes_are_those_of_the_published_patterns() {
    // shared/reference/delivery/regions.md sections 2 to 4; each predicate above is the pattern that stands there.
    let page = include_str!("../../../../../shared/reference/delivery/regions.md");
    for pattern in [r"`^\d{5}(-\d{4})?$`", r"`^[ABCEGHJ-NPRSTVXY]\d[ABCEGHJ-NPRSTV-Z]`", r"`^[A-Z]{1,2}\d[A-Z\d]?$`"] {
        assert!(page.contains(pattern), "{pattern}");
    }
    let reads = |country: &str, code: &[u8]| {
        let code = std::str::from_utf8(code).unwrap();
        read_place(&destination(country, code).unwrap()).is_ok()
    };
    let told = |code: &[u8]| String::from_utf8_lossy(code).into_owned();
    let signs: Vec<u8> = (b'A'..=b'Z').chain(b'0'..=b'9').collect();
    // Three signs, all 46,656: half of a Canadian code, or its first half with a second that is sound; and a British first half.
    let mut found = [0, 0];
    for code in every(&signs, 3) {
        let (half, whole) = (reads("CA", &code), reads("CA", &[&code[..], b" 0B1"].concat()));
        assert_eq!([half, whole], [is_forward_sortation_area(&code); 2], "{}", told(&code));
        found[0] += usize::from(half);
    }
    // Of one to four signs, one of each kind: letters and digits behave alike, so that a few of either stand for all.
    for length in 1..=4 {
        for code in every(if length < 4 { &signs } else { b"AMZ059" }, length) {
            let (half, whole) = (reads("GB", &code), reads("GB", &[&code[..], b" 1AA"].concat()));
            assert!(half == is_outward(&code) && whole == half, "{}: {half}, {whole}", told(&code));
            found[1] += usize::from(half);
        }
    }
    // Canada has 18 x 10 x 20. Britain, of up to three signs: 26 x 10 of two, 26 x 10 x 36 and 26 x 26 x 10 of three; of four, 3 x 3 x 3 x 6.
    assert_eq!(found, [3600, 260 + 9360 + 6760 + 162]);
    // Zip codes of up to ten signs, of a digit, a hyphen and a letter; nine digits close up are taken beyond the pattern.
    for length in 1..=10 {
        for code in every(b"7-A", length) {
            let close = length == 9 && code.iter().all(u8::is_ascii_digit);
            assert_eq!(reads("US", &code), is_zip(&code) || close, "{}", told(&code));
        }
    }
}
