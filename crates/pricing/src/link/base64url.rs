//! Bytes in the letters of an address. Source: RFC 4648, section 5, without padding.

/// The letters, each by its value.
const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

/// Bytes as letters.
pub(super) fn encode(bytes: &[u8]) -> String {
    let mut text = String::with_capacity(bytes.len().saturating_mul(4).div_ceil(3));
    for three in bytes.chunks(3) {
        let bits = three.iter().fold(0_u32, |bits, byte| bits << 8 | u32::from(*byte));
        // One byte makes two letters, two make three; the last letter is filled up with zeros.
        let (bits, letters) = match three.len() {
            1 => (bits << 16, 2),
            2 => (bits << 8, 3),
            _ => (bits, 4),
        };
        for shift in [18_u32, 12, 6, 0].into_iter().take(letters) {
            let value = usize::try_from(bits >> shift & 63).unwrap_or(0);
            text.push(LETTERS.get(value).copied().map_or('A', char::from));
        }
    }
    text
}

/// Letters as bytes; nothing when one is no such letter, or the text is not just what its bytes are written as.
pub(super) fn decode(text: &str) -> Option<Vec<u8>> {
    let mut bytes = Vec::with_capacity(text.len());
    for four in text.as_bytes().chunks(4) {
        let mut bits = 0_u32;
        for letter in four {
            let value = LETTERS.iter().position(|known| known == letter)?;
            bits = bits << 6 | u32::try_from(value).ok()?;
        }
        let (bits, count, spare) = match four.len() {
            4 => (bits, 3, 0),
            3 => (bits << 6, 2, bits & 0b11),
            2 => (bits << 12, 1, bits & 0b1111),
            _ => return None,
        };
        if spare != 0 {
            return None;
        }
        bytes.extend(bits.to_be_bytes().into_iter().skip(1).take(count));
    }
    Some(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_standard_s_own_examples() {
        // Source: RFC 4648, section 10, padding left out.
        for (bytes, letters) in [
            ("", ""),
            ("f", "Zg"),
            ("fo", "Zm8"),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg"),
            ("fooba", "Zm9vYmE"),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(encode(bytes.as_bytes()), letters);
            assert_eq!(decode(letters).as_deref(), Some(bytes.as_bytes()));
        }
        // The two letters that differ from section 4: values 62 and 63.
        assert_eq!(encode(&[0xfb, 0xff]), "-_8");
    }

    #[test]
    fn other_letters_lengths_and_spare_bits_are_refused() {
        for text in ["Zg==", "Z", "Zm9vY", "Zm+v", "Zm/v", "Zm 9", "Zh", "Zm9", "Zmö"] {
            assert_eq!(decode(text), None, "{text}");
        }
    }
}
