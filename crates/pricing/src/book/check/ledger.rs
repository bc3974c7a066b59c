//! The paper a shop keeps: keys that are there once, quotes of requests that are there, sums in whole coins.

use super::Faults;
use super::tables::{deposits, repeated};
use crate::book::ledger::Quote;
use crate::book::values::Amount;
use crate::book::{DocumentError, ShopBook};
use crate::money::Currency;

/// Faults of requests, quotes and offers. What an offer lacks is told where offers are ranked.
pub(super) fn faults(book: &ShopBook) -> Faults {
    let mut faults = Faults::default();
    repeated("requests", book.requests.iter().map(|one| &one.key), &mut faults);
    repeated("quotes", book.quotes.iter().map(|one| &one.key), &mut faults);
    repeated("offers", book.offers.iter().map(|one| &one.key), &mut faults);
    quotes(book, &mut faults);
    faults
}

fn quotes(book: &ShopBook, faults: &mut Faults) {
    let digits = Currency::from_code(book.shop.currency.as_str()).map_or(2, Currency::minor_digits);
    for (i, quote) in book.quotes.iter().enumerate() {
        if !book.requests.iter().any(|request| request.key == quote.request) {
            let why = format!("there is no request “{}”; name one, or take the quote out", quote.request);
            faults.push(DocumentError::unusable(format!("quotes[{i}].request"), why));
        }
        if !quote.deposits.is_empty() {
            deposits(&format!("quotes[{i}].deposits"), &quote.deposits, faults);
        }
        for (j, one) in quote.adjusted.iter().enumerate() {
            let path = format!("quotes[{i}].adjusted[{j}]");
            if has_part_of_a_coin(one.amount, digits) {
                let why = format!("{} has a part of a coin; write at most {digits} decimals", one.amount.value());
                faults.push(DocumentError::unusable(format!("{path}.amount"), why));
            }
            if quote.adjusted.iter().take(j).any(|earlier| earlier.line == one.line) {
                let why = format!("“{}” is adjusted already; take one of the two out", one.line);
                faults.push(DocumentError::unusable(format!("{path}.line"), why));
            }
        }
        came_in(&format!("quotes[{i}].came_in"), quote, digits, faults);
    }
}

/// A payment is of a stage that people count from one, is something, and is of a quote that went out. A stage that a later revision has no
/// more is no fault: the money came in all the same.
fn came_in(path: &str, quote: &Quote, digits: u32, faults: &mut Faults) {
    if quote.revisions.is_empty() && !quote.came_in.is_empty() {
        let why = "nothing has gone out yet that could be paid; keep a revision first, or take the payments out";
        faults.push(DocumentError::unusable(path, why));
    }
    for (j, one) in quote.came_in.iter().enumerate() {
        if one.stage.value() == 0 {
            let why = "there is no stage 0; the first one is 1";
            faults.push(DocumentError::unusable(format!("{path}[{j}].stage"), why));
        }
        if one.amount == Amount::ZERO {
            let why = "nothing came in; write how much, or take the payment out";
            faults.push(DocumentError::unusable(format!("{path}[{j}].amount"), why));
        }
        if has_part_of_a_coin(one.amount, digits) {
            let why = format!("{} has a part of a coin; write at most {digits} decimals", one.amount.value());
            faults.push(DocumentError::unusable(format!("{path}[{j}].amount"), why));
        }
    }
}

/// Whether an amount is not a whole number of coins.
fn has_part_of_a_coin(amount: Amount, digits: u32) -> bool {
    amount.value().normalize().scale() > digits
}
