//! The release folder: what a maker downloads, from the page to start at to the checksum of every file.
//!
//! It is put together from `target/dist` and files of the project alone, with no clock and no chance: the same inputs give the same
//! bytes, and a test builds it twice.

mod links;
mod packed;
mod start;

use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, bail};
use sha2::{Digest, Sha256};
use xtask::browsers::on_path;

pub(crate) use start::integrity;

use crate::dist::{beside, copy};
use crate::shell::{at_hand, root, run};
use crate::{embedding, licences, papers};

/// What the demo's pages take from beside themselves in `target/dist`, and from one folder further up in the release.
const FROM_ABOVE: [&str; 2] = ["scantling/", "price-book.json"];

/// The demo's pages.
const DEMO_PAGES: [&str; 2] = ["index.html", embedding::PAGE];

/// What of `target/dist` stands at the top of the release; the rest is the demo's page.
const AT_THE_TOP: [&str; 5] = ["scantling", "shop.html", "shop.webmanifest", "shop-worker.js", "price-book.json"];

/// What the release is called.
const NAME: &str = concat!("scantling-", env!("CARGO_PKG_VERSION"));

/// Where the project in this folder writes it.
pub(crate) fn folder_of(project: &Path) -> PathBuf {
    project.join("target").join(NAME)
}

/// Where it is written.
pub(crate) fn folder() -> PathBuf {
    folder_of(&root())
}

/// Writes the release folder from the folder that is put on a host.
pub(crate) fn write(dist: &Path) -> Result<()> {
    let folder = folder();
    put_together(dist, &folder)?;
    let packed = pack(&folder)?;
    let bytes = fs::metadata(&packed)?.len().div_ceil(1000);
    let shown = |path: &Path| path.strip_prefix(root()).unwrap_or(path).display().to_string();
    println!("wrote {}, and {} of {bytes} kB to download", shown(&folder), shown(&packed));
    Ok(())
}

/// Writes the folder alone, not packed.
pub(crate) fn write_folder(dist: &Path) -> Result<()> {
    put_together(dist, &folder())
}

/// Packs a folder into one file beside it. Whatever the folder is called, what is unpacked has the release's own name.
fn pack(folder: &Path) -> Result<PathBuf> {
    let packed = beside(folder, "zip");
    fs::write(&packed, packed::pack(folder, NAME, &files(folder)?)?)?;
    Ok(packed)
}

/// Builds it a second time, elsewhere, and says whether it holds the same bytes; and whether each checksum is that of its file.
pub(crate) fn check(dist: &Path) -> Result<()> {
    let (folder, again) = (folder(), root().join("target/release-again"));
    put_together(dist, &folder)?;
    put_together(dist, &again)?;
    let files = same(&folder, &again)?;
    let (packed, packed_again) = (pack(&folder)?, pack(&again)?);
    if fs::read(&packed)? != fs::read(&packed_again)? {
        bail!("packed twice, the release is not the same");
    }
    if sums(&folder)? != fs::read_to_string(folder.join(SUMS))? {
        bail!("{SUMS} does not fit the files beside it");
    }
    // By the tools that those who download it have.
    if at_hand("sha256sum") {
        run(Command::new("sha256sum").args(["--quiet", "--check", SUMS]).current_dir(&folder))?;
    }
    if on_path("unzip").is_some() {
        run(Command::new("unzip").args(["-tqq"]).arg(&packed))?;
    }
    println!("put together twice, {files} files of the release folder and its archive are the same to the byte");
    fs::remove_dir_all(&again)?;
    fs::remove_file(packed_again)?;
    Ok(())
}

/// Whether two folders hold the same files to the byte; how many there are.
///
/// # Errors
/// The first file that is not the same.
pub(crate) fn same(one: &Path, other: &Path) -> Result<usize> {
    let names = files(one)?;
    if names != files(other)? {
        bail!("built twice, the release folder holds other files");
    }
    for file in &names {
        if fs::read(one.join(file))? != fs::read(other.join(file))? {
            bail!("built twice, {file} of the release folder is not the same");
        }
    }
    Ok(names.len())
}

