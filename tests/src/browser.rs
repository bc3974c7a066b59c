//! A browser of any engine, driven through its own driver, with a fresh profile. All of it is gone when this is dropped.

use std::process::Stdio;
use std::time::Duration;

use anyhow::{Context, Result};
use fantoccini::{Client, ClientBuilder};
use hyper_util::client::legacy::connect::HttpConnector;
use serde_json::Value;

use crate::engine::{Engine, Scheme, WINDOW};
use crate::processes::Processes;

/// A driver that listens, or will within moments.
#[derive(Debug)]
pub(crate) struct Browser {
    engine: Engine,
    address: String,
    wanted: Value,
    /// Held for what dropping it does.
    _processes: Processes,
}

impl Browser {
    /// Starts the driver on a free port.
    pub(crate) fn start(engine: Engine, scheme: Scheme) -> Result<Self> {
        let port = std::net::TcpListener::bind(("127.0.0.1", 0))?.local_addr()?.port();
        let mut processes = Processes::new()?;
        let mut start = engine.start(port, scheme, &mut processes)?;
        let missing = || format!("the driver of {engine} can't be started; cargo xtask test says what is missing");
        processes.start(start.driver.stdout(Stdio::null())).with_context(missing)?;
        Ok(Self { engine, address: format!("http://127.0.0.1:{port}"), wanted: start.wanted, _processes: processes })
    }

    /// Opens the browser's window. It asks until the driver listens; the caller keeps the time.
    pub(crate) async fn open(&self) -> Result<Client> {
        let wanted = self.wanted.as_object().cloned().unwrap_or_default();
        let mut last = None;
        for _ in 0..100 {
            match ClientBuilder::new(HttpConnector::new()).capabilities(wanted.clone()).connect(&self.address).await {
                Ok(client) => {
                    client.set_window_size(WINDOW.0, WINDOW.1).await?;
                    return Ok(client);
                }
                Err(error) => last = Some(error),
            }
            tokio::time::sleep(Duration::from_millis(100)).await;
        }
        let last = last.map_or_else(|| anyhow::anyhow!("no answer"), Into::into);
        Err(last).with_context(|| format!("{} can't be started", self.engine))
    }
}
