//! The form, section by section.

mod delivery;
mod piece;
mod sizes;

pub(crate) use delivery::{destination, ways};
pub(crate) use piece::{finish, materials, options, piece};
pub(crate) use sizes::sizes;
