//! `cargo xtask points`: where postal codes lie, as the engine reads it, from the open tables in `shared/reference/delivery`.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::fs;

use anyhow::{Context, Result, bail};

use crate::shell::root;

/// What is written.
pub(crate) const FILE: &str = "crates/pricing/data/postal-points.csv";

/// What stands above the lines: where they come from, and under which licence.
const HEAD: &str = "\
# Where postal codes lie: country and first signs, hundredths of a degree north, hundredths east. Written by cargo xtask points.
# US: U.S. Census Bureau, 2023 Gazetteer, ZIP Code Tabulation Areas, means by the first three digits (public domain); prefixes without an area
# take the next lower of their state; states by a postal prefix map (CC0 1.0).
# GB: a town for each postal area, from GeoNames, https://www.geonames.org, CC BY 4.0, changed: one town an area, rounded; ten from memory.
";

/// Writes the file anew or, with `--check`, says whether it is current.
pub(crate) fn points(options: &[&str]) -> Result<()> {
    let text = written()?;
    let path = root().join(FILE);
    match options {
        [] => fs::write(&path, text).with_context(|| format!("{FILE} can't be written")),
        ["--check"] if fs::read_to_string(&path).is_ok_and(|current| current == text) => Ok(()),
        ["--check"] => bail!("{FILE} is not what its sources say; run cargo xtask points"),
        _ => bail!("the one option is --check"),
    }
}

fn written() -> Result<String> {
    let mut lines = BTreeMap::new();
    for [area, _, _, north, east] in rows("uk_postcode_areas.csv")? {
        lines.insert(format!("GB{area}"), [hundredths(&north)?, hundredths(&east)?]);
    }
    let mut middles = BTreeMap::new();
    for [zip, state, north, east, _] in rows("zip3_centroids.csv")? {
        middles.insert((state, zip), [hundredths(&north)?, hundredths(&east)?]);
    }
    for [zip, state, ..] in rows::<2>("zip3_state.csv")? {
        // A prefix of post boxes or of one building lies near the one before it; the forces' own lie nowhere.
        let near = middles.range((state.clone(), String::new())..=(state, zip.clone())).next_back();
        if let Some((_, point)) = near {
            lines.insert(format!("US{zip}"), *point);
        }
    }
    let mut text = HEAD.to_owned();
    for (area, [north, east]) in lines {
        let _ = writeln!(text, "{area},{north},{east}");
    }
    Ok(text)
}

/// The first columns of a table, its head left out.
fn rows<const N: usize>(name: &str) -> Result<Vec<[String; N]>> {
    let path = root().join("shared/reference/delivery").join(name);
    let text = fs::read_to_string(&path).with_context(|| format!("{name} can't be read"))?;
    let row = |line: &str| {
        let columns: Vec<String> = line.split(',').take(N).map(str::to_owned).collect();
        <[String; N]>::try_from(columns)
            .map_err(|_| anyhow::anyhow!("{name} has a line of fewer than {N} columns: {line}"))
    };
    text.lines().skip(1).filter(|line| !line.is_empty()).map(row).collect()
}

/// `43.86` as 4386.
fn hundredths(degrees: &str) -> Result<i32> {
    let (sign, digits) = degrees.strip_prefix('-').map_or((1, degrees), |rest| (-1, rest));
    let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
    let number: i32 = format!("{whole}{part:0<2}").parse().with_context(|| format!("“{degrees}” is no angle"))?;
    Ok(sign * number)
}
