//! Jobs as comma-separated values, for any spreadsheet: RFC 4180, a header line, lines ended by CR and LF.
//!
//! What a buyer wrote may stand in a cell. A cell that a spreadsheet would take for a formula is given an apostrophe first, so that opening
//! the file runs nothing.

use rust_decimal::Decimal;

use super::{Account, Left, account};
use crate::book::job::Job;
use crate::book::{DocumentError, ShopBook};
use crate::money::Money;
use crate::owed::Owed;
use crate::profit::Rates;

/// One row a job: what was said and what it came to.
///
/// # Errors
/// When a folded rate is larger than any amount a book may hold.
pub fn jobs(shop: &ShopBook) -> Result<String, DocumentError> {
    let heads = [
        "job",
        "design",
        "quantity",
        "buyer",
        "quote",
        "started",
        "finished",
        "currency",
        "price said",
        "price",
        "fees said",
        "fees",
        "cost said",
        "cost",
        "hours said",
        "hours",
        "profit said",
        "profit",
        "pay an hour said",
        "pay an hour",
        "came in",
        "still owed",
        "note",
    ];
    let row = |job: &Job, account: &Account| {
        let optional = |text: Option<&str>| word(text.unwrap_or_default());
        let (said, took) = (&account.said, &account.took);
        let pay = |left: &Left| left.pay_per_hour.map_or_else(String::new, number);
        let mut cells = vec![
            word(job.key.as_str()),
            word(job.design.as_str()),
            job.quantity.value().to_string(),
            optional(job.buyer.as_ref().map(|buyer| buyer.as_str())),
            optional(job.quote.as_ref().map(|quote| quote.as_str())),
            optional(job.started.as_ref().map(|day| day.as_str())),
            optional(job.finished.as_ref().map(|day| day.as_str())),
            word(shop.shop.currency.as_str()),
        ];
        cells.extend([said.price, took.price, said.fees, took.fees, said.cost, took.cost].map(number));
        cells.extend([said.hours.to_string(), took.hours.to_string(), number(said.profit), number(took.profit)]);
        let owed = |of: fn(&Owed) -> Money| account.owed.as_ref().map_or_else(String::new, |owed| number(of(owed)));
        cells.extend([pay(said), pay(took), owed(|owed| owed.came_in), owed(|owed| owed.owed)]);
        cells.push(optional(job.note.as_ref().map(|note| note.as_str())));
        vec![cells]
    };
    written(shop, &heads, row)
}

/// One row a line of a job: costs in money, then hours by operation.
///
/// # Errors
/// As [`jobs`].
pub fn job_lines(shop: &ShopBook) -> Result<String, DocumentError> {
    let heads = ["job", "finished", "line", "counted in", "said", "took", "over"];
    let currency = shop.shop.currency.as_str();
    let row = |job: &Job, account: &Account| {
        let start = |line: &str, unit: &str| {
            let day = job.finished.as_ref().map_or("", |day| day.as_str());
            vec![word(job.key.as_str()), word(day), word(line), word(unit)]
        };
        let money = account.lines.iter().map(|line| {
            let mut cells = start(&line.what, currency);
            cells.extend([line.said, line.took, line.took - line.said].map(number));
            cells
        });
        let hours = account.worked.iter().map(|row| {
            let mut cells = start(&row.what, "hours");
            cells.extend([row.said, row.took, row.took - row.said].map(|hours: Decimal| hours.normalize().to_string()));
            cells
        });
        money.chain(hours).collect()
    };
    written(shop, &heads, row)
}

fn written(
    shop: &ShopBook,
    heads: &[&str],
    rows: impl Fn(&Job, &Account) -> Vec<Vec<String>>,
) -> Result<String, DocumentError> {
    let rates = Rates::new(shop)?;
    let mut text = line(&heads.iter().map(|head| (*head).to_owned()).collect::<Vec<_>>());
    for job in &shop.jobs {
        let account = account(shop, &rates, job);
        for cells in rows(job, &account) {
            text.push_str(&line(&cells));
        }
    }
    Ok(text)
}

fn line(cells: &[String]) -> String {
    format!("{}\r\n", cells.join(","))
}

fn number(money: Money) -> String {
    money.amount().to_string()
}

/// Words as a cell: in quotes where they have a comma, a quote or a line end, quotes within doubled (RFC 4180, section 2).
fn word(text: &str) -> String {
    let formula = text.starts_with(['=', '+', '-', '@', '\t', '\r']);
    let text = if formula { format!("'{text}") } else { text.to_owned() };
    if text.contains([',', '"', '\r', '\n']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text }
}

#[cfg(test)]
mod tests {
    use super::word;

    #[test]
    fn cells_are_quoted_as_the_standard_has_it() {
        // RFC 4180, section 2, rules 5 to 7.
        assert_eq!(word("aaa"), "aaa");
        assert_eq!(word("b,bb"), "\"b,bb\"");
        assert_eq!(word("b\nbb"), "\"b\nbb\"");
        assert_eq!(word("b\"bb"), "\"b\"\"bb\"");
    }

    #[test]
    fn no_cell_is_a_formula() {
        assert_eq!(word("=1+1"), "'=1+1");
        assert_eq!(word("@SUM(A1,B1)"), "\"'@SUM(A1,B1)\"");
    }
}
