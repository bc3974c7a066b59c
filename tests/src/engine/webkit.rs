//! `WebKit`, in the small browser of its library for GTK. It has no headless way: it is given a display that shows nothing.

use std::fs;
use std::io::{BufRead, BufReader};
use std::process::{Command, Stdio};
use std::sync::mpsc;
use std::time::Duration;

use anyhow::{Context, Result};
use serde_json::json;
use xtask::browsers;

use super::{Scheme, Start};
use crate::processes::Processes;

/// The longest the display may take: without one the browser would wait for ever.
const DISPLAY: Duration = Duration::from_secs(15);

/// What starts it.
pub(super) fn start(port: u16, scheme: Scheme, processes: &mut Processes) -> Result<Start> {
    let browser = browsers::mini_browser().context("WebKit is missing; run: sudo apt-get install webkit2gtk-driver")?;
    let display = display(processes)?;
    let mut driver = Command::new("WebKitWebDriver");
    driver.args(["--host=127.0.0.1".to_owned(), format!("--port={port}")]);
    driver.env("DISPLAY", format!(":{display}")).env_remove("WAYLAND_DISPLAY");
    driver.env("GTK_THEME", if scheme == Scheme::Dark { "Adwaita:dark" } else { "Adwaita" });
    let settings = processes.folder().join("gtk-3.0");
    fs::create_dir_all(&settings)?;
    fs::write(settings.join("settings.ini"), "[Settings]\ngtk-enable-animations=0\n")?;
    // Only pages of our own are opened, and a container seldom lets a sandbox be built inside it.
    driver.env("WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS", "1");
    // Nobody listens on a bus here.
    driver.env("NO_AT_BRIDGE", "1");
    let wanted = json!({ "webkitgtk:browserOptions": { "binary": browser, "args": ["--automation"] } });
    Ok(Start { driver, wanted })
}

/// Starts a display and gives its number, which it finds for itself.
fn display(processes: &mut Processes) -> Result<u32> {
    let mut server = Command::new("Xvfb");
    server.args(["-displayfd", "1", "-nolisten", "tcp", "-screen", "0", "1400x1200x24"]).stdout(Stdio::piped());
    let started = processes.start(&mut server).context("Xvfb can't be started; run: sudo apt-get install xvfb")?;
    let output = started.stdout.take().context("Xvfb can't be listened to")?;
    let (tell, told) = mpsc::channel();
    std::thread::spawn(move || {
        let mut line = String::new();
        // Nobody waits any more when the display came too late.
        drop(BufReader::new(output).read_line(&mut line).map(|_| tell.send(line)));
    });
    let line = told.recv_timeout(DISPLAY).context("Xvfb did not come up")?;
    line.trim().parse().with_context(|| format!("Xvfb said “{}” where it says its display's number", line.trim()))
}
