//! What the form comes to: the drawing, the price, what it is made of.

mod budget;
mod details;
mod drawing;
mod moves;
mod price;
mod shares;
mod sheet;

pub(crate) use budget::budget;
pub(crate) use details::details;
pub(crate) use drawing::drawing;
pub(crate) use moves::{by, moves, price_neighbours, told};
pub(crate) use price::announcement;
pub(crate) use sheet::brief_sheet;
