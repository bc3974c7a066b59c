//! What others have written and we use: whose it is, under which licence, and whether that is one we may ship.
//!
//! The texts are those the packages bring themselves, as Cargo has unpacked them: the same lock file gives the same bytes.

mod terms;

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail};
use serde_json::Value;

use crate::shell::{cargo, root, said};
use crate::tools;

/// What is shipped: the buyer's widget and the maker's page.
const SHIPPED: [&str; 2] = ["scantling-widget", "scantling-shop"];

/// How the files are called in which packages keep their terms.
const FILES: [&str; 5] = ["license", "licence", "copying", "unlicense", "notice"];

/// A package of somebody else's.
struct Package {
    name: String,
    version: String,
    licence: String,
    authors: Vec<String>,
    source: Option<String>,
    folder: PathBuf,
}

/// Fails when anything we build or test with comes from elsewhere than the registry, or under terms that are not on the list.
pub(crate) fn check() -> Result<()> {
    let packages = packages()?;
    let mut faults = Vec::new();
    for package in &packages {
        let Package { name, version, licence, source, .. } = package;
        match source.as_deref() {
            None => continue,
            Some(source) if !source.contains("crates.io-index") => {
                faults.push(format!("{name} {version} comes from {source}: take it from crates.io"));
            }
            Some(_) => {}
        }
        let tool = terms::TOOLS.contains(&(name.as_str(), licence.as_str()));
        if !tool && !terms::allow(licence) {
            faults
                .push(format!("{name} {version} is under “{licence}”, which is not on the list in licences/terms.rs"));
        }
    }
    if !faults.is_empty() {
        bail!("{}", faults.join("\n"));
    }
    let others = packages.iter().filter(|package| package.source.is_some()).count();
    let shipped = shipped(&packages)?;
    if let Some(package) = shipped.iter().find(|package| !terms::allow(&package.licence)) {
        bail!("{} is a tool of the tests alone, and is shipped", package.name);
    }
    let shipped = shipped.len();
    println!(
        "{others} packages of others, all from crates.io and under terms on the list; of {shipped} something may be shipped"
    );
    Ok(())
}

/// Writes the terms of everything in the release folder into this folder.
pub(crate) fn write(folder: &Path) -> Result<()> {
    fs::create_dir_all(folder)?;
    let packages = packages()?;
    let shipped = shipped(&packages)?;
    fs::write(folder.join("LICENCES.txt"), collected(&shipped)?)?;
    fs::write(folder.join("DATA.txt"), DATA)?;
    if let Some(text) = tools::standard_library_terms() {
        fs::write(folder.join("rust-standard-library.html"), fs::read(text)?)?;
    } else {
        println!("this compiler brings no list of its standard library's licences: it is left out");
    }
    Ok(())
}

/// Where the tables come from that are not ours.
const DATA: &str = "\
Where postal codes lie (scantling/postal-points.csv, and inside the pages):
- points of ZIP prefixes: U.S. Census Bureau, public domain;
- points of British postal areas: GeoNames, https://www.geonames.org, CC BY 4.0, changed: one town an area, rounded;
- which state a ZIP prefix lies in: CC0.
The prices, slabs, jobs and people of the demo are invented.
";

/// All packages in the graph, ours too, by name and version.
fn packages() -> Result<Vec<Package>> {
    let text = said(cargo().args(["metadata", "--format-version", "1", "--locked", "--all-features"]));
    let found: Value = serde_json::from_str(&text.context("cargo metadata says nothing; is Cargo.lock current?")?)?;
    let mut all: Vec<Package> =
        found.get("packages").and_then(Value::as_array).into_iter().flatten().filter_map(package).collect();
    all.sort_by(|one, other| (&one.name, &one.version).cmp(&(&other.name, &other.version)));
    Ok(all)
}

