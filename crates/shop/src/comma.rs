//! Numbers as a maker's keyboard and spreadsheet write them: `12,50` and `1.840,50` become what the book holds, `12.50` and `1840.50`.
//!
//! No language is asked for: where a comma could stand for either mark, what was typed is left as it is, and is said to be unclear. A point
//! alone is always the book's own, before decimals.

use std::borrow::Cow;

/// How many digits stand between two marks of thousands.
const GROUP: usize = 3;

/// A text whose numbers have a point before decimals and no marks of thousands, as far as they can be read one way only: of two different
/// marks the last is the one before decimals, and a comma alone is, unless it could group thousands.
#[must_use]
pub fn plain(text: &str) -> Cow<'_, str> {
    if !text.contains(',') {
        return Cow::Borrowed(text);
    }
    let (mut out, mut rest) = (String::with_capacity(text.len()), text);
    while let Some(start) = rest.find(is_of_number) {
        let (before, from) = rest.split_at_checked(start).unwrap_or((rest, ""));
        let end = from.find(|c| !is_of_number(c)).unwrap_or(from.len());
        let (number, after) = from.split_at_checked(end).unwrap_or((from, ""));
        out.push_str(before);
        out.push_str(&read(number).unwrap_or_else(|| number.to_owned()));
        rest = after;
    }
    out.push_str(rest);
    Cow::Owned(out)
}

/// What to write in place of a number that could be read two ways; nothing where it could not.
#[must_use]
pub fn unclear(text: &str) -> Option<String> {
    let text = text.trim();
    let (whole, decimals) = text.split_once(',')?;
    let digits = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    let number = whole.strip_prefix('-').unwrap_or(whole);
    (digits(number) && digits(decimals) && may_be_thousands(number, decimals))
        .then(|| format!("“{text}” can be read two ways: write {whole}{decimals} or {whole}.{decimals}"))
}

fn is_of_number(c: char) -> bool {
    c.is_ascii_digit() || matches!(c, '.' | ',')
}

/// A number with its decimals after a point; nothing where it is left as it stands.
fn read(number: &str) -> Option<String> {
    let last = number.rfind(['.', ','])?;
    let (whole, decimals) = (number.get(..last)?, number.get(last.checked_add(1)?..)?);
    let (mark, other) = if number.get(last..)?.starts_with(',') { (',', '.') } else { ('.', ',') };
    match (whole.contains(mark), whole.contains(other)) {
        (false, true) => Some(format!("{}.{decimals}", ungrouped(whole, other)?)),
        // While it is typed, a comma at the end may still become either.
        (false, false) if mark == ',' && !decimals.is_empty() && !may_be_thousands(whole, decimals) => {
            Some(format!("{whole}.{decimals}"))
        }
        _ => None,
    }
}

/// Whether a comma between these digits could group thousands: up to three before it, the first not a nought, and three after it.
fn may_be_thousands(whole: &str, decimals: &str) -> bool {
    decimals.len() == GROUP && (1..=GROUP).contains(&whole.len()) && !whole.starts_with('0')
}

/// A whole number without its marks of thousands, where each stands before three digits.
fn ungrouped(whole: &str, mark: char) -> Option<String> {
    let mut groups = whole.split(mark);
    let first = groups.next().filter(|first| (1..=GROUP).contains(&first.len()))?;
    let mut out = first.to_owned();
    for group in groups {
        if group.len() != GROUP {
            return None;
        }
        out.push_str(group);
    }
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_is_read_where_it_can_be_read_one_way_only() {
        // The forms are those of CLDR for numbers: German 1.234,5, English 1,234.5 (Unicode Locale Data Markup Language, part 3).
        for (typed, held) in [
            ("12,50", "12.50"),
            ("-12,5", "-12.5"),
            (",5", ".5"),
            ("0,125", "0.125"),
            ("1234,567", "1234.567"),
            ("1.840,50", "1840.50"),
            ("1,840.50", "1840.50"),
            ("1.234.567,8", "1234567.8"),
            ("1,234,567.125", "1234567.125"),
            ("12.50", "12.50"),
            ("1.840", "1.840"),
            ("1840", "1840"),
            ("", ""),
        ] {
            assert_eq!(plain(typed), held, "{typed}");
        }
    }

    #[test]
    fn what_could_be_either_or_is_no_number_stays_as_it_was_typed() {
        for typed in ["1,840", "12,", ",", "1,23.4", "1.23,4.5", "1,2,3", "1,234,567", "some, or none", "1,840 mm"] {
            assert_eq!(plain(typed), typed);
        }
    }

    #[test]
    fn numbers_within_a_length_are_read_each_by_itself() {
        assert_eq!(plain("184,5 cm"), "184.5 cm");
        assert_eq!(plain("1.840,5 mm"), "1840.5 mm");
        assert_eq!(plain("6 ft 2,5 in"), "6 ft 2.5 in");
        assert_eq!(plain("2 1/2 in"), "2 1/2 in");
    }

    #[test]
    fn what_could_be_either_says_both() {
        let words = "“1,840” can be read two ways: write 1840 or 1.840";
        assert_eq!(unclear(" 1,840 ").as_deref(), Some(words));
        assert!(unclear("-12,345").is_some());
        for clear in ["12,50", "0,125", "1840", "1.840", "1234,567", "1,840 mm", "a,bcd", ""] {
            assert_eq!(unclear(clear), None, "{clear}");
        }
    }
}
