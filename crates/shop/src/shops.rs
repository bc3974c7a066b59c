//! Several shops side by side in one browser: each with states of its own, one window for each if wanted, and none lost by a press.
//!
//! The first shop keeps the keys it has always had; each further one has its number in its keys. What there is stands under one key more.

use serde_json::{Value, json};

use crate::keep::{Keeping, Kept, NotKept, Store, keys};

/// The shop that was open last.
const LAST: &str = "scantling-shops-open";

/// The shop a window opens: the one its address names, `#shop=2`, else the one that was open last; the first where that is not there.
#[must_use]
pub fn to_open(store: &impl Store, hash: &str) -> u32 {
    let named = hash.strip_prefix("#shop=").and_then(|number| number.parse().ok());
    let last = || store.get(LAST).and_then(|number| number.parse().ok());
    let shops = Shops::find(store);
    named.or_else(last).filter(|number| shops.of(*number).is_some_and(|shop| !shop.put_away)).unwrap_or(0)
}

/// Remembers which shop was opened.
///
/// # Errors
/// When the store keeps nothing more.
pub fn opened(store: &mut impl Store, number: u32) -> Result<(), NotKept> {
    if number == 0 && store.get(LAST).is_none() { Ok(()) } else { store.set(LAST, &number.to_string()) }
}

/// Where it is written which shops there are.
const LIST: &str = "scantling-shops";
/// What the keys of the first shop start with.
const FIRST: &str = "scantling-shop";
/// More shops than this are not looked for where the list can't be read.
const LOOKED_FOR: u32 = 50;

/// A shop.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shop {
    /// Its number: 0 for the first.
    pub number: u32,
    /// What the maker calls it here; it is in no book.
    pub name: String,
    /// Whether it was taken out of the way. Its states stay until it is thrown away.
    pub put_away: bool,
}

/// The shops there are.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shops(Vec<Shop>);

impl Shops {
    /// What a store says there is: the first shop at least. A list that can't be read is made again from the states that are there.
    #[must_use]
    pub fn find(store: &impl Store) -> Self {
        let first = || Shop { number: 0, name: "First shop".to_owned(), put_away: false };
        let Some(text) = store.get(LIST) else { return Self(vec![first()]) };
        let mut shops = read(&text).unwrap_or_else(|| {
            let there =
                (1..=LOOKED_FOR).filter(|number| store.get(&key_of(*number, "scantling-shop-newest")).is_some());
            there.map(|number| Shop { number, name: format!("Shop {number}"), put_away: false }).collect()
        });
        if shops.iter().all(|shop| shop.number != 0) {
            shops.insert(0, first());
        }
        Self(shops)
    }

    /// All of them, in the order they were made.
    #[must_use]
    pub fn all(&self) -> &[Shop] {
        &self.0
    }

    /// The shop with a number.
    #[must_use]
    pub fn of(&self, number: u32) -> Option<&Shop> {
        self.0.iter().find(|shop| shop.number == number)
    }

    /// Adds a shop; gives its number, which none had before.
    ///
    /// # Errors
    /// When the store keeps nothing more.
    pub fn add(&mut self, store: &mut impl Store, name: &str) -> Result<u32, NotKept> {
        // A list in another window may have grown since.
        let mut now = Self::find(store);
        let mut number = now.0.iter().map(|shop| shop.number).max().unwrap_or(0).saturating_add(1);
        // Nor may it find states of one whose line was lost.
        while store.get(&key_of(number, "scantling-shop-newest")).is_some() {
            number = number.saturating_add(1);
        }
        now.0.push(Shop { number, name: named(name, number), put_away: false });
        now.write(store)?;
        *self = now;
        Ok(number)
    }

    /// Adds a shop that starts with a book; gives its number. Where the book finds no room, the shop is not there either: without a book of
    /// its own it would open with another's.
    ///
    /// # Errors
    /// When the store keeps nothing more.
    pub fn add_with(&mut self, store: &mut impl Store, name: &str, new: &Keeping) -> Result<u32, NotKept> {
        let number = self.add(store, name)?;
        let kept = Kept::default().keep(&mut Of { store, number }, new);
        if let Err(why) = kept {
            self.take_back(store, number)?;
            return Err(why);
        }
        Ok(number)
    }

