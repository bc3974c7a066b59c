//! Lengths, areas, volumes, board feet and weights: what is measured before anything is priced.
//!
//! **Invariant:** a [`Length`] is a whole count of nanometres, so 1/64 in and 0.1 mm are both exact and
//! switching the unit on display never changes a piece. Everything derived from lengths is a decimal.

mod axis;
mod board;
mod length;
mod quantity;
mod read_length;
mod system;

pub use axis::{Axis, Lie};
pub use board::{STANDARD_CLASSES, ThicknessClass, UnknownClass, board_feet, surface_measure};
pub use length::{Length, LengthUnit};
pub use quantity::{Area, BoardFeet, Volume, Weight};
pub(crate) use read_length::read_with_unit;
pub use read_length::{DecimalMark, LengthError, read_length};
pub use system::Quantity;
