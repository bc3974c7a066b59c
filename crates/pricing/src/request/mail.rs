//! A request inside the text of a mail: written so that mail programs leave it whole, found again after they have not.
//!
//! Mail programs wrap lines, put `>` before them, and change character sets. So the block is plain ASCII, its lines are short, and
//! the reader takes marks of quoting off and joins what was wrapped inside quotes.

use super::Request;
use crate::book::document::{DocumentError, LARGEST_BYTES};

/// Lines of the block are broken after the first comma or colon from here on: RFC 5322, section 2.1.1, wants at most 78 characters.
const LINE: usize = 40;

/// What every request begins with, and is found by.
const MARK: &str = "\"scantling_request\"";

/// More beginnings than this in one mail are not tried.
const MOST_TRIED: usize = 20;

impl Request {
    /// The request as JSON on one line.
    #[must_use]
    pub fn json(&self) -> String {
        // Writing text into memory has nothing that could fail.
        serde_json::to_string(self).unwrap_or_default()
    }

    /// The request as a block of short lines of plain ASCII, to stand in a mail.
    #[must_use]
    pub fn mail_block(&self) -> String {
        let (mut block, mut column) = (String::new(), 0_usize);
        let mut quoted = Quoted::default();
        for c in self.json().chars() {
            let outside = !quoted.step(c);
            if c.is_ascii() {
                block.push(c);
            } else {
                for unit in c.encode_utf16(&mut [0; 2]) {
                    block.push_str(&format!("\\u{unit:04x}"));
                }
            }
            column = column.saturating_add(1);
            if outside && column >= LINE && matches!(c, ',' | ':') {
                block.push('\n');
                column = 0;
            }
        }
        block
    }

    /// Finds the request in the text of a mail.
    ///
    /// # Errors
    /// When there is none, or the first one found is not whole.
    pub fn read_mail(text: &str) -> Result<Self, DocumentError> {
        if text.len() > LARGEST_BYTES {
            return Err(DocumentError::too_large(text.len()));
        }
        let mut plain = String::with_capacity(text.len());
        for line in text.lines() {
            plain.push_str(unquoted(line));
            plain.push('\n');
        }
        let text = plain;
        let mut first = None;
        for (at, _) in text.match_indices(MARK).take(MOST_TRIED) {
            let Some((before, _)) = text.split_at_checked(at) else { continue };
            let Some(start) = before.trim_end().strip_suffix('{').map(str::len) else { continue };
            match text.get(start..).map(|rest| Self::read(&whole(rest))) {
                Some(Ok(request)) => return Ok(request),
                Some(Err(error)) => first = first.or(Some(error)),
                None => {}
            }
        }
        Err(first.unwrap_or_else(|| {
            let why = "there is no request in this text; copy the whole mail, down to the last curly bracket";
            DocumentError::unusable("", why)
        }))
    }
}

/// A line without marks of quoting and the spaces around it.
fn unquoted(line: &str) -> &str {
    let is_space = |c: char| c == ' ' || c == '\t' || c == '\u{a0}';
    let mut rest = line.trim_matches(is_space);
    while let Some(inner) = rest.strip_prefix('>') {
        rest = inner.trim_start_matches(is_space);
    }
    rest
}

/// The text up to the bracket that closes the first one; a line end inside quotes was a space before a mail program wrapped it.
fn whole(text: &str) -> String {
    let (mut block, mut depth) = (String::new(), 0_u32);
    let mut quoted = Quoted::default();
    for c in text.chars() {
        let inside = quoted.step(c);
        block.push(match c {
            '\n' | '\u{a0}' if inside => ' ',
            '\u{a0}' => ' ',
            c => c,
        });
        match c {
            '{' if !inside => depth = depth.saturating_add(1),
            '}' if !inside => depth = depth.saturating_sub(1),
            _ => {}
        }
        if depth == 0 {
            break;
        }
    }
    block
}

/// Follows JSON character by character: whether it is inside quotes.
#[derive(Debug, Default)]
struct Quoted {
    inside: bool,
    escaped: bool,
}

impl Quoted {
    /// Takes a character; true when it stands inside quotes.
    fn step(&mut self, c: char) -> bool {
        let was = self.inside;
        match c {
            _ if self.escaped => self.escaped = false,
            '\\' if was => self.escaped = true,
            '"' => self.inside = !was,
            _ => {}
        }
        was
    }
}
