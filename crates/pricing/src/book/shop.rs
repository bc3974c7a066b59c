//! Who the maker is and how the shop sells: the part of both books that is public anyway.

use serde::Serialize;

use super::read::{reads, reads_word};
use super::values::{Amount, Count, Share, Text};
use crate::measure::LengthUnit;

/// The shop, as buyers may know it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Shop {
    /// The maker's name.
    pub name: Text,
    /// Where requests are sent: a mail address.
    pub contact: Text,
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
    /// The terms, in the maker's words.
    pub terms: Text,
}

reads!(Shop {
    name,
    contact,
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
    terms
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
