//! Cuts the widget's wasm in two: what the first price takes, and what is fetched after it.
//!
//! The cut is where the widget says so (`later.rs`). It goes by who calls whom, as the linker wrote it down: a function or a constant
//! that only what comes later can reach goes there. Both parts share memory, table and stack, so they must be of one build: the second
//! and the script that fetches it are named by the build, and the first asks for that name.

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, anyhow};
use sha2::{Digest, Sha256};
use wasm_split_cli_support::{Options, transform};

/// What the linker has to keep for that.
pub(crate) const FLAGS: [&str; 1] = ["-Clink-arg=--emit-relocs"];

/// The script that fetches the second part, and that part, before they are named.
const LATER: &str = "scantling_later";

/// The first part, for wasm-bindgen, and what goes with it.
pub(crate) struct Parts {
    pub(crate) first: PathBuf,
    pub(crate) later: PathBuf,
    pub(crate) link: PathBuf,
}

/// Cuts what was built as `name`, and puts what comes later and the script that fetches it into the folder where the element's own
/// scripts are.
pub(crate) fn in_two(built: &Path, name: &str, folder: &Path) -> Result<Parts> {
    let wasm = fs::read(built).with_context(|| format!("{} can't be read", built.display()))?;
    let build: String = Sha256::digest(&wasm).iter().take(4).map(|byte| format!("{byte:02x}")).collect();
    let named = |ending: &str| format!("{LATER}.{build}.{ending}");
    let scratch = built.with_extension("parts");
    let (first, link, glue) = (scratch.join("first.wasm"), format!("./{}", named("js")), format!("./{name}.js"));
    let mut options = Options::new(&wasm);
    options.output_dir = &scratch;
    options.main_out_path = &first;
    options.link_name = &link;
    options.main_module = &glue;
    let parts = transform(options).map_err(|error| anyhow!("the wasm can't be cut in two: {error:#}"))?;
    let [later] = parts.split_modules.as_slice() else {
        return Err(anyhow!("the wasm should come in two parts, and came as {:?}", parts.split_modules));
    };
    let parts = Parts { first, later: folder.join(named("wasm")), link: folder.join(named("js")) };
    fs::copy(later, &parts.later)?;
    // The element's own script fetches it: the one that comes with the cut calls what a page may have taken away.
    fs::rename(folder.join(LATER).with_extension("js"), &parts.link)?;
    for (script, ending) in [(&parts.link, "wasm"), (&folder.join("scantling-quote.js"), "js")] {
        let text = fs::read_to_string(script)?.replace(&format!("{LATER}.{ending}"), &named(ending));
        fs::write(script, text)?;
    }
    Ok(parts)
}

/// The name of a part that is named by its build: the script that fetches the second, by `js`, or the second, by `wasm`.
pub(crate) fn named(folder: &Path, ending: &str) -> Result<String> {
    let names = fs::read_dir(folder)?.flatten().filter_map(|entry| entry.file_name().into_string().ok());
    let mut found = names.filter(|name| name.starts_with(LATER) && name.ends_with(&format!(".{ending}")));
    found.next().with_context(|| format!("{LATER} is missing in {}", folder.display()))
}
