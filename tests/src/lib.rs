//! Shared pieces of the tests that cross crates.
