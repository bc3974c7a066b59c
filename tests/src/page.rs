//! A page as a buyer uses it: fields by their label, figures by what they say, and what the browser complained of.

use std::path::Path;
use std::time::{Duration, Instant};

use anyhow::{Context, Result, bail};
use fantoccini::elements::Element;
use fantoccini::wd::WebDriverCompatibleCommand;
use fantoccini::{Client, Locator};
use serde_json::{Value, json};
use xtask::browsers::AXE_FOLDER;
use xtask::server::{STRICT_POLICY, Serving, Site, UNKNOWN, WASM};

use crate::browser::Browser;
use crate::engine::{Engine, Scheme};

/// The longest a state is waited for.
const PATIENCE: Duration = Duration::from_secs(30);

/// How long a click may take to be seen.
const MOMENT: Duration = Duration::from_secs(3);

/// The longest a browser may take to start and open a page.
const START_UP: Duration = Duration::from_secs(45);

/// Where pages under test come from.
const FOLDERS: [&str; 4] = ["target/dist", "tests/pages", "target/bench-page", AXE_FOLDER];

/// Where what watches a page lies.
const WATCHERS: &str = "tests/pages";

/// Helpers for the scripts below: the shadow root of the nth widget, and a field by its label.
const FIND: &str = "const root = n => document.querySelectorAll('scantling-quote')[n].shadowRoot; \
     const label = (n, text) => [...root(n).querySelectorAll('label')].find(l => l.textContent.trim().startsWith(text));";

/// A page to open, and how.
#[derive(Debug, Clone, Copy)]
pub struct Visit<'a> {
    engine: Engine,
    path: &'a str,
    policy: &'static str,
    wasm: &'static str,
    scheme: Scheme,
    watchers: &'static [&'static str],
    folder: Option<&'a Path>,
}

impl<'a> Visit<'a> {
    /// A page of the demo or of `tests/pages`, under the strict policy, in light colours.
    #[must_use]
    pub const fn new(engine: Engine, path: &'a str) -> Self {
        Self {
            engine,
            path,
            policy: STRICT_POLICY,
            wasm: WASM,
            scheme: Scheme::Light,
            watchers: &["watch.js"],
            folder: None,
        }
    }

    /// Under another policy.
    #[must_use]
    pub const fn under(self, policy: &'static str) -> Self {
        Self { policy, ..self }
    }

    /// From a host that sends wasm as a file of which nothing is known.
    #[must_use]
    pub const fn from_a_host_that_knows_no_wasm(self) -> Self {
        Self { wasm: UNKNOWN, ..self }
    }

    /// On a desk of these colours.
    #[must_use]
    pub const fn coloured(self, scheme: Scheme) -> Self {
        Self { scheme, ..self }
    }

    /// Served from this folder of a host, which is looked into first.
    #[must_use]
    pub const fn on_host(self, folder: &'a Path) -> Self {
        Self { folder: Some(folder), ..self }
    }

    /// Whether the colours asked for are light on dark.
    #[must_use]
    pub fn is_dark(self) -> bool {
        self.scheme == Scheme::Dark
    }

    /// Without anything of the test's own in the page, and every file as a host would send it: for what is timed.
    #[must_use]
    pub const fn unwatched(self) -> Self {
        Self { watchers: &[], ..self }
    }

    /// In a browser that can be told to have no store, or another time of day: `tests/pages/strange.js` says how.
    #[must_use]
    pub const fn in_a_strange_browser(self) -> Self {
        Self { watchers: &["watch.js", "strange.js"], ..self }
    }

    /// With what finds faults of access loaded into the page, as a file of its own host.
    #[must_use]
    pub const fn with_axe(self) -> Self {
        Self { watchers: &["watch.js", "axe.min.js"], ..self }
    }

    /// The same, where what comes after the first price can't be had at first: `tests/pages/cut.js` says when it can.
    #[must_use]
    pub const fn with_axe_on_a_line_that_is_cut(self) -> Self {
        Self { watchers: &["watch.js", "axe.min.js", "cut.js"], ..self }
    }
}

