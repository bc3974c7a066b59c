//! Getting what a fresh machine lacks. What can't be had stops the work, with the command that would get it.

use std::path::PathBuf;
use std::process::Command;

use anyhow::{Context, Result, bail};

use crate::shell::{at_hand, root, run, said};

/// The optimiser's release, from the package registry of Node.
const BINARYEN: &str = "binaryen@132.0.0";

/// The decimal library the bench page holds the engine against.
const DECIMAL: &str = "decimal.js@10.6.0";

/// Makes sure that Rust can build for wasm.
pub(crate) fn wasm_target() -> Result<()> {
    let folder = said(Command::new("rustc").args(["--print", "target-libdir", "--target", "wasm32-unknown-unknown"]));
    let present = folder
        .and_then(|folder| std::fs::read_dir(folder).ok())
        .is_some_and(|files| files.flatten().any(|file| file.file_name().to_string_lossy().starts_with("libcore-")));
    if present {
        return Ok(());
    }
    println!("adding Rust's wasm32-unknown-unknown target");
    let added = run(Command::new("rustup").args(["target", "add", "wasm32-unknown-unknown"]));
    if added.is_err() {
        bail!("the wasm target is missing and can't be added; run: rustup target add wasm32-unknown-unknown");
    }
    Ok(())
}

/// A package of Node's registry in `target/tools`; nothing when this machine has none and no npm to get it with.
fn node_package(package: &str, file: &str) -> Option<PathBuf> {
    // Each in a folder of its own: npm takes away what it was not asked for.
    let name = package.split('@').next().unwrap_or(package);
    let folder = root().join("target/tools").join(name);
    let script = folder.join("node_modules").join(file);
    if !script.is_file() {
        if !at_hand("node") || !at_hand("npm") {
            return None;
        }
        println!("getting {package} into target/tools");
        let got = run(Command::new("npm")
            .args(["install", "--silent", "--no-save", "--no-audit", "--no-fund", "--prefix"])
            .arg(&folder)
            .arg(package));
        if got.is_err() || !script.is_file() {
            return None;
        }
    }
    Some(script)
}

/// The optimiser as a command to add arguments to; nothing when it can't be had.
pub(crate) fn wasm_opt() -> Option<Command> {
    let script = node_package(BINARYEN, "binaryen/bin/wasm-opt")?;
    let mut command = Command::new("node");
    command.arg(script);
    Some(command)
}

/// A decimal library in plain JavaScript, for the bench page alone.
pub(crate) fn decimal_script() -> Result<PathBuf> {
    let script = node_package(DECIMAL, "decimal.js/decimal.mjs");
    script.context("the bench page needs a decimal library; install Node.js and npm, and run it again")
}

/// The fuzzer's driver, and the compiler it needs: a search path on which `cargo` finds both.
pub(crate) fn fuzzer() -> Result<Command> {
    let folder = root().join("target/tools");
    if !folder.join("bin/cargo-fuzz").is_file() {
        println!("building cargo-fuzz into target/tools");
        run(Command::new("cargo").args(["install", "--quiet", "cargo-fuzz", "--root"]).arg(&folder))?;
    }
    let nightly = said(Command::new("rustup").args(["toolchain", "list"])).is_some_and(|list| list.contains("nightly"));
    if !nightly {
        println!("adding the nightly compiler, which fuzzing needs");
        run(Command::new("rustup").args(["toolchain", "install", "nightly", "--profile", "minimal"]))?;
    }
    let path = std::env::var_os("PATH").unwrap_or_default();
    let path = std::env::join_paths(std::iter::once(folder.join("bin")).chain(std::env::split_paths(&path)))?;
    let mut cargo = Command::new("cargo");
    cargo.env("PATH", path);
    Ok(cargo)
}

/// Chromium and its driver, by name. Installs Debian's packages where it may.
pub(crate) fn chromium() -> Result<()> {
    let present = || (at_hand("chromium") || at_hand("google-chrome")) && at_hand("chromedriver");
    if present() {
        return Ok(());
    }
    let as_root = said(Command::new("id").arg("-u")).is_some_and(|id| id == "0");
    if as_root && at_hand("apt-get") {
        println!("installing chromium and chromium-driver");
        let mut update = Command::new("apt-get");
        let mut install = Command::new("apt-get");
        run(update.args(["update", "-qq"]))
            .and_then(|()| {
                run(install.env("DEBIAN_FRONTEND", "noninteractive").args([
                    "install",
                    "-y",
                    "-qq",
                    "--no-install-recommends",
                    "chromium",
                    "chromium-driver",
                ]))
            })
            .ok();
    }
    if !present() {
        bail!("Chromium and its driver are missing; run: sudo apt-get install chromium chromium-driver");
    }
    Ok(())
}
