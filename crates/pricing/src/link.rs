//! A brief as the fragment of a link: what was chosen and the edition of the price book, never who chose it.
//!
//! A fragment is not sent to any server (RFC 3986, section 3.5). The bytes are packed, headed by a version and a checksum, and written in
//! the letters that no mail or chat program breaks. Keys stand by name, not by their place in the book, so that a link outlives
//! changes of the book.
//!
//! **Invariant:** any text at all is read within bounds: as a brief, or as one of the faults below.

mod base64url;
mod packed;

use crate::book::document::Node;
use crate::book::read::Read;
use crate::book::values::{Count, Day, Key, Text};
use crate::brief::{Brief, Destination, Site};
use crate::delivery::Mode;
use crate::map::Map;
use packed::{Packer, Unpacker, checksum};

/// The longest link that is written or read, in characters; mail and chat programs cut longer ones, an address and all, at about 2000.
pub const LONGEST: usize = 1500;

/// The version of what is written.
const VERSION: u8 = 1;

/// No brief has more dimensions, roles or options than this.
const MOST_ENTRIES: u64 = 100;

/// What a link holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Link {
    /// What was chosen.
    pub brief: Brief,
    /// The edition of the price book it was priced from.
    pub edition: Day,
}

/// Why a link can't be opened.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LinkFault {
    /// Longer than any link that is written.
    TooLong,
    /// Of a later version than this program reads.
    Newer,
    /// Letters are missing or changed, as when a mail program has cut it.
    Damaged,
}

impl Link {
    /// The link's letters: `A` to `Z`, `a` to `z`, digits, `-` and `_`; nothing when there would be more than
    /// [`LONGEST`].
    #[must_use]
    pub fn write(&self) -> Option<String> {
        let mut out = Packer::default();
        let Brief {
            scantling_brief: _,
            design,
            dimensions,
            materials,
            finish,
            options,
            quantity,
            destination,
            delivery,
        } = &self.brief;
        out.number(day_number(&self.edition)?);
        out.text(design.as_str());
        out.count(dimensions.len());
        for (key, length) in dimensions {
            out.text(key.as_str());
            out.length(*length);
        }
        for choices in [materials, options] {
            out.count(choices.len());
            for (key, choice) in choices {
                out.text(key.as_str());
                out.text(choice.as_str());
            }
        }
        // No key, country, code or word is empty, so that an empty one stands for none.
        out.text(finish.as_ref().map_or("", Key::as_str));
        out.number(quantity.value().into());
        out.text(destination.as_ref().map_or("", |place| place.country.as_str()));
        out.text(destination.as_ref().and_then(|place| place.postal_code.as_ref()).map_or("", Text::as_str));
        out.text(destination.as_ref().map_or("", |place| site_word(place.site)));
        out.count(destination.iter().filter(|place| place.inside).count());
        out.text(delivery.map_or("", Mode::word));
        let body = out.into_bytes();
        let whole: Vec<u8> =
            [VERSION].into_iter().chain(checksum(&body).to_be_bytes()).chain(body.iter().copied()).collect();
        // What could not be read back, such as a postal code of a thousand letters, is not written.
        Some(base64url::encode(&whole)).filter(|text| Self::read(text).as_ref() == Ok(self))
    }

    /// Reads a link's letters.
    ///
    /// # Errors
    /// Why they are no link that can be opened.
    pub fn read(text: &str) -> Result<Self, LinkFault> {
        if text.len() > LONGEST {
            return Err(LinkFault::TooLong);
        }
        let whole = base64url::decode(text).ok_or(LinkFault::Damaged)?;
        match whole.split_first() {
            Some((&VERSION, rest)) => Self::read_body(rest).ok_or(LinkFault::Damaged),
            Some((&later, _)) if later > VERSION => Err(LinkFault::Newer),
            _ => Err(LinkFault::Damaged),
        }
    }

    fn read_body(rest: &[u8]) -> Option<Self> {
        let (sum, body) = rest.split_first_chunk()?;
        if checksum(body) != u32::from_be_bytes(*sum) {
            return None;
        }
        let mut from = Unpacker::new(body);
        let edition = day(from.number()?)?;
        let mut brief = Brief::new(from.key()?);
        for _ in 0..entries(&mut from)? {
            let (key, length) = (from.key()?, from.length()?);
            once(&mut brief.dimensions, key, length)?;
        }
        for choices in [&mut brief.materials, &mut brief.options] {
            for _ in 0..entries(&mut from)? {
                let (key, choice) = (from.key()?, from.key()?);
                once(choices, key, choice)?;
            }
        }
        brief.finish = from.some_text()?.map(Key::new).transpose().ok()?;
        brief.quantity = Count::new(u32::try_from(from.number()?).ok()?)?;
        let country = from.some_text()?.map(Text::new).transpose().ok()?;
        let postal_code = from.some_text()?.map(Text::new).transpose().ok()?;
        let site = from.some_text()?.map_or(Some(Site::Home), word_of)?;
        let inside = match from.number()? {
            0 => false,
            1 => true,
            _ => return None,
        };
        brief.destination = match (country, postal_code) {
            (Some(country), postal_code) => Some(Destination { country, postal_code, site, inside }),
            (None, None) if site == Site::Home && !inside => None,
            (None, _) => return None,
        };
        brief.delivery = match from.some_text()? {
            Some(word) => Some(word_of(word)?),
            None => None,
        };
        from.is_empty().then_some(Self { brief, edition })
    }
}

/// What kind of place it goes to; nothing for a home, as most are.
const fn site_word(site: Site) -> &'static str {
    match site {
        Site::Home => "",
        Site::Dock => "dock",
        Site::LimitedAccess => "limited-access",
    }
}

/// One of the words of a brief, by the reader of briefs.
fn word_of<T: Read>(word: &str) -> Option<T> {
    Node::Text(word.to_owned()).read_as().ok()
}

/// How many entries follow, if there can be so many.
fn entries(from: &mut Unpacker<'_>) -> Option<u64> {
    from.number().filter(|count| *count <= MOST_ENTRIES)
}

/// Takes an entry that must not stand twice.
fn once<V>(map: &mut Map<Key, V>, key: Key, value: V) -> Option<()> {
    map.insert(key, value).is_none().then_some(())
}

/// 2026-11-25 as the number 20261125.
fn day_number(day: &Day) -> Option<u64> {
    day.as_str().replace('-', "").parse().ok()
}

fn day(number: u64) -> Option<Day> {
    let (year, month, day) =
        (number.div_euclid(10_000), number.div_euclid(100).rem_euclid(100), number.rem_euclid(100));
    Day::new(&format!("{year:04}-{month:02}-{day:02}")).ok()
}