/// A page in a browser of its own.
#[derive(Debug)]
pub struct Page {
    pub(crate) client: Client,
    serving: Serving,
    pub(crate) engine: Engine,
    /// Held for what dropping it does: the browser ends.
    _browser: Browser,
}

impl Page {
    /// Opens a page in a fresh browser. A browser that does not come up on a machine that is busy elsewhere is given up and
    /// another is started: it is the page that is under test.
    ///
    /// # Errors
    /// When it can't be served, or three browsers don't open it.
    pub async fn open(visit: Visit<'_>) -> Result<Self> {
        let mut last = None;
        for _ in 0..3 {
            match tokio::time::timeout(START_UP, Self::visit(visit)).await {
                Ok(Ok(page)) => return Ok(page),
                Ok(Err(error)) => last = Some(error),
                Err(_) => last = Some(anyhow::anyhow!("{} did not come up within {START_UP:?}", visit.engine)),
            }
        }
        Err(last.unwrap_or_else(|| anyhow::anyhow!("no browser was started")))
    }

    async fn visit(visit: Visit<'_>) -> Result<Self> {
        let Visit { engine, path, policy, wasm, scheme, watchers, folder } = visit;
        let own = FOLDERS.map(|folder| xtask::root().join(folder)).to_vec();
        // A host has nothing but what was put there; what watches the page and looks for faults lies with the tests.
        let on_host =
            |host: &Path| [host.to_owned(), xtask::root().join(WATCHERS), xtask::root().join(AXE_FOLDER)].to_vec();
        let folders = folder.map_or(own, on_host);
        let serving = Serving::start(Site { folders, policy, wasm, allowed: None, watchers }, 0)
            .context("the page can't be served")?;
        let browser = Browser::start(engine, scheme)?;
        let client = browser.open().await?;
        client.goto(&format!("{}{path}", serving.address())).await?;
        Ok(Self { client, serving, engine, _browser: browser })
    }

    /// Opens a page of `target/dist` from disk, as a maker who double-clicks it does.
    ///
    /// # Errors
    /// When it does not load.
    pub async fn go_to_file(&self, name: &str) -> Result<()> {
        let file = xtask::root().join("target/dist").join(name);
        let address =
            url::Url::from_file_path(&file).map_err(|()| anyhow::anyhow!("{} has no address", file.display()))?;
        Ok(self.client.goto(address.as_str()).await?)
    }

    /// Stops serving, and opens a page at the address it was served from: it must be on this machine by itself.
    ///
    /// # Errors
    /// When it is not.
    pub async fn go_unserved(&mut self, path: &str) -> Result<()> {
        let address = format!("{}{path}", self.serving.address());
        let nothing = Site { folders: Vec::new(), policy: STRICT_POLICY, wasm: WASM, allowed: None, watchers: &[] };
        // What served the page until now ends as it is replaced.
        self.serving = Serving::start(nothing, 0).context("nothing can be served")?;
        Ok(self.client.goto(&address).await?)
    }

    /// Where the page is served from, as other pages name it: scheme, host and port.
    #[must_use]
    pub fn origin(&self) -> String {
        self.serving.address().trim_end_matches('/').to_owned()
    }

    /// Goes to another page, in the same window.
    ///
    /// # Errors
    /// When it does not load.
    pub async fn go(&self, path: &str) -> Result<()> {
        Ok(self.client.goto(&format!("{}{path}", self.serving.address())).await?)
    }

    /// Opens a file from disk, as a double click does, in the same window.
    ///
    /// # Errors
    /// When it does not load.
    pub async fn open_file(&self, file: &Path) -> Result<()> {
        let address = url::Url::from_file_path(file).map_err(|()| anyhow::anyhow!("{} is no file", file.display()))?;
        Ok(self.client.goto(address.as_str()).await?)
    }

    /// Goes on inside the page's first frame.
    ///
    /// # Errors
    /// When there is none.
    pub async fn enter_frame(&self) -> Result<()> {
        Ok(self.client.enter_frame(0).await?)
    }

