//! How a piece reaches its buyer: regions, the maker's van, crates, freight tables, tax.

use serde::Serialize;

use super::read::{is_default, reads, reads_word};
use super::values::{Addition, Amount, Count, Key, Measured, Minutes, Percent, Share, Text};
use crate::measure::Length;

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
    /// Beginnings of postal codes: `546`, or a run of them, `546-549`.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub prefixes: Vec<Text>,
    /// Whether a buyer there may collect.
    pub collect: bool,
    /// Road miles from the shop, one way, when the maker's van goes there.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub van_miles: Option<Count>,
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
    van_miles,
    freight,
    parcel,
    white_glove,
    abroad,
    tax,
    indoors,
    note
});

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
}

reads!(Tax { name, rate, on_delivery });

/// What the maker's van costs to run.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct VanCost {
    /// Money per mile: fuel, wear, insurance.
    pub per_mile: Amount,
    /// Miles driven in an hour, on the whole.
    pub miles_per_hour: Measured,
    /// Minutes to load, unload and place.
    pub handling: Minutes,
    /// The farthest it goes, one way.
    pub farthest_miles: Count,
}

reads!(VanCost { per_mile, miles_per_hour, handling, farthest_miles });

/// What the maker's van is charged at.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct VanRate {
    /// Per mile driven, both ways.
    pub per_mile: Amount,
    /// Per trip.
    pub per_trip: Amount,
    /// The farthest it goes, one way.
    pub farthest_miles: Count,
}

reads!(VanRate { per_mile, per_trip, farthest_miles });

/// How a crate grows from what it holds: inside is the piece and the padding, outside the walls and the skid.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CrateSize {
    /// Padding on every side.
    pub padding: Length,
    /// Panel and batten on every side.
    pub wall: Length,
    /// Skid underneath.
    pub skid: Length,
    /// Pounds of crate per square foot of its outside.
    pub weight: Measured,
}

reads!(CrateSize { padding, wall, skid, weight });

/// What a crate costs to make.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CrateCost {
    /// Its size and weight.
    pub size: CrateSize,
    /// Panel, batten and foam per square foot of its outside.
    pub material: Amount,
    /// Minutes per square foot of its outside.
    pub minutes: Minutes,
    /// Minutes per crate besides.
    pub set_up: Minutes,
}

reads!(CrateCost { size, material, minutes, set_up });

/// What a crate is charged at.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CrateRate {
    /// Its size and weight.
    pub size: CrateSize,
    /// Per square foot of its outside.
    pub per_square_foot: Amount,
    /// Per crate.
    pub per_crate: Amount,
}

reads!(CrateRate { size, per_square_foot, per_crate });

/// What carriers charge to a group of regions.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct FreightTable {
    /// How regions refer to it.
    pub key: Key,
    /// Weight breaks, lightest first; the first from 0 lb.
    pub breaks: Vec<WeightBreak>,
    /// Taken off the rates, but never below the least charge.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub discount: Option<Share>,
    /// The least charge, after discount.
    pub least: Amount,
    /// Fuel surcharge, on the charge after discount.
    pub fuel: Addition,
    /// Delivery to a home: liftgate, residential address, appointment.
    pub home_delivery: Amount,
    /// Fewest days in transit.
    pub days_least: Count,
    /// Most days in transit.
    pub days_most: Count,
}

reads!(FreightTable { key, breaks, discount, least, fuel, home_delivery, days_least, days_most });

/// A rate that holds from a weight up.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct WeightBreak {
    /// From so many pounds.
    pub from: Count,
    /// Money per hundredweight (100 lb) at class 100; other classes are charged in proportion.
    pub per_hundredweight: Amount,
}

reads!(WeightBreak { from, per_hundredweight });

/// What a parcel carrier charges to a group of regions, a parcel at a time.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ParcelTable {
    /// How regions refer to it.
    pub key: Key,
    /// Cubic inches that are charged as a pound.
    pub divisor: Count,
    /// The longest side that is taken.
    pub longest: Length,
    /// The most that length and girth may come to together.
    pub length_and_girth: Length,
    /// The heaviest parcel that is taken, in pounds.
    pub heaviest: Count,
    /// What so many pounds cost, lightest first.
    pub bands: Vec<Band>,
    /// What is hard to handle, where it costs more.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub awkward: Option<Awkward>,
    /// What is large, where it costs more still.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub large: Option<Large>,
    /// Delivery to a home, for each parcel.
    pub home_delivery: Amount,
    /// Fuel surcharge, on all of it.
    pub fuel: Addition,
    /// Fewest days in transit.
    pub days_least: Count,
    /// Most days in transit.
    pub days_most: Count,
}

