//! The shop book: everything the maker knows, most of it private.

use rust_decimal::Decimal;
use serde::Serialize;

use super::check;
use super::delivery::{DeliveryCosts, Region};
use super::document::{DocumentError, Node};
use super::job::Job;
use super::ledger::{BasketPiece, KeptRequest, Quote, Weighed};
use super::read::reads;
use super::record::CurrencyRate;
use super::shop::Shop;
use super::stock::{Consumable, Finish, Hardware, Resin, Sheet, Slab, Timber};
use super::values::{Day, Text};
use super::work::{Pricing, TimedOperation, Uncertainty, Waits, Workload};
use crate::design::Design;
use crate::suggestions::Refused;
use crate::takeoff::Allowances;

/// The maker's private tables. Amounts are costs.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ShopBook {
    /// The format's version: 1.
    pub scantling_book: u32,
    /// The day the book was last changed; estimates name it.
    pub edition: Day,
    /// Said wherever the book is used, such as that its data is invented.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub notice: Option<Text>,
    /// Who the maker is and how the shop sells.
    pub shop: Shop,
    /// Time the shop has.
    pub workload: Workload,
    /// What is waited for besides the bench.
    pub waits: Waits,
    /// How a cost becomes a price.
    pub pricing: Pricing,
    /// How sure the shop is.
    pub uncertainty: Uncertainty,
    /// What a blank is cut larger by.
    pub allowances: Allowances,
    /// Species.
    pub timbers: Vec<Timber>,
    /// Slabs in stock.
    pub slabs: Vec<Slab>,
    /// Sheet goods.
    pub sheets: Vec<Sheet>,
    /// Resins.
    pub resins: Vec<Resin>,
    /// Finishes.
    pub finishes: Vec<Finish>,
    /// Hardware.
    pub hardware: Vec<Hardware>,
    /// Consumables.
    pub consumables: Vec<Consumable>,
    /// Operations, in minutes.
    pub operations: Vec<TimedOperation>,
    /// Designs.
    pub designs: Vec<Design>,
    /// Van, crates, freight.
    pub delivery: DeliveryCosts,
    /// Regions, first match first.
    pub regions: Vec<Region>,
    /// Rates of other currencies.
    pub currencies: Vec<CurrencyRate>,
    /// Pieces the maker watches.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub basket: Vec<BasketPiece>,
    /// Where those pieces are brought, to be told what that comes to: postal codes, abroad behind the letters of the country.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub watched_places: Vec<Text>,
    /// Requests that came in.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub requests: Vec<KeptRequest>,
    /// Quotes that went out.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub quotes: Vec<Quote>,
    /// Pieces several buyers want.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub offers: Vec<Weighed>,
    /// Jobs, done and on the bench.
    pub jobs: Vec<Job>,
    /// What jobs teach and the maker left as it is.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub refused: Vec<Refused>,
}

reads!(ShopBook {
    scantling_book,
    edition,
    notice,
    shop,
    workload,
    waits,
    pricing,
    uncertainty,
    allowances,
    timbers,
    slabs,
    sheets,
    resins,
    finishes,
    hardware,
    consumables,
    operations,
    designs,
    delivery,
    regions,
    currencies,
    basket,
    watched_places,
    requests,
    quotes,
    offers,
    jobs,
    refused
});

impl ShopBook {
    /// Reads and checks a shop book.
    ///
    /// # Errors
    /// The first place where the text is not a shop book or, when it is one, every place where its tables don't fit together.
    pub fn read(text: &str) -> Result<Self, Vec<DocumentError>> {
        let one = |error| vec![error];
        let node = Node::read(text).map_err(one)?;
        check::version(&node, "scantling_book", "a shop book").map_err(one)?;
        let book: Self = node.read_as().map_err(one)?;
        let faults = check::shop_book(&book);
        if faults.is_empty() { Ok(book) } else { Err(faults) }
    }

    /// What the shop keeps against movement of a currency, in percent of its rate. For the maker alone: the price book has it in the rate.
    #[must_use]
    pub fn kept_percent(&self, currency: &str) -> Option<Decimal> {
        let rate = self.currencies.iter().find(|rate| rate.currency.as_str() == currency)?;
        Some((rate.spread.value() * Decimal::ONE_HUNDRED).normalize())
    }
}
