//! Firefox, headless, with no background traffic of its own. Its driver makes the profile, below the folder for passing files.

use std::process::Command;

use anyhow::{Context, Result};
use serde_json::json;
use xtask::browsers;

use super::{Scheme, Start};

/// What starts it.
pub(super) fn start(port: u16, scheme: Scheme) -> Result<Start> {
    let driver = browsers::geckodriver().context("geckodriver is missing; run: cargo install geckodriver")?;
    let browser = browsers::firefox().context("Firefox is missing; run: sudo apt-get install firefox-esr")?;
    let mut driver = Command::new(driver);
    // The second port is for a protocol no test speaks; left to itself, every driver would want the same one.
    driver.args(["--host", "127.0.0.1", "--port", &port.to_string(), "--websocket-port", "0"]);
    let dark = u8::from(scheme == Scheme::Dark);
    let wanted = json!({
        "moz:firefoxOptions": {
            "binary": browser,
            "args": ["-headless"],
            "prefs": {
                "ui.systemUsesDarkTheme": dark,
                "ui.prefersReducedMotion": 1,
                "app.normandy.enabled": false,
                "app.update.enabled": false,
                "browser.safebrowsing.malware.enabled": false,
                "browser.safebrowsing.phishing.enabled": false,
                "datareporting.policy.dataSubmissionEnabled": false,
                "network.captive-portal-service.enabled": false,
                "network.connectivity-service.enabled": false,
                "services.settings.server": "",
            },
        },
    });
    Ok(Start { driver, wanted })
}
