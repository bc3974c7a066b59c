//! The deployable folder: the page, the public files, the element's script and style, and the widget's wasm, each small form beside it.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result};
use base64::prelude::{BASE64_STANDARD, Engine};
use sha2::{Digest, Sha256};
use wasm_bindgen_cli_support::Bindgen;

use crate::shell::{cargo, root, run};
use crate::{embedding, order, points, release, size, split, tools};

/// What wasm every current browser takes; without names the optimiser may emit what none does.
const FEATURES: [&str; 6] = [
    "--enable-bulk-memory",
    "--enable-mutable-globals",
    "--enable-sign-ext",
    "--enable-nontrapping-float-to-int",
    "--enable-reference-types",
    "--enable-multivalue",
];

/// Small before compression is not small after it: functions that are left apart, and values that are worked out again instead of kept,
/// make the wasm larger by 5 % and 9 % smaller in Brotli.
const FOR_SIZE: [&str; 7] = [
    "--one-caller-inline-max-function-size=1",
    "--always-inline-max-function-size=0",
    "--flexible-inline-max-function-size=0",
    "--traps-never-happen",
    "--skip-pass=local-cse",
    "--skip-pass=simplify-locals",
    "-O3",
];

/// Functions sorted by their names, which then go.
const IN_ORDER: [&str; 2] = ["--reorder-functions-by-name", "--strip-debug"];

/// Views are put together from parts of one kind instead of each being a kind of its own.
const ONE_KIND_OF_VIEW: [&str; 2] = ["--cfg", "erase_components"];

/// The folder that is put on a host.
pub(crate) struct Dist {
    /// Where it is.
    pub(crate) folder: PathBuf,
    /// Whether the standard library in it was built for size too; its size is measured only then.
    pub(crate) small: bool,
}

/// What stands in `target/dist` without being built: the demo's pages and what they show, the element's own files.
fn as_it_is(folder: &Path) -> Result<PathBuf> {
    if folder.exists() {
        fs::remove_dir_all(folder).context("target/dist can't be emptied")?;
    }
    copy(&root().join("public"), folder)?;
    fs::copy(root().join("index.html"), folder.join("index.html")).context("index.html can't be copied")?;
    embedding::fill(folder)?;
    let scantling = folder.join("scantling");
    copy(&root().join("crates/widget/element"), &scantling)?;
    fs::copy(root().join(points::FILE), scantling.join("postal-points.csv"))
        .context("the postal points can't be copied")?;
    Ok(scantling)
}

/// Everything as it comes from the compiler, the widget in one file, and the release folder from it: large and slow, and there soon. For a
/// look, and for the tests of what is worked at; no size or time is measured of it.
pub(crate) fn quickly() -> Result<()> {
    tools::wasm_target()?;
    run(cargo().args(["build", "--target", "wasm32-unknown-unknown", "--package", "scantling-widget"]))?;
    let folder = root().join("target/dist");
    let scantling = as_it_is(&folder)?;
    let built = root().join("target/wasm32-unknown-unknown/debug/scantling_widget.wasm");
    let mut bindgen = Bindgen::new();
    bindgen.input_path(built).out_name("scantling_widget").typescript(false).remove_name_section(true);
    bindgen.web(true)?.generate(&scantling)?;
    shop_page_quickly()?;
    release::write_folder(&folder)
}

/// Builds everything and writes `target/dist`.
pub(crate) fn dist() -> Result<Dist> {
    let small = build("scantling-widget", IN_TWO, &split::FLAGS)?;
    let folder = root().join("target/dist");
    let scantling = as_it_is(&folder)?;
    let parts = split::in_two(&built("scantling_widget"), "scantling_widget", &scantling)?;
    bind(&parts.first, "scantling_widget", Glue::Module, &scantling)?;
    optimise(&parts.later)?;
    minify(&parts.link)?;
    for file in ["scantling_widget.js", "scantling-quote.js", "scantling-quote.css"] {
        minify(&scantling.join(file))?;
    }
    shop_page(&folder)?;
    compress(&folder)?;
    println!("wrote target/dist");
    size::print(&folder)?;
    release::write(&folder)?;
    Ok(Dist { folder, small })
}