fn package(found: &Value) -> Option<Package> {
    let text = |key: &str| found.get(key).and_then(Value::as_str).map(str::to_owned);
    let authors = found.get("authors").and_then(Value::as_array).into_iter().flatten();
    Some(Package {
        name: text("name")?,
        version: text("version")?,
        licence: text("license").unwrap_or_default(),
        authors: authors.filter_map(Value::as_str).map(str::to_owned).collect(),
        source: text("source"),
        folder: Path::new(&text("manifest_path")?).parent()?.to_owned(),
    })
}

/// Those of which something may end up in a browser, ours left out: what widget and maker's page are built from, without what only
/// runs while they are built.
fn shipped(all: &[Package]) -> Result<Vec<&Package>> {
    let mut tree = cargo();
    tree.args(["tree", "--locked", "--edges", "normal,no-proc-macro", "--target", "wasm32-unknown-unknown"]);
    tree.args(["--prefix", "none", "--format", "{p}"]);
    tree.args(SHIPPED.iter().flat_map(|name| ["--package", name]));
    let lines = said(&mut tree).context("cargo tree says nothing; is Cargo.lock current?")?;
    let named: BTreeSet<(&str, &str)> = lines
        .lines()
        .filter_map(|line| {
            let mut words = line.split_whitespace();
            Some((words.next()?, words.next()?.trim_start_matches('v')))
        })
        .collect();
    let of = |package: &&Package| named.contains(&(package.name.as_str(), package.version.as_str()));
    Ok(all.iter().filter(|package| package.source.is_some()).filter(of).collect())
}

/// A list of the packages, then each text once, with whose it is.
fn collected(packages: &[&Package]) -> Result<String> {
    let mut texts: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let mut out = String::from(
        "What others have written and what is built into the widget and the maker's page, each under its own terms.\n\
         Scantling itself is under MIT or Apache 2.0, as you prefer: LICENSE-MIT, LICENSE-APACHE.\n\n",
    );
    for package in packages {
        let Package { name, version, licence, .. } = package;
        writeln!(out, "{name} {version}: {licence}")?;
        for text in package.texts()? {
            texts.entry(text).or_default().push(format!("{name} {version}"));
        }
    }
    // In the order of the packages they belong to.
    let mut texts: Vec<(String, Vec<String>)> = texts.into_iter().collect();
    texts.sort_by(|(_, one), (_, other)| one.cmp(other));
    for (text, whose) in texts {
        let line = "=".repeat(100);
        write!(out, "\n{line}\n{}\n{line}\n\n{}\n", whose.join(", "), text.trim_end())?;
    }
    Ok(out)
}

impl Package {
    /// The terms it brings; where it brings none, the usual text of what its manifest names, with its authors.
    fn texts(&self) -> Result<Vec<String>> {
        let mut files: Vec<PathBuf> = fs::read_dir(&self.folder)?.flatten().map(|entry| entry.path()).collect();
        files.retain(|path| path.is_file() && FILES.iter().any(|start| has_start(path, start)));
        files.sort();
        if !files.is_empty() {
            let read = |path: &PathBuf| Ok(String::from_utf8_lossy(&fs::read(path)?).replace("\r\n", "\n"));
            return files.iter().map(read).collect();
        }
        if !self.licence.contains("MIT") {
            bail!("{} {} brings no text of its licence, {}", self.name, self.version, self.licence);
        }
        let ours = fs::read_to_string(root().join("LICENSE-MIT")).context("LICENSE-MIT can't be read")?;
        let body = ours.split_once("Permission is hereby granted").context("LICENSE-MIT has no grant")?.1;
        let whose = if self.authors.is_empty() { "its authors".to_owned() } else { self.authors.join(", ") };
        let head = format!("MIT License (the package brings no text; its manifest says {})", self.licence);
        Ok(vec![format!("{head}\n\nCopyright (c) {whose}\n\nPermission is hereby granted{body}")])
    }
}

fn has_start(path: &Path, start: &str) -> bool {
    path.file_name().is_some_and(|name| name.to_string_lossy().to_ascii_lowercase().starts_with(start))
}
