//! The buyer's own browser as a place to keep things: what may go wrong with it, and the one that is there.

/// A place to keep texts by key.
pub trait Store {
    /// Every key there is.
    ///
    /// # Errors
    /// When the place can't be used.
    fn keys(&self) -> Result<Vec<String>, StoreFault>;

    /// What stands under a key.
    ///
    /// # Errors
    /// When the place can't be used.
    fn get(&self, key: &str) -> Result<Option<String>, StoreFault>;

    /// Puts a text under a key, over what stood there.
    ///
    /// # Errors
    /// When the place can't be used, or has no room left.
    fn put(&self, key: &str, text: &str) -> Result<(), StoreFault>;

    /// Takes away what stands under a key.
    ///
    /// # Errors
    /// When the place can't be used.
    fn remove(&self, key: &str) -> Result<(), StoreFault>;
}

/// Why nothing can be kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StoreFault {
    /// There is none: blocked by a setting of the browser, or by where the page is shown.
    Missing,
    /// There is no room left.
    Full,
}

/// The local storage of the page's origin.
#[derive(Debug, Clone, Copy)]
pub struct Browser;

impl Browser {
    /// The storage. The library takes it for granted and stops the program where it is missing, so it is tried first: reading
    /// the property itself throws where a setting blocks it.
    fn storage() -> Result<web_sys::Storage, StoreFault> {
        use gloo_storage::{LocalStorage, Storage};
        let there = web_sys::window().and_then(|window| window.local_storage().ok().flatten());
        there.map(|_| LocalStorage::raw()).ok_or(StoreFault::Missing)
    }
}

impl Store for Browser {
    fn keys(&self) -> Result<Vec<String>, StoreFault> {
        let storage = Self::storage()?;
        let count = storage.length().map_err(|_| StoreFault::Missing)?;
        Ok((0..count).filter_map(|place| storage.key(place).ok().flatten()).collect())
    }

    fn get(&self, key: &str) -> Result<Option<String>, StoreFault> {
        Self::storage()?.get_item(key).map_err(|_| StoreFault::Missing)
    }

    fn put(&self, key: &str, text: &str) -> Result<(), StoreFault> {
        // Whatever its name, an error of writing where reading works is one of room.
        Self::storage()?.set_item(key, text).map_err(|_| StoreFault::Full)
    }

    fn remove(&self, key: &str) -> Result<(), StoreFault> {
        Self::storage()?.remove_item(key).map_err(|_| StoreFault::Missing)
    }
}

/// A place for tests, with so many bytes of room; without any it is missing.
#[cfg(test)]
#[derive(Debug, Default)]
pub(crate) struct Drawer {
    held: std::cell::RefCell<std::collections::BTreeMap<String, String>>,
    room: Option<usize>,
}

#[cfg(test)]
impl Drawer {
    pub(crate) fn of(room: usize) -> Self {
        Self { room: Some(room), ..Self::default() }
    }

    pub(crate) fn all(&self) -> Vec<(String, String)> {
        self.held.borrow().clone().into_iter().collect()
    }
}

#[cfg(test)]
impl Store for Drawer {
    fn keys(&self) -> Result<Vec<String>, StoreFault> {
        self.room.ok_or(StoreFault::Missing)?;
        Ok(self.held.borrow().keys().cloned().collect())
    }

    fn get(&self, key: &str) -> Result<Option<String>, StoreFault> {
        self.room.ok_or(StoreFault::Missing)?;
        Ok(self.held.borrow().get(key).cloned())
    }

    fn put(&self, key: &str, text: &str) -> Result<(), StoreFault> {
        let room = self.room.ok_or(StoreFault::Missing)?;
        let others =
            self.held.borrow().iter().filter(|(held, _)| *held != key).map(|(k, t)| k.len() + t.len()).sum::<usize>();
        if others + key.len() + text.len() > room {
            return Err(StoreFault::Full);
        }
        self.held.borrow_mut().insert(key.to_owned(), text.to_owned());
        Ok(())
    }

    fn remove(&self, key: &str) -> Result<(), StoreFault> {
        self.room.ok_or(StoreFault::Missing)?;
        self.held.borrow_mut().remove(key);
        Ok(())
    }
}
