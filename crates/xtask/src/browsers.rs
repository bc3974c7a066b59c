//! Where this machine keeps the browsers that tests drive, and their drivers.

use std::fs;
use std::path::{Path, PathBuf};

/// Folders under which libraries keep programs of their own; Debian puts one for each architecture in between.
const LIBRARIES: [&str; 4] = ["/usr/lib", "/usr/lib64", "/usr/libexec", "/usr/local/lib"];

/// The script that checks a page for what people can't use, under the project's top folder.
pub const AXE_FOLDER: &str = "target/tools/axe-core/node_modules/axe-core";

/// A program on the search path.
#[must_use]
pub fn on_path(program: &str) -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    std::env::split_paths(&path).map(|folder| folder.join(program)).find(|file| file.is_file())
}

/// Firefox: Debian's long-supported one first.
#[must_use]
pub fn firefox() -> Option<PathBuf> {
    ["firefox-esr", "firefox"].into_iter().find_map(on_path)
}

/// Firefox's driver: the machine's own, or the one that was built into `target/tools`.
#[must_use]
pub fn geckodriver() -> Option<PathBuf> {
    let built = crate::root().join("target/tools/bin/geckodriver");
    on_path("geckodriver").or_else(|| built.is_file().then_some(built))
}

/// The small browser that comes with `WebKit`'s library for GTK, of the newest version there is.
#[must_use]
pub fn mini_browser() -> Option<PathBuf> {
    let below = |folder: &Path| fs::read_dir(folder).into_iter().flatten().flatten().map(|entry| entry.path());
    let mut found: Vec<PathBuf> = LIBRARIES
        .iter()
        .map(Path::new)
        .flat_map(|library| std::iter::once(library.to_owned()).chain(below(library)))
        .flat_map(|folder| below(&folder).collect::<Vec<_>>())
        .filter(|folder| folder.file_name().is_some_and(|name| name.to_string_lossy().starts_with("webkit2gtk-")))
        .map(|folder| folder.join("MiniBrowser"))
        .filter(|program| program.is_file())
        .collect();
    found.sort();
    found.pop()
}