    /// Goes back to the page around the frame.
    ///
    /// # Errors
    /// When there is none.
    pub async fn leave_frame(&self) -> Result<()> {
        Ok(self.client.enter_parent_frame().await?)
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

    /// Waits until a script has this value. What a page shows follows what is done to it by a few frames, and by more of them on a
    /// machine that is busy elsewhere, so that a test waits for what it expects wherever it expects a change.
    ///
    /// # Errors
    /// When it has not within the time there is; says what its value is instead.
    pub async fn comes_to(&self, script: &str, expected: impl Into<Value>) -> Result<()> {
        let (start, expected) = (Instant::now(), expected.into());
        let mut last = String::new();
        while start.elapsed() < PATIENCE {
            match self.eval(script).await {
                Ok(value) if value == expected => return Ok(()),
                Ok(value) => last = value.to_string(),
                Err(error) => last = error.to_string(),
            }
            tokio::time::sleep(Duration::from_millis(30)).await;
        }
        bail!("{script} did not come to {expected}: it is {last}")
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
        let field = self.labelled(widget, label).await?;
        let chosen = field.is_selected().await?;
        field.click().await?;
        // A driver clicks where a thing was: on a busy machine WebKit's may miss what has just moved, and a person clicks again.
        if !chosen && !self.is_taken(&field).await? {
            field.click().await?;
        }
        Ok(())
    }

    /// Whether a box or a button of a group is ticked within a moment.
    async fn is_taken(&self, field: &Element) -> Result<bool> {
        let start = Instant::now();
        while start.elapsed() < MOMENT {
            if field.is_selected().await? {
                return Ok(true);
            }
            tokio::time::sleep(Duration::from_millis(30)).await;
        }
        Ok(false)
    }

    /// The field with this label.
    ///
    /// # Errors
    /// When there is none.
    pub async fn labelled(&self, widget: usize, label: &str) -> Result<Element> {
        let id = self.eval(&format!("label({widget}, {})?.htmlFor", json!(label))).await?;
        let id = id.as_str().with_context(|| format!("there is no label “{label}”"))?.to_owned();
        // What a person would have to unfold first.
        let unfold = "closest('details:not([open])')?.querySelector('summary').click()";
        self.eval(&format!("(root({widget}).getElementById({}).{unfold}, 1)", json!(id))).await?;
        // A page may scroll smoothly, and a driver clicks where a thing was: bring it to rest in the middle first.
        let rest = "scrollIntoView({ block: 'center', behavior: 'instant' })";
        self.eval(&format!("(root({widget}).getElementById({}).{rest}, 1)", json!(id))).await?;
        let hosts = self.client.find_all(Locator::Css("scantling-quote")).await?;
        let host = hosts.get(widget).context("there is no such widget")?;
        Ok(host.shadow_root().await?.find(Locator::Css(&format!("[id='{id}']"))).await?)
    }

    /// What went wrong that a maker would find: what the page watched, files that are not there, and in Chromium what the browser
    /// itself complained of, which no script sees and no other driver tells.
    ///
    /// # Errors
    /// When it can't be read.
    pub async fn complaints(&self) -> Result<Vec<String>> {
        let watched = self.eval("complained").await?;
        let mut all: Vec<String> = watched.as_array().into_iter().flatten().map(Value::to_string).collect();
        all.extend(self.serving.missing().into_iter().map(|path| format!("not found: {path}")));
        if self.engine == Engine::Chromium {
            let log = self.client.issue_cmd(Raw::new("se/log", json!({ "type": "browser" }))).await?;
            let wrong = |entry: &&Value| entry["level"] == "SEVERE" || entry["level"] == "WARNING";
            all.extend(log.as_array().into_iter().flatten().filter(wrong).map(|entry| entry["message"].to_string()));
        }
        Ok(all)
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

    /// Sends a command of Chromium's own, such as for print, another width or a slower processor: no standard has them, and the
    /// drivers of the other engines know none like it.
    ///
    /// # Errors
    /// When the browser does not know it.
    pub async fn tell_browser(&self, command: &str, parameters: Value) -> Result<Value> {
        if self.engine != Engine::Chromium {
            bail!("{command} is a command of Chromium's own, and this is {}", self.engine);
        }
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
