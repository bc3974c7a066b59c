//! Chromium, headless, through its driver, with a fresh profile and no background traffic of its own.

use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use anyhow::{Context, Result};
use fantoccini::{Client, ClientBuilder};
use hyper_util::client::legacy::connect::HttpConnector;
use serde_json::json;

/// What keeps the browser to itself on a machine without a desk.
const ARGUMENTS: [&str; 9] = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--hide-scrollbars",
];

/// A driver and the folder of its profile; both go when this is dropped.
#[derive(Debug)]
pub struct Chromium {
    driver: Child,
    address: String,
    profile: PathBuf,
}

impl Chromium {
    /// Starts the driver on a free port.
    ///
    /// # Errors
    /// When there is no driver or no port.
    pub fn start() -> Result<Self> {
        let port = std::net::TcpListener::bind(("127.0.0.1", 0))?.local_addr()?.port();
        let driver = Command::new("chromedriver")
            .arg(format!("--port={port}"))
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .context("chromedriver can't be started; run: sudo apt-get install chromium chromium-driver")?;
        let profile = std::env::temp_dir().join(format!("scantling-browser-{port}"));
        Ok(Self { driver, address: format!("http://127.0.0.1:{port}"), profile })
    }

    /// Opens a window of so many pixels.
    ///
    /// # Errors
    /// When the browser can't be started within ten seconds.
    pub async fn open(&self, width: u32, height: u32) -> Result<Client> {
        let mut arguments: Vec<String> = ARGUMENTS.map(String::from).to_vec();
        arguments.push(format!("--window-size={width},{height}"));
        arguments.push(format!("--user-data-dir={}", self.profile.display()));
        let wanted = json!({
            "goog:chromeOptions": { "args": arguments },
            "goog:loggingPrefs": { "browser": "ALL" },
        });
        let wanted = wanted.as_object().cloned().unwrap_or_default();
        let mut last = None;
        for _ in 0..50 {
            match ClientBuilder::new(HttpConnector::new()).capabilities(wanted.clone()).connect(&self.address).await {
                Ok(client) => return Ok(client),
                Err(error) => last = Some(error),
            }
            tokio::time::sleep(Duration::from_millis(200)).await;
        }
        Err(last.map_or_else(|| anyhow::anyhow!("no answer"), Into::into)).context("Chromium can't be started")
    }
}

impl Drop for Chromium {
    fn drop(&mut self) {
        drop(self.driver.kill());
        drop(self.driver.wait());
        // A browser outlives a driver that is killed, and a hundred of them slow the machine until the next does not start.
        drop(Command::new("pkill").arg("--full").arg(&self.profile).status());
        drop(std::fs::remove_dir_all(&self.profile));
    }
}
