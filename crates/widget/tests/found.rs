//! What the fuzzer started from and what it has found in the buyer's store: replayed with every run of the tests.
#![cfg(not(target_arch = "wasm32"))]
#![expect(clippy::unwrap_used, reason = "a test stops where its corpus is missing")]
#![expect(
    clippy::expect_used,
    clippy::panic,
    reason = "what must hold of any bytes is said by failing where it does not"
)]

#[path = "../../../tests/fuzz/judge_widget.rs"]
mod judge_widget;
#[path = "../../../tests/fuzz/replay.rs"]
mod replay;

#[test]
fn no_record_the_fuzzer_found_fails_again() {
    replay::replay("waiting", judge_widget::of_the_store);
}
