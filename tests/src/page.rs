//! A page as a buyer uses it: fields by their label, figures by what they say, and what the browser complained of.

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use anyhow::{Context, Result, bail};
use fantoccini::elements::Element;
use fantoccini::wd::WebDriverCompatibleCommand;
use fantoccini::{Client, Locator};
use serde_json::{Value, json};
use xtask::server::Serving;

use crate::Chromium;

/// The longest a state is waited for.
const PATIENCE: Duration = Duration::from_secs(30);

/// The longest a browser may take to start and open a page.
const START_UP: Duration = Duration::from_secs(45);

/// Gathers what the page's policy refused, from before its first script.
const WATCH: &str = "window.refused = []; addEventListener('securitypolicyviolation', e => refused.push(e.violatedDirective + ' ' + e.blockedURI)); \
     window.told = []; for (const name of ['scantling-estimate', 'scantling-error']) addEventListener(name, e => told.push([name, e.detail]));";

/// Helpers for the scripts below: the shadow root of the nth widget, and a field by its label.
const FIND: &str = "const root = n => document.querySelectorAll('scantling-quote')[n].shadowRoot; \
     const label = (n, text) => [...root(n).querySelectorAll('label')].find(l => l.textContent.trim().startsWith(text));";

/// A page in a browser.
#[derive(Debug)]
pub struct Page {
    client: Client,
    serving: Serving,
}

impl Page {
    /// Opens a page of the demo or of `tests/pages` in a fresh browser, under a policy. A browser that does not come up on a
    /// machine that is busy elsewhere is given up and another is started: it is the page that is under test.
    ///
    /// # Errors
    /// When it can't be served, or three browsers don't open it.
    pub async fn open(path: &str, policy: &'static str) -> Result<(Chromium, Self)> {
        let mut last = None;
        for _ in 0..3 {
            let chromium = Chromium::start()?;
            let visit = async { Self::visit(chromium.open(1280, 1000).await?, path, policy).await };
            match tokio::time::timeout(START_UP, visit).await {
                Ok(Ok(page)) => return Ok((chromium, page)),
                Ok(Err(error)) => last = Some(error),
                Err(_) => last = Some(anyhow::anyhow!("the browser did not come up within {START_UP:?}")),
            }
        }
        Err(last.unwrap_or_else(|| anyhow::anyhow!("no browser was started")))
    }

    async fn visit(client: Client, path: &str, policy: &'static str) -> Result<Self> {
        let top: PathBuf = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
        let folders = ["target/dist", "tests/pages", "target/bench-page"].map(|folder| top.join(folder)).to_vec();
        let serving = Serving::start(folders, 0, policy).context("the page can't be served")?;
        let page = Self { client, serving };
        page.tell_browser("Page.addScriptToEvaluateOnNewDocument", json!({ "source": WATCH })).await?;
        page.client.goto(&format!("{}{path}", page.serving.address())).await?;
        Ok(page)
    }

    /// Runs a script for its value; `root(n)` is the shadow root of the nth widget.
    ///
    /// # Errors
    /// When the script throws.
    pub async fn eval(&self, script: &str) -> Result<Value> {
        Ok(self.client.execute(&format!("{FIND} return {script};"), Vec::new()).await?)
    }

    /// Waits until a script's value is true.
    ///
    /// # Errors
    /// When it is not within the time there is; says what the page shows instead.
    pub async fn until(&self, script: &str) -> Result<()> {
        let start = Instant::now();
        while start.elapsed() < PATIENCE {
            if self.eval(script).await.is_ok_and(|value| value == json!(true)) {
                return Ok(());
            }
            tokio::time::sleep(Duration::from_millis(30)).await;
        }
        let shown = self.eval("document.body.innerText.slice(0, 400)").await?;
        bail!("{script} did not come true; the page says: {shown}")
    }

    /// The text that a part of the nth widget shows.
    ///
    /// # Errors
    /// When there is no such part.
    pub async fn text(&self, widget: usize, css: &str) -> Result<String> {
        let text = self.eval(&format!("root({widget}).querySelector({}).innerText", json!(css))).await?;
        text.as_str().map(str::to_owned).with_context(|| format!("{css} shows nothing"))
    }

