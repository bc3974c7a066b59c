//! What is owed of a quote as it stands on the sheet, whatever else of it is half typed.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use scantling_pricing::book::document::Node;
use scantling_pricing::book::ledger::{CameIn, Quote, Revision};
use scantling_pricing::book::values::{Amount, Key};
use scantling_pricing::money::{Currency, Money};
use scantling_pricing::owed::Owed;

use crate::slim::rows;

/// The revisions of a quote; nothing while none has gone out.
#[must_use]
pub fn sent(quote: &Node) -> Option<Quote> {
    let key = |name: &str| Key::new(quote.text(name)?).ok();
    let revisions: Vec<Revision> = quote.under("revisions")?.read_as().ok()?;
    let quote = Quote { revisions, ..Quote::fresh(key("key")?, key("request")?) };
    (!quote.revisions.is_empty()).then_some(quote)
}

/// What is owed of a quote that went out; nothing where a payment can't be read.
#[must_use]
pub fn owed(sent: &Quote, quote: &Node, currency: Currency) -> Option<Owed> {
    let came_in: Vec<CameIn> = match quote.under("came_in") {
        Some(rows) => rows.read_as().ok()?,
        None => Vec::new(),
    };
    Quote { came_in, ..sent.clone() }.owed(currency)
}

/// The same for a list, from the sums alone: a long one is gone through at every edit. Empty while nothing has gone out.
#[must_use]
pub fn in_short(quote: &Node, currency: Currency) -> String {
    let amount = |row: &Node, key: &str| row.under(key)?.read_as::<Amount>().ok().map(Amount::value);
    let last = quote.under("revisions").and_then(|sent| rows(sent).last());
    let Some(to_pay) = last.and_then(|last| amount(last, "to_pay")) else { return String::new() };
    let payments = quote.under("came_in").map_or(&[][..], rows);
    let Some(came_in) = payments.iter().map(|row| amount(row, "amount")).sum::<Option<Decimal>>() else {
        return "a payment can't be read".to_owned();
    };
    let owed = Money::rounded(to_pay.saturating_sub(came_in), currency);
    if came_in.is_zero() && !to_pay.is_zero() {
        "nothing paid yet".to_owned()
    } else if owed.amount().is_zero() {
        "paid".to_owned()
    } else {
        left(owed)
    }
}

/// What is owed, in words: never a sum below nothing.
#[must_use]
pub fn left(owed: Money) -> String {
    if owed.amount().is_sign_negative() && !owed.amount().is_zero() {
        format!("{} more than asked", Money::rounded(owed.amount().abs(), owed.currency()))
    } else {
        format!("{owed} still owed")
    }
}

/// [`in_short`] of every quote of a book, by its key.
#[must_use]
pub fn by_quote(root: &Node, currency: Currency) -> BTreeMap<String, String> {
    let quotes = root.under("quotes").map_or(&[][..], rows);
    quotes.iter().filter_map(|quote| Some((quote.text("key")?.to_owned(), in_short(quote, currency)))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn quote(revisions: &str, came_in: &str) -> Node {
        Node::read(&format!(
            r#"{{"key": "q-1", "request": "r-1", "terms": 5, "revisions": [{revisions}], "came_in": [{came_in}]}}"#
        ))
        .unwrap()
    }

    const SENT: &str = r#"{"written": "2026-11-26", "until": "2026-12-26", "edition": "2026-11-25", "brief": {"scantling_brief": 1,
        "design": "hall-bench"}, "lines": [], "piece": "820", "carriage": "0", "to_pay": "820", "stages": [{"when": "now",
        "amount": "320"}, {"when": "later", "amount": "500"}], "terms": "Invented terms", "full_cost": "580.35"}"#;

    fn payment(stage: u32, amount: &str) -> String {
        format!(r#"{{"stage": {stage}, "day": "2026-11-27", "amount": "{amount}"}}"#)
    }

    #[test]
    fn a_list_says_what_is_owed_whatever_else_is_half_typed() {
        let short = |came_in: &str| in_short(&quote(SENT, came_in), Currency::USD);
        assert_eq!(short(""), "nothing paid yet");
        assert_eq!(short(&payment(1, "320")), "500.00 USD still owed");
        assert_eq!(short(&format!("{}, {}", payment(1, "320"), payment(2, "500"))), "paid");
        assert_eq!(short(&payment(2, "820.5")), "0.50 USD more than asked");
        assert_eq!(short(&payment(1, "three")), "a payment can't be read");
        assert_eq!(in_short(&quote("", ""), Currency::USD), "");
        let root = Node::Table(vec![("quotes".into(), Node::List(vec![quote(SENT, &payment(1, "320"))]))]);
        assert_eq!(by_quote(&root, Currency::USD)["q-1"], "500.00 USD still owed");
    }

    #[test]
    fn what_is_owed_is_the_engine_s_own_and_waits_while_a_payment_can_t_be_read() {
        let node = quote(SENT, &payment(1, "320"));
        let went = sent(&node).unwrap();
        let owed_of = |node: &Node| owed(&went, node, Currency::USD).map(|owed| owed.owed.to_string());
        assert_eq!(owed_of(&node), Some("500.00 USD".into()));
        assert_eq!(owed_of(&quote(SENT, &payment(1, ""))), None);
        assert_eq!(sent(&quote("", "")), None);
    }
}
