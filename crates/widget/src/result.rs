//! What the form comes to: the drawing, the price, what it is made of.

mod details;
mod drawing;
mod price;

pub(crate) use details::details;
pub(crate) use drawing::drawing;
pub(crate) use price::price;
