//! All that a browser keeps, every shop with its earlier states, as one file; and out of it again, beside what is there.
//!
//! A shop of the file comes under a number that none had before, so that nothing is ever written over. What the states hold is passed on as
//! it lies in the store, packed or damaged, and not looked into.

use std::fmt;

use serde::{Serialize, Serializer};
use serde_json::Value;

use crate::keep::{Keeping, Kept, NotKept, Shelf, Store, keys, keys_beside, keys_of_states, set_newest};
use crate::salvage::salvage;
use crate::shops::{Of, Shop, Shops, key_of};

/// The version of the file that this page writes.
const VERSION: u64 = 1;

/// What such a file starts with.
const START: &str = r#"{"scantling_everything":"#;

/// The file as it is written.
#[derive(Serialize)]
struct Everything {
    scantling_everything: u64,
    shops: Vec<Line>,
}

/// A shop in the file.
#[derive(Serialize)]
struct Line {
    name: String,
    put_away: bool,
    #[serde(serialize_with = "in_order")]
    kept: Shelf,
}

/// What is kept of one shop, by the keys the first shop goes by. The newest state comes first: a file that is cut off has lost the oldest.
fn in_order<S: Serializer>(kept: &Shelf, serializer: S) -> Result<S::Ok, S::Error> {
    let keys = keys_of_states(kept).into_iter().chain(keys_beside());
    serializer.collect_map(keys.filter_map(|key| kept.get(&key).map(|text| (key, text))))
}

/// What is found under the keys of a shop.
fn found(get: impl Fn(&str) -> Option<String>) -> Shelf {
    keys().filter_map(|key| get(&key).map(|text| (key, text))).collect()
}

/// What a store keeps of a shop.
fn kept_of(store: &impl Store, number: u32) -> Shelf {
    found(|key| store.get(&key_of(number, key)))
}

/// What a file says was kept of a shop; keys that are no shop's are left.
fn read(kept: &Value) -> Shelf {
    found(|key| kept[key].as_str().map(str::to_owned))
}

/// The book as it stands is the newest state: a browser that was full has not kept it.
fn with_newest(mut shelf: Shelf, open: &Keeping) -> Shelf {
    if Kept::find(&shelf).1.as_deref() != Some(&*open.book) {
        let mut kept = Kept::default();
        kept.go_on_from_newest(&shelf);
        // A shelf in memory has room for it.
        let _kept = kept.keep(&mut shelf, open);
    }
    shelf
}

/// All shops of a store as a file; with it the book that is open, by the number of its shop, as it stands on the page.
#[must_use]
pub fn write(store: &impl Store, open: Option<(u32, &Keeping)>) -> String {
    let line = |shop: &Shop| {
        let kept = kept_of(store, shop.number);
        let kept = match open.filter(|(number, _)| *number == shop.number) {
            Some((_, open)) => with_newest(kept, open),
            None => kept,
        };
        (!kept.is_empty()).then(|| Line { name: shop.name.clone(), put_away: shop.put_away, kept })
    };
    let shops = Shops::find(store).all().iter().filter_map(line).collect();
    // Texts under keys can always be written.
    serde_json::to_string(&Everything { scantling_everything: VERSION, shops }).unwrap_or_default()
}

/// Whether a text is such a file, whole or not.
#[must_use]
pub fn is_one(text: &str) -> bool {
    text.trim_start_matches('\u{feff}').trim_start().starts_with(START)
}

/// Why nothing of a file was taken in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    /// It is another kind of file.
    Another,
    /// It was written by a newer page, in this version.
    Newer(u64),
    /// No shop in it can be read.
    Nothing,
    /// The browser gives no store.
    NoStore,
}

impl fmt::Display for Why {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Another => {
                f.write_str("it is no file of all shops. The book of one shop is opened above, by Open a shop book.")
            }
            Self::Newer(version) => write!(
                f,
                "it is of version {version}, and this page knows version {VERSION}. Take it in with the newer page."
            ),
            Self::Nothing => f.write_str("no shop in it can be read. Take an older copy of the file, if there is one."),
            Self::NoStore => f.write_str("the browser keeps nothing for this page. Take it in where it does."),
        }
    }
}

