//! The size of what a buyer's browser fetches before the first price, and the budget it must stay within.

use std::fs;
use std::path::Path;

use anyhow::{Context, Result, bail};

use crate::dist::beside;
use crate::shell::root;

/// Script, style and wasm: what is fetched before the first price, the price book apart.
const FILES: [&str; 4] =
    ["scantling-quote.js", "scantling-quote.css", "scantling_widget.js", "scantling_widget_bg.wasm"];

/// The words, fetched beside them, one file or two by the language.
const WORDS: [&str; 4] = ["words/en.json", "words/de.json", "words/fr.json", "words/es.json"];

/// Where postal codes lie, fetched once a destination asks for it, and the most it may weigh in Brotli.
const POINTS: (&str, u64) = ("postal-points.csv", 12_000);

/// Where the budget is kept: one number of bytes, Brotli.
const BUDGET: &str = "crates/xtask/size-budget.txt";

/// Prints raw, gzip and Brotli sizes.
pub(crate) fn print(dist: &Path) -> Result<()> {
    println!("{:<28} {:>9} {:>9} {:>9}", "bytes", "raw", "gzip", "brotli");
    let mut sums = [0; 3];
    for file in FILES {
        let sizes = sizes(dist, file)?;
        println!("{file:<28} {:>9} {:>9} {:>9}", sizes[0], sizes[1], sizes[2]);
        for (sum, size) in sums.iter_mut().zip(sizes) {
            *sum += size;
        }
    }
    println!("{:<28} {:>9} {:>9} {:>9}", "together", sums[0], sums[1], sums[2]);
    for file in WORDS.into_iter().chain([POINTS.0]) {
        let sizes = sizes(dist, file)?;
        println!("{file:<28} {:>9} {:>9} {:>9}", sizes[0], sizes[1], sizes[2]);
    }
    Ok(())
}

/// Fails when the bundle is over its budget.
pub(crate) fn check(dist: &Path) -> Result<()> {
    let text = fs::read_to_string(root().join(BUDGET)).with_context(|| format!("{BUDGET} can't be read"))?;
    let budget: u64 = text.trim().parse().with_context(|| format!("{BUDGET} must hold one number of bytes"))?;
    let mut together = 0;
    for file in FILES {
        together += sizes(dist, file)?[2];
    }
    if together > budget {
        bail!("script, style and wasm are {together} bytes in Brotli, over the budget of {budget} in {BUDGET}");
    }
    let (points, most) = (sizes(dist, POINTS.0)?[2], POINTS.1);
    if points > most {
        bail!("{} is {points} bytes in Brotli, over the {most} it may weigh", POINTS.0);
    }
    println!("script, style and wasm: {together} bytes in Brotli, of a budget of {budget}");
    Ok(())
}

fn sizes(dist: &Path, file: &str) -> Result<[u64; 3]> {
    let path = dist.join("scantling").join(file);
    let length = |path: &Path| {
        fs::metadata(path).map(|data| data.len()).with_context(|| format!("{} is missing", path.display()))
    };
    Ok([length(&path)?, length(&beside(&path, "gz"))?, length(&beside(&path, "br"))?])
}
