//! What carriers charge: freight, parcels, carrying in and placing, abroad.

use serde::Serialize;

use crate::book::read::{is_default, reads, reads_word};
use crate::book::values::{Addition, Amount, Count, Key, Measured, Share, Text};
use crate::measure::Length;

/// What carriers charge to a group of regions.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct FreightTable {
    /// How regions refer to it.
    pub key: Key,
    /// What the class of a shipment goes by.
    #[serde(skip_serializing_if = "is_default")]
    pub rated: Rated,
    /// Weight breaks, lightest first; the first from 0 lb.
    pub breaks: Vec<WeightBreak>,
    /// Taken off the rates, but never below the least charge.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub discount: Option<Share>,
    /// The least charge, after discount.
    pub least: Amount,
    /// Fuel surcharge, on the charge after discount.
    pub fuel: Addition,
    /// A lift at the tail, where there is no dock.
    pub liftgate: Amount,
    /// Delivery to a home, by appointment.
    pub residential: Amount,
    /// Delivery to where a truck gets badly: farm, school, church, storage, building site, island.
    pub limited_access: Amount,
    /// Carrying past the threshold; without it, the carrier stays outside.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub inside: Option<Inside>,
    /// What long crates cost besides, the shortest first.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub over_length: Vec<OverLength>,
    /// The longest crate that is taken, by its longest side; without it, any.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub longest: Option<Length>,
    /// The heaviest shipment that is taken, in pounds, all crates together; without it, any.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub heaviest: Option<Count>,
    /// Fewest days in transit.
    pub days_least: Count,
    /// Most days in transit.
    pub days_most: Count,
}

reads!(FreightTable {
    key,
    rated,
    breaks,
    discount,
    least,
    fuel,
    liftgate,
    residential,
    limited_access,
    inside,
    over_length,
    longest,
    heaviest,
    days_least,
    days_most
});

/// What the class of a shipment goes by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Rated {
    /// Its density, by the scale in force since 19 July 2025.
    #[default]
    Density,
    /// Its density, by the scale before that, which some contracts still go by.
    OlderDensity,
    /// One class for all it carries, as agreed with the carrier.
    Class(Measured),
}

reads_word!(Rated { "density" => Self::Density, "older-density" => Self::OlderDensity } with {
    "class" => Self::Class,
} or Self::Density);

/// What carrying past the threshold costs.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Inside {
    /// Money per hundredweight (100 lb).
    pub per_hundredweight: Amount,
    /// The least charge.
    pub least: Amount,
}

reads!(Inside { per_hundredweight, least });

/// What a long crate costs besides.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct OverLength {
    /// From this length on.
    pub from: Length,
    /// What it adds to the shipment.
    pub adds: Amount,
}

reads!(OverLength { from, adds });

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

/// When a parcel is hard to handle, and what that adds: any of these is enough.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Awkward {
    /// Its longest side is over this.
    pub longest: Length,
    /// Its second longest side is over this.
    pub second: Length,
    /// It weighs over so many pounds.
    pub pounds: Count,
    /// It fills over so many cubic inches, where the carrier asks that.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cubic_inches: Option<Count>,
    /// Its length and girth come to more than this, where the carrier asks that.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub length_and_girth: Option<Length>,
    /// What it adds.
    pub adds: Amount,
}

reads!(Awkward { longest, second, pounds, cubic_inches, length_and_girth, adds });

/// When a parcel is large, and what that adds: any of these is enough.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Large {
    /// Its longest side is over this.
    pub longest: Length,
    /// It fills over so many cubic inches.
    pub cubic_inches: Count,
    /// Its length and girth come to more than this, where the carrier asks that.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub length_and_girth: Option<Length>,
    /// It weighs over so many pounds, where the carrier asks that.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pounds: Option<Count>,
    /// It is charged as so many pounds at least.
    pub least_pounds: Count,
    /// What it adds.
    pub adds: Amount,
}

reads!(Large { longest, cubic_inches, length_and_girth, pounds, least_pounds, adds });

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
    /// Added to a crate or pallet whose timber must be treated and marked, where that is another amount than everywhere.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub marked_timber: Option<Amount>,
    /// Papers and the customs agent.
    pub papers: Amount,
    /// Duty and import tax as the maker estimates them, in the price and paid by the maker; without it, they are left out and the buyer's to pay.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub duty: Option<Duty>,
    /// The longest crate that is taken, by its longest side; without it, any.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub longest: Option<Length>,
    /// The heaviest shipment that is taken, in pounds, all crates together; without it, any.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub heaviest: Option<Count>,
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
    duty,
    longest,
    heaviest,
    days_least,
    days_most
});

/// What a maker expects a border to ask, by the rates of the countries a table serves. It is public, and nothing is put on it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Duty {
    /// What it is for, as the buyer reads it: the duty, the import tax, the day of the rates.
    pub name: Text,
    /// What it is expected to come to, as a share of the price of the piece at the workshop, tax apart: 0.25 is a quarter of it.
    pub share: Addition,
}

reads!(Duty { name, share });
