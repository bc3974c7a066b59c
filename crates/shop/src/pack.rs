//! A large book made small for the browser's store, which holds a few million characters and takes its time over each.

use std::io::{Read, Write};

use base64::Engine;
use base64::prelude::BASE64_STANDARD;
use flate2::Compression;
use flate2::read::ZlibDecoder;
use flate2::write::ZlibEncoder;
use scantling_pricing::book::document::LARGEST_BYTES;

/// A book below this stays as it is, for people and other programs to read.
const PLAIN_BYTES: usize = 256 * 1024;

/// What a packed book starts with; a plain one starts with a bracket. Zlib (RFC 1950) ends with a sum over what was packed, so that a
/// damaged one is found out.
const PACKED: &str = "zlib:";

/// A book as it is kept.
#[must_use]
pub fn packed(book: &str) -> String {
    if book.len() < PLAIN_BYTES {
        return book.to_owned();
    }
    let mut encoder = ZlibEncoder::new(Vec::new(), Compression::fast());
    let written = encoder.write_all(book.as_bytes()).and_then(|()| encoder.finish());
    // Writing into memory does not fail; if it ever did, the book is kept as it is.
    written.map_or_else(|_| book.to_owned(), |bytes| format!("{PACKED}{}", BASE64_STANDARD.encode(bytes)))
}

/// A book out of what was kept; nothing when it is damaged.
#[must_use]
pub fn unpacked(kept: &str) -> Option<String> {
    let Some(packed) = kept.strip_prefix(PACKED) else { return Some(kept.to_owned()) };
    let bytes = BASE64_STANDARD.decode(packed).ok()?;
    let mut book = String::new();
    // One byte more than the largest book shows that it is larger.
    let most = u64::try_from(LARGEST_BYTES).ok()?.checked_add(1)?;
    ZlibDecoder::new(bytes.as_slice()).take(most).read_to_string(&mut book).ok()?;
    (book.len() <= LARGEST_BYTES).then_some(book)
}

/// As much of a book as can be read of what was kept, for a damaged one.
#[must_use]
pub fn unpacked_in_part(kept: &str) -> Option<String> {
    let Some(packed) = kept.strip_prefix(PACKED) else { return Some(kept.to_owned()) };
    // Four letters are three bytes each (RFC 4648); what was written of the last four tells nothing.
    let whole = packed.len().saturating_sub(packed.len().checked_rem(4)?);
    let bytes = BASE64_STANDARD.decode(packed.get(..whole)?).ok()?;
    let mut book = Vec::new();
    let most = u64::try_from(LARGEST_BYTES).ok()?;
    // Where it ends too early, what came before is there already.
    let _ended = ZlibDecoder::new(bytes.as_slice()).take(most).read_to_end(&mut book);
    let end = std::str::from_utf8(&book).map_or_else(|fault| fault.valid_up_to(), str::len);
    book.truncate(end);
    String::from_utf8(book).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_small_book_stays_readable_and_a_large_one_gets_small_and_comes_back() {
        assert_eq!(packed("{}"), "{}");
        let large = format!("{{\"rows\": [{}]}}", "{\"key\": \"white-oak\", \"rate\": \"7.25\"}, ".repeat(20_000));
        let kept = packed(&large);
        assert!(kept.len() * 10 < large.len(), "{} of {}", kept.len(), large.len());
        assert_eq!(unpacked(&kept).as_deref(), Some(large.as_str()));
        assert_eq!(unpacked("{}").as_deref(), Some("{}"));
    }

    #[test]
    fn a_damaged_one_is_found_out() {
        let book: String = (0..50_000).map(|number| format!("{{\"a\": \"{number}\"}} ")).collect();
        let kept = packed(&book);
        let half: String = kept.chars().take(kept.len().div_ceil(2)).collect();
        assert_eq!(unpacked(&half), None);
        // Half of it is half of the book, and reads as it stood.
        let part = unpacked_in_part(&half).unwrap();
        assert!(book.starts_with(&part) && part.len() > book.len().div_ceil(4), "{} of {}", part.len(), book.len());
        let middle = kept.len().div_ceil(2);
        let other = if kept.as_bytes()[middle] == b'A' { "B" } else { "A" };
        let mut changed = kept.clone();
        changed.replace_range(middle..=middle, other);
        assert_ne!(unpacked(&changed), unpacked(&kept));
        assert_eq!(unpacked(&changed), None);
    }
}
