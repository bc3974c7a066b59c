//! The paper a shop keeps: keys that are there once, quotes of requests that are there, sums in whole coins.

use super::Faults;
use super::tables::{deposits, repeated};
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
    }
}

/// Whether an amount is not a whole number of coins.
fn has_part_of_a_coin(amount: Amount, digits: u32) -> bool {
    amount.value().normalize().scale() > digits
}
