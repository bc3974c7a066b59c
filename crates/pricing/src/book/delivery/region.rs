//! Regions: where a buyer may be, what reaches them there, the tax and the air of the place.

use serde::Serialize;

use crate::book::read::{is_default, reads, reads_word};
use crate::book::values::{Amount, Count, Key, Percent, Share, Text};

/// Where a buyer may be, and what reaches them there. The first region that matches wins.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Region {
    /// How estimates refer to it.
    pub key: Key,
    /// What it is called on the page.
    pub name: Text,
    /// Countries, as ISO 3166-1 codes. None, with no states and no prefixes, matches everyone: the last resort.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub countries: Vec<Text>,
    /// States of the United States, by their two letters.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub states: Vec<Text>,
    /// Beginnings of postal codes: `546`, or a run of them, `546-549`. British ones by area or first half: `IV`, `PO30-PO41`.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub prefixes: Vec<Text>,
    /// Whether a buyer there may collect.
    pub collect: bool,
    /// The maker's van, when it goes there.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub van: Option<VanTo>,
    /// The freight table that holds there.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub freight: Option<Key>,
    /// The parcel table that holds there.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub parcel: Option<Key>,
    /// The table of those who carry in and place there.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub white_glove: Option<Key>,
    /// The table for abroad that holds there.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub abroad: Option<Key>,
    /// Tax the maker must add there.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tax: Option<Tax>,
    /// ISO 4217 code of the currency a buyer there reckons in, when it is not the book's: one of the table `currencies`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub currency: Option<Text>,
    /// How dry it is indoors there.
    #[serde(skip_serializing_if = "is_default")]
    pub indoors: Climate,
    /// What a buyer there is told: what is left out, what to ask.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<Text>,
}

reads!(Region {
    key,
    name,
    countries,
    states,
    prefixes,
    collect,
    van,
    freight,
    parcel,
    white_glove,
    abroad,
    tax,
    currency,
    indoors,
    note
});

/// How far the maker's van goes to a region, and what the road there costs besides.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct VanTo {
    /// Road miles from the shop, one way; without them, they are reckoned from where the two postal codes lie. State them close to the
    /// shop, where that is too coarse, and where water is crossed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub miles: Option<Count>,
    /// Tolls and ferries, there and back.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tolls: Option<Amount>,
}

reads!(VanTo { miles, tolls });

/// How dry it is indoors over the year.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Climate {
    /// Dry all year, as in a desert.
    Dry,
    /// Heated in winter, open in summer.
    #[default]
    Ordinary,
    /// Warm and damp, as on a southern coast.
    Damp,
    /// As measured.
    Humidity(Humidity),
}

reads_word!(Climate { "dry" => Self::Dry, "ordinary" => Self::Ordinary, "damp" => Self::Damp } with {
    "humidity" => Self::Humidity,
} or Self::Ordinary);

/// The air of a room, as measured over a year.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Humidity {
    /// Relative humidity of the driest weeks, percent.
    pub least: Percent,
    /// Relative humidity of the dampest weeks, percent.
    pub most: Percent,
    /// Temperature, degrees Celsius.
    pub celsius: Count,
}

reads!(Humidity { least, most, celsius });

/// A tax on the price.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Tax {
    /// Its name on the estimate.
    pub name: Text,
    /// Its rate.
    pub rate: Share,
    /// Whether delivery is taxed too.
    pub on_delivery: bool,
    /// How prices are shown there, as the law of the place asks.
    #[serde(skip_serializing_if = "is_default")]
    pub shown: Shown,
}

reads!(Tax { name, rate, on_delivery, shown });

/// Whether a price is shown with its tax in it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Shown {
    /// Tax comes on top of the price shown.
    #[default]
    Apart,
    /// The price shown is what is paid, tax within it.
    Within,
}

reads_word!(Shown { "apart" => Self::Apart, "within" => Self::Within } or Self::Apart);
