//! `cargo xtask test`: every check in order, each with its time, and the counts of all of them last.

use std::path::PathBuf;
use std::process::ExitCode;
use std::time::Instant;

use anyhow::Result;

use crate::shell::{cargo, follow, root, run};
use crate::{cost, dist, licences, papers, points, release, size, tools};

/// The crates that are compiled for browsers.
const BROWSER_CRATES: [&str; 8] = [
    "--package",
    "scantling-pricing",
    "--package",
    "scantling-drawing",
    "--package",
    "scantling-widget",
    "--package",
    "scantling-bench",
];

/// A step: its word, what it does, how it is run.
pub(crate) type Step = (&'static str, &'static str, fn(&mut Counts) -> Result<bool>);

const STEPS: [Step; 15] = [
    ("format", "rustfmt has nothing to change", format),
    ("lint", "clippy has nothing to say, for this machine and for wasm", lint),
    ("licences", "all we build with may be used, and comes from the registry", licences_allowed),
    ("native", "tests on this machine", native),
    ("cost", "the engine's work is within its budget of instructions", cost_in_budget),
    ("pictures", "the pictures of the demo page are current", pictures_current),
    ("points", "where postal codes lie is what its sources say", points_current),
    ("schema", "the JSON Schemas are what the readers say", schema_current),
    ("papers", "every figure of the papers is worked out and every link leads somewhere", papers_built),
    ("wasm", "tests of the widget inside a browser", wasm),
    ("size", "the bundle is within its budget", within_budget),
    ("speed", "first price and keystroke are within their budget beside a plain page", speed_in_budget),
    ("shop", "a shop book of 5 000 rows opens and is edited within its budget beside the demo's", shop_in_budget),
    ("release", "the release folder comes out the same twice", same_twice),
    ("browser", "the demo page in real browsers of three engines", browser),
];

/// How many tests passed and failed, and what was left out.
#[derive(Default)]
pub(crate) struct Counts {
    passed: u64,
    failed: u64,
    skipped: Vec<String>,
}

impl Counts {
    /// Reads the closing line of a test binary: `test result: ok. 3 passed; 0 failed; 1 ignored; ...`.
    fn read(&mut self, line: &str) {
        let Some(result) = line.strip_prefix("test result: ") else { return };
        let number = |word: &str| {
            let part = result.split([';', '.']).find(|part| part.trim().ends_with(word))?;
            part.trim().split(' ').next()?.parse::<u64>().ok()
        };
        self.passed += number("passed").unwrap_or(0);
        self.failed += number("failed").unwrap_or(0);
        for _ in 0..number("ignored").unwrap_or(0) {
            self.skipped.push("a test marked ignored".into());
        }
    }

    /// A check that is no test binary counts as one test.
    pub(crate) fn check(&mut self, passed: bool) -> bool {
        if passed {
            self.passed += 1;
        } else {
            self.failed += 1;
        }
        passed
    }
}

/// `cargo xtask test`: every step, or the one named.
pub(crate) fn test(only: Option<&str>) -> ExitCode {
    each(&STEPS, only)
}

/// Runs these steps, or the one named of them.
pub(crate) fn each(steps: &[Step], only: Option<&str>) -> ExitCode {
    if let Some(only) = only.filter(|only| steps.iter().all(|(word, ..)| word != only)) {
        let words: Vec<&str> = steps.iter().map(|(word, ..)| *word).collect();
        eprintln!("there is no step “{only}”; the steps are: {}", words.join(", "));
        return ExitCode::from(2);
    }
    let mut counts = Counts::default();
    let mut broken: Vec<&str> = Vec::new();
    for (word, what, step) in steps.iter().filter(|(word, ..)| only.is_none_or(|only| only == *word)) {
        println!("\n== {word}: {what}");
        let started = Instant::now();
        let passed = step(&mut counts).unwrap_or_else(|error| {
            eprintln!("xtask: {error:#}");
            counts.check(false)
        });
        println!("== {word}: {} in {} s", if passed { "passed" } else { "FAILED" }, started.elapsed().as_secs());
        if !passed {
            broken.push(word);
        }
    }
    let in_ci = std::env::var_os("CI").is_some();
    close(&counts, &broken, in_ci)
}

