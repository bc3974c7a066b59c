//! Whether the same sources give the same release on another machine, as far as one machine can tell: a copy of the project in another
//! folder builds everything a second time, wasm and scripts too, and the two releases are compared.

use std::fs;
use std::path::Path;
use std::process::Command;

use anyhow::{Context, Result, bail};

use crate::shell::{root, run, said};
use crate::{dist, release};

/// Builds the release here and in a copy elsewhere, and compares folder and archive.
///
/// # Errors
/// The first file that is not the same.
pub(crate) fn twice() -> Result<()> {
    // Another path, of another length: a path that gets into what is built would show.
    let copy = std::env::temp_dir().join(format!("scantling-built-again-{}", std::process::id()));
    dist::dist()?;
    copied(&copy)?;
    let compared = built_again(&copy).and_then(|()| compare(&copy));
    fs::remove_dir_all(&copy).with_context(|| format!("{} can't be taken away", copy.display()))?;
    let files = compared?;
    println!("built again from a copy elsewhere, {files} files and the archive are the same to the byte");
    Ok(())
}

/// The project's files, those that are not committed yet too, without what is built from them.
fn copied(copy: &Path) -> Result<()> {
    let listed = said(Command::new("git").current_dir(root()).args([
        "ls-files",
        "-z",
        "--cached",
        "--others",
        "--exclude-standard",
    ]));
    let listed = listed.context("git can't say which files are the project's")?;
    for name in listed.split('\0').filter(|name| !name.is_empty()) {
        let (from, to) = (root().join(name), copy.join(name));
        // A file that was deleted and not yet committed is still on the list.
        if from.is_file() {
            fs::create_dir_all(to.parent().unwrap_or(copy))?;
            fs::copy(&from, &to).with_context(|| format!("{name} can't be copied"))?;
        }
    }
    // The optimiser and the minifier are of a stated release: they need not be fetched again.
    let tools = root().join("target/tools");
    if tools.is_dir() {
        dist::copy(&tools, &copy.join("target/tools"))?;
    }
    Ok(())
}

/// By its own tools, into a target folder of its own.
fn built_again(copy: &Path) -> Result<()> {
    let mut cargo = Command::new("cargo");
    run(cargo.current_dir(copy).args(["xtask", "dist"]).env("CARGO_TARGET_DIR", copy.join("target")))
}

fn compare(copy: &Path) -> Result<usize> {
    let (here, there) = (release::folder(), release::folder_of(copy));
    let files = release::same(&here, &there)?;
    let archive = |folder: &Path| -> Result<String> {
        let file = dist::beside(folder, "zip");
        Ok(release::sum(&fs::read(&file).with_context(|| format!("{} can't be read", file.display()))?))
    };
    let (one, other) = (archive(&here)?, archive(&there)?);
    println!("SHA-256 of the archive: {one}, built again: {other}");
    if one != other {
        bail!("built again from a copy elsewhere, the archive is not the same");
    }
    Ok(files)
}
