//! Chromium, headless, with no background traffic of its own.

use std::path::Path;
use std::process::Command;

use serde_json::json;

use super::{Scheme, Start, WINDOW};

/// What keeps the browser to itself on a machine without a desk.
const ARGUMENTS: [&str; 10] = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--hide-scrollbars",
    "--force-prefers-reduced-motion",
];

/// What starts it.
pub(super) fn start(port: u16, scheme: Scheme, profile: &Path) -> Start {
    let mut driver = Command::new("chromedriver");
    driver.arg(format!("--port={port}"));
    let mut arguments: Vec<String> = ARGUMENTS.map(String::from).to_vec();
    arguments.push(format!("--window-size={},{}", WINDOW.0, WINDOW.1));
    arguments.push(format!("--user-data-dir={}", profile.join("profile").display()));
    if scheme == Scheme::Dark {
        arguments.push("--force-dark-mode".into());
    }
    let wanted = json!({
        "goog:chromeOptions": { "args": arguments },
        // What the browser itself complains of, beside what the page can watch.
        "goog:loggingPrefs": { "browser": "ALL" },
    });
    Start { driver, wanted }
}
