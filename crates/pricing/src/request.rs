//! A request: a brief, what its buyer was told it comes to, and how to reach them, in one document.
//!
//! A maker re-prices the brief from the shop book and compares: a price that was altered, or comes from an older price book, shows.

mod contact;
mod mail;

pub use contact::{Contact, ContactFault, LONGEST_NAME};

use serde::Serialize;

use crate::book::check;
use crate::book::document::{DocumentError, Node};
use crate::book::read::reads;
use crate::book::values::{Amount, Day, Text};
use crate::brief::Brief;
use crate::delivery::CarriageQuote;
use crate::estimate::Estimate;

/// What a buyer sends.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Request {
    /// The format's version: 1.
    pub scantling_request: u32,
    /// The day it was written.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub written: Option<Day>,
    /// The name of the maker it is for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shop: Option<Text>,
    /// What is asked for.
    pub brief: Brief,
    /// What the buyer was told.
    pub told: Told,
    /// Who asks.
    pub from: Contact,
    /// What a carrier has named for it since: the maker writes it in, and it stands in for the tables.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub quoted: Option<CarriageQuote>,
}

reads!(Request { scantling_request, written, shop, brief, told, from, quoted });

/// What a buyer was told a brief comes to, by the way it was to be delivered.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Told {
    /// The edition of the price book.
    pub edition: Day,
    /// ISO 4217 code of the amounts.
    pub currency: Text,
    /// The low end of the range.
    pub low: Amount,
    /// The price.
    pub likely: Amount,
    /// The high end of the range.
    pub high: Amount,
}

reads!(Told { edition, currency, low, likely, high });

impl Told {
    /// What an estimate tells; nothing when its price is more than an amount may be.
    #[must_use]
    pub fn of(estimate: &Estimate) -> Option<Self> {
        let price = estimate.price();
        Some(Self {
            edition: estimate.edition.clone(),
            currency: Text::new(estimate.currency.code()).ok()?,
            low: Amount::new(price.low.amount())?,
            likely: Amount::new(price.likely.amount())?,
            high: Amount::new(price.high.amount())?,
        })
    }
}

impl Request {
    /// A request for a brief that was priced; nothing when the price is more than an amount may be.
    #[must_use]
    pub fn new(brief: Brief, estimate: &Estimate, from: Contact) -> Option<Self> {
        Some(Self {
            scantling_request: 1,
            written: None,
            shop: None,
            brief,
            told: Told::of(estimate)?,
            from,
            quoted: None,
        })
    }

    /// Reads a request.
    ///
    /// # Errors
    /// The first place where the text is not a request.
    pub fn read(text: &str) -> Result<Self, DocumentError> {
        let node = Node::read(text)?;
        check::version(&node, "scantling_request", "a request")?;
        let request: Self = node.read_as()?;
        let version = request.brief.scantling_brief;
        if version != 1 {
            let why =
                format!("the brief is of version {version}, and this program reads version 1; use a newer program");
            return Err(DocumentError::unusable("brief.scantling_brief", why));
        }
        if !request.from.mail.as_str().contains('@') {
            return Err(DocumentError::unusable(
                "from.mail",
                "this is no mail address; write one, as buyer@home.example",
            ));
        }
        Ok(request)
    }
}
