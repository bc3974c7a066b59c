//! The engine from outside, by what a test takes its expectation from.
#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test stops where its own set-up fails; helpers are not marked as tests"
)]

mod alternatives;
mod bad_input;
mod bad_parts;
mod bad_regions;
mod border;
mod checked;
mod cuts;
mod delivered;
mod found;
mod golden;
mod hostile;
mod indistinct;
mod jobs;
mod kept;
mod lead_time;
mod learning;
mod link;
mod mail;
mod nesting;
mod never_less;
mod offers;
mod owed;
mod places;
mod privacy;
mod profit;
mod properties;
mod published;
mod quotes;
mod random;
mod reading;
mod schema;
mod simulated;
mod start;
mod suggested;
#[path = "../thousand/mod.rs"]
mod thousand;
mod too_large;
mod unsure;
mod worked;
