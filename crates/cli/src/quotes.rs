//! `scantling quotes`: the quotes of a book as they stand now, beside what went out last.

use std::fmt::Write;
use std::path::Path;

use scantling_pricing::book::ShopBook;
use scantling_pricing::book::ledger::Quote;
use scantling_pricing::profit::Rates;
use scantling_pricing::quote::Firm;
use serde_json::{Value, json};

use crate::read_shop;
use crate::report::{Failure, in_brief};

/// Every quote of a book.
pub(crate) fn quotes(path: &Path, as_json: bool) -> Result<String, Failure> {
    let shop = read_shop(path)?;
    let rates = Rates::new(&shop).map_err(|fault| Failure::in_file(path, &[fault]))?;
    if as_json {
        let all: Vec<Value> = shop.quotes.iter().map(|quote| told(&shop, &rates, quote)).collect();
        return serde_json::to_string_pretty(&json!({ "quotes": all }))
            .map_err(|error| Failure::Unreadable(error.to_string()));
    }
    let mut out = String::from(
        "For the maker alone. To pay by the book as it stands, as it went out last, and what is still owed of that:\n",
    );
    for quote in &shop.quotes {
        let now =
            firm(&shop, &rates, quote).map_or_else(|_| "can't be built".to_owned(), |firm| firm.to_pay.to_string());
        let sent = quote
            .revisions
            .last()
            .map_or_else(String::new, |last| format!("{} on {}", last.to_pay.value(), last.written.as_str()));
        let owed = quote.owed(rates.selling.currency()).map_or_else(String::new, |owed| owed.owed.to_string());
        let _ = writeln!(out, "  {:<28} {now:>14}  {sent:<24} {owed:>14}", quote.key.to_string());
    }
    Ok(out.trim_end().to_owned())
}

fn firm(shop: &ShopBook, rates: &Rates, quote: &Quote) -> Result<Firm, Value> {
    // The book check holds that the request is there.
    let request = shop.requests.iter().find(|request| request.key == quote.request).ok_or(Value::Null)?;
    quote.firm(shop, rates, &request.request).map_err(|problems| json!(in_brief(&problems)))
}

fn told(shop: &ShopBook, rates: &Rates, quote: &Quote) -> Value {
    let (sent, owed) = (quote.revisions.last(), quote.owed(rates.selling.currency()));
    match firm(shop, rates, quote) {
        Ok(firm) => json!({ "quote": quote.key, "now": firm, "sent": sent, "owed": owed }),
        Err(faults) => json!({ "quote": quote.key, "faults": faults, "sent": sent, "owed": owed }),
    }
}
