//! The page to start at, its pictures, and the smallest page with the widget in it.

use std::fs;
use std::path::Path;

use anyhow::{Context, Result, bail};
use base64::prelude::{BASE64_STANDARD, Engine};
use sha2::{Digest, Sha384};

use crate::shell::root;

/// Pictures of the maker's page and of the widget, taken by `cargo xtask shots start`.
pub(super) const PICTURES: [&str; 4] = ["open", "change", "publish", "embed"];

/// The hash of the element's script, by which browsers refuse a script of other bytes: <https://www.w3.org/TR/SRI/>.
pub(crate) fn integrity(folder: &Path) -> Result<String> {
    let script = fs::read(folder.join("scantling/scantling-quote.js")).context("the element's script is missing")?;
    Ok(format!("sha384-{}", BASE64_STANDARD.encode(Sha384::digest(script))))
}

/// Where the lines and the page stand that the maker's page shows and writes as well.
const OF_THE_SHOP: &str = "crates/shop/page";

/// The lines a maker puts into a page.
fn snippet(folder: &Path) -> Result<String> {
    let integrity = format!("\n        integrity=\"{}\"", integrity(folder)?);
    Ok(read(OF_THE_SHOP, "snippet.html")?.trim_end().replace("{integrity}", &integrity))
}

fn read(from: &str, name: &str) -> Result<String> {
    fs::read_to_string(root().join(from).join(name)).with_context(|| format!("{name} can't be read"))
}

/// Writes them.
pub(super) fn write(folder: &Path) -> Result<()> {
    let own = |name: &str| read("crates/xtask/release", name);
    let snippet = snippet(folder)?;
    let escaped = snippet.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;");
    let mut page = own("START.html")?.replace("{version}", env!("CARGO_PKG_VERSION")).replace("{snippet}", &escaped);
    let beside = folder.join("start");
    fs::create_dir_all(&beside)?;
    for name in ["start.css", "host.svg"] {
        fs::write(beside.join(name), own(name)?)?;
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
    fs::write(folder.join("page.html"), read(OF_THE_SHOP, "blank.html")?.replace("{snippet}", &snippet))?;
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
    use super::{integrity, size_of_png};

    #[test]
    fn the_hash_of_the_script_is_as_the_standard_works_it_out() -> anyhow::Result<()> {
        // Its own example: <https://www.w3.org/TR/SRI/#integrity-metadata-description>.
        let folder = crate::shell::root().join("target/tmp/hash-of-the-script");
        std::fs::create_dir_all(folder.join("scantling"))?;
        std::fs::write(folder.join("scantling/scantling-quote.js"), "alert('Hello, world.');")?;
        let expected = "sha384-H8BRh8j48O9oYatfu5AZzq6A9RINhZO5H16dQZngK7T62em8MUt1FLm52t+eX6xO";
        assert_eq!(integrity(&folder)?, expected);
        std::fs::remove_dir_all(&folder)?;
        assert!(integrity(&folder).is_err(), "without a script there is no hash");
        Ok(())
    }

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
