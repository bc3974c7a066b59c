#![no_main]

#[path = "../judge_shop.rs"]
mod judge_shop;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| judge_shop::state(bytes));
