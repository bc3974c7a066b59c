//! What is wrong in a document: in words with the feature `explain`, as a mere fact without it.

#[cfg(feature = "explain")]
pub use super::told::*;
#[cfg(not(feature = "explain"))]
pub use super::untold::*;

/// Words that say what is wrong, as `format!` makes them; without the feature `explain`, none.
#[cfg(feature = "explain")]
macro_rules! why {
    ($($words:tt)*) => { format!($($words)*) };
}

/// In place of the words that say what is wrong. What they would tell of is still named, so that it counts as used.
#[cfg(not(feature = "explain"))]
macro_rules! why {
    ($($words:tt)*) => {{
        let _ = format_args!($($words)*);
        $crate::book::document::Why
    }};
}

pub(crate) use why;
