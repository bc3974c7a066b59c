//! The part of xtask that tests use too: a server for a folder on this machine, with the policy the project recommends, and where
//! this machine keeps its browsers.

use std::path::{Path, PathBuf};

pub mod browsers;
pub mod receiver;
pub mod server;

/// The project's top folder.
#[must_use]
pub fn root() -> PathBuf {
    let own = Path::new(env!("CARGO_MANIFEST_DIR"));
    own.ancestors().nth(2).unwrap_or(own).to_owned()
}
