//! The `scantling` command: the engine for scripts and for a maker's own checks.
//!
//! Exit codes: 0 done, 1 the book or the brief has faults (each printed with its path), 2 the command or a file can't be read.

mod draw;
mod jobs;
mod learn;
mod offers;
mod price;
mod quotes;
mod report;
mod stream;
mod takeoff;
mod text;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::{Parser, Subcommand};
use rust_decimal::Decimal;
use scantling_pricing::book::document::Node;
use scantling_pricing::book::values::Day;
use scantling_pricing::book::{PriceBook, ShopBook};
use scantling_pricing::brief::Brief;
use scantling_pricing::measure::LengthUnit;
use scantling_pricing::publish::{Basis, fold};
use scantling_pricing::request::Request;

use price::price;
use report::{Failure, Fault};

/// Prices one-off furniture from a maker's own tables.
#[derive(Debug, Parser)]
#[command(name = "scantling", version, arg_required_else_help = true)]
struct Command {
    #[command(subcommand)]
    action: Action,
    /// Print JSON for programs instead of text for people.
    #[arg(long, global = true)]
    json: bool,
}

#[derive(Debug, Subcommand)]
enum Action {
    /// Say whether a shop book or a price book reads, fits together and can build every size it offers.
    Check {
        /// The book.
        book: PathBuf,
    },
    /// Price a brief. With a shop book, what it costs the shop is shown beside what it is sold for.
    Price {
        /// A shop book or a price book.
        #[arg(long)]
        book: PathBuf,
        /// The brief, or a request as it was sent: a carrier's quote written into it stands in for the tables.
        #[arg(required_unless_present = "lines")]
        brief: Option<PathBuf>,
        /// Price a file of briefs, one JSON line each, `-` for standard input; each is answered by a JSON line, in order.
        #[arg(long, value_name = "FILE", conflicts_with_all = ["brief", "moves", "budget", "today"])]
        lines: Option<PathBuf>,
        /// List every brief one choice away, cheapest first.
        #[arg(long)]
        moves: bool,
        /// Find the smallest changes that bring the price under this sum.
        #[arg(long, value_name = "SUM")]
        budget: Option<Decimal>,
        /// The day it is ordered, as 2026-11-25: the earliest day it can be there is counted from it.
        #[arg(long, value_name = "DAY", value_parser = Day::new)]
        today: Option<Day>,
    },
    /// List what a brief takes: parts to cut, timber, sheets and finish to buy. With a shop book, the hours and what each way of
    /// charging a slab leaves.
    Takeoff {
        /// A shop book or a price book.
        #[arg(long)]
        book: PathBuf,
        /// The brief.
        brief: PathBuf,
    },
    /// Draw a brief to scale with its sizes, as SVG.
    Draw {
        /// A shop book or a price book.
        #[arg(long)]
        book: PathBuf,
        /// The brief.
        brief: PathBuf,
        /// Draw it seen whole instead, without sizes.
        #[arg(long)]
        whole: bool,
        /// Write sizes in millimetres.
        #[arg(long)]
        metric: bool,
        /// Where the drawing goes; without it, to standard output.
        #[arg(long)]
        out: Option<PathBuf>,
    },
    /// Say what the jobs done would correct in the book: minutes of each stage, yields of each timber, with their evidence.
    Learn {
        /// The shop book.
        book: PathBuf,
    },
    /// Say what each job really came to, beside what was said it would take.
    Jobs {
        /// The shop book.
        book: PathBuf,
        /// Write a row a job as comma-separated values.
        #[arg(long, conflicts_with = "csv_lines")]
        csv: bool,
        /// Write a row for each line of each job as comma-separated values.
        #[arg(long)]
        csv_lines: bool,
    },
    /// Reckon the quotes of a book as they stand, beside what went out last.
    Quotes {
        /// The shop book.
        book: PathBuf,
    },
    /// Rank what buyers offer for a piece by what each offer leaves: after delivery, fees, tax and what a currency may lose.
    Offers {
        /// The shop book.
        #[arg(long)]
        book: PathBuf,
        /// The offers: a brief and what each buyer names for it.
        offers: PathBuf,
    },
    /// Fold a shop book into the price book that a page may load.
    Publish {
        /// The shop book.
        book: PathBuf,
        /// Where the price book goes; without it, to standard output.
        #[arg(long)]
        out: Option<PathBuf>,
    },
}