    /// Types into the field with this label, over what was there.
    ///
    /// # Errors
    /// When there is no such field.
    pub async fn type_into(&self, widget: usize, label: &str, text: &str) -> Result<()> {
        let field = self.labelled(widget, label).await?;
        field.clear().await?;
        field.send_keys(text).await?;
        Ok(())
    }

    /// Clicks what has this label.
    ///
    /// # Errors
    /// When there is nothing with that label.
    pub async fn pick(&self, widget: usize, label: &str) -> Result<()> {
        self.labelled(widget, label).await?.click().await?;
        Ok(())
    }

    /// The field with this label.
    ///
    /// # Errors
    /// When there is none.
    pub async fn labelled(&self, widget: usize, label: &str) -> Result<Element> {
        let id = self.eval(&format!("label({widget}, {})?.htmlFor", json!(label))).await?;
        let id = id.as_str().with_context(|| format!("there is no label “{label}”"))?.to_owned();
        // The page scrolls smoothly, and a driver clicks where a thing was: bring it to rest in the middle first.
        let rest = "scrollIntoView({ block: 'center', behavior: 'instant' })";
        self.eval(&format!("(root({widget}).getElementById({}).{rest}, 1)", json!(id))).await?;
        let hosts = self.client.find_all(Locator::Css("scantling-quote")).await?;
        let host = hosts.get(widget).context("there is no such widget")?;
        Ok(host.shadow_root().await?.find(Locator::Css(&format!("[id='{id}']"))).await?)
    }

    /// What the browser's console says is wrong.
    ///
    /// # Errors
    /// When the log can't be read.
    pub async fn complaints(&self) -> Result<Vec<String>> {
        let log = self.client.issue_cmd(Raw::new("se/log", json!({ "type": "browser" }))).await?;
        let wrong = |entry: &&Value| entry["level"] == "SEVERE" || entry["level"] == "WARNING";
        Ok(log.as_array().into_iter().flatten().filter(wrong).map(|entry| entry["message"].to_string()).collect())
    }

    /// What was fetched from anywhere but the page's own server.
    ///
    /// # Errors
    /// When the list can't be read.
    pub async fn fetched_elsewhere(&self) -> Result<Vec<String>> {
        let all = self.eval("performance.getEntriesByType('resource').map(e => e.name)").await?;
        let own = self.serving.address();
        let names = all.as_array().into_iter().flatten().filter_map(Value::as_str);
        Ok(names.filter(|name| !name.starts_with(&own)).map(str::to_owned).collect())
    }

    /// Sends a command of the browser's own, such as for dark colours or print.
    ///
    /// # Errors
    /// When the browser does not know it.
    pub async fn tell_browser(&self, command: &str, parameters: Value) -> Result<Value> {
        let body = json!({ "cmd": command, "params": parameters });
        Ok(self.client.issue_cmd(Raw::new("goog/cdp/execute", body)).await?)
    }

    /// A picture of the window as it stands, as PNG.
    ///
    /// # Errors
    /// When none can be taken.
    pub async fn picture(&self) -> Result<Vec<u8>> {
        Ok(self.client.screenshot().await?)
    }

    /// A picture of the first widget in a window of so many pixels, its top at the window's top.
    ///
    /// # Errors
    /// When none can be taken.
    pub async fn widget_picture(&self, width: u32, height: u32) -> Result<Vec<u8>> {
        let size = json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false });
        self.tell_browser("Emulation.setDeviceMetricsOverride", size).await?;
        self.eval("(document.querySelector('scantling-quote').scrollIntoView({ behavior: 'instant' }), 1)").await?;
        self.picture().await
    }

    /// Closes the browser.
    ///
    /// # Errors
    /// When it does not close.
    pub async fn close(self) -> Result<()> {
        Ok(self.client.close().await?)
    }
}

/// A command of the driver that the standard does not have.
#[derive(Debug)]
struct Raw {
    path: &'static str,
    body: Value,
}

impl Raw {
    fn new(path: &'static str, body: Value) -> Self {
        Self { path, body }
    }
}

impl WebDriverCompatibleCommand for Raw {
    fn endpoint(&self, base: &url::Url, session: Option<&str>) -> Result<url::Url, url::ParseError> {
        base.join(&format!("session/{}/{}", session.unwrap_or_default(), self.path))
    }

    fn method_and_body(&self, _: &url::Url) -> (http::Method, Option<String>) {
        (http::Method::POST, Some(self.body.to_string()))
    }
}
