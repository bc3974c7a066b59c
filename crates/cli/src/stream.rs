//! `scantling price --lines`: many briefs, a JSON line each, priced side by side and answered in their order.

use std::fs::File;
use std::io::{self, BufRead, BufReader, BufWriter, Write};
use std::path::Path;
use std::process::ExitCode;

use rayon::prelude::*;
use scantling_pricing::book::PriceBook;
use scantling_pricing::brief::Brief;
use scantling_pricing::estimate::{Estimate, estimate};
use scantling_pricing::profit::{Costs, Outcome, Rates};
use serde::Serialize;

use crate::report::{Failure, Fault, in_brief};
use crate::{AnyBook, read_book};

/// Lines priced side by side before their answers are written: enough to keep every core busy, few enough to hold.
const TOGETHER: usize = 4096;

/// The answer to one line.
#[derive(Serialize)]
struct Answer {
    /// The number of the line, from 1.
    line: usize,
    #[serde(skip_serializing_if = "Option::is_none")]
    estimate: Option<Estimate>,
    /// What it costs the shop, from a shop book.
    #[serde(skip_serializing_if = "Option::is_none")]
    costs: Option<Costs>,
    #[serde(skip_serializing_if = "Option::is_none")]
    as_estimated: Option<Outcome>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    faults: Vec<Fault>,
}

/// A book of either kind, ready to price from.
enum Prices {
    Public(Box<PriceBook>),
    Private(Box<Rates>),
}

/// Prices every line of a file, or of standard input for `-`, onto standard output. Exit code 1 when a line has faults.
pub(crate) fn stream(book_path: &Path, lines_path: &Path) -> Result<ExitCode, Failure> {
    let prices = match read_book(book_path)? {
        AnyBook::Price(book) => Prices::Public(book),
        AnyBook::Shop(shop) => {
            Prices::Private(Box::new(Rates::new(&shop).map_err(|fault| Failure::in_file(book_path, &[fault]))?))
        }
    };
    let unreadable = |error: io::Error| Failure::Unreadable(format!("{} can't be read: {error}", lines_path.display()));
    let lines: Box<dyn BufRead> = if lines_path.as_os_str() == "-" {
        Box::new(BufReader::new(io::stdin()))
    } else {
        Box::new(BufReader::new(File::open(lines_path).map_err(unreadable)?))
    };
    let unwritten = |error: io::Error| Failure::Unreadable(format!("the answers can't be written: {error}"));
    let mut out = BufWriter::new(io::stdout().lock());
    let mut lines = lines.split(b'\n').enumerate();
    let mut faulty = false;
    loop {
        let some: Vec<(usize, Vec<u8>)> = lines
            .by_ref()
            .take(TOGETHER)
            .map(|(i, line)| line.map(|line| (i.saturating_add(1), line)))
            .collect::<io::Result<_>>()
            .map_err(unreadable)?;
        if some.is_empty() {
            break;
        }
        let answers: Vec<(bool, String)> =
            some.par_iter().filter_map(|(line, text)| prices.answer(*line, text)).collect();
        for (sound, answer) in answers {
            faulty |= !sound;
            writeln!(out, "{answer}").map_err(unwritten)?;
        }
    }
    out.flush().map_err(unwritten)?;
    Ok(if faulty { ExitCode::from(1) } else { ExitCode::SUCCESS })
}

impl Prices {
    /// Whether a line could be priced, and its answer; nothing for an empty line.
    fn answer(&self, line: usize, text: &[u8]) -> Option<(bool, String)> {
        if text.trim_ascii().is_empty() {
            return None;
        }
        let answer = self.priced(line, text).unwrap_or_else(|faults| Answer {
            line,
            estimate: None,
            costs: None,
            as_estimated: None,
            faults,
        });
        let written = serde_json::to_string(&answer);
        Some((
            answer.faults.is_empty(),
            written.unwrap_or_else(|error| format!("{{\"line\":{line},\"error\":\"{error}\"}}")),
        ))
    }

    fn priced(&self, line: usize, text: &[u8]) -> Result<Answer, Vec<Fault>> {
        let unread = |what: String| vec![Fault { path: String::new(), what }];
        let text = std::str::from_utf8(text)
            .map_err(|error| unread(format!("the line is not UTF-8: {error}; save it as UTF-8")))?;
        let brief = Brief::read(text)
            .map_err(|error| vec![Fault { path: error.path.clone(), what: error.fault.to_string() }])?;
        match self {
            Self::Public(book) => {
                let estimate = estimate(book, &brief).map_err(|problems| in_brief(&problems))?;
                Ok(Answer { line, estimate: Some(estimate), costs: None, as_estimated: None, faults: Vec::new() })
            }
            Self::Private(rates) => {
                let costs = rates.costs(&brief).map_err(|problems| in_brief(&problems))?;
                let as_estimated = Some(costs.as_estimated());
                let estimate = Some(costs.selling.clone());
                Ok(Answer { line, estimate, costs: Some(costs), as_estimated, faults: Vec::new() })
            }
        }
    }
}
