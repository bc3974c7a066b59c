//! The size of what a buyer's browser fetches before the first price, and the budget it must stay within.

use std::fs;
use std::path::Path;

use anyhow::{Context, Result, bail};

use crate::dist::beside;
use crate::shell::root;
use crate::split;

/// Script, style and wasm: what is fetched before the first price, the price book apart.
const FIRST: [&str; 4] =
    ["scantling-quote.js", "scantling-quote.css", "scantling_widget.js", "scantling_widget_bg.wasm"];

/// The words, fetched beside them, one file or two by the language.
const WORDS: [&str; 4] = ["words/en.json", "words/de.json", "words/fr.json", "words/es.json"];

/// Where postal codes lie, fetched once a destination asks for it, and the most it may weigh in Brotli.
const POINTS: (&str, u64) = ("postal-points.csv", 12_000);

/// Where the budgets are kept, each a word and a number of bytes, Brotli.
const BUDGET: &str = "crates/xtask/size-budget.txt";

/// Prints raw, gzip and Brotli sizes.
pub(crate) fn print(dist: &Path) -> Result<()> {
    println!("{:<28} {:>9} {:>9} {:>9}", "bytes", "raw", "gzip", "brotli");
    let (first, later) = files(dist)?;
    let mut sums = [0; 3];
    for file in &first {
        let sizes = sizes(dist, file)?;
        row(file, sizes);
        for (sum, size) in sums.iter_mut().zip(sizes) {
            *sum += size;
        }
    }
    row("before the first price", sums);
    for file in later.iter().map(String::as_str).chain(WORDS).chain([POINTS.0]) {
        row(file, sizes(dist, file)?);
    }
    Ok(())
}

/// What is fetched before the first price, and what once it has been painted.
fn files(dist: &Path) -> Result<(Vec<String>, Vec<String>)> {
    let named = |ending: &str| split::named(&dist.join("scantling"), ending);
    let first = FIRST.into_iter().map(String::from).chain([named("js")?]).collect();
    Ok((first, vec![named("wasm")?]))
}

fn row(name: &str, [raw, gzip, brotli]: [u64; 3]) {
    println!("{name:<28} {raw:>9} {gzip:>9} {brotli:>9}");
}

/// Fails when the bundle is over its budget.
pub(crate) fn check(dist: &Path) -> Result<()> {
    let text = fs::read_to_string(root().join(BUDGET)).with_context(|| format!("{BUDGET} can't be read"))?;
    let (first, later) = files(dist)?;
    for (word, files) in [("first", first), ("later", later)] {
        let budget = text.lines().find_map(|line| line.strip_prefix(word)?.trim().parse::<u64>().ok());
        let budget = budget.with_context(|| format!("{BUDGET} must hold a line “{word}” with a number of bytes"))?;
        let mut together = 0;
        for file in &files {
            together += sizes(dist, file)?[2];
        }
        if together > budget {
            bail!("{} are {together} bytes in Brotli, over the budget of {budget} in {BUDGET}", files.join(", "));
        }
        println!("{word}: {together} bytes in Brotli, of a budget of {budget}");
    }
    check_points(dist)
}

/// Fails when the postal points are too large. They hang on no tool, so that this is always checked.
pub(crate) fn check_points(dist: &Path) -> Result<()> {
    let (points, most) = (sizes(dist, POINTS.0)?[2], POINTS.1);
    if points > most {
        bail!("{} is {points} bytes in Brotli, over the {most} it may weigh", POINTS.0);
    }
    Ok(())
}

fn sizes(dist: &Path, file: &str) -> Result<[u64; 3]> {
    let path = dist.join("scantling").join(file);
    let length = |path: &Path| {
        fs::metadata(path).map(|data| data.len()).with_context(|| format!("{} is missing", path.display()))
    };
    Ok([length(&path)?, length(&beside(&path, "gz"))?, length(&beside(&path, "br"))?])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_over_what_they_may_weigh_are_refused() {
        let folder = tempdir();
        let points = folder.join("scantling").join(POINTS.0);
        fs::create_dir_all(points.parent().unwrap()).unwrap();
        for (bytes, fits) in [(12_000, true), (12_001, false)] {
            for (ending, length) in [(None, 30_000), (Some("gz"), 13_000), (Some("br"), bytes)] {
                let file = ending.map_or_else(|| points.clone(), |ending| beside(&points, ending));
                fs::write(file, vec![0; length]).unwrap();
            }
            assert_eq!(check_points(&folder).is_ok(), fits, "{bytes}");
        }
        fs::remove_dir_all(folder).unwrap();
    }

    fn tempdir() -> std::path::PathBuf {
        std::env::temp_dir().join(format!("scantling-size-{}", std::process::id()))
    }
}