reads!(ParcelTable {
    key,
    divisor,
    longest,
    length_and_girth,
    heaviest,
    bands,
    awkward,
    large,
    home_delivery,
    fuel,
    days_least,
    days_most
});

/// A price up to a weight.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Band {
    /// Up to so many pounds.
    pub to: Count,
    /// What it costs.
    pub price: Amount,
}

reads!(Band { to, price });

/// When a parcel is hard to handle, and what that adds: any of the three is enough.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Awkward {
    /// Its longest side is over this.
    pub longest: Length,
    /// Its second longest side is over this.
    pub second: Length,
    /// It weighs over so many pounds.
    pub pounds: Count,
    /// What it adds.
    pub adds: Amount,
}

reads!(Awkward { longest, second, pounds, adds });

/// When a parcel is large, and what that adds: either is enough.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Large {
    /// Its longest side is over this.
    pub longest: Length,
    /// It fills over so many cubic inches.
    pub cubic_inches: Count,
    /// It is charged as so many pounds at least.
    pub least_pounds: Count,
    /// What it adds.
    pub adds: Amount,
}

reads!(Large { longest, cubic_inches, least_pounds, adds });

/// What people who carry a piece in, unpack and place it charge to a group of regions.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct WhiteGloveTable {
    /// How regions refer to it.
    pub key: Key,
    /// What so many pounds cost, lightest first: all pieces of an order together.
    pub bands: Vec<Band>,
    /// Fewest days until it is there.
    pub days_least: Count,
    /// Most days until it is there.
    pub days_most: Count,
}

reads!(WhiteGloveTable { key, bands, days_least, days_most });

/// What it costs to send crates to a group of regions abroad.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct AbroadTable {
    /// How regions refer to it.
    pub key: Key,
    /// Pounds a cubic foot of crate is charged as at least.
    pub pounds_per_cubic_foot: Measured,
    /// Money per hundred pounds so charged, to the buyer's address.
    pub per_hundredweight: Amount,
    /// The least charge.
    pub least: Amount,
    /// Added to a crate whose timber must be treated and marked.
    pub marked_timber: Amount,
    /// Papers and the customs agent.
    pub papers: Amount,
    /// Fewest days in transit, customs included.
    pub days_least: Count,
    /// Most days in transit, customs included.
    pub days_most: Count,
}

reads!(AbroadTable {
    key,
    pounds_per_cubic_foot,
    per_hundredweight,
    least,
    marked_timber,
    papers,
    days_least,
    days_most
});

/// What cover on the way costs, by the price of the order.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Insurance {
    /// Covered without a charge.
    pub included: Amount,
    /// Charged for each hundred above that, or part of one.
    pub per_hundred: Amount,
    /// The least charge, where there is one.
    pub least: Amount,
}

reads!(Insurance { included, per_hundred, least });

/// The maker's own delivery costs.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct DeliveryCosts {
    /// The maker's van, when there is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub van: Option<VanCost>,
    /// Crates.
    pub crating: CrateCost,
    /// Freight tables.
    pub freight: Vec<FreightTable>,
    /// Cartons, where pieces go by parcel.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cartons: Option<CrateCost>,
    /// Parcel tables.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub parcels: Vec<ParcelTable>,
    /// Tables of those who carry in and place.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub white_glove: Vec<WhiteGloveTable>,
    /// Cover on the way with any carrier; without it, there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub insurance: Option<Insurance>,
    /// Tables for abroad.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub abroad: Vec<AbroadTable>,
}

reads!(DeliveryCosts { van, crating, freight, cartons, parcels, white_glove, insurance, abroad });

/// Delivery as it is charged.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct DeliveryRates {
    /// The maker's van, when there is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub van: Option<VanRate>,
    /// Crates.
    pub crating: CrateRate,
    /// Freight tables.
    pub freight: Vec<FreightTable>,
    /// Cartons, where pieces go by parcel.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cartons: Option<CrateRate>,
    /// Parcel tables.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub parcels: Vec<ParcelTable>,
    /// Tables of those who carry in and place.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub white_glove: Vec<WhiteGloveTable>,
    /// Cover on the way with any carrier; without it, there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub insurance: Option<Insurance>,
    /// Tables for abroad.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub abroad: Vec<AbroadTable>,
}

reads!(DeliveryRates { van, crating, freight, cartons, parcels, white_glove, insurance, abroad });
