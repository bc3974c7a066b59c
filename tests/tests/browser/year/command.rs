//! The command, run beside the page on the same documents.

use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;
use std::sync::atomic::{AtomicU32, Ordering};

use anyhow::{Context, Result, bail};
use serde_json::{Value, json};

/// A folder of its own for what one test keeps, taken away with it.
pub(super) struct Desk {
    folder: PathBuf,
}

impl Drop for Desk {
    fn drop(&mut self) {
        let _gone = std::fs::remove_dir_all(&self.folder);
    }
}

impl Desk {
    pub(super) fn new() -> Result<Self> {
        static NUMBER: AtomicU32 = AtomicU32::new(0);
        let own = format!("scantling-year-{}-{}", std::process::id(), NUMBER.fetch_add(1, Ordering::Relaxed));
        let folder = std::env::temp_dir().join(own);
        std::fs::create_dir_all(&folder)?;
        Ok(Self { folder })
    }

    /// Writes a document down.
    pub(super) fn keep(&self, name: &str, text: &str) -> Result<PathBuf> {
        let file = self.folder.join(format!("{name}.json"));
        std::fs::write(&file, text)?;
        Ok(file)
    }

    /// What the command says.
    pub(super) fn text(&self, words: &[&str], files: &[&Path]) -> Result<String> {
        let output = Command::new(built()?).args(words).args(files).output().context("the command does not run")?;
        if !output.status.success() {
            bail!(
                "scantling {words:?}: {}{}",
                String::from_utf8_lossy(&output.stdout),
                String::from_utf8_lossy(&output.stderr)
            );
        }
        Ok(String::from_utf8(output.stdout)?)
    }

    /// What it says for programs.
    pub(super) fn json(&self, words: &[&str], files: &[&Path]) -> Result<Value> {
        let words: Vec<&str> = ["--json"].into_iter().chain(words.iter().copied()).collect();
        Ok(serde_json::from_str(&self.text(&words, files)?)?)
    }

    /// A request as its buyer would have sent it, told the price of the public book: as it is, in a mail that was passed on, altered, or by
    /// an older book.
    pub(super) fn request(&self, asked: &Value) -> Result<String> {
        let mut brief = asked["brief"].clone();
        brief["scantling_brief"] = json!(1);
        let file = self.keep("asked", &brief.to_string())?;
        let book = xtask::root().join("public/price-book.json");
        let estimate = self.json(&["price", "--book"], &[&book, &file])?["estimate"].clone();
        let way = estimate["ways"].as_array().into_iter().flatten().find(|way| way["mode"] == estimate["chosen"]);
        let price = way.map_or(&estimate["works"], |way| &way["outcome"]["possible"]["price"]);
        let (likely, edition) = match asked["as"].as_str() {
            Some("altered") => (json!("100"), estimate["edition"].clone()),
            Some("old") => (json!("100"), json!("2025-11-03")),
            _ => (price["likely"].clone(), estimate["edition"].clone()),
        };
        let told = json!({ "edition": edition, "currency": "USD", "low": price["low"], "likely": likely, "high": price["high"] });
        let from = json!({ "name": asked["from"], "mail": "buyer@home.example" });
        // In the order a request is written in: it is found by its first key.
        let request = format!(r#"{{"scantling_request": 1,"brief": {brief:#},"told": {told:#},"from": {from:#}}}"#);
        if asked["as"] == "mail" {
            let quoted: Vec<String> = request.lines().map(|line| format!("> {line}")).collect();
            return Ok(format!("Dear maker,\n\nthis is what we are after.\n\n{}\n\nYours", quoted.join("\n")));
        }
        Ok(request)
    }
}

/// The command, built once for all engines.
fn built() -> Result<&'static Path> {
    static BUILT: OnceLock<Result<PathBuf, String>> = OnceLock::new();
    let build = || {
        let done = Command::new("cargo")
            .args(["build", "--quiet", "--package", "scantling-cli"])
            .current_dir(xtask::root())
            .status();
        match done {
            Ok(status) if status.success() => Ok(xtask::root().join("target/debug/scantling")),
            other => Err(format!("the command can't be built: {other:?}")),
        }
    };
    BUILT.get_or_init(build).as_deref().map_err(|why| anyhow::anyhow!("{why}"))
}
