//! A size at which a design can't be built, and why.

use crate::book::document::DocumentError;
use crate::book::values::Key;
use crate::design::{Dimensions, Part};
use crate::measure::LengthUnit;

/// Something of a design that can't be at some size a buyer may choose.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Broken {
    /// The part that can't be.
    pub part: Option<Key>,
    /// The part it gets in the way of.
    pub other: Option<Key>,
    /// The pack that can't be, by its index.
    pub pack: Option<usize>,
    /// The size at which it can't be. Two parts may be impossible to prove apart though no size was found at which they meet.
    pub sizes: Option<Dimensions>,
    /// Why.
    pub why: String,
}

impl Broken {
    /// A part that can't be at a size.
    pub(super) fn of_part(part: &Part, sizes: &Dimensions, why: String) -> Self {
        Self { part: Some(part.key.clone()), other: None, pack: None, sizes: Some(sizes.clone()), why }
    }

    /// A pack that can't be at a size.
    pub(super) fn of_pack(index: usize, sizes: &Dimensions, why: String) -> Self {
        Self { part: None, other: None, pack: Some(index), sizes: Some(sizes.clone()), why }
    }

    /// What can't be said of one part.
    pub(super) fn of_all(why: &str) -> Self {
        Self { part: None, other: None, pack: None, sizes: None, why: why.to_owned() }
    }

    /// Where it is in a design at this path.
    fn place(&self, path: &str) -> String {
        match (&self.part, self.pack) {
            (Some(key), _) => format!("{path}.parts.{key}"),
            (None, Some(index)) => format!("{path}.packs[{index}]"),
            (None, None) => path.to_owned(),
        }
    }

    /// As the fault of a book. What two parts do is said of some size: it may hold at many.
    pub(super) fn told(self, path: &str, unit: LengthUnit) -> DocumentError {
        let place = self.place(path);
        let what = if self.part.is_some() { "part" } else { "pack" };
        let Some(sizes) = self.sizes.filter(|_| self.other.is_none()) else {
            return DocumentError::unusable(place, self.why);
        };
        let at: Vec<String> = sizes.iter().map(|(key, size)| format!("{key} {}", size.show(unit))).collect();
        let why = format!("at {}, {}; change the {what} or narrow the limits", at.join(", "), self.why);
        DocumentError::unusable(place, why)
    }
}
