#![no_main]

#[path = "../judge_widget.rs"]
mod judge_widget;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| judge_widget::of_the_store(bytes));
