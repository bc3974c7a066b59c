//! The window as it comes out on paper.

use anyhow::{Result, bail};
use fantoccini::wd::{PrintConfiguration, PrintSize};

use crate::Page;

/// A kind of paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// Source: ISO 216, 210 by 297 mm.
    A4,
    /// Source: ANSI/ASME Y14.1, 8.5 by 11 in.
    Letter,
}

impl Page {
    /// How many sheets the window takes, printed with the margins that a browser leaves by itself: a centimetre.
    ///
    /// # Errors
    /// When the driver can't print, or what it hands over is no PDF.
    pub async fn sheets(&self, paper: Paper) -> Result<usize> {
        let size = match paper {
            Paper::A4 => PrintSize::A4,
            Paper::Letter => PrintSize::US_LETTER,
        };
        // As large as it is on paper, too: a driver would shrink what is too wide.
        let how = PrintConfiguration::builder().size(size).shrink_to_fit(false).build();
        let how = how.map_err(|error| anyhow::anyhow!("{paper:?}: {error}"))?;
        let printed = self.client.print(how).await?;
        if !printed.starts_with(b"%PDF-") {
            bail!("{paper:?}: it is no PDF");
        }
        Ok(pages(&printed))
    }
}

/// The pages of a PDF. Source: ISO 32000-1, 7.7.3.3: the dictionary of each says that it is of the type `Page`; the tree they hang on
/// is of the type `Pages`.
fn pages(pdf: &[u8]) -> usize {
    let text = String::from_utf8_lossy(pdf);
    let types = text.split("/Type").skip(1).map(str::trim_start);
    types
        .filter_map(|named| named.strip_prefix("/Page"))
        .filter(|rest| !rest.starts_with(|next: char| next.is_ascii_alphanumeric()))
        .count()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_tree_of_pages_is_no_page() {
        let pdf = b"%PDF-1.4 <</Type /Pages /Count 2>> <</Type /Page\n/Parent 1 0 R>> <</Type/Page>> <</Type /Font>>";
        assert_eq!(pages(pdf), 2);
    }
}
