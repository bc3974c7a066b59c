//! The paper a shop keeps: requests that came in, quotes that went out with their revisions, offers that were weighed. Never public.

use serde::Serialize;

use super::delivery::Shown;
use super::read::reads;
use super::shop::Deposit;
use super::values::{Amount, Count, Day, Key, Text};
use crate::brief::Brief;
use crate::delivery::Mode;
use crate::offers::Offer;
use crate::request::Request;

/// A piece the maker watches: what edits of the book do to it is shown beside them.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct BasketPiece {
    /// What the maker calls it.
    pub name: Text,
    /// What it is.
    pub brief: Brief,
}

reads!(BasketPiece { name, brief });

/// A request that came in.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct KeptRequest {
    /// The maker's own number for it.
    pub key: Key,
    /// The day it came.
    pub received: Day,
    /// What it says.
    pub request: Request,
}

reads!(KeptRequest { key, received, request });

/// A quote: what is different in it from what the book says, and every revision that went out.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Quote {
    /// The maker's own number for it.
    pub key: Key,
    /// The request it answers, by its key.
    pub request: Key,
    /// Lines that are to come to something else than the book says.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub adjusted: Vec<Adjustment>,
    /// What is paid when; without any, as the shop has it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub deposits: Vec<Deposit>,
    /// The terms; without them, the shop's for quotes.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub terms: Option<Text>,
    /// For how many days it stands; without them, the shop's.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stands_days: Option<Count>,
    /// What is left out of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub excluded: Option<Text>,
    /// What went out, the first one first. A revision is never changed.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub revisions: Vec<Revision>,
    /// What came in of what is paid when.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub came_in: Vec<CameIn>,
}

reads!(Quote { key, request, adjusted, deposits, terms, stands_days, excluded, revisions, came_in });

/// A payment that came in.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CameIn {
    /// Of which stage of the last revision: 1 for the first.
    pub stage: Count,
    /// The day it came.
    pub day: Day,
    /// How much came in, before fees.
    pub amount: Amount,
}

reads!(CameIn { stage, day, amount });

/// A line of a quote that is to come to something else, or one more.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Adjustment {
    /// The line as the quote names it, as `work: Milling`; one that starts with `more:` is one more.
    pub line: Text,
    /// What it is to come to, tax apart.
    pub amount: Amount,
    /// Why, in the maker's words.
    pub reason: Text,
    /// Whether the buyer is shown the line with its reason.
    pub shown: bool,
}

reads!(Adjustment { line, amount, reason, shown = false });

/// A quote as it went out.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Revision {
    /// The day it was written.
    pub written: Day,
    /// The last day it stands.
    pub until: Day,
    /// The edition of the book it was reckoned by.
    pub edition: Day,
    /// What is built.
    pub brief: Brief,
    /// Every line, tax apart. What they lack of piece and carriage together is rounding.
    pub lines: Vec<QuotedLine>,
    /// The piece at the workshop, tax apart.
    pub piece: Amount,
    /// Packing and delivery, tax apart.
    pub carriage: Amount,
    /// How it is brought.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub delivery: Option<Mode>,
    /// The tax that is charged.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tax: Option<QuotedTax>,
    /// What is paid in all.
    pub to_pay: Amount,
    /// What is paid when.
    pub stages: Vec<QuotedStage>,
    /// Fewest and most days from the order until it is there.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub days: Option<[Count; 2]>,
    /// What a buyer in that place is told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<Text>,
    /// The terms.
    pub terms: Text,
    /// What is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub excluded: Option<Text>,
    /// What it costs the shop.
    pub full_cost: Amount,
}

reads!(Revision {
    written,
    until,
    edition,
    brief,
    lines,
    piece,
    carriage,
    delivery,
    tax,
    to_pay,
    stages,
    days,
    note,
    terms,
    excluded,
    full_cost
});

/// A line of a quote.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct QuotedLine {
    /// What it is for, as `work: Milling`.
    pub line: Text,
    /// What the book says it comes to.
    pub estimated: Amount,
    /// What it comes to.
    pub amount: Amount,
    /// Why, where that is something else.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reason: Option<Text>,
    /// Whether the buyer is shown the line with its reason.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub shown: bool,
}

reads!(QuotedLine { line, estimated, amount, reason, shown = false });

/// A tax of a quote.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct QuotedTax {
    /// Its name.
    pub name: Text,
    /// What it comes to.
    pub amount: Amount,
    /// Whether it is in the price or on top.
    pub shown: Shown,
}

reads!(QuotedTax { name, amount, shown });

/// What is paid at one stage.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct QuotedStage {
    /// When, in the maker's words.
    pub when: Text,
    /// How much.
    pub amount: Amount,
}

reads!(QuotedStage { when, amount });

/// A piece several buyers want, and what each names for it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Weighed {
    /// The maker's own number for it.
    pub key: Key,
    /// The piece.
    pub brief: Brief,
    /// What buyers name for it.
    pub offers: Vec<Offer>,
}

reads!(Weighed { key, brief, offers });
