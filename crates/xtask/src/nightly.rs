//! `cargo xtask nightly`: what takes too long, or hangs on a host too far away, to stand between every change and its landing.
//!
//! It prints the figures of each step; `.ci/nightly` runs it, from a clean checkout.

use std::process::ExitCode;

use anyhow::Result;

use crate::steps::{self, Counts, Step, had};
use crate::{deny, fuzz, tools, twice};

const STEPS: [Step; 8] = [
    ("engines", "what is tried in one engine by day, in the two others", steps::by_night),
    ("fuzz", "bytes nobody wrote are thrown at every reader, a tenth as often as by `cargo xtask fuzz`", fuzzed),
    ("soak", "10 000 edits and 1000 widgets that come and go leave nothing behind", soaked),
    ("bench", "first price and keystroke of the demo page beside a plain one", benched),
    ("shots", "every state of the widget can be brought about and looked at", shot),
    ("deny", "another program agrees on licences and sources, finds what is known, and nothing was withdrawn", denied),
    ("advisories", "nothing is known against what we build with, by the public list", known),
    ("twice", "built again from a copy elsewhere, the release is the same to the byte", built_twice),
];

/// Every step, or the one named.
pub(crate) fn nightly(only: Option<&str>) -> ExitCode {
    steps::each(&STEPS, only)
}

fn fuzzed(counts: &mut Counts) -> Result<bool> {
    fuzz::shortly()?;
    Ok(counts.check(true))
}

/// A step of Chromium's alone.
fn in_chromium(counts: &mut Counts, what: &str, step: impl FnOnce() -> Result<()>) -> Result<bool> {
    if !had(counts, what, tools::chromium()) {
        return Ok(true);
    }
    step()?;
    Ok(counts.check(true))
}

fn soaked(counts: &mut Counts) -> Result<bool> {
    in_chromium(counts, "the soak in Chromium", steps::soak)
}

fn benched(counts: &mut Counts) -> Result<bool> {
    in_chromium(counts, "the bench page in Chromium", steps::bench_of_the_page)
}

fn shot(counts: &mut Counts) -> Result<bool> {
    in_chromium(counts, "the shots in Chromium", || steps::shots("shots"))
}

fn denied(counts: &mut Counts) -> Result<bool> {
    deny::terms()?;
    deny::proved()?;
    Ok(counts.check(true))
}

/// Whoever can't reach the list is told so, and the step counts as failed: nothing was looked at.
fn known(counts: &mut Counts) -> Result<bool> {
    deny::known()?;
    Ok(counts.check(true))
}

fn built_twice(counts: &mut Counts) -> Result<bool> {
    twice::twice()?;
    Ok(counts.check(true))
}
