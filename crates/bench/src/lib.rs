//! The engine as a browser's bench page calls it: one book, one brief, priced again and again. Built as the widget is.

use scantling_pricing::book::PriceBook;
use scantling_pricing::brief::Brief;
use scantling_pricing::estimate::estimate;
use wasm_bindgen::prelude::wasm_bindgen;

/// A book and a brief, read.
#[wasm_bindgen]
#[derive(Debug)]
pub struct Engine {
    book: PriceBook,
    brief: Brief,
}

#[wasm_bindgen]
impl Engine {
    /// Reads both.
    ///
    /// # Errors
    /// What is wrong with one of them.
    #[wasm_bindgen(constructor)]
    pub fn new(book: &str, brief: &str) -> Result<Engine, String> {
        let book = PriceBook::read_published(book).map_err(|fault| fault.to_string())?;
        let brief = Brief::read(brief).map_err(|fault| fault.to_string())?;
        Ok(Self { book, brief })
    }

    /// Prices the brief, with its range, checks and lead time; whether it could be.
    #[must_use]
    pub fn estimate(&self) -> bool {
        estimate(&self.book, &self.brief).is_ok()
    }

    /// The price at the workshop: low, likely and high.
    #[must_use]
    pub fn price(&self) -> String {
        estimate(&self.book, &self.brief).map_or(String::new(), |priced| {
            let works = priced.works;
            [works.low, works.likely, works.high].map(|money| money.amount().to_string()).join(" ")
        })
    }
}
