//! `cargo xtask serve`: the demo page on this machine, under the recommended policy.

use std::process::{Command, Stdio};

use anyhow::{Context, Result, bail};
use xtask::server::{STRICT_POLICY, Serving, Site, WASM};

use crate::dist::dist;

/// Builds, serves and opens the page, until it is interrupted.
pub(crate) fn serve(options: &[&str]) -> Result<()> {
    let (mut port, mut open) = (8137, true);
    let mut rest = options.iter();
    while let Some(option) = rest.next() {
        match (*option, rest.as_slice().first()) {
            ("--no-open", _) => open = false,
            ("--port", Some(number)) => {
                port =
                    number.parse().with_context(|| format!("“{number}” is not a port; give a number up to 65535"))?;
                rest.next();
            }
            _ => bail!("serve takes --port N and --no-open, not “{option}”"),
        }
    }
    let folder = dist()?.folder;
    let site = Site { folders: vec![folder], policy: STRICT_POLICY, wasm: WASM, allowed: None, watchers: &[] };
    let serving =
        Serving::start(site, port).with_context(|| format!("port {port} is taken; choose another with --port"))?;
    let address = serving.address();
    println!("\nserving target/dist on {address}\npolicy: {STRICT_POLICY}\nstop it with Ctrl+C");
    if open {
        show(&address);
    }
    serving.wait();
    Ok(())
}

/// Opens the address in the browser of the desk, where there is one.
fn show(address: &str) {
    for opener in ["xdg-open", "open"] {
        let opened = Command::new(opener).arg(address).stdout(Stdio::null()).stderr(Stdio::null()).spawn();
        if opened.is_ok() {
            return;
        }
    }
}