    /// Takes back a shop that was added a moment ago, with what was kept of it.
    pub(crate) fn take_back(&mut self, store: &mut impl Store, number: u32) -> Result<(), NotKept> {
        self.0.retain(|shop| shop.number != number);
        self.write(store)?;
        forget(store, number);
        Ok(())
    }

    /// Changes a shop's line.
    ///
    /// # Errors
    /// When the store keeps nothing more.
    pub fn change(
        &mut self,
        store: &mut impl Store,
        number: u32,
        change: impl FnOnce(&mut Shop),
    ) -> Result<(), NotKept> {
        let mut now = Self::find(store);
        if let Some(shop) = now.0.iter_mut().find(|shop| shop.number == number) {
            change(shop);
            shop.name = named(&shop.name, number);
        }
        now.write(store)?;
        *self = now;
        Ok(())
    }

    /// Throws a shop that was put away out of the store, with all its states. The first one's line stays, for its keys.
    ///
    /// # Errors
    /// When the store keeps nothing more.
    pub fn throw_away(&mut self, store: &mut impl Store, number: u32) -> Result<(), NotKept> {
        let mut now = Self::find(store);
        let away = now.of(number).is_some_and(|shop| shop.put_away);
        if away {
            now.0.retain(|shop| shop.number != number);
            now.write(store)?;
            forget(store, number);
        }
        *self = now;
        Ok(())
    }

    fn write(&self, store: &mut impl Store) -> Result<(), NotKept> {
        let line = |shop: &Shop| json!({ "number": shop.number, "name": shop.name, "put_away": shop.put_away });
        let list: Vec<Value> = self.0.iter().map(line).collect();
        store.set(LIST, &Value::from(list).to_string())
    }
}

/// Takes all that is kept of a shop out of a store.
fn forget(store: &mut impl Store, number: u32) {
    let mut own = Of { store, number };
    for key in keys() {
        drop(own.take(&key));
    }
}

fn named(name: &str, number: u32) -> String {
    let name = name.trim();
    if name.is_empty() { format!("Shop {}", number.saturating_add(1)) } else { name.chars().take(80).collect() }
}

fn read(text: &str) -> Option<Vec<Shop>> {
    let list: Value = serde_json::from_str(text).ok()?;
    let line = |line: &Value| {
        Some(Shop {
            number: u32::try_from(line["number"].as_u64()?).ok()?,
            name: line["name"].as_str()?.to_owned(),
            put_away: line["put_away"].as_bool().unwrap_or(false),
        })
    };
    list.as_array()?.iter().map(line).collect()
}

/// A key of the first shop as another shop's.
#[must_use]
pub fn key_of(number: u32, key: &str) -> String {
    match (number, key.strip_prefix(FIRST)) {
        (0, _) | (_, None) => key.to_owned(),
        (number, Some(rest)) => format!("{FIRST}.{number}{rest}"),
    }
}

/// The part of a store that is one shop's.
#[derive(Debug)]
pub struct Of<'s, S> {
    /// The store.
    pub store: &'s mut S,
    /// The shop.
    pub number: u32,
}