/// Says what failed and what was skipped, and the counts last. In CI a skip is a failure.
fn close(counts: &Counts, broken: &[&str], in_ci: bool) -> ExitCode {
    println!();
    for step in broken {
        println!("failed: {step}");
    }
    for skip in &counts.skipped {
        println!("skipped: {skip}");
    }
    println!("{} passed, {} failed, {} skipped", counts.passed, counts.failed, counts.skipped.len());
    let good = broken.is_empty() && counts.failed == 0 && (counts.skipped.is_empty() || !in_ci);
    if good { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

fn format(counts: &mut Counts) -> Result<bool> {
    Ok(counts.check(run(cargo().args(["fmt", "--all", "--check"])).is_ok()))
}

fn lint(counts: &mut Counts) -> Result<bool> {
    tools::wasm_target()?;
    let mut host = cargo();
    host.args([
        "clippy",
        "--quiet",
        "--workspace",
        "--all-targets",
        "--features",
        "scantling-tests/browser,scantling-pricing/schema",
        "--",
        "-D",
        "warnings",
    ]);
    let host = counts.check(run(&mut host).is_ok());
    let mut browser = cargo();
    // As they are built for browsers: the engine without words for the faults of a book.
    browser.args(["clippy", "--quiet", "--target", "wasm32-unknown-unknown", "--no-default-features"]);
    browser.args(BROWSER_CRATES);
    let browser = counts.check(run(browser.args(["--", "-D", "warnings"])).is_ok());
    Ok(host && browser)
}

fn licences_allowed(counts: &mut Counts) -> Result<bool> {
    licences::check()?;
    Ok(counts.check(true))
}

fn papers_built(counts: &mut Counts) -> Result<bool> {
    papers::papers()?;
    Ok(counts.check(true))
}

/// Runs on the folder that the size step has just written; alone, it is written first.
fn same_twice(counts: &mut Counts) -> Result<bool> {
    release::check(&written()?)?;
    Ok(counts.check(true))
}

/// The folder for a host, as it stands; written first where there is none.
fn written() -> Result<PathBuf> {
    let folder = root().join("target/dist");
    if folder.join("index.html").is_file() { Ok(folder) } else { Ok(dist::dist()?.folder) }
}

fn native(counts: &mut Counts) -> Result<bool> {
    follow(cargo().args(["test", "--workspace"]), |line| counts.read(line))
}

fn cost_in_budget(counts: &mut Counts) -> Result<bool> {
    if !had(counts, "the count of instructions", tools::valgrind()) {
        return Ok(true);
    }
    cost::check()?;
    Ok(counts.check(true))
}

fn speed_in_budget(counts: &mut Counts) -> Result<bool> {
    if !had(counts, "first price and keystroke in Chromium", tools::chromium()) {
        return Ok(true);
    }
    in_browser("speed", &["--check"])?;
    Ok(counts.check(true))
}

fn shop_in_budget(counts: &mut Counts) -> Result<bool> {
    if !had(counts, "a large shop book in Chromium", tools::chromium()) {
        return Ok(true);
    }
    in_browser("desk", &["--check"])?;
    Ok(counts.check(true))
}

/// Runs an example on the folder that the size step has just written; alone, it is written first.
fn in_browser(example: &str, options: &[&str]) -> Result<()> {
    written()?;
    let it = ["run", "--quiet", "--package", "scantling-tests", "--features", "browser", "--example", example, "--"];
    run(cargo().args(it).args(options))
}

fn pictures_current(counts: &mut Counts) -> Result<bool> {
    Ok(counts.check(pictures(&["--check"]).is_ok()))
}

fn points_current(counts: &mut Counts) -> Result<bool> {
    let current = points::points(&["--check"]);
    if let Err(error) = &current {
        eprintln!("xtask: {error:#}");
    }
    Ok(counts.check(current.is_ok()))
}

fn schema_current(counts: &mut Counts) -> Result<bool> {
    Ok(counts.check(schema(&["--check"]).is_ok()))
}

fn wasm(counts: &mut Counts) -> Result<bool> {
    if !had(counts, "tests of the widget inside a browser", tools::chromium()) {
        return Ok(true);
    }
    tools::wasm_target()?;
    run(cargo().args(["build", "--quiet", "--package", "test-runner"]))?;
    let mut tests = cargo();
    tests
        .args(["test", "--target", "wasm32-unknown-unknown", "--package", "scantling-widget", "--test", "web"])
        .env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUNNER", root().join("target/debug/test-runner"))
        .env("CHROMEDRIVER", "chromedriver");
    follow(&mut tests, |line| counts.read(line))
}

fn within_budget(counts: &mut Counts) -> Result<bool> {
    let dist = dist::dist()?;
    size::check_points(&dist.folder)?;
    counts.check(true);
    if !dist.small {
        counts.skipped.push("the budget: the standard library could not be built for size".into());
        return Ok(true);
    }
    size::check(&dist.folder)?;
    Ok(counts.check(true))
}

/// An engine: the word its tests' names start with, its name, and what gets it.
type Engine = (&'static str, &'static str, fn() -> Result<()>);

const ENGINES: [Engine; 3] = [
    ("chromium", "Chromium", tools::chromium),
    ("firefox", "Firefox", tools::firefox),
    ("webkit", "WebKit", tools::webkit),
];

/// Browsers that run side by side, at most: each of them is several processes.
const SIDE_BY_SIDE: usize = 4;

/// Runs on the folder that the size step has just written; alone, it is written first.
fn browser(counts: &mut Counts) -> Result<bool> {
    in_engines(counts, "browser", &[])
}

/// What the engines are tried with at night alone.
pub(crate) fn by_night(counts: &mut Counts) -> Result<bool> {
    in_engines(counts, "night", &["by_night"])
}

/// The tests in real browsers that a feature of theirs brings, or those of them whose names hold a word.
fn in_engines(counts: &mut Counts, feature: &str, named: &[&str]) -> Result<bool> {
    let mut left_out: Vec<&str> = Vec::new();
    for (word, name, get) in ENGINES {
        if !had(counts, &format!("the demo page in {name}"), get()) {
            left_out.push(word);
        }
    }
    if left_out.len() == ENGINES.len() {
        return Ok(true);
    }
    if !had(counts, "the search for faults of access", tools::axe()) {
        left_out.push("axe_");
    }
    written()?;
    let at_once = std::thread::available_parallelism().map_or(1, usize::from).min(SIDE_BY_SIDE);
    let mut tests = cargo();
    tests.args(["test", "--package", "scantling-tests", "--features", feature, "--lib", "--test", "browser", "--"]);
    tests.args(named).arg(format!("--test-threads={at_once}")).args(left_out.iter().flat_map(|word| ["--skip", word]));
    follow(&mut tests, |line| counts.read(line))
}

/// Whether something could be had; what could not is a skip that is said, and a failure in CI.
pub(crate) fn had(counts: &mut Counts, what: &str, got: Result<()>) -> bool {
    match got {
        Ok(()) => true,
        Err(error) => {
            counts.skipped.push(format!("{what}: {error:#}"));
            false
        }
    }
}

/// `cargo xtask pictures`.
pub(crate) fn pictures(options: &[&str]) -> Result<()> {
    run(cargo().args(["run", "--quiet", "--package", "scantling-drawing", "--example", "pictures", "--"]).args(options))
}

/// `cargo xtask schema`.
pub(crate) fn schema(options: &[&str]) -> Result<()> {
    let example =
        ["run", "--quiet", "--package", "scantling-pricing", "--features", "schema", "--example", "schema", "--"];
    run(cargo().args(example).args(options))
}

/// `cargo xtask bench page`, on the folder as it stands.
pub(crate) fn bench_of_the_page() -> Result<()> {
    bench(&["page"])
}

/// `cargo xtask bench`.
pub(crate) fn bench(filter: &[&str]) -> Result<()> {
    if let ["browser"] = filter {
        tools::chromium()?;
        dist::dist()?;
        dist::bench_page()?;
        let page = ["run", "--quiet", "--package", "scantling-tests", "--features", "browser", "--example", "bench"];
        return run(cargo().args(page));
    }
    let in_chromium = match filter {
        ["page", times @ ..] => Some(("speed", times)),
        ["shop"] => Some(("desk", [].as_slice())),
        _ => None,
    };
    if let Some((example, options)) = in_chromium {
        tools::chromium()?;
        return in_browser(example, options);
    }
    let benches = ["bench", "--quiet", "--package", "scantling-pricing", "--package", "scantling-cli"];
    run(cargo().args(benches).args(["--bench", "engine", "--bench", "stream", "--"]).args(filter))
}

/// `cargo xtask soak`, on the folder as it stands.
pub(crate) fn soak() -> Result<()> {
    tools::chromium()?;
    in_browser("soak", &[])
}

/// `cargo xtask shots`, of all states, or those of the page to start at.
pub(crate) fn shots(example: &str) -> Result<()> {
    tools::chromium()?;
    dist::dist()?;
    run(cargo().args(["run", "--quiet", "--package", "scantling-tests", "--features", "browser", "--example", example]))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closing_lines_are_counted() {
        let mut counts = Counts::default();
        counts.read("test result: ok. 12 passed; 0 failed; 1 ignored; 0 measured; 0 filtered out; finished in 0.01s");
        counts.read("test result: FAILED. 3 passed; 2 failed; 0 ignored; 0 filtered out");
        counts.read("a line that tells of 9 passed; 9 failed");
        assert_eq!((counts.passed, counts.failed, counts.skipped.len()), (15, 2, 1));
    }
}
