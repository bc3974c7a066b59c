//! The page to start at, its pictures, and the smallest page with the widget in it.

use std::fs;
use std::path::Path;

use anyhow::{Context, Result, bail};
use base64::prelude::{BASE64_STANDARD, Engine};
use sha2::{Digest, Sha384};

use crate::shell::root;

/// Pictures of the maker's page and of the widget, taken by `cargo xtask shots start`.
pub(super) const PICTURES: [&str; 4] = ["open", "change", "publish", "embed"];

/// The lines a maker puts into a page. Browsers refuse a script whose bytes are not those this hash was made from:
/// <https://www.w3.org/TR/SRI/>.
fn snippet(folder: &Path) -> Result<String> {
    let script = fs::read(folder.join("scantling/scantling-quote.js")).context("the element's script is missing")?;
    let hash = BASE64_STANDARD.encode(Sha384::digest(script));
    Ok(format!(
        "<script type=\"module\" src=\"scantling/scantling-quote.js\"\n        integrity=\"sha384-{hash}\"></script>\n\
         <scantling-quote book=\"price-book.json\">\n  <p>Write to us with the piece, its size and your postal code.</p>\n\
         </scantling-quote>"
    ))
}

/// Writes them.
pub(super) fn write(folder: &Path) -> Result<()> {
    let own = root().join("crates/xtask/release");
    let read = |name: &str| fs::read_to_string(own.join(name)).with_context(|| format!("{name} can't be read"));
    let snippet = snippet(folder)?;
    let escaped = snippet.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;");
    let mut page = read("START.html")?.replace("{version}", env!("CARGO_PKG_VERSION")).replace("{snippet}", &escaped);
    let beside = folder.join("start");
    fs::create_dir_all(&beside)?;
    for name in ["start.css", "host.svg"] {
        fs::write(beside.join(name), read(name)?)?;
    }
    for name in PICTURES {
        let picture = fs::read(root().join(format!("shared/start/{name}.png")))
            .with_context(|| format!("shared/start/{name}.png is missing; run cargo xtask shots start"))?;
        let (width, height) = size_of_png(&picture).with_context(|| format!("shared/start/{name}.png is no PNG"))?;
        page = page.replace(&format!("{{{name}.width}}"), &width.to_string());
        page = page.replace(&format!("{{{name}.height}}"), &height.to_string());
        fs::write(beside.join(format!("{name}.png")), picture)?;
    }
    if let Some((_, rest)) = page.split_once('{') {
        bail!("START.html has a place that nothing fills: {{{}", rest.lines().next().unwrap_or_default());
    }
    fs::write(folder.join("START.html"), page)?;
    fs::write(folder.join("page.html"), read("page.html")?.replace("{snippet}", &snippet))?;
    Ok(())
}

/// Width and height from the header of a PNG: the first chunk, after eight bytes of signature and eight of its own head
/// (<https://www.w3.org/TR/png/#11IHDR>).
fn size_of_png(bytes: &[u8]) -> Option<(u32, u32)> {
    let number = |at: usize| Some(u32::from_be_bytes(bytes.get(at..at + 4)?.try_into().ok()?));
    (bytes.get(12..16)? == b"IHDR").then_some(())?;
    Some((number(16)?, number(20)?))
}

#[cfg(test)]
mod tests {
    use super::size_of_png;

    #[test]
    fn a_picture_tells_its_size() {
        // The header as the standard lays it out: 856 by 634.
        let mut bytes = b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR".to_vec();
        bytes.extend([0, 0, 3, 0x58, 0, 0, 2, 0x7a]);
        assert_eq!(size_of_png(&bytes), Some((856, 634)));
        assert_eq!(size_of_png(&bytes[..20]), None);
        assert_eq!(size_of_png(b"<svg>"), None);
    }
}
