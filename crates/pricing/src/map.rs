//! A map in the order of its keys, kept in a list.
//!
//! The tables of a book have a handful of rows, a hundred at most. A tree is no quicker there, and each kind of it weighs four kilobytes
//! in a buyer's browser where this weighs a few hundred bytes.

use serde::{Serialize, Serializer};

/// Keys in order, each with its value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Map<K, V>(Vec<(K, V)>);

impl<K, V> Map<K, V> {
    /// A map of nothing.
    #[must_use]
    pub const fn new() -> Self {
        Self(Vec::new())
    }

    /// Whether there is nothing in it.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// How many keys there are.
    #[must_use]
    pub const fn len(&self) -> usize {
        self.0.len()
    }

    /// Keys and values, in the order of the keys.
    #[must_use]
    pub fn iter(&self) -> impl DoubleEndedIterator<Item = (&K, &V)> + ExactSizeIterator {
        self.0.iter().map(|(key, value)| (key, value))
    }

    /// The keys, in order.
    #[must_use]
    pub fn keys(&self) -> impl DoubleEndedIterator<Item = &K> + ExactSizeIterator {
        self.0.iter().map(|(key, _)| key)
    }

    /// The values, in the order of their keys.
    #[must_use]
    pub fn values(&self) -> impl DoubleEndedIterator<Item = &V> + ExactSizeIterator {
        self.0.iter().map(|(_, value)| value)
    }

    /// The values, to be changed, in the order of their keys.
    pub fn values_mut(&mut self) -> impl Iterator<Item = &mut V> {
        self.0.iter_mut().map(|(_, value)| value)
    }

    /// Keeps what the question says yes to.
    pub fn retain(&mut self, mut keep: impl FnMut(&K, &mut V) -> bool) {
        self.0.retain_mut(|(key, value)| keep(key, value));
    }

    /// Takes everything out.
    pub fn clear(&mut self) {
        self.0.clear();
    }
}

impl<K: Ord, V> Map<K, V> {
    /// Where a key is, or where it would be.
    fn place(&self, wanted: &K) -> Result<usize, usize> {
        self.0.binary_search_by(|(key, _)| key.cmp(wanted))
    }

    /// The value of a key.
    #[must_use]
    pub fn get(&self, key: &K) -> Option<&V> {
        self.place(key).ok().and_then(|place| self.0.get(place)).map(|(_, value)| value)
    }

    /// The value of a key, to be changed.
    pub fn get_mut(&mut self, key: &K) -> Option<&mut V> {
        self.place(key).ok().and_then(|place| self.0.get_mut(place)).map(|(_, value)| value)
    }

    /// Whether there is a value for a key.
    #[must_use]
    pub fn contains_key(&self, key: &K) -> bool {
        self.place(key).is_ok()
    }

    /// Puts a value under a key, and gives back what was there before.
    pub fn insert(&mut self, key: K, value: V) -> Option<V> {
        match self.place(&key) {
            Ok(place) => self.0.get_mut(place).map(|(_, held)| std::mem::replace(held, value)),
            Err(place) => {
                self.0.insert(place, (key, value));
                None
            }
        }
    }

    /// Puts a value under a key that has none yet.
    pub fn fill(&mut self, key: &K, value: &V)
    where
        K: Clone,
        V: Clone,
    {
        if let Err(place) = self.place(key) {
            self.0.insert(place, (key.clone(), value.clone()));
        }
    }

    /// Takes the value of a key out.
    pub fn remove(&mut self, key: &K) -> Option<V> {
        self.place(key).ok().map(|place| self.0.remove(place).1)
    }
}

impl<K, V> Default for Map<K, V> {
    fn default() -> Self {
        Self::new()
    }
}

impl<K: Ord, V> FromIterator<(K, V)> for Map<K, V> {
    fn from_iter<I: IntoIterator<Item = (K, V)>>(entries: I) -> Self {
        let mut map = Self::new();
        map.extend(entries);
        map
    }
}

impl<K: Ord, V> Extend<(K, V)> for Map<K, V> {
    fn extend<I: IntoIterator<Item = (K, V)>>(&mut self, entries: I) {
        for (key, value) in entries {
            self.insert(key, value);
        }
    }
}

impl<K: Ord, V, const N: usize> From<[(K, V); N]> for Map<K, V> {
    fn from(entries: [(K, V); N]) -> Self {
        entries.into_iter().collect()
    }
}

impl<'m, K, V> IntoIterator for &'m Map<K, V> {
    type Item = (&'m K, &'m V);
    type IntoIter = std::iter::Map<std::slice::Iter<'m, (K, V)>, fn(&'m (K, V)) -> (&'m K, &'m V)>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.iter().map(|(key, value)| (key, value))
    }
}

impl<K: Serialize, V: Serialize> Serialize for Map<K, V> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_map(self)
    }
}

#[cfg(feature = "schema")]
impl<K: schemars::JsonSchema, V: schemars::JsonSchema> schemars::JsonSchema for Map<K, V> {
    fn inline_schema() -> bool {
        std::collections::BTreeMap::<K, V>::inline_schema()
    }

    fn schema_name() -> std::borrow::Cow<'static, str> {
        std::collections::BTreeMap::<K, V>::schema_name()
    }

    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        std::collections::BTreeMap::<K, V>::json_schema(generator)
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use proptest::prelude::*;

    use super::*;

    proptest! {
        /// Held against the tree of the standard library.
        #[test]
        fn it_holds_what_a_tree_holds(steps in prop::collection::vec((0..3_u8, 0..20_u8, any::<u16>()), 0..80)) {
            let (mut map, mut tree) = (Map::new(), BTreeMap::new());
            for (step, key, value) in steps {
                match step {
                    0 => prop_assert_eq!(map.insert(key, value), tree.insert(key, value)),
                    1 => prop_assert_eq!(map.remove(&key), tree.remove(&key)),
                    _ => {
                        map.retain(|known, value| *known != key || *value > 1000);
                        tree.retain(|known, value| *known != key || *value > 1000);
                    }
                }
                prop_assert_eq!(map.get(&key), tree.get(&key));
                prop_assert!(map.iter().eq(tree.iter()) && map.len() == tree.len() && map.keys().eq(tree.keys()));
            }
            prop_assert_eq!(serde_json::to_string(&map).unwrap(), serde_json::to_string(&tree).unwrap());
        }
    }
}
