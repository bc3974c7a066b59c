//! The fields a form is built from: each ties its label, hint and error together once.

mod choice;
mod text;

pub(crate) use choice::{Choice, Offer, choice};
pub(crate) use text::{TextField, text_field};
