//! Rates of other currencies as they are typed or pasted, and which of them are old.

use rust_decimal::{Decimal, RoundingStrategy};
use scantling_pricing::book::document::Node;
use scantling_pricing::book::values::{Day, read_digits};
use scantling_pricing::money::Currency;

use crate::comma::{plain, unclear};
use crate::sheet::{Edit, Path};
use crate::slim::rows;

/// After so many days a rate is old: two weeks, in which the large currencies seldom move by more than the few percent that are kept against
/// it. Common practice, no source.
pub const OLD_DAYS: u32 = 14;

/// Whether a rate of a day is old on another.
#[must_use]
pub fn is_old(day: &Day, today: &Day) -> bool {
    day.after(OLD_DAYS).is_some_and(|last| last < *today)
}

/// A rate that is old, and where it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Old {
    /// The row among the currencies of the book.
    pub row: usize,
    /// The day the rate is of.
    pub day: Day,
}

/// The rate of a currency in a book, when it is old today; nothing where the book has none, or its day can't be read.
#[must_use]
pub fn old_rate(root: &Node, code: &str, today: &Day) -> Option<Old> {
    let held = root.under("currencies").map_or(&[][..], rows);
    let row = held.iter().position(|row| row.text("currency") == Some(code))?;
    let day = Day::new(held.get(row)?.text("day")?).ok().filter(|day| is_old(day, today))?;
    Some(Old { row, day })
}

/// Which way round a pasted rate is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Says {
    /// How much of the other currency one of the book's buys.
    OfTheOther,
    /// How much of the book's currency one of the other costs.
    OfOurs,
}

/// A rate as it was pasted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pasted {
    /// The other currency.
    pub currency: String,
    /// Units of it for one of the book's currency.
    pub rate: Decimal,
    /// The day it is of.
    pub day: String,
    /// Where it was read.
    pub source: String,
}

/// Decimals of a rate that was reckoned.
pub(crate) const DECIMALS: u32 = 6;

/// A rate the other way round: how much of one currency the other buys.
pub(crate) fn turned(rate: Decimal) -> Decimal {
    let turned = Decimal::ONE.checked_div(rate).unwrap_or_default();
    turned.round_dp_with_strategy(DECIMALS, RoundingStrategy::MidpointAwayFromZero).normalize()
}

/// Reads lines such as `EUR 0.86 2026-11-20 central bank`, by spaces, tabs or semicolons. What a line leaves out, the day or the source, is
/// the one given for all.
///
/// # Errors
/// The first line that can't be read, with its number and what to write.
pub fn pasted(text: &str, says: Says, day: &str, source: &str) -> Result<Vec<Pasted>, String> {
    let lines = text.lines().enumerate().filter(|(_, line)| !line.trim().is_empty());
    lines
        .map(|(number, line)| {
            one(line, says, day, source).map_err(|why| format!("Line {}: {why}", number.saturating_add(1)))
        })
        .collect()
}

fn one(line: &str, says: Says, day: &str, source: &str) -> Result<Pasted, String> {
    let mut words = line.split([' ', '\t', ';']).filter(|word| !word.is_empty()).peekable();
    let code = words.next().unwrap_or_default().to_uppercase();
    if Currency::from_code(&code).is_none() {
        return Err(format!("“{code}” is not a currency; begin with its three letters, as EUR 0.86"));
    }
    let written = words.next().unwrap_or_default();
    let rate = read_digits(&plain(written)).filter(|rate| *rate > Decimal::ZERO);
    let not_a_rate = || format!("“{written}” is not a rate above nothing; write it as 0.86");
    let rate = rate.ok_or_else(|| unclear(written).unwrap_or_else(not_a_rate))?;
    let rate = match says {
        Says::OfTheOther => rate,
        Says::OfOurs => turned(rate),
    };
    let own_day = words.next_if(|word| Day::new(word).is_ok());
    let day = Day::new(own_day.unwrap_or_else(|| day.trim()))?;
    let own_source = words.collect::<Vec<_>>().join(" ");
    let source = if own_source.is_empty() { source.trim().to_owned() } else { own_source };
    if source.is_empty() {
        return Err(
            "it does not say where the rate was read; write the source after the day, or above for all".to_owned()
        );
    }
    Ok(Pasted { currency: code, rate, day: day.as_str().to_owned(), source })
}