/// The maker's page as one file that opens from disk: style, script and wasm inside, run under a policy that names them by their hashes
/// and lets nothing be fetched or sent but, where it is served, the two files beside it that let it be installed.
fn shop_page(folder: &Path) -> Result<()> {
    build("scantling-shop", &[], &[])?;
    let scratch = root().join("target/shop-page");
    fs::create_dir_all(&scratch)?;
    bind(&built("scantling_shop"), "scantling_shop", Glue::Script, &scratch)?;
    write_shop_page(folder, &scratch, &release::integrity(folder)?)
}

/// The maker's page alone, put into `target/dist` as it comes from the compiler: large and slow, and there in seconds. For a look, and for
/// its tests while it is worked at.
pub(crate) fn shop_page_quickly() -> Result<()> {
    tools::wasm_target()?;
    run(cargo().args(["build", "--target", "wasm32-unknown-unknown", "--package", "scantling-shop"]))?;
    let (folder, scratch) = (root().join("target/dist"), root().join("target/shop-page"));
    fs::create_dir_all(&scratch)?;
    fs::create_dir_all(&folder)?;
    let built = root().join("target/wasm32-unknown-unknown/debug/scantling_shop.wasm");
    let mut bindgen = Bindgen::new();
    bindgen.input_path(built).out_name("scantling_shop").typescript(false).remove_name_section(true);
    bindgen.no_modules(true)?.generate(&scratch)?;
    // Built alone, there may be no script of the element beside it.
    write_shop_page(&folder, &scratch, &release::integrity(&folder).unwrap_or_default())
}

/// Puts the page together, with the hash of the element's script for the lines that it shows.
fn write_shop_page(folder: &Path, scratch: &Path, integrity: &str) -> Result<()> {
    let read = |path: PathBuf| fs::read_to_string(&path).with_context(|| format!("{} can't be read", path.display()));
    let wasm = BASE64_STANDARD.encode(fs::read(scratch.join("scantling_shop_bg.wasm"))?);
    let glue = read(scratch.join("scantling_shop.js"))?;
    let start = read(root().join("crates/shop/page/start.js"))?.replacen("\"{wasm}\"", &format!("\"{wasm}\""), 1);
    let script = format!("{glue}\n{start}");
    let style = read(root().join("crates/shop/page/shop.css"))?;
    let hash = |text: &str| format!("'sha256-{}'", BASE64_STANDARD.encode(Sha256::digest(text)));
    let policy = format!(
        "default-src 'none'; script-src {} 'wasm-unsafe-eval'; style-src {}; worker-src blob: 'self'; manifest-src 'self'; img-src data: blob:; require-trusted-types-for 'script'; trusted-types scantling-shop",
        hash(&script),
        hash(&style)
    );
    let page = read(root().join("crates/shop/page/shop.html"))?.replacen("{integrity}", integrity, 1);
    let page = page.replacen("{policy}", &policy, 1).replacen("{style}", &style, 1).replacen("{script}", &script, 1);
    fs::write(folder.join("shop.html"), &page).context("shop.html can't be written")?;
    installable(folder, &page)
}

/// What lets a served copy of the maker's page be installed and opened with no network: its manifest, with its icon inside, and the script
/// that keeps it, which changes with the page.
fn installable(folder: &Path, page: &str) -> Result<()> {
    let from = root().join("crates/shop/page");
    let read = |name: &str| fs::read_to_string(from.join(name)).with_context(|| format!("{name} can't be read"));
    let write = |name: &str, text: String| {
        fs::write(folder.join(name), text).with_context(|| format!("{name} can't be written"))
    };
    let icon = format!("data:image/svg+xml;base64,{}", BASE64_STANDARD.encode(read("shop-icon.svg")?));
    write("shop.webmanifest", read("shop.webmanifest")?.replace("{icon}", &icon))?;
    let version: String = Sha256::digest(page).iter().take(8).map(|byte| format!("{byte:02x}")).collect();
    write("shop-worker.js", read("shop-worker.js")?.replace("{version}", &version))
}

