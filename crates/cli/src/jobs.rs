//! `scantling jobs`: what each job really came to, beside what was said it would take.

use std::fmt::Write;
use std::path::Path;

use scantling_pricing::jobs::{Account, Left, account, job_lines, jobs as table};
use scantling_pricing::profit::Rates;

use crate::read_shop;
use crate::report::Failure;

/// What is written as comma-separated values.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Table {
    /// A row a job.
    Jobs,
    /// A row a line of a job.
    Lines,
}

/// The account of every job of a book.
pub(crate) fn jobs(path: &Path, csv: Option<Table>, json: bool) -> Result<String, Failure> {
    let shop = read_shop(path)?;
    let faulty = |fault| Failure::in_file(path, &[fault]);
    if let Some(csv) = csv {
        let text = match csv {
            Table::Jobs => table(&shop),
            Table::Lines => job_lines(&shop),
        };
        // Printing ends the last line again.
        return text.map(|text| text.trim_end().to_owned() + "\r").map_err(faulty);
    }
    let rates = Rates::new(&shop).map_err(faulty)?;
    let accounts: Vec<Account> = shop.jobs.iter().map(|job| account(&shop, &rates, job)).collect();
    if json {
        let all = serde_json::json!({ "jobs": accounts });
        return serde_json::to_string_pretty(&all).map_err(|error| Failure::Unreadable(error.to_string()));
    }
    Ok(text(&accounts))
}

fn text(accounts: &[Account]) -> String {
    let mut out = String::from("For the maker alone. Said, and what it came to:\n");
    for one in accounts {
        let _ = writeln!(out, "\n{}", one.job);
        for line in &one.lines {
            let _ = writeln!(out, "  {:<28} {:>14} {:>14}", line.what, line.said.to_string(), line.took.to_string());
        }
        let pay = |left: &Left| left.pay_per_hour.map_or_else(String::new, |pay| pay.to_string());
        let (said, took) = (&one.said, &one.took);
        for (what, said, took) in [
            ("Price", said.price.to_string(), took.price.to_string()),
            ("Fees", said.fees.to_string(), took.fees.to_string()),
            ("Cost", said.cost.to_string(), took.cost.to_string()),
            ("Left over cost", said.profit.to_string(), took.profit.to_string()),
            ("Hours", said.hours.to_string(), took.hours.to_string()),
            ("Pay an hour", pay(said), pay(took)),
        ] {
            let _ = writeln!(out, "  {what:<28} {said:>14} {took:>14}");
        }
        for slab in &one.slabs {
            let taken = slab.taken_out.map_or_else(|| "nothing".to_owned(), |share| share.value().to_string());
            let left = slab.left.map_or_else(|| "the book has it no more".to_owned(), |left| format!("{left} left"));
            let _ = writeln!(out, "  {:<28} {taken} taken out, {left}", slab.slab.to_string());
        }
        if let Some(owed) = &one.owed {
            let came_in = owed.came_in.to_string();
            let _ =
                writeln!(out, "  {:<28} {:>14} {came_in:>14}", "To pay, tax with it; came in", owed.to_pay.to_string());
            let _ = writeln!(out, "  {:<43} {:>14}", "Still owed", owed.owed.to_string());
        }
    }
    out.trim_end().to_owned()
}