/// What came of taking a file in.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct TakenIn {
    /// The shops that are there now, each with its number.
    pub shops: Vec<(u32, String)>,
    /// The shops whose newest state found no room: nothing of them is there.
    pub no_room: Vec<String>,
    /// Whether earlier states of those that are there found no room.
    pub fewer_states: bool,
    /// Whether the file is cut off or damaged, and only what stands before that was taken in.
    pub damaged: bool,
}

impl fmt::Display for TakenIn {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if !self.shops.is_empty() {
            let names: Vec<&str> = self.shops.iter().map(|(_, name)| name.as_str()).collect();
            write!(f, "Taken in, to be opened under Shops: {}.", names.join(", "))?;
        }
        if self.fewer_states {
            f.write_str(" Some earlier states found no room in this browser: they are in the file alone.")?;
        }
        if !self.no_room.is_empty() {
            write!(
                f,
                " This browser has no room for {}: make some and take the file in again.",
                self.no_room.join(", ")
            )?;
        }
        if self.damaged {
            f.write_str(" The file is cut off or damaged: what stood behind that place is missing.")?;
        }
        Ok(())
    }
}

/// Puts the shops of a file beside those of a store: of each the newest state first, the older ones as room allows.
///
/// # Errors
/// Why nothing was taken in; the store is then as it was.
pub fn take_in(store: &mut impl Store, text: &str) -> Result<TakenIn, Why> {
    let text = text.trim_start_matches('\u{feff}');
    let whole = serde_json::from_str(text).ok();
    let damaged = whole.is_none();
    let file: Value = whole.or_else(|| before_the_damage(text)).ok_or(Why::Another)?;
    match file.get("scantling_everything").and_then(Value::as_u64) {
        None => return Err(Why::Another),
        Some(version) if version > VERSION => return Err(Why::Newer(version)),
        Some(_) => {}
    }
    let mut taken = TakenIn { damaged, ..TakenIn::default() };
    for line in file.get("shops").and_then(Value::as_array).into_iter().flatten() {
        let shelf = read(&line["kept"]);
        let name = line["name"].as_str().unwrap_or_default();
        if keys_of_states(&shelf).is_empty() {
            continue;
        }
        match added(store, name, line["put_away"].as_bool().unwrap_or(false), &shelf) {
            Ok((number, name, all)) => {
                taken.shops.push((number, name));
                taken.fewer_states |= !all;
            }
            Err(NotKept::NoStore) => return Err(Why::NoStore),
            Err(NotKept::Full | NotKept::Overtaken) => taken.no_room.push(name.to_owned()),
        }
    }
    if taken.shops.is_empty() && taken.no_room.is_empty() { Err(Why::Nothing) } else { Ok(taken) }
}

/// What can be read of a file that is cut off or damaged. Where it was cut within a state, what was written of that is kept as a damaged state:
/// most of a book may stand in it.
fn before_the_damage(text: &str) -> Option<Value> {
    // Of an escape that was being written, too, the last few letters may be there.
    let mut shorter = (0..6).filter_map(|less| text.get(..text.len().checked_sub(less)?));
    let within_a_state = shorter.find_map(|part| serde_json::from_str(&format!("{part}\"}}}}]}}")).ok());
    within_a_state.or_else(|| serde_json::from_str(&salvage(text)?.0).ok())
}

/// Adds a shop with what was kept of it; gives its number, its name here, and whether all of its states found room.
fn added(store: &mut impl Store, name: &str, put_away: bool, shelf: &Shelf) -> Result<(u32, String, bool), NotKept> {
    let mut shops = Shops::find(store);
    let taken = shops.all().iter().any(|shop| shop.name == name.trim());
    let name = if taken { format!("{name}, from the file") } else { name.to_owned() };
    let number = shops.add(store, &name)?;
    let filled = filled(&mut Of { store, number }, shelf).and_then(|all| {
        shops.change(store, number, |shop| shop.put_away = put_away)?;
        Ok(all)
    });
    match filled {
        Ok(all) => Ok((number, shops.of(number).map_or(name, |shop| shop.name.clone()), all)),
        Err(why) => {
            shops.take_back(store, number)?;
            Err(why)
        }
    }
}