/// The standard library is built along: for size, and with no words for a panic, which ends the widget with or without them. The
/// compiler has these options on trial: where it lacks them, or Rust's own source can't be had, the library is taken as it comes.
const WITH_STD: [&str; 2] = ["-Zbuild-std=std,panic_abort", "-Zbuild-std-features=optimize_for_size"];
const NO_WORDS: [&str; 4] =
    ["-Zunstable-options", "-Cpanic=immediate-abort", "-Zfmt-debug=none", "-Zlocation-detail=none"];

/// The widget with its cut. Made as no library besides, the optimiser works on it across crates: 3 kB less of the first part in Brotli,
/// where the maker's page, which is one file, would be 13 kB more.
const IN_TWO: &[&str] = &["--features", "apart", "--crate-type", "cdylib"];

/// Builds a package for browsers; says whether the standard library was built along.
fn build(package: &str, options: &[&str], linked: &[&str]) -> Result<bool> {
    tools::wasm_target()?;
    let mut flags = without_own_paths();
    flags.extend(ONE_KIND_OF_VIEW.map(String::from));
    let build = || {
        let mut build = cargo();
        build.args(["rustc", "--profile", "web", "--target", "wasm32-unknown-unknown", "--package", package]);
        build.arg("--lib").args(options);
        build
    };
    if tools::std_source(&NO_WORDS) {
        let small = flags.iter().map(String::as_str).chain(NO_WORDS).collect::<Vec<_>>().join("\u{1f}");
        let mut build = build();
        build.args(WITH_STD).arg("--").args(linked);
        build.env("RUSTC_BOOTSTRAP", "1").env("CARGO_ENCODED_RUSTFLAGS", small);
        if run(&mut build).is_ok() {
            return Ok(true);
        }
    }
    println!("the standard library can't be built along: the wasm comes out some 13 kB larger in Brotli");
    run(build().arg("--").args(linked).env("CARGO_ENCODED_RUSTFLAGS", flags.join("\u{1f}")))?;
    Ok(false)
}

/// The engine for the bench page, built as the widget is, and the decimal library that stands beside it, in `target/bench-page`.
pub(crate) fn bench_page() -> Result<()> {
    build("scantling-bench", &[], &[])?;
    let folder = root().join("target/bench-page/bench");
    fs::create_dir_all(&folder)?;
    bind(&built("scantling_bench"), "scantling_bench", Glue::Module, &folder)?;
    fs::copy(tools::decimal_script()?, folder.join("decimal.js")).context("the decimal library can't be copied")?;
    Ok(())
}

/// Flags that keep this machine's folders out of what is shipped: they tell of the machine, and two machines would build
/// different bytes.
fn without_own_paths() -> Vec<String> {
    let home = std::env::var_os("CARGO_HOME").map(PathBuf::from);
    let home = home.or_else(|| std::env::home_dir().map(|home| home.join(".cargo"))).unwrap_or_default();
    let sources = fs::read_dir(home.join("registry/src")).into_iter().flatten().flatten().map(|entry| entry.path());
    // The last prefix that fits wins, so the longest come last.
    let hidden = [root(), home].into_iter().chain(tools::sysroot()).chain(sources);
    hidden.map(|folder| format!("--remap-path-prefix={}=", folder.display())).collect()
}

/// Copies a folder with all that is in it.
pub(crate) fn copy(from: &Path, to: &Path) -> Result<()> {
    fs::create_dir_all(to)?;
    for entry in fs::read_dir(from).with_context(|| format!("{} can't be read", from.display()))? {
        let entry = entry?;
        let target = to.join(entry.file_name());
        if entry.file_type()?.is_dir() {
            copy(&entry.path(), &target)?;
        } else {
            fs::copy(entry.path(), target)?;
        }
    }
    Ok(())
}

