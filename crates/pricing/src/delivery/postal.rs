//! Postal codes by country: what one looks like, how it is written, and the state or province it tells.

use super::state_of_zip3;

/// Countries whose codes are known, each with a code as it is written: `9` stands for a digit, `A` for a letter, `*` for either.
///
/// United States, Canada and United Kingdom: `shared/reference/delivery/regions.md` sections 2 to 4 (their letters and lengths are
/// checked beyond the mask; of Canadian, British and Irish codes the first half is enough). The rest from memory of the postal union's lists: the digits of the codes, no more.
const FORMS: [(&str, &str); 36] = [
    ("AT", "9999"),
    ("AU", "9999"),
    ("BE", "9999"),
    ("BG", "9999"),
    ("CA", "A9A 9A9"),
    ("CH", "9999"),
    ("CY", "9999"),
    ("CZ", "999 99"),
    ("DE", "99999"),
    ("DK", "9999"),
    ("EE", "99999"),
    ("ES", "99999"),
    ("FI", "99999"),
    ("FR", "99999"),
    ("GB", ""),
    ("GR", "999 99"),
    ("HR", "99999"),
    ("HU", "9999"),
    ("IE", "A9* ****"),
    ("IS", "999"),
    ("IT", "99999"),
    ("JP", "999-9999"),
    ("LT", "99999"),
    ("LU", "9999"),
    ("LV", "9999"),
    ("MT", "AAA 9999"),
    ("NL", "9999 AA"),
    ("NO", "9999"),
    ("NZ", "9999"),
    ("PL", "99-999"),
    ("PT", "9999-999"),
    ("RO", "999999"),
    ("SE", "999 99"),
    ("SI", "9999"),
    ("SK", "999 99"),
    ("US", "99999"),
];

/// Codes of the countries whose postal codes are known, in alphabetical order.
pub fn countries() -> impl Iterator<Item = &'static str> {
    FORMS.iter().map(|(country, _)| *country)
}

/// A code of one of these countries as it looks, for whoever writes one; `9` stands for a digit, `A` for a letter.
#[must_use]
pub fn example(country: &str) -> Option<&'static str> {
    let (_, mask) = FORMS.iter().find(|(known, _)| *known == country)?;
    Some(match country {
        "US" => "60601 or 60601-1234",
        "CA" => "K1A 0B1",
        "GB" => "SW1A 1AA, or its first half",
        _ => mask,
    })
}

/// A code as regions are told by it: capitals and digits without marks. Nothing when it is none of that country; of a country
/// whose codes are not known, as it is written.
pub(super) fn read(country: &str, written: &str) -> Option<String> {
    let close: String = written.chars().filter(|c| !c.is_whitespace()).map(plain).collect();
    let compact = close.replace('-', "");
    let Some((_, mask)) = FORMS.iter().find(|(known, _)| *known == country) else { return Some(compact) };
    match country {
        "US" => five_digits(&close).map(str::to_owned),
        "GB" => british(written, &compact).then_some(compact),
        "CA" => ((fits(&compact, mask) || fits(&compact, "A9A")) && canadian(&compact)).then_some(compact),
        "IE" if fits(&compact, "A9*") => Some(compact),
        _ => {
            // People write the country before the code, as D-10115 or LV-1010, where a code has no letters of its own.
            let bare = if mask.starts_with('9') {
                compact.trim_start_matches(|c: char| c.is_ascii_uppercase())
            } else {
                &compact
            };
            let prefixed = compact.len().saturating_sub(bare.len());
            (prefixed <= 2 && fits(bare, mask)).then(|| bare.to_owned())
        }
    }
}

/// A sign as codes have it: a capital where it is a letter, a hyphen where it is any dash.
const fn plain(sign: char) -> char {
    match sign {
        '\u{2010}'..='\u{2015}' | '\u{2212}' => '-',
        _ => sign.to_ascii_uppercase(),
    }
}

/// Whether a code without marks is one of a mask's letters and digits.
fn fits(compact: &str, mask: &str) -> bool {
    let mut wanted = mask.bytes().filter(|b| b.is_ascii_alphanumeric() || *b == b'*');
    let each = compact.bytes().all(|b| match wanted.next() {
        Some(b'9') => b.is_ascii_digit(),
        Some(b'A') => b.is_ascii_uppercase(),
        Some(_) => b.is_ascii_alphanumeric(),
        None => false,
    });
    each && wanted.next().is_none()
}

