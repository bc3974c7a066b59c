//! Getting what a fresh machine lacks. What can't be had stops the work, with the command that would get it.

use std::path::PathBuf;
use std::process::Command;

use anyhow::{Context, Result, bail};
use xtask::browsers;

use crate::shell::{at_hand, root, run, said};

/// The optimiser's release, from the package registry of Node.
const BINARYEN: &str = "binaryen@132.0.0";

/// The minifier's release, from the same registry.
const ESBUILD: &str = "esbuild@0.28.2";

/// The decimal library the bench page holds the engine against.
const DECIMAL: &str = "decimal.js@10.6.0";

/// What finds faults of access in a page; a tool of the tests, never shipped.
const AXE: &str = "axe-core@4.14.1";

/// Firefox's driver, from Rust's registry: Debian 12 has none.
const GECKODRIVER: &str = "geckodriver@0.37.1";

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

/// Where the compiler is installed.
pub(crate) fn sysroot() -> Option<PathBuf> {
    said(Command::new("rustc").args(["--print", "sysroot"])).map(PathBuf::from)
}

/// The licences of the standard library, as they come with the compiler.
pub(crate) fn standard_library_terms() -> Option<PathBuf> {
    let file = sysroot()?.join("share/doc/rust/COPYRIGHT-library.html");
    file.is_file().then_some(file)
}

/// Whether the standard library can be built along: Rust's own source is there, or can be added, and the compiler knows these options.
pub(crate) fn std_source(options: &[&str]) -> bool {
    let known = said(Command::new("rustc").args(options).args(["--print", "cfg"]).env("RUSTC_BOOTSTRAP", "1"));
    let source = sysroot().map(|sysroot| sysroot.join("lib/rustlib/src/rust/library/std/src/lib.rs"));
    let (Some(_), Some(source)) = (known, source) else { return false };
    if !source.is_file() {
        println!("adding Rust's own source, to build the standard library for size");
        // Without rustup there is none to be had; the caller says what that costs.
        drop(run(Command::new("rustup").args(["component", "add", "rust-src"])));
    }
    source.is_file()
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

/// What makes scripts and styles small, as a command to add arguments to; nothing when it can't be had.
pub(crate) fn minifier() -> Option<Command> {
    node_package(ESBUILD, "esbuild/bin/esbuild").map(Command::new)
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

/// What checks the packages we use.
pub(crate) fn denier() -> Result<Command> {
    let folder = root().join("target/tools");
    let program = folder.join("bin/cargo-deny");
    if !program.is_file() {
        println!("building cargo-deny into target/tools");
        run(Command::new("cargo").args(["install", "--quiet", "--locked", "cargo-deny", "--root"]).arg(&folder))?;
    }
    let mut command = Command::new(program);
    command.current_dir(root());
    Ok(command)
}

/// The script that finds faults of access in a page.
pub(crate) fn axe() -> Result<()> {
    let script = node_package(AXE, "axe-core/axe.min.js");
    script.map(drop).context("axe-core is missing; install Node.js and npm, and run it again")
}

/// Chromium and its driver, by name. Installs Debian's packages where it may.
pub(crate) fn chromium() -> Result<()> {
    with_packages(&["chromium", "chromium-driver"], || {
        (at_hand("chromium") || at_hand("google-chrome")) && at_hand("chromedriver")
    })
}

/// Firefox, and its driver, which is built once into `target/tools`: two minutes on two cores.
pub(crate) fn firefox() -> Result<()> {
    with_packages(&["firefox-esr"], || browsers::firefox().is_some())?;
    if browsers::geckodriver().is_none() {
        println!("building {GECKODRIVER} into target/tools");
        let mut install = Command::new("cargo");
        install.args(["install", "--quiet", GECKODRIVER, "--root"]).arg(root().join("target/tools"));
        run(&mut install).context("Firefox's driver is missing and can't be built; run: cargo install geckodriver")?;
    }
    Ok(())
}

/// `WebKit`'s small browser for GTK, its driver, and a display that is none, which it needs.
pub(crate) fn webkit() -> Result<()> {
    with_packages(&["webkit2gtk-driver", "xvfb"], || {
        browsers::mini_browser().is_some()
            && ["WebKitWebDriver", "Xvfb"].into_iter().all(|it| browsers::on_path(it).is_some())
    })
}

/// What counts instructions.
pub(crate) fn valgrind() -> Result<()> {
    with_packages(&["valgrind"], || at_hand("valgrind"))
}

/// Makes sure of something that Debian's packages bring, and installs them where it may.
fn with_packages(packages: &[&str], present: impl Fn() -> bool) -> Result<()> {
    if present() {
        return Ok(());
    }
    let names = packages.join(" ");
    let as_root = said(Command::new("id").arg("-u")).is_some_and(|id| id == "0");
    if as_root && at_hand("apt-get") {
        println!("installing {names}");
        let update = run(Command::new("apt-get").args(["update", "-qq"]));
        let mut install = Command::new("apt-get");
        install.env("DEBIAN_FRONTEND", "noninteractive").args(["install", "-y", "-qq", "--no-install-recommends"]);
        // What went wrong is on the screen; whether it is there now is what counts.
        update.and_then(|()| run(install.args(packages))).ok();
    }
    if !present() {
        bail!("something is missing; on Debian, run: sudo apt-get install {names}");
    }
    Ok(())
}
