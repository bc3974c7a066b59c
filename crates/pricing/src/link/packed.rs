//! Numbers, lengths and words as few bytes as may be, read back within bounds.

use crate::book::values::Key;
use crate::measure::Length;

/// What lengths are counted in: a 64th of an inch or a tenth of a millimetre as long as that is exact, else nanometres.
const UNITS: [i64; 3] = [396_875, 100_000, 1];

/// The longest word that is read: no key, code or word is longer.
const LONGEST_TEXT: u64 = 200;

/// A checksum that no slip of a few letters passes. Source: CRC-32 as in IEEE 802.3 and ITU-T V.42.
pub(super) fn checksum(bytes: &[u8]) -> u32 {
    let mut sum = u32::MAX;
    for byte in bytes {
        sum ^= u32::from(*byte);
        for _ in 0..8 {
            let odd = sum & 1 == 1;
            sum >>= 1;
            if odd {
                sum ^= 0xedb8_8320;
            }
        }
    }
    !sum
}

/// Bytes being written.
#[derive(Debug, Default)]
pub(super) struct Packer(Vec<u8>);

impl Packer {
    /// A number, seven bits to the byte, the lowest first, all but the last marked.
    pub(super) fn number(&mut self, mut number: u64) {
        while number > 0x7f {
            self.0.push(u8::try_from(number & 0x7f).unwrap_or(0) | 0x80);
            number >>= 7;
        }
        self.0.push(u8::try_from(number).unwrap_or(0));
    }

    /// How many follow.
    pub(super) fn count(&mut self, count: usize) {
        self.number(u64::try_from(count).unwrap_or(u64::MAX));
    }

    /// A word, its length first.
    pub(super) fn text(&mut self, text: &str) {
        self.count(text.len());
        self.0.extend(text.bytes());
    }

    /// A length in the coarsest unit that says it exactly: the unit, the sign and the count in one number.
    pub(super) fn length(&mut self, length: Length) {
        let nanometres = length.nanometres();
        let units = UNITS.iter().zip(0_u64..);
        let exact = units.filter(|(unit, _)| nanometres.rem_euclid(**unit) == 0);
        if let Some((unit, place)) = exact.min_by_key(|(unit, _)| -**unit) {
            let count = nanometres.div_euclid(*unit);
            let sign = u64::from(count < 0);
            self.number(count.unsigned_abs() << 3 | sign << 2 | place);
        }
    }

    /// What was written.
    pub(super) fn into_bytes(self) -> Vec<u8> {
        self.0
    }
}

/// Bytes being read; nothing is taken for granted of them.
#[derive(Debug)]
pub(super) struct Unpacker<'b>(&'b [u8]);

impl<'b> Unpacker<'b> {
    pub(super) const fn new(bytes: &'b [u8]) -> Self {
        Self(bytes)
    }

    /// Whether all is read.
    pub(super) const fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// A number of at most nine bytes: 63 bits, more than anything here needs.
    pub(super) fn number(&mut self) -> Option<u64> {
        let mut number = 0_u64;
        for shift in (0..63_u32).step_by(7) {
            let (byte, rest) = self.0.split_first()?;
            self.0 = rest;
            number |= u64::from(byte & 0x7f) << shift;
            if byte & 0x80 == 0 {
                return Some(number);
            }
        }
        None
    }

    fn text(&mut self) -> Option<&'b str> {
        let length = self.number().filter(|length| *length <= LONGEST_TEXT)?;
        let (text, rest) = self.0.split_at_checked(usize::try_from(length).ok()?)?;
        self.0 = rest;
        std::str::from_utf8(text).ok()
    }

    /// A word, or none where it is empty. Nothing at all when it can't be read.
    pub(super) fn some_text(&mut self) -> Option<Option<&'b str>> {
        self.text().map(|text| Some(text).filter(|text| !text.is_empty()))
    }

    /// A key.
    pub(super) fn key(&mut self) -> Option<Key> {
        Key::new(self.text()?).ok()
    }

    /// A length.
    pub(super) fn length(&mut self) -> Option<Length> {
        let number = self.number()?;
        let unit = UNITS.get(usize::try_from(number & 0b11).ok()?)?;
        let nanometres = i64::try_from(number >> 3).ok()?.checked_mul(*unit)?;
        let nanometres = if number & 0b100 == 0 { nanometres } else { nanometres.checked_neg()? };
        // Beyond the longest there is, a length would be cut short in silence.
        Some(Length::from_nanometres(nanometres)).filter(|length| length.nanometres() == nanometres)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_checksum_s_published_check_value() {
        // Source: the check value that every table of checksums gives for CRC-32: of the nine digits, 0xCBF43926.
        assert_eq!(checksum(b"123456789"), 0xcbf4_3926);
        assert_eq!(checksum(b""), 0);
    }

    #[test]
    fn lengths_are_exact_and_short() {
        for (nanometres, bytes) in [(0, 1), (25_400_000 * 84, 3), (1_840_000_000, 3), (1_234_567_891, 5), (-396_875, 1)]
        {
            let length = Length::from_nanometres(nanometres);
            let mut out = Packer::default();
            out.length(length);
            let packed = out.into_bytes();
            assert_eq!(packed.len(), bytes, "{length}");
            assert_eq!(Unpacker::new(&packed).length(), Some(length));
        }
    }

    #[test]
    fn numbers_without_end_and_words_longer_than_the_rest_are_refused() {
        assert_eq!(Unpacker::new(&[0xff; 20]).number(), None);
        assert_eq!(Unpacker::new(&[5, b'a']).some_text(), None);
        assert_eq!(Unpacker::new(&[2, 0xc3, 0x28]).some_text(), None);
        // A hundred metres and a nanometre is no length there is.
        let mut out = Packer::default();
        out.number(100_000_000_001 << 3 | 2);
        assert_eq!(Unpacker::new(&out.into_bytes()).length(), None);
    }
}