/// What a maker puts a file of their own in place of.
const TO_BE_REPLACED: &str = "price-book.json";

fn put_together(dist: &Path, folder: &Path) -> Result<()> {
    if folder.exists() {
        fs::remove_dir_all(folder).with_context(|| format!("{} can't be emptied", folder.display()))?;
    }
    fs::create_dir_all(folder)?;
    let demo = folder.join("demo");
    copy(dist, &demo)?;
    for name in AT_THE_TOP {
        fs::rename(demo.join(name), folder.join(name))
            .with_context(|| format!("{name} is missing in {}", dist.display()))?;
    }
    for file in files(&demo)? {
        // Small forms of what stands at the top, and of the pages, which are others now.
        let is_small_form = |name: &str| file.strip_prefix(name).is_some_and(|rest| rest.starts_with('.'));
        if is_small_form(TO_BE_REPLACED) {
            // A host that sends small forms would go on sending the demo's prices after the maker's own stand there.
            fs::remove_file(demo.join(&file))?;
        } else if AT_THE_TOP.into_iter().any(is_small_form) {
            fs::rename(demo.join(&file), folder.join(&file))?;
        } else if DEMO_PAGES.into_iter().any(is_small_form) {
            fs::remove_file(demo.join(&file))?;
        }
    }
    for page in DEMO_PAGES {
        lift(&demo.join(page))?;
    }
    copy_file("shared/books/demo-shop.json", &folder.join("shop-book.json"))?;
    for name in ["LICENSE-MIT", "LICENSE-APACHE"] {
        copy_file(name, &folder.join(name))?;
    }
    start::write(folder)?;
    papers::build(&folder.join("papers"))?;
    licences::write(&folder.join("licences"))?;
    fs::write(folder.join(SUMS), sums(folder)?)?;
    let followed = links::followed(folder, &files(folder)?)?;
    println!("{followed} links of the release folder's pages lead somewhere in it");
    Ok(())
}

/// A page of the demo's, one folder further down.
fn lift(page: &Path) -> Result<()> {
    let mut html = fs::read_to_string(page)?;
    for name in FROM_ABOVE {
        let there = format!("\"{name}");
        if !html.contains(&there) {
            bail!("{} takes nothing from {name}: mend FROM_ABOVE in release.rs", page.display());
        }
        html = html.replace(&there, &format!("\"../{name}"));
    }
    Ok(fs::write(page, html)?)
}

fn copy_file(from: &str, to: &Path) -> Result<()> {
    fs::copy(root().join(from), to).with_context(|| format!("{from} can't be copied"))?;
    Ok(())
}

/// The file of checksums.
const SUMS: &str = "SHA256SUMS";

/// A line for each file but this one, as the tool `sha256sum` writes and reads them.
fn sums(folder: &Path) -> Result<String> {
    let mut out = String::new();
    for file in files(folder)?.iter().filter(|file| *file != SUMS) {
        writeln!(out, "{}  {file}", sum(&fs::read(folder.join(file))?))?;
    }
    Ok(out)
}

/// The checksum of these bytes.
pub(crate) fn sum(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect()
}

/// All files below a folder, by their way from there, in order.
fn files(folder: &Path) -> Result<Vec<String>> {
    fn walk(at: &Path, way: &str, found: &mut Vec<String>) -> Result<()> {
        for entry in fs::read_dir(at).with_context(|| format!("{} can't be read", at.display()))? {
            let entry = entry?;
            let way = format!("{way}{}", entry.file_name().to_string_lossy());
            if entry.file_type()?.is_dir() {
                walk(&entry.path(), &format!("{way}/"), found)?;
            } else {
                found.push(way);
            }
        }
        Ok(())
    }
    let mut found = Vec::new();
    walk(folder, "", &mut found)?;
    found.sort();
    Ok(found)
}