/// The first five digits of a ZIP or ZIP+4. Source: `^\d{5}(-\d{4})?$`, `shared/reference/delivery/regions.md` section 2;
/// the hyphen may be missing.
fn five_digits(close: &str) -> Option<&str> {
    let (zip, rest) = close.split_at_checked(5)?;
    let rest = rest.strip_prefix('-').unwrap_or(rest);
    let digits = |text: &str| text.bytes().all(|b| b.is_ascii_digit());
    (digits(zip) && (rest.is_empty() && !close.ends_with('-') || rest.len() == 4 && digits(rest))).then_some(zip)
}

/// Letters no Canadian code has, nor its first half. Source: section 3 there: no D, F, I, O, Q, U, and no W or Z at the start.
fn canadian(compact: &str) -> bool {
    let letters = compact.bytes().step_by(2);
    let known = |b: u8| !b"DFIOQU".contains(&b);
    letters.clone().all(known) && letters.take(1).all(|b| !b"WZ".contains(&b))
}

/// A British code: its first half, and a digit and two letters, which may be missing. `PA2 9` is half of neither `PA2` nor `PA29`.
fn british(written: &str, compact: &str) -> bool {
    let half = outward_of(compact);
    let from_digit = written.trim().trim_start_matches(|c: char| !c.is_ascii_digit());
    outward(half) && (half != compact || from_digit.chars().all(char::is_alphanumeric))
}

/// The first half of a British code: one or two letters, a digit, and perhaps another digit or letter.
/// Source: `^[A-Z]{1,2}\d[A-Z\d]?$`, section 4 there.
fn outward(code: &str) -> bool {
    let digits = code.trim_start_matches(|c: char| c.is_ascii_uppercase());
    let area = code.len().saturating_sub(digits.len());
    let rest = digits.as_bytes();
    let first = rest.first().is_some_and(u8::is_ascii_digit);
    let second = rest.get(1).is_none_or(u8::is_ascii_alphanumeric);
    (1..=2).contains(&area) && first && second && rest.len() <= 2
}

/// A British code without its second half: no first half ends as a second does, in a digit and two letters.
fn outward_of(compact: &str) -> &str {
    let split = compact.len().checked_sub(3).and_then(|at| compact.split_at_checked(at));
    split.filter(|(_, second)| fits(second, "9AA")).map_or(compact, |(first, _)| first)
}

/// What of a code a prefix of regions is held against: as many of its signs.
///
/// Of a British code its area or its first half where the prefix is one, since without the space `PO3 0AB` begins as `PO30 4AB` does. `SW1`
/// is all of `SW1A` to `SW1Y`.
pub(super) fn beginning<'c>(country: &str, code: &'c str, prefix: &str) -> &'c str {
    let (half, letter) = (outward_of(code), |c: char| c.is_ascii_uppercase());
    match country {
        "GB" if prefix.chars().all(letter) => half.split(|c: char| !letter(c)).next().unwrap_or(half),
        "GB" if outward(prefix) && !prefix.ends_with(letter) => half.trim_end_matches(letter),
        "GB" if outward(prefix) => half,
        _ => code.get(..prefix.len()).unwrap_or(""),
    }
}

/// The state of the United States, province of Canada or postal area of the United Kingdom a code is in.
pub(super) fn state(country: &str, code: &str) -> Option<String> {
    let first = code.chars().next()?;
    match country {
        "US" => code.get(..3).and_then(state_of_zip3).map(str::to_owned),
        "CA" => province(first, code).map(str::to_owned),
        "GB" => Some(code.chars().take_while(char::is_ascii_uppercase).collect()),
        _ => None,
    }
}

/// Source: the first letter of a Canadian code, section 3 there.
fn province(first: char, code: &str) -> Option<&'static str> {
    Some(match first {
        'A' => "NL",
        'B' => "NS",
        'C' => "PE",
        'E' => "NB",
        'G' | 'H' | 'J' => "QC",
        'K' | 'L' | 'M' | 'N' | 'P' => "ON",
        'R' => "MB",
        'S' => "SK",
        'T' => "AB",
        'V' => "BC",
        'X' if ["X0A", "X0B", "X0C"].iter().any(|nunavut| code.starts_with(nunavut)) => "NU",
        'X' => "NT",
        'Y' => "YT",
        _ => return None,
    })
}
