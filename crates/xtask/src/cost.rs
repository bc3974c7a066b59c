//! `cargo xtask cost`: what the engine's work takes in instructions, and the budget each piece of work must stay within.
//!
//! Instructions are counted by running the program on a processor made of software (valgrind's callgrind), so that a machine that is
//! busy, hot or old counts the same: noise can't fail it. What the standard library does for one processor or another differs a little,
//! and another compiler counts otherwise by some per cent; the budgets leave that much room.

use std::fs;
use std::path::Path;
use std::process::Command;

use anyhow::{Context, Result, bail};

use crate::shell::{cargo, root, run};
use crate::tools;

/// Where the budgets are kept: on each line a piece of work and the instructions it may take.
const BUDGET: &str = "crates/xtask/instruction-budget.txt";

/// How often a piece of work is done, to take the start out: what is counted is the difference.
const TIMES: (u64, u64) = (2, 22);

/// Counts, prints each figure beside its budget, and fails where one is over.
pub(crate) fn check() -> Result<()> {
    tools::valgrind()?;
    let text = fs::read_to_string(root().join(BUDGET)).with_context(|| format!("{BUDGET} can't be read"))?;
    run(cargo().args([
        "build",
        "--quiet",
        "--release",
        "--package",
        "scantling-pricing",
        "--example",
        "instructions",
    ]))?;
    let program = root().join("target/release/examples/instructions");
    let mut over = Vec::new();
    println!("{:<12} {:>12} {:>12}", "instructions", "each", "budget");
    for line in text.lines() {
        let (work, budget) =
            line.split_once(' ').with_context(|| format!("{BUDGET}: “{line}” is no work and number"))?;
        let budget: u64 = budget.trim().parse().with_context(|| format!("{BUDGET}: “{budget}” is no number"))?;
        let (few, many) = (counted(&program, work, TIMES.0)?, counted(&program, work, TIMES.1)?);
        let each = many.saturating_sub(few).div_ceil(TIMES.1 - TIMES.0);
        println!("{work:<12} {each:>12} {budget:>12}");
        if each > budget {
            over.push(format!("{work} takes {each} instructions, over the {budget} in {BUDGET}"));
        }
    }
    if over.is_empty() { Ok(()) } else { bail!("{}", over.join("\n")) }
}

/// The instructions of doing it so often, from start to end.
fn counted(program: &Path, work: &str, times: u64) -> Result<u64> {
    let mut valgrind = Command::new("valgrind");
    valgrind.args(["--tool=callgrind", "--callgrind-out-file=/dev/null"]).arg(program).args([work, &times.to_string()]);
    let output = valgrind.output().context("valgrind can't be started")?;
    let said = String::from_utf8_lossy(&output.stderr);
    if !output.status.success() {
        bail!("{work} fails under valgrind: {said}");
    }
    let line = said.lines().find_map(|line| line.split_once("Collected : ")).context("valgrind says no count")?;
    Ok(line.1.trim().parse()?)
}
