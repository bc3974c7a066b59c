//! What can still be read of a book that was written only in part, or damaged on the way.

use serde::de::IgnoredAny;

/// The part of a text up to its damage, closed so that it reads, and how many bytes of it were lost; nothing when there was none.
#[must_use]
pub fn salvage(text: &str) -> Option<(String, usize)> {
    let error = serde_json::from_str::<IgnoredAny>(text).err()?;
    // What stands where it goes wrong is no part of what is whole, unless the text ends there.
    let good = if error.is_eof() { error.column() } else { error.column().saturating_sub(1) };
    let end = place(text, error.line(), good);
    let (end, open) = last_whole(text.get(..end)?)?;
    let mut kept = text.get(..end)?.to_owned();
    kept.extend(open.iter().rev());
    Some((kept, text.len().saturating_sub(end)))
}

/// Where a line and a column, both counted from one and in bytes, lie in a text.
fn place(text: &str, line: usize, column: usize) -> usize {
    let before: usize = text.split_inclusive('\n').take(line.saturating_sub(1)).map(str::len).sum();
    let mut end = before.saturating_add(column).min(text.len());
    while !text.is_char_boundary(end) {
        end = end.saturating_sub(1);
    }
    end
}

/// The end of the last value that is whole, with the brackets that are open there.
fn last_whole(text: &str) -> Option<(usize, Vec<char>)> {
    let (mut open, mut whole) = (Vec::new(), None);
    let (mut quoted, mut escaped) = (false, false);
    for (at, letter) in text.char_indices() {
        if quoted {
            (quoted, escaped) = (escaped || letter != '"', !escaped && letter == '\\');
            continue;
        }
        let after = at.saturating_add(letter.len_utf8());
        match letter {
            '"' => quoted = true,
            '{' | '[' => {
                open.push(if letter == '{' { '}' } else { ']' });
                whole = Some((after, open.clone()));
            }
            '}' | ']' => {
                if open.pop() != Some(letter) {
                    return whole;
                }
                whole = Some((after, open.clone()));
            }
            ',' => whole = Some((at, open.clone())),
            _ => {}
        }
    }
    whole
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const DEMO: &str = include_str!("../../../shared/books/demo-shop.json");

    #[test]
    fn a_book_that_reads_needs_nothing() {
        assert_eq!(salvage(DEMO), None);
        assert_eq!(salvage("nothing of it"), None);
        assert_eq!(salvage(""), None);
    }

    #[test]
    fn what_stands_before_the_damage_is_kept_to_the_last_whole_value() {
        let kept = |text: &str| salvage(text).map(|(kept, _)| kept).unwrap();
        assert_eq!(kept(r#"{"a": "1", "b": [1, 2, {"c": "x"#), r#"{"a": "1", "b": [1, 2, {}]}"#);
        assert_eq!(kept(r#"{"a": "1", "b""#), r#"{"a": "1"}"#);
        assert_eq!(kept(r#"{"a": "[\"{,", "b": tru"#), r#"{"a": "[\"{,"}"#);
        assert_eq!(kept("{\"a\": 1,\n\"b\": {\"c\": 2}, \"d\": <b>, \"e\": 3}"), "{\"a\": 1,\n\"b\": {\"c\": 2}}");
        assert_eq!(kept(r#"{"a": [1, 2}, "b": 3}"#), r#"{"a": [1]}"#);
        assert_eq!(kept(r#"{"a": 1, "b": 2 {"c": 3}}"#), r#"{"a": 1}"#);
        assert_eq!(salvage("12{}"), None, "nothing that is whole stands before the damage");
    }

    proptest! {
        #[test]
        fn a_book_with_a_sign_too_many_reads_again(at in 1..DEMO.len(), sign in "[\\]\\[{}:,\"1x\\\\\n]") {
            prop_assume!(DEMO.is_char_boundary(at));
            let (before, after) = DEMO.split_at(at);
            let text = [before, &sign, after].concat();
            if let Some((kept, _)) = salvage(&text) {
                prop_assert!(serde_json::from_str::<IgnoredAny>(&kept).is_ok(), "{sign:?} at {at}");
            }
        }

        #[test]
        fn a_book_cut_anywhere_reads_again(cut in 1..DEMO.len()) {
            prop_assume!(DEMO.is_char_boundary(cut));
            let text = DEMO.get(..cut).unwrap_or_default();
            if let Some((kept, lost)) = salvage(text) {
                prop_assert!(serde_json::from_str::<IgnoredAny>(&kept).is_ok());
                prop_assert!(lost <= text.len());
                // No more is lost than the one value that was being written, and its key.
                prop_assert!(lost < 400, "{lost}");
            }
        }
    }
}