fn main() -> ExitCode {
    let command = Command::parse();
    let done = match &command.action {
        Action::Check { book } => check(book, command.json),
        Action::Price { book, lines: Some(lines), .. } => {
            return stream::stream(book, lines).unwrap_or_else(|failure| failure.report(command.json));
        }
        Action::Price { book, brief, moves, budget, today, lines: None } => {
            price(book, &brief.clone().unwrap_or_default())
                .and_then(|priced| priced.with(*moves, *budget))
                .and_then(|priced| priced.show(command.json, today.as_ref()))
        }
        Action::Takeoff { book, brief } => takeoff::takeoff(book, brief, command.json),
        Action::Draw { book, brief, whole, metric, out } => {
            let unit = if *metric { LengthUnit::Millimetre } else { LengthUnit::Inch };
            draw::draw((book, brief), *whole, unit, out.as_deref())
        }
        Action::Jobs { book, csv, csv_lines } => {
            let table = if *csv { Some(jobs::Table::Jobs) } else { csv_lines.then_some(jobs::Table::Lines) };
            jobs::jobs(book, table, command.json)
        }
        Action::Quotes { book } => quotes::quotes(book, command.json),
        Action::Learn { book } => learn::learn(book, command.json),
        Action::Offers { book, offers } => offers::offers(book, offers, command.json),
        Action::Publish { book, out } => publish(book, out.as_deref()),
    };
    match done {
        Ok(text) => {
            println!("{text}");
            ExitCode::SUCCESS
        }
        Err(failure) => failure.report(command.json),
    }
}

/// A book of either kind, told apart by its version key.
enum AnyBook {
    Shop(Box<ShopBook>),
    Price(Box<PriceBook>),
}

fn read_file(path: &Path) -> Result<String, Failure> {
    fs::read_to_string(path).map_err(|error| Failure::Unreadable(format!("{} can't be read: {error}", path.display())))
}

fn read_book(path: &Path) -> Result<AnyBook, Failure> {
    let text = read_file(path)?;
    let is_price_book = Node::read(&text).is_ok_and(|node| node.whole_number("scantling_price_book").is_some());
    if is_price_book {
        return PriceBook::read(&text)
            .map(|book| AnyBook::Price(Box::new(book)))
            .map_err(|faults| Failure::in_file(path, &faults));
    }
    ShopBook::read(&text).map(|book| AnyBook::Shop(Box::new(book))).map_err(|faults| Failure::in_file(path, &faults))
}

fn read_brief(path: &Path) -> Result<Brief, Failure> {
    Ok(read_asked(path)?.0)
}

/// A brief or, where the file is one, the request it stands in.
fn read_asked(path: &Path) -> Result<(Brief, Option<Request>), Failure> {
    let text = read_file(path)?;
    let faulty = |fault| Failure::in_file(path, &[fault]);
    if Node::read(&text).is_ok_and(|node| node.whole_number("scantling_request").is_some()) {
        let request = Request::read(&text).map_err(faulty)?;
        return Ok((request.brief.clone(), Some(request)));
    }
    Ok((Brief::read(&text).map_err(faulty)?, None))
}

fn check(path: &Path, json: bool) -> Result<String, Failure> {
    let book = read_book(path)?;
    let (kind, designs, timbers) = match &book {
        AnyBook::Shop(book) => ("shop book", book.designs.len(), book.timbers.len()),
        AnyBook::Price(book) => ("price book", book.designs.len(), book.timbers.len()),
    };
    Ok(if json {
        serde_json::json!({ "kind": kind, "designs": designs, "timbers": timbers, "faults": [] }).to_string()
    } else {
        format!(
            "{}: a {kind} with {designs} designs and {timbers} timbers; every size it offers can be built.",
            path.display()
        )
    })
}

/// A shop book, where a price book won't do.
fn read_shop(path: &Path) -> Result<Box<ShopBook>, Failure> {
    match read_book(path)? {
        AnyBook::Shop(shop) => Ok(shop),
        AnyBook::Price(_) => {
            Err(Failure::Unreadable(format!("{} is a price book already; give the shop book", path.display())))
        }
    }
}

fn publish(path: &Path, out: Option<&Path>) -> Result<String, Failure> {
    let shop = read_shop(path)?;
    let book = fold(&shop, Basis::Selling).map_err(|fault| Failure::in_file(path, &[fault]))?;
    let text = serde_json::to_string(&book).map_err(|error| Failure::Unreadable(error.to_string()))?;
    let Some(out) = out else { return Ok(text) };
    fs::write(out, format!("{text}\n"))
        .map_err(|error| Failure::Unreadable(format!("{} can't be written: {error}", out.display())))?;
    Ok(format!(
        "{}: published from {}. Public now: selling rates, yields, designs, regions, slabs, terms, weeks sold, weeks a design takes and, from three jobs on, how far hours run over as a rule. Not in it: costs, wages, hours, margin, any single job.",
        out.display(),
        path.display()
    ))
}

impl Failure {
    fn in_file(path: &Path, faults: &[scantling_pricing::book::DocumentError]) -> Self {
        let fault = |fault: &scantling_pricing::book::DocumentError| Fault {
            path: fault.path.clone(),
            what: fault.fault.to_string(),
        };
        Self::Faults(path.display().to_string(), faults.iter().map(fault).collect())
    }

    fn in_brief(path: &Path, problems: &[scantling_pricing::problem::Problem]) -> Self {
        Self::Faults(path.display().to_string(), report::in_brief(problems))
    }
}
