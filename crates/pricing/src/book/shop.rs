//! Who the maker is and how the shop sells: the part of both books that is public anyway.

use serde::Serialize;

use super::document::{DocumentError, Node};
use super::read::{Read, reads, reads_word};
use super::values::{Amount, Count, Share, Text};
use crate::measure::LengthUnit;

/// The shop, as buyers may know it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Shop {
    /// The maker's name.
    pub name: Text,
    /// Where requests are sent: a mail address.
    pub contact: Text,
    /// Where the widget may send a request by itself, besides: an address that takes a POST of JSON.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub receiver: Option<Receiver>,
    /// Where pieces are collected, in words.
    pub place: Text,
    /// ISO 3166-1 code of the shop's country.
    pub country: Text,
    /// Postal code the delivery starts from.
    pub postal_code: Text,
    /// ISO 4217 code of the currency all amounts of the book are in.
    pub currency: Text,
    /// The unit lengths are shown in until the buyer picks another.
    pub units: Units,
    /// Languages the maker answers in, as BCP 47 tags.
    pub languages: Vec<Text>,
    /// How many days an estimate stands.
    pub stands_days: Count,
    /// Prices are rounded up to a multiple of this.
    pub rounding_step: Amount,
    /// The smallest job taken, before delivery.
    pub least_job: Amount,
    /// What is paid when, as shares of the price that make up the whole.
    pub deposits: Vec<Deposit>,
    /// The terms of an estimate, in the maker's words.
    pub terms: Text,
    /// The terms of a firm quote, where it has none of its own; it is not published. Without them, a sentence says that the price is firm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub quote_terms: Option<Text>,
}

reads!(Shop {
    name,
    contact,
    receiver,
    place,
    country,
    postal_code,
    currency,
    units,
    languages,
    stands_days,
    rounding_step,
    least_job,
    deposits,
    terms,
    quote_terms
});

/// An address that takes requests: `https://…`, or a path on the host the page is on, as `/requests`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(transparent)]
pub struct Receiver(String);

impl Receiver {
    /// The address, when it is one that a page may send to: never unencrypted, never with a password in it, and never one that a
    /// browser could take for another host than it seems to name.
    ///
    /// # Errors
    /// What such an address looks like.
    pub fn new(text: &str) -> Result<Self, String> {
        // The characters of RFC 3986 without `#`, which would be cut off, and without `@` and `\\`, which make one host look like another.
        let of_address = |b: u8| b.is_ascii_alphanumeric() || b"-._~:/?[]!$&'()*+,;=%".contains(&b);
        let elsewhere =
            text.strip_prefix("https://").is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_alphanumeric()));
        let here = text.starts_with('/') && !text.starts_with("//");
        if text.len() <= 500 && text.bytes().all(of_address) && (elsewhere || here) {
            Ok(Self(text.to_owned()))
        } else {
            Err(format!(
                "“{text}” is not an address requests can be sent to; write one, as https://shop.example/requests, or a path on the page's own \
                 host, as /requests"
            ))
        }
    }

    /// The address.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl Read for Receiver {
    fn read(node: &Node) -> Result<Self, DocumentError> {
        let Node::Text(text) = node else { return Err(node.wrong("an address, as \"https://shop.example/requests\"")) };
        Self::new(text).map_err(|why| DocumentError::unusable("", why))
    }
}

#[cfg(feature = "schema")]
super::schema::describes_text!(Receiver, {
    "type": "string",
    "maxLength": 500,
    "pattern": "^(https://[A-Za-z0-9]|/(?!/))[A-Za-z0-9\\-._~:/?\\[\\]!$&'()*+,;=%]*$",
    "description": "https://…, or a path on the page's own host, as /requests",
});

/// One stage of payment.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Deposit {
    /// When it is due, in words.
    pub when: Text,
    /// The share of the price.
    pub share: Share,
}

reads!(Deposit { when, share });

impl Deposit {
    /// The share in percent, as people write it.
    #[must_use]
    pub fn percent(&self) -> String {
        (self.share.value() * rust_decimal::Decimal::ONE_HUNDRED).normalize().to_string()
    }
}

/// The system of units a shop works in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Units {
    /// Inches, board feet, pounds.
    Inch,
    /// Millimetres, cubic metres, kilograms.
    Metric,
}

reads_word!(Units { "inch" => Self::Inch, "metric" => Self::Metric });

impl Units {
    /// The unit a bare number is read in.
    #[must_use]
    pub const fn length_unit(self) -> LengthUnit {
        match self {
            Self::Inch => LengthUnit::Inch,
            Self::Metric => LengthUnit::Millimetre,
        }
    }
}