/// The edits that put pasted rates into a book: over the row of the same currency, else into a new row that keeps as much against movement
/// as the first one does.
#[must_use]
pub fn edits(root: &Node, pasted: &[Pasted]) -> Vec<Edit> {
    let list = Path::whole().key("currencies");
    let held = root.under("currencies").map_or(&[][..], rows);
    let spread = held.first().and_then(|row| row.text("spread")).unwrap_or("0").to_owned();
    let mut codes: Vec<String> = held.iter().map(|row| row.text("currency").unwrap_or_default().to_owned()).collect();
    let mut edits = Vec::new();
    for one in pasted {
        let text = |text: &str| Node::Text(text.to_owned());
        let fields = [("rate", one.rate.to_string()), ("day", one.day.clone()), ("source", one.source.clone())];
        if let Some(index) = codes.iter().position(|code| *code == one.currency) {
            let row = list.index(index);
            edits.extend(fields.into_iter().map(|(key, value)| Edit::set(row.key(key), text(&value))));
        } else {
            let start =
                [("currency", one.currency.clone())].into_iter().chain(fields).chain([("spread", spread.clone())]);
            let row = start.map(|(key, value)| (key.to_owned(), text(&value))).collect();
            edits.push(Edit::Insert(list.index(codes.len()), Node::Table(row)));
            codes.push(one.currency.clone());
        }
    }
    edits
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::Sheet;

    fn day(text: &str) -> Day {
        Day::new(text).unwrap()
    }

    #[test]
    fn a_rate_is_old_after_two_weeks() {
        assert!(!is_old(&day("2026-11-20"), &day("2026-12-04")));
        assert!(is_old(&day("2026-11-20"), &day("2026-12-05")));
        assert!(!is_old(&day("2026-11-20"), &day("2026-11-01")), "a rate of tomorrow is odd, but not old");
        assert!(is_old(&day("2024-02-20"), &day("2024-03-06")), "a leap year");
    }

    #[test]
    fn the_rate_of_a_currency_is_found_when_it_is_old() {
        // The demo's rates are of 20 November 2026.
        let sheet = Sheet::open(crate::DEMO).unwrap();
        let old = |code: &str, today: &str| old_rate(sheet.root(), code, &day(today));
        assert_eq!(old("EUR", "2026-12-05"), Some(Old { row: 1, day: day("2026-11-20") }));
        assert_eq!((old("EUR", "2026-12-04"), old("JPY", "2026-12-05"), old("", "2026-12-05")), (None, None, None));
    }

    #[test]
    fn pasted_lines_are_read_with_what_is_said_for_all() {
        let text = "eur\t0,86\n\nGBP 0.75 2026-11-24 evening paper\nJPY;152.4;2026-11-23\n";
        let read = pasted(text, Says::OfTheOther, "2026-11-25", "the bank").unwrap();
        let told: Vec<String> =
            read.iter().map(|one| format!("{} {} {} {}", one.currency, one.rate, one.day, one.source)).collect();
        assert_eq!(
            told,
            ["EUR 0.86 2026-11-25 the bank", "GBP 0.75 2026-11-24 evening paper", "JPY 152.4 2026-11-23 the bank"]
        );
        // 1 EUR costs 1.25: one of ours buys 0.8 EUR.
        let turned = pasted("EUR 1.25", Says::OfOurs, "2026-11-25", "the bank").unwrap();
        assert_eq!(turned.first().unwrap().rate.to_string(), "0.8");
    }

    #[test]
    fn what_can_t_be_read_says_which_line_and_what_to_write() {
        let why = |text: &str, day: &str, source: &str| pasted(text, Says::OfTheOther, day, source).unwrap_err();
        assert!(why("EUR 0.86\nEURO 0.86", "2026-11-25", "bank").starts_with("Line 2: “EURO” is not a currency"));
        assert!(why("EUR much", "2026-11-25", "bank").contains("“much” is not a rate"));
        assert!(why("EUR 0", "2026-11-25", "bank").contains("above nothing"));
        assert_eq!(why("JPY 1,524", "2026-11-25", "bank"), "Line 1: “1,524” can be read two ways: write 1524 or 1.524");
        assert!(why("EUR 0.86", "", "bank").contains("is not a day"));
        assert!(why("EUR 0.86", "2026-11-25", " ").contains("where the rate was read"));
    }

    #[test]
    fn known_currencies_are_written_over_and_new_ones_added_at_once() {
        let mut sheet = Sheet::open(crate::DEMO).unwrap();
        let before = sheet.text();
        let read = pasted("EUR 0.9\nJPY 150\nJPY 151", Says::OfTheOther, "2026-11-25", "bank").unwrap();
        assert!(sheet.edit("pasting rates", edits(sheet.root(), &read)));
        let at = |place: &str| sheet.at(&Path::read(place)).cloned();
        assert_eq!(at("currencies[1].rate"), Some(Node::Text("0.9".into())));
        assert_eq!(at("currencies[1].spread"), Some(Node::Text("0.02".into())), "what is kept stays as it was");
        assert_eq!(at("currencies[3].rate"), Some(Node::Text("151".into())), "of two lines the later one holds");
        assert_eq!(at("currencies[4]"), None);
        sheet.undo();
        assert_eq!(sheet.text(), before);
    }
}