impl<S: Store> Store for Of<'_, S> {
    fn get(&self, key: &str) -> Option<String> {
        self.store.get(&key_of(self.number, key))
    }

    fn set(&mut self, key: &str, text: &str) -> Result<(), NotKept> {
        self.store.set(&key_of(self.number, key), text)
    }

    fn take(&mut self, key: &str) -> Option<String> {
        self.store.take(&key_of(self.number, key))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::keep::{Room, Shelf, Told};

    fn new(book: &str) -> Keeping {
        Keeping::new(book, Told::default())
    }

    fn keep(store: &mut impl Store, number: u32, book: &str) {
        Kept::default().keep(&mut Of { store, number }, &new(book)).unwrap();
    }

    fn book_of(store: &mut impl Store, number: u32) -> Option<String> {
        Kept::find(&Of { store, number }).1
    }

    #[test]
    fn a_browser_that_kept_one_shop_keeps_it_as_the_first() {
        let mut store = Shelf::default();
        Kept::default().keep(&mut store, &new("as it was")).unwrap();
        assert_eq!(Shops::find(&store).all().len(), 1);
        assert_eq!(book_of(&mut store, 0).as_deref(), Some("as it was"));
    }

    #[test]
    fn shops_have_states_of_their_own() {
        let mut store = Shelf::default();
        let mut shops = Shops::find(&store);
        let second = shops.add(&mut store, "What if wages rise").unwrap();
        let third = shops.add(&mut store, " ").unwrap();
        for (number, book) in [(0, "first"), (second, "second"), (third, "third")] {
            keep(&mut store, number, book);
        }
        let books: Vec<_> =
            [0, second, third].map(|number| book_of(&mut store, number)).into_iter().flatten().collect();
        assert_eq!(books, ["first", "second", "third"]);
        let names: Vec<String> = Shops::find(&store).all().iter().map(|shop| shop.name.clone()).collect();
        assert_eq!(names, ["First shop", "What if wages rise", "Shop 3"]);
    }

    #[test]
    fn what_is_put_away_comes_back_and_what_is_thrown_away_does_not() {
        let mut store = Shelf::default();
        let mut shops = Shops::find(&store);
        let second = shops.add(&mut store, "Second").unwrap();
        keep(&mut store, 0, "first");
        keep(&mut store, second, "second");
        // What is in use can't be thrown away at once.
        shops.throw_away(&mut store, second).unwrap();
        assert_eq!(book_of(&mut store, second).as_deref(), Some("second"));
        shops.change(&mut store, second, |shop| shop.put_away = true).unwrap();
        shops.change(&mut store, second, |shop| shop.put_away = false).unwrap();
        assert_eq!(book_of(&mut store, second).as_deref(), Some("second"), "it came back as it was");
        shops.change(&mut store, second, |shop| shop.put_away = true).unwrap();
        shops.throw_away(&mut store, second).unwrap();
        assert_eq!((book_of(&mut store, second), shops.all().len()), (None, 1));
        assert_eq!(book_of(&mut store, 0).as_deref(), Some("first"));
    }

    #[test]
    fn a_list_that_was_spoilt_is_made_again_from_what_is_there() {
        let mut store = Shelf::default();
        let mut shops = Shops::find(&store);
        let second = shops.add(&mut store, "Second").unwrap();
        keep(&mut store, second, "second");
        store.set(LIST, "[{\"numb").unwrap();
        let found = Shops::find(&store);
        assert_eq!(found.all().iter().map(|shop| shop.number).collect::<Vec<_>>(), [0, second]);
        // A new one takes no number that has states.
        store.set(LIST, "[]").unwrap();
        assert_ne!(Shops::find(&store).add(&mut store, "Third").unwrap(), second);
    }

    #[test]
    fn a_window_opens_the_shop_its_address_names_else_the_last() {
        let mut store = Shelf::default();
        let mut shops = Shops::find(&store);
        let second = shops.add(&mut store, "Second").unwrap();
        assert_eq!(to_open(&store, ""), 0);
        assert_eq!(to_open(&store, &format!("#shop={second}")), second);
        opened(&mut store, second).unwrap();
        assert_eq!((to_open(&store, ""), to_open(&store, "#shop=0")), (second, 0));
        assert_eq!((to_open(&store, "#shop=77"), to_open(&store, "#shop=x")), (0, second));
        shops.change(&mut store, second, |shop| shop.put_away = true).unwrap();
        assert_eq!(to_open(&store, ""), 0, "one that was put away is not opened");
    }

    #[test]
    fn a_shop_whose_book_finds_no_room_is_not_there() {
        let mut store = Room::of(400);
        let mut shops = Shops::find(&store);
        let second = shops.add_with(&mut store, "Second", &new("a small book")).unwrap();
        assert_eq!(book_of(&mut store, second).as_deref(), Some("a small book"));
        assert_eq!(shops.add_with(&mut store, "Third", &new(&"large ".repeat(100))), Err(NotKept::Full));
        assert_eq!(shops.all().iter().map(|shop| shop.number).collect::<Vec<_>>(), [0, second]);
        assert_eq!(Shops::find(&store), shops);
    }

    #[test]
    fn two_windows_add_shops_of_different_numbers() {
        let mut store = Shelf::default();
        let (mut one, mut other) = (Shops::find(&store), Shops::find(&store));
        let (a, b) = (one.add(&mut store, "A").unwrap(), other.add(&mut store, "B").unwrap());
        assert_ne!(a, b);
        assert_eq!(Shops::find(&store).all().len(), 3);
    }
}