/// Puts what was kept of a shop in its place; whether all its states found room. The newest must.
fn filled<S: Store>(own: &mut Of<'_, S>, shelf: &Shelf) -> Result<bool, NotKept> {
    let states = keys_of_states(shelf);
    let (first, older) = states.split_at(states.len().min(1));
    for key in first {
        own.set(key, &shelf.get(key).unwrap_or_default())?;
    }
    let mut all = true;
    for key in keys_beside() {
        if let Some(text) = shelf.get(&key) {
            all &= own.set(&key, &text).is_ok();
        }
    }
    // Where the number of the newest is lost or damaged, the states tell it.
    set_newest(own, shelf)?;
    let mut last = None;
    for key in older {
        if own.set(key, &shelf.get(key).unwrap_or_default()).is_err() {
            // A store that is full to the brim keeps nothing more: the last that found room makes some.
            drop(last.and_then(|key: &String| own.take(key)));
            return Ok(false);
        }
        last = Some(key);
    }
    Ok(all)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::keep::{Room, State, Told, aside, states};

    const PLENTY: usize = 1_000_000;

    fn new(book: &str) -> Keeping {
        Keeping::new(book, Told::new(None, &format!("Writing {book}")))
    }

    fn keep(store: &mut Room, number: u32, books: &[&str]) {
        let mut own = Of { store, number };
        for book in books {
            let (mut kept, _) = Kept::find(&own);
            kept.keep(&mut own, &new(book)).unwrap();
        }
    }

    /// The books of the states of a shop that can be read, the newest first.
    fn books(store: &Room, number: u32) -> Vec<String> {
        states(&kept_of(store, number)).iter().filter_map(State::book).collect()
    }

    /// Two shops, the first with three states and a book that was put aside, the second put away.
    fn two_shops() -> Room {
        let mut store = Room::of(PLENTY);
        keep(&mut store, 0, &["first 1", "first 2", "first 3"]);
        let mut behind = Kept::default();
        let overtaken = behind.keep(&mut Of { store: &mut store, number: 0 }, &new("from another window"));
        assert_eq!(overtaken, Err(NotKept::Overtaken));
        let mut shops = Shops::find(&store);
        let second = shops.add(&mut store, "What if wages rise").unwrap();
        keep(&mut store, second, &["second \"1\"\n"]);
        shops.change(&mut store, second, |shop| shop.put_away = true).unwrap();
        store
    }

    #[test]
    fn all_shops_with_all_their_states_come_back_in_another_browser() {
        let file = write(&two_shops(), None);
        assert!(is_one(&file) && !is_one(crate::DEMO));
        let mut other = Room::of(PLENTY);
        keep(&mut other, 0, &["its own"]);
        let taken = take_in(&mut other, &file).unwrap();
        assert_eq!(taken.shops, [(1, "First shop, from the file".to_owned()), (2, "What if wages rise".to_owned())]);
        assert_eq!(
            taken.to_string(),
            "Taken in, to be opened under Shops: First shop, from the file, What if wages rise."
        );
        assert_eq!(books(&other, 0), ["its own"], "what was there is as it was");
        assert_eq!(books(&other, 1), ["first 3", "first 2", "first 1"]);
        assert_eq!(
            states(&kept_of(&other, 1)).first().map(|state| state.told.what.clone()).as_deref(),
            Some("Writing first 3")
        );
        assert_eq!(aside(&kept_of(&other, 1)).and_then(|state| state.book()).as_deref(), Some("from another window"));
        assert_eq!(books(&other, 2), ["second \"1\"\n"]);
        let away: Vec<bool> = Shops::find(&other).all().iter().map(|shop| shop.put_away).collect();
        assert_eq!(away, [false, false, true]);
        // What is changed next comes after what was taken in.
        keep(&mut other, 1, &["first 4"]);
        assert_eq!(books(&other, 1), ["first 4", "first 3", "first 2", "first 1"]);
        // Once more, it is there once more: nothing goes over anything.
        assert_eq!(
            take_in(&mut other, &file).unwrap().shops.iter().map(|(number, _)| *number).collect::<Vec<_>>(),
            [3, 4]
        );
    }

    #[test]
    fn the_open_book_goes_along_as_it_stands_though_the_browser_could_not_keep_it() {
        let store = two_shops();
        let mut other = Room::of(PLENTY);
        take_in(&mut other, &write(&store, Some((0, &new("first, as it stands"))))).unwrap();
        assert_eq!(books(&other, 1), ["first, as it stands", "first 3", "first 2", "first 1"]);
        // Kept already, it is no state more.
        let mut other = Room::of(PLENTY);
        take_in(&mut other, &write(&store, Some((0, &new("first 3"))))).unwrap();
        assert_eq!(books(&other, 1), ["first 3", "first 2", "first 1"]);
    }

    #[test]
    fn where_room_runs_out_older_states_stay_away_and_a_shop_without_its_newest_is_not_there() {
        let mut store = Room::of(PLENTY);
        let (large, larger) = ("l".repeat(300), "n".repeat(400));
        keep(&mut store, 0, &[&large, "small", &larger]);
        let mut shops = Shops::find(&store);
        let second = shops.add(&mut store, "Second").unwrap();
        keep(&mut store, second, &[&"x".repeat(700)]);
        let file = write(&store, None);
        let mut other = Room::of(1_000);
        let taken = take_in(&mut other, &file).unwrap();
        assert_eq!((taken.shops.len(), taken.no_room.as_slice()), (1, ["Second".to_owned()].as_slice()));
        assert!(taken.fewer_states);
        // The newest is there; of the older ones the last that found room made some for what is kept next.
        assert_eq!(books(&other, 1), [larger]);
        assert_eq!(Shops::find(&other).all().len(), 2, "no line leads to a shop that is not there");
        assert!(other.shelf.keys().all(|key| !key.starts_with("scantling-shop.2")), "{other:?}");
        keep(&mut other, 1, &["one more"]);
        // Without any room nothing is taken in, and nothing is written.
        let mut full = Room::of(10);
        assert_eq!(take_in(&mut full, &file).map(|taken| taken.no_room.len()), Ok(2));
        assert!(full.shelf.is_empty());
    }

    #[test]
    fn of_a_file_that_was_cut_off_anywhere_what_stands_before_the_cut_is_taken_in() {
        let file = write(&two_shops(), None);
        for end in 0..file.len() {
            let Some(part) = file.get(..end) else { continue };
            let mut other = Room::of(PLENTY);
            match take_in(&mut other, part) {
                Ok(taken) => {
                    assert!(taken.damaged && taken.to_string().contains("cut off"), "{end}");
                    // The newest comes first, whole or as far as it was written.
                    let newest = states(&kept_of(&other, 1)).first().and_then(State::book_in_part);
                    assert!(newest.is_none_or(|book| "first 3".starts_with(&book)), "{end}");
                }
                Err(why) => assert!(matches!(why, Why::Another | Why::Nothing), "{end}"),
            }
        }
        // Cut within the oldest state of the first shop, the two newer are whole.
        let end = file.find("first 1").unwrap() + 3;
        let mut other = Room::of(PLENTY);
        take_in(&mut other, file.get(..end).unwrap()).unwrap();
        assert_eq!(books(&other, 1), ["first 3", "first 2"]);
        assert_eq!(states(&kept_of(&other, 1)).last().and_then(State::book_in_part).as_deref(), Some("fir"));
    }

    #[test]
    fn a_file_of_a_newer_page_or_of_another_kind_is_refused_in_words() {
        let newer = write(&two_shops(), None).replacen(":1,", ":2,", 1);
        for (file, why, words) in [
            (newer.as_str(), Why::Newer(2), "version 2"),
            (crate::DEMO, Why::Another, "Open a shop book"),
            ("a letter", Why::Another, "Open a shop book"),
            (
                r#"{"scantling_everything":1,"shops":[{"name":"A","kept":{"elsewhere":"1 1\nx"}}]}"#,
                Why::Nothing,
                "older copy",
            ),
        ] {
            let mut store = Room::of(PLENTY);
            assert_eq!(take_in(&mut store, file), Err(why));
            assert!(why.to_string().contains(words), "{why}");
            assert!(store.shelf.is_empty(), "nothing is written");
        }
    }
}
