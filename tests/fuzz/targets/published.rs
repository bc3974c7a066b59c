#![no_main]

#[path = "../judge.rs"]
#[expect(dead_code, reason = "each target has one of the judges")]
mod judge;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| judge::published(bytes));
