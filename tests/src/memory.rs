//! What a page holds on to once all that is of no more use has been swept: Chromium alone tells.

use std::fmt;

use anyhow::{Context, Result};
use serde_json::{Value, json};

use crate::page::Page;

/// What is held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Held {
    /// Nodes of all documents, those taken out of them included.
    pub nodes: u64,
    /// Listeners on them.
    pub listeners: u64,
    /// Bytes of script values.
    pub bytes: u64,
    /// Bytes of the wasm's own memory, which only ever grows; none where there is no widget.
    pub wasm: u64,
}

/// The size of the wasm's memory: started once for the page, so that starting it again gives what is there.
const WASM: &str = "(async () => { try { \
     const { default: start } = await import(new URL('scantling/scantling_widget.js', location.origin)); \
     window.wasmBytes = (await start()).memory.buffer.byteLength; \
     } catch { window.wasmBytes = 0; } })()";

impl Page {
    /// Sweeps, and says what is held then.
    ///
    /// # Errors
    /// In any other browser than Chromium.
    pub async fn held(&self) -> Result<Held> {
        for _ in 0..3 {
            self.tell_browser("HeapProfiler.collectGarbage", json!({})).await?;
        }
        self.tell_browser("Performance.enable", json!({})).await?;
        let found = self.tell_browser("Performance.getMetrics", json!({})).await?;
        let of = |name: &str| {
            let rows = found.get("metrics")?.as_array()?;
            let row = rows.iter().find(|row| row.get("name").and_then(Value::as_str) == Some(name))?;
            whole(row.get("value")?)
        };
        let of = |name| of(name).with_context(|| format!("the browser does not tell of {name}: {found}"));
        self.eval(&format!("(window.wasmBytes = -1, {WASM}, 1)")).await?;
        self.until("wasmBytes >= 0").await?;
        let wasm = whole(&self.eval("wasmBytes").await?).context("the wasm has no size")?;
        Ok(Held { nodes: of("Nodes")?, listeners: of("JSEventListeners")?, bytes: of("JSHeapUsedSize")?, wasm })
    }
}

#[expect(
    clippy::as_conversions,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a count of bytes or nodes, which a browser tells as a float"
)]
fn whole(value: &Value) -> Option<u64> {
    value.as_f64().map(|value| value as u64)
}

impl fmt::Display for Held {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { nodes, listeners, bytes, wasm } = self;
        let (bytes, wasm) = (bytes.div_ceil(1000), wasm.div_ceil(1000));
        write!(f, "{nodes:>6} nodes {listeners:>5} listeners {bytes:>6} kB of script {wasm:>6} kB of wasm")
    }
}
