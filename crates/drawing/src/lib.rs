//! Measured drawings.
