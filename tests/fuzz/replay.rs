//! Hands what lies in the corpus of a target to its judge: what the fuzzer started from, what it has grown and what it has found.

use std::fs;
use std::path::Path;

/// Replays a target's corpus, from the tests of a crate two folders below the top.
pub(crate) fn replay(target: &str, judge: fn(&[u8])) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/fuzz/corpus").join(target);
    let mut replayed = 0;
    for entry in fs::read_dir(folder).unwrap() {
        judge(&fs::read(entry.unwrap().path()).unwrap());
        replayed += 1;
    }
    assert!(replayed > 0, "no corpus of {target}");
}
