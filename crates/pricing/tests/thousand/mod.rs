//! A thousand briefs over all the demo offers, and what they come to as one number: the same on this machine and in a browser, to the last
//! byte. Shared by the native suite and by the tests inside a browser.

use scantling_pricing::book::values::Count;
use scantling_pricing::book::{PriceBook, Text};
use scantling_pricing::brief::{Brief, Destination};
use scantling_pricing::estimate::estimate;
use scantling_pricing::measure::Length;

/// What the thousand come to, as committed.
pub(crate) const COMMITTED: &str = include_str!("../../../../shared/estimates/thousand.txt");

/// Numbers, the same every time: the multiplicative generator of Lehmer with the multiplier 48271, from memory.
pub(crate) struct Numbers(pub(crate) u32);

impl Numbers {
    /// The next of them, from 1 to [`Self::MOST`].
    pub(crate) fn next(&mut self) -> u32 {
        let next = u64::from(self.0) * 48_271 % u64::from(Self::MOST + 1);
        self.0 = u32::try_from(next).unwrap();
        self.0
    }

    /// The largest there is.
    pub(crate) const MOST: u32 = 2_147_483_646;

    fn below(&mut self, end: usize) -> usize {
        usize::try_from(self.next()).unwrap() % end.max(1)
    }
}

fn brief(book: &PriceBook, numbers: &mut Numbers) -> Brief {
    let design = &book.designs[numbers.below(book.designs.len())];
    let mut brief = Brief::new(design.key.clone());
    for dimension in &design.dimensions {
        // Sixty-fourths, tenths of a millimetre and whole steps alike; a few outside what is built.
        let span = (dimension.most - dimension.least).nanometres();
        let unit = [396_875, 100_000, dimension.step.nanometres()][numbers.below(3)];
        let steps = i64::try_from(numbers.below(usize::try_from(span.div_euclid(unit)).unwrap() + 2)).unwrap();
        brief.dimensions.insert(dimension.key.clone(), dimension.least + Length::from_nanometres(unit * steps));
    }
    for role in &design.roles {
        brief.materials.insert(role.key.clone(), role.materials[numbers.below(role.materials.len())].clone());
    }
    for group in &design.options {
        brief.options.insert(group.key.clone(), group.choices[numbers.below(group.choices.len())].key.clone());
    }
    brief.finish = Some(book.finishes[numbers.below(book.finishes.len())].key.clone());
    brief.quantity = Count::new(u32::try_from(1 + numbers.below(4)).unwrap()).unwrap();
    let places =
        [("US", "54601"), ("US", "10001"), ("US", "73301-0001"), ("US", "99501"), ("CA", "K1A 0B1"), ("DE", "10115")];
    let (country, code) = places[numbers.below(places.len())];
    let words = |text| Text::new(text).unwrap();
    brief.destination = Some(Destination::new(words(country), Some(words(code))));
    brief
}

/// FNV-1a, 64 bits, over every estimate as it is written, or over why there is none; and how many there are.
pub(crate) fn come_to(book: &PriceBook) -> (String, usize) {
    let (mut numbers, mut hash, mut priced) = (Numbers(1), 0xcbf2_9ce4_8422_2325_u64, 0);
    for _ in 0..1000 {
        let text = match estimate(book, &brief(book, &mut numbers)) {
            Ok(estimate) => {
                priced += 1;
                serde_json::to_string(&estimate).unwrap()
            }
            Err(problems) => problems.iter().map(ToString::to_string).collect(),
        };
        for byte in text.bytes() {
            hash = (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
    }
    (format!("{hash:016x}"), priced)
}
