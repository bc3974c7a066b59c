//! `cargo xtask fuzz`: throws bytes at the readers, each target for a stated number of runs.

use anyhow::{Result, bail};

use crate::shell::{root, run};
use crate::tools;

/// Each target: how often it is run by default, and the longest input.
const TARGETS: [(&str, u64, u64); 6] = [
    ("length", 2_000_000, 80),
    ("brief", 300_000, 4_096),
    ("request", 300_000, 4_096),
    ("book", 40_000, 65_536),
    ("link", 300_000, 2_048),
    ("record", 300_000, 4_096),
];

/// Runs one target or all of them, so often or as often as is usual. What fails is kept in the corpus, where the tests replay it.
pub(crate) fn fuzz(options: &[&str]) -> Result<()> {
    let (only, runs) = match options {
        [] => (None, None),
        [target] => (Some(*target), None),
        [target, runs] => (Some(*target), Some(runs.parse::<u64>()?)),
        _ => bail!("write cargo xtask fuzz, or with a target and how often: cargo xtask fuzz brief 1000000"),
    };
    let chosen: Vec<_> = TARGETS.iter().filter(|(name, ..)| only.is_none_or(|only| only == *name)).collect();
    if chosen.is_empty() {
        bail!("there is no such target; write one of length, brief, request, book, link, record");
    }
    for (name, usual, longest) in chosen {
        let runs = runs.unwrap_or(*usual);
        let seeds = root().join("tests/fuzz/corpus").join(name);
        let grown = root().join("target/fuzz-corpus").join(name);
        std::fs::create_dir_all(&grown)?;
        println!("{name}: {runs} runs");
        run(tools::fuzzer()?
            .current_dir(root())
            .args(["+nightly", "fuzz", "run", "--fuzz-dir", "tests/fuzz", "--target-dir", "target/fuzz", name])
            .args([&grown, &seeds])
            .args(["--", "-timeout=2", "-rss_limit_mb=1024", "-print_final_stats=1", "-verbosity=0"])
            .arg(format!("-runs={runs}"))
            .arg(format!("-max_len={longest}"))
            .arg(format!("-artifact_prefix={}/found-", seeds.display())))?;
    }
    Ok(())
}
