//! How a piece reaches its buyer: regions, the maker's van, crates, carriers' tables, tax.

mod carriers;
mod crates;
mod region;
mod van;

use serde::Serialize;

use super::read::reads;
use super::values::Amount;

pub use carriers::{
    AbroadTable, Awkward, Band, Duty, FreightTable, Inside, Large, OverLength, ParcelTable, Rated, WeightBreak,
    WhiteGloveTable,
};
pub use crates::{CrateCost, CrateRate, CrateSize};
pub use region::{Climate, Humidity, Region, Shown, Tax, VanTo};
pub use van::{HelperCost, HelperRate, Overnight, VanCost, VanRate};

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
    /// Pallets, for packs that need no walls; without them, those go in crates too.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pallets: Option<CrateCost>,
    /// Added to a crate or pallet whose timber must be treated and marked where it goes, as the rule for wood packaging asks (ISPM 15).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub marked_timber: Option<Amount>,
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

reads!(DeliveryCosts {
    van,
    crating,
    pallets,
    marked_timber,
    freight,
    cartons,
    parcels,
    white_glove,
    insurance,
    abroad
});

/// Delivery as it is charged.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct DeliveryRates {
    /// The maker's van, when there is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub van: Option<VanRate>,
    /// Crates.
    pub crating: CrateRate,
    /// Pallets, for packs that need no walls; without them, those go in crates too.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pallets: Option<CrateRate>,
    /// Added to a crate or pallet whose timber must be treated and marked where it goes, as the rule for wood packaging asks (ISPM 15).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub marked_timber: Option<Amount>,
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

reads!(DeliveryRates {
    van,
    crating,
    pallets,
    marked_timber,
    freight,
    cartons,
    parcels,
    white_glove,
    insurance,
    abroad
});
