//! The price book: the public tables a widget loads. Amounts are selling rates.
//!
//! **Invariant:** nothing here tells a cost, a wage, an hour, an overhead, a margin, a markup or a contingency: there is no key
//! for one. The same engine prices from it whether its amounts are selling rates or, for the maker's own eyes, costs.

use serde::Serialize;

use super::check;
use super::delivery::{DeliveryRates, Region};
use super::document::{DocumentError, Node};
use super::read::reads;
use super::record::PublicRate;
use super::shop::Shop;
use super::stock::{Consumable, Finish, Hardware, Resin, Sheet, Slab, Timber};
use super::values::{Amount, Day, Key, Share, Text};
use super::work::{Bench, PastJobs, PricedOperation, Uncertainty, Waits};
use crate::delivery::Atlas;
use crate::design::Design;
use crate::money::Currency;
use crate::takeoff::Allowances;

/// The public tables.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PriceBook {
    /// The format's version: 1.
    pub scantling_price_book: u32,
    /// The day the shop book it comes from was last changed.
    pub edition: Day,
    /// Said wherever the book is used, such as that its data is invented.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub notice: Option<Text>,
    /// Who the maker is and how the shop sells.
    pub shop: Shop,
    /// How long the bench is taken.
    pub bench: Bench,
    /// What is waited for besides the bench.
    pub waits: Waits,
    /// How sure the shop is.
    pub uncertainty: Uncertainty,
    /// What past jobs teach; nothing where there are too few.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub past_jobs: Option<PastJobs>,
    /// What a blank is cut larger by.
    pub allowances: Allowances,
    /// Charged once per order.
    pub per_order: Amount,
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
    /// Operations, in money.
    pub operations: Vec<PricedOperation>,
    /// Designs.
    pub designs: Vec<Design>,
    /// Van, crates, freight.
    pub delivery: DeliveryRates,
    /// Regions, first match first.
    pub regions: Vec<Region>,
    /// What prices come to in other currencies.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub currencies: Vec<PublicRate>,
    /// Where postal codes lie: no part of the document. Built in for the command and the maker; a widget fills it once a destination asks.
    #[serde(skip)]
    pub atlas: Atlas,
}

reads!(PriceBook {
    scantling_price_book,
    edition,
    notice,
    shop,
    bench,
    waits,
    uncertainty,
    past_jobs,
    allowances,
    per_order,
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
    currencies
}; beside { atlas = Atlas::default() });

/// Something a role can be of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stock<'b> {
    /// Boards of a timber.
    Timber(&'b Timber),
    /// One slab, and the timber it is of.
    Slab(&'b Slab, &'b Timber),
    /// Whole sheets.
    Sheet(&'b Sheet),
    /// Poured resin.
    Resin(&'b Resin),
}

impl PriceBook {
    /// Slabs as they were before anything was cut from them.
    pub(crate) fn make_slabs_whole(&mut self) {
        for slab in &mut self.slabs {
            slab.cut.clear();
            slab.saleable = true;
        }
    }

    /// A cut put back into its slab, which is then for whom it was cut for.
    pub(crate) fn put_cut_back(&mut self, slab: &Key, share: Share) {
        let Some(slab) = self.slabs.iter_mut().find(|known| known.key == *slab) else { return };
        if let Some(at) = slab.cut.iter().position(|cut| *cut == share) {
            slab.cut.remove(at);
            slab.saleable = true;
        }
    }

    /// Reads and checks a price book.
    ///
    /// # Errors
    /// The first place where the text is not a price book or, when it is one, every place where its tables don't fit together.
    pub fn read(text: &str) -> Result<Self, Vec<DocumentError>> {
        let one = |error| vec![error];
        let book = Self { atlas: Atlas::bundled(), ..Self::read_published(text).map_err(one)? };
        let faults = check::price_book(&book);
        if faults.is_empty() { Ok(book) } else { Err(faults) }
    }

    /// Reads a price book as a buyer's browser does: every value within its bounds, but not again whether the tables fit together,
    /// which was proved as the book was published. From tables that don't, a brief is priced or refused in order, and never panics.
    /// Its atlas is empty.
    ///
    /// # Errors
    /// The first place where the text is not a price book.
    pub fn read_published(text: &str) -> Result<Self, DocumentError> {
        let node = Node::read(text)?;
        check::version(&node, "scantling_price_book", "a price book")?;
        node.read_as()
    }

    /// The currency of every amount. The check has made sure that it is known; a book built by hand falls back to dollars.
    #[must_use]
    pub fn currency(&self) -> Currency {
        Currency::from_code(self.shop.currency.as_str()).unwrap_or(Currency::USD)
    }

    /// Whether the van goes anywhere by a distance that is reckoned, for which the atlas is needed.
    #[must_use]
    pub fn van_goes_by_distance(&self) -> bool {
        let reckoned = |region: &Region| region.van.as_ref().is_some_and(|to| to.miles.is_none());
        self.delivery.van.is_some() && self.regions.iter().any(reckoned)
    }

    /// The design with this key.
    #[must_use]
    pub fn design(&self, key: &Key) -> Option<&Design> {
        self.designs.iter().find(|design| design.key == *key)
    }

    /// The timber, slab, sheet or resin with this key.
    #[must_use]
    pub fn stock(&self, key: &Key) -> Option<Stock<'_>> {
        let timber = |key: &Key| self.timbers.iter().find(|timber| timber.key == *key);
        let slab = self.slabs.iter().find(|slab| slab.key == *key);
        let sheet = self.sheets.iter().find(|sheet| sheet.key == *key);
        let resin = self.resins.iter().find(|resin| resin.key == *key);
        timber(key)
            .map(Stock::Timber)
            .or_else(|| slab.and_then(|slab| Some(Stock::Slab(slab, timber(&slab.timber)?))))
            .or_else(|| sheet.map(Stock::Sheet))
            .or_else(|| resin.map(Stock::Resin))
    }

    /// The hardware with this key.
    #[must_use]
    pub fn hardware_item(&self, key: &Key) -> Option<&Hardware> {
        self.hardware.iter().find(|item| item.key == *key)
    }

    /// The finish with this key.
    #[must_use]
    pub fn finish(&self, key: &Key) -> Option<&Finish> {
        self.finishes.iter().find(|finish| finish.key == *key)
    }
}

impl Stock<'_> {
    /// Its name.
    #[must_use]
    pub fn name(&self) -> &str {
        match self {
            Self::Timber(timber) => timber.name.as_str(),
            Self::Slab(slab, _) => slab.name.as_str(),
            Self::Sheet(sheet) => sheet.name.as_str(),
            Self::Resin(resin) => resin.name.as_str(),
        }
    }

    /// What a buyer should know about it.
    #[must_use]
    pub fn character(&self) -> &str {
        match self {
            Self::Timber(timber) => timber.character.as_str(),
            Self::Slab(slab, _) => slab.character.as_str(),
            Self::Sheet(sheet) => sheet.character.as_str(),
            Self::Resin(resin) => resin.character.as_str(),
        }
    }

    /// Its colour on the drawing.
    #[must_use]
    pub fn swatch(&self) -> &str {
        match self {
            Self::Timber(timber) | Self::Slab(_, timber) => timber.swatch.as_str(),
            Self::Sheet(sheet) => sheet.swatch.as_str(),
            Self::Resin(resin) => resin.swatch.as_str(),
        }
    }
}
