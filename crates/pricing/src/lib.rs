//! What a piece costs.
