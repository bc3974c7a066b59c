//! What the fuzzer started from and what it has found in the maker's store: replayed with every run of the tests.
#![expect(clippy::unwrap_used, reason = "a test stops where its corpus is missing")]
#![expect(clippy::expect_used, reason = "what must hold of any bytes is said by failing where it does not")]

#[path = "../../../tests/fuzz/judge_shop.rs"]
mod judge_shop;
#[path = "../../../tests/fuzz/replay.rs"]
mod replay;

#[test]
fn no_state_the_fuzzer_found_fails_again() {
    replay::replay("state", judge_shop::state);
}
