//! `cargo xtask fuzz`: throws bytes at the readers, each target for a stated number of runs; and keeps what it has grown.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, bail};

use crate::release::sum;
use crate::shell::{root, run};
use crate::tools;

/// A target: its name, how often it is run by default, and the longest input in bytes.
type Target = (&'static str, u64, u64);

const TARGETS: [Target; 9] = [
    ("length", 2_000_000, 80),
    ("brief", 300_000, 4_096),
    ("request", 300_000, 4_096),
    ("book", 40_000, 65_536),
    ("published", 40_000, 65_536),
    ("link", 300_000, 2_048),
    ("record", 300_000, 4_096),
    ("waiting", 300_000, 4_096),
    ("state", 100_000, 16_384),
];

/// How much of what has grown is kept for a target: files, and bytes together. The tests replay all of it with every run.
const KEPT_FILES: usize = 40;
const KEPT_BYTES: usize = 64 * 1024;

/// What the names of kept inputs start with; what people wrote starts with `seed-`, what failed with `found-`.
const KEPT: &str = "kept-";

/// A word for what is run at night: one of so many runs.
const NIGHTLY_SHARE: u64 = 10;

/// Runs one target or all of them, so often or as often as is usual; or keeps what they have grown. What fails is kept in the corpus,
/// where the tests replay it.
pub(crate) fn fuzz(options: &[&str]) -> Result<()> {
    match options {
        [] => each(None, thrown),
        ["--keep"] => each(None, keep),
        ["--keep", target] => each(Some(target), keep),
        [target] => each(Some(target), thrown),
        [target, runs] => {
            let runs: u64 = runs.parse()?;
            each(Some(target), |(name, _, longest)| thrown(&(*name, runs, *longest)))
        }
        _ => bail!("write cargo xtask fuzz, or with a target and how often: cargo xtask fuzz brief 1000000"),
    }
}

/// Every target, a tenth as often.
pub(crate) fn shortly() -> Result<()> {
    each(None, |(name, usual, longest)| thrown(&(*name, usual.div_ceil(NIGHTLY_SHARE), *longest)))
}

fn each(only: Option<&str>, what: impl Fn(&Target) -> Result<()>) -> Result<()> {
    let chosen: Vec<&Target> = TARGETS.iter().filter(|(name, ..)| only.is_none_or(|only| only == *name)).collect();
    if chosen.is_empty() {
        let names: Vec<&str> = TARGETS.iter().map(|(name, ..)| *name).collect();
        bail!("there is no such target; write one of {}", names.join(", "));
    }
    chosen.into_iter().try_for_each(what)
}

/// What people wrote, what failed, and what was kept: in the repository.
fn corpus(name: &str) -> PathBuf {
    root().join("tests/fuzz/corpus").join(name)
}

/// What the fuzzer has grown on this machine.
fn grown(name: &str) -> Result<PathBuf> {
    let folder = root().join("target/fuzz-corpus").join(name);
    fs::create_dir_all(&folder)?;
    Ok(folder)
}

fn fuzzer(verb: &str, name: &str) -> Result<Command> {
    let mut fuzzer = tools::fuzzer()?;
    fuzzer.current_dir(root());
    fuzzer.args(["+nightly", "fuzz", verb, "--fuzz-dir", "tests/fuzz", "--target-dir", "target/fuzz", name]);
    Ok(fuzzer)
}

fn thrown((name, runs, longest): &Target) -> Result<()> {
    let (seeds, grown) = (corpus(name), grown(name)?);
    println!("{name}: {runs} runs");
    run(fuzzer("run", name)?
        .args([&grown, &seeds])
        .args(["--", "-timeout=2", "-rss_limit_mb=1024", "-print_final_stats=1", "-verbosity=0"])
        .arg(format!("-runs={runs}"))
        .arg(format!("-max_len={longest}"))
        .arg(format!("-artifact_prefix={}/found-", seeds.display())))
}

/// Puts into the corpus the fewest of the grown inputs that reach all that any of them reaches, the shortest first, as far as there is
/// room; what was kept before is among them, or goes.
fn keep((name, ..): &Target) -> Result<()> {
    let (corpus, scratch) = (corpus(name), root().join("target/fuzz-least").join(name));
    if scratch.exists() {
        fs::remove_dir_all(&scratch)?;
    }
    fs::create_dir_all(&scratch)?;
    for folder in [grown(name)?, corpus.clone()] {
        inputs(&folder)?.into_values().try_for_each(|bytes| named_by_content(&scratch, "", &bytes))?;
    }
    run(fuzzer("cmin", name)?.arg(&scratch))?;
    let before = inputs(&corpus)?;
    for kept in before.keys().filter(|file| file.starts_with(KEPT)) {
        fs::remove_file(corpus.join(kept))?;
    }
    let people: Vec<&Vec<u8>> =
        before.iter().filter(|(file, _)| !file.starts_with(KEPT)).map(|(_, bytes)| bytes).collect();
    let least = inputs(&scratch)?.into_values().filter(|bytes| !people.contains(&bytes)).collect();
    let chosen = shortest(least);
    let (files, bytes) = (chosen.len(), chosen.iter().map(Vec::len).sum::<usize>());
    chosen.iter().try_for_each(|bytes| named_by_content(&corpus, KEPT, bytes))?;
    println!("{name}: {files} grown inputs of {bytes} bytes are kept");
    Ok(())
}

/// The shortest of these, as many as there is room for.
fn shortest(mut inputs: Vec<Vec<u8>>) -> Vec<Vec<u8>> {
    inputs.sort_by(|one, other| (one.len(), one).cmp(&(other.len(), other)));
    let mut room = KEPT_BYTES;
    inputs.retain(|input| {
        let fits = input.len() <= room;
        room -= if fits { input.len() } else { 0 };
        fits
    });
    inputs.truncate(KEPT_FILES);
    inputs
}

/// The files of a folder by their names.
fn inputs(folder: &Path) -> Result<BTreeMap<String, Vec<u8>>> {
    let all = fs::read_dir(folder).with_context(|| format!("{} can't be read", folder.display()))?;
    all.map(|entry| {
        let entry = entry?;
        Ok((entry.file_name().to_string_lossy().into_owned(), fs::read(entry.path())?))
    })
    .collect()
}

/// An input has the name of its own content, so that the same one is there once.
fn named_by_content(folder: &Path, before: &str, bytes: &[u8]) -> Result<()> {
    let name: String = sum(bytes).chars().take(16).collect();
    Ok(fs::write(folder.join(format!("{before}{name}")), bytes)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_shortest_are_kept_as_far_as_there_is_room() {
        let of = |length: usize| vec![b'a'; length];
        assert_eq!(shortest(vec![of(3), of(1), of(2)]), [of(1), of(2), of(3)]);
        assert_eq!(shortest(vec![of(KEPT_BYTES), of(1)]), [of(1)]);
        assert_eq!(shortest((1..=KEPT_FILES + 5).map(of).collect()).len(), KEPT_FILES);
    }

    #[test]
    fn every_target_has_a_program_and_seeds() {
        let manifest = fs::read_to_string(root().join("tests/fuzz/Cargo.toml")).unwrap();
        for (name, ..) in TARGETS {
            assert!(manifest.contains(&format!("name = \"{name}\"\npath = \"targets/{name}.rs\"")), "{name}");
            assert!(root().join(format!("tests/fuzz/targets/{name}.rs")).is_file(), "{name}");
            assert!(inputs(&corpus(name)).unwrap().keys().any(|file| file.starts_with("seed-")), "{name}");
        }
        assert_eq!(manifest.matches("[[bin]]").count(), TARGETS.len());
    }
}