/// How a page takes the script that goes with a wasm.
#[derive(Clone, Copy)]
enum Glue {
    /// As a module, from a file of its own.
    Module,
    /// Within a script of its own: no module runs as a worker in a page opened from disk.
    Script,
}

/// Where the wasm of a crate is once it is built.
fn built(name: &str) -> PathBuf {
    root().join(format!("target/wasm32-unknown-unknown/web/{name}.wasm"))
}

/// The script that joins wasm and browser, by the library of the same lock file, and the wasm made small.
fn bind(built: &Path, name: &str, glue: Glue, folder: &Path) -> Result<()> {
    let mut bindgen = Bindgen::new();
    bindgen.input_path(built).out_name(name).typescript(false).remove_name_section(true);
    // By the linker's own exports, the second part of a wasm cut in two shares the table of the first.
    bindgen.keep_lld_exports(true);
    match glue {
        Glue::Module => bindgen.web(true)?,
        Glue::Script => bindgen.no_modules(true)?,
    };
    bindgen.generate(folder)?;
    optimise(&folder.join(format!("{name}_bg.wasm")))
}

fn optimise(wasm: &Path) -> Result<()> {
    let Some(mut optimiser) = tools::wasm_opt() else {
        println!("no optimiser: the wasm stays as it is, a few per cent larger; with Node.js at hand it would be had");
        return Ok(());
    };
    let smaller = wasm.with_extension("opt");
    run(optimiser.args(FEATURES).args(FOR_SIZE).arg(wasm).arg("-o").arg(&smaller))?;
    fs::write(wasm, order::named_by_likeness(&fs::read(&smaller)?)?)?;
    if let Some(mut optimiser) = tools::wasm_opt() {
        run(optimiser.args(FEATURES).args(IN_ORDER).arg(wasm).arg("-o").arg(&smaller))?;
    }
    fs::rename(smaller, wasm)?;
    Ok(())
}

/// Takes comments, long names and spaces out of a script or a style.
fn minify(file: &Path) -> Result<()> {
    let Some(mut minifier) = tools::minifier() else {
        println!("no minifier: {} stays as it is; with Node.js at hand it would be had", file.display());
        return Ok(());
    };
    let smaller = file.with_extension("min");
    run(minifier
        .args(["--minify", "--target=es2022", "--log-level=warning"])
        .arg(file)
        .arg(format!("--outfile={}", smaller.display())))?;
    fs::rename(smaller, file)?;
    Ok(())
}

/// Writes a Brotli and a gzip form beside every text and wasm file.
fn compress(folder: &Path) -> Result<()> {
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.is_dir() {
            compress(&path)?;
            continue;
        }
        let ending = path.extension().and_then(|ending| ending.to_str()).unwrap_or("");
        if ["html", "js", "css", "csv", "json", "svg", "wasm"].contains(&ending) {
            let bytes = fs::read(&path)?;
            fs::write(beside(&path, "br"), brotli(&bytes)?)?;
            fs::write(beside(&path, "gz"), gzip(&bytes)?)?;
        }
    }
    Ok(())
}

/// `a.wasm` and `br` to `a.wasm.br`.
pub(crate) fn beside(path: &Path, ending: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(".");
    name.push(ending);
    name.into()
}

fn brotli(bytes: &[u8]) -> Result<Vec<u8>> {
    let mut out = Vec::new();
    let params = brotli::enc::BrotliEncoderParams { quality: 11, lgwin: 22, ..Default::default() };
    brotli::BrotliCompress(&mut &*bytes, &mut out, &params)?;
    Ok(out)
}

fn gzip(bytes: &[u8]) -> Result<Vec<u8>> {
    let mut encoder = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::best());
    encoder.write_all(bytes)?;
    Ok(encoder.finish()?)
}
