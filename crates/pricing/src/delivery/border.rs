//! What a border asks for: marked timber in crates, duty, and a term that says who pays it.

use std::fmt;

use rust_decimal::Decimal;
use serde::Serialize;

use super::{Crated, Mode, Order, Shipment, Trip, guessed, read_place, region_for};
use crate::book::PriceBook;
use crate::book::delivery::{AbroadTable, CrateSize, Region};
use crate::book::values::Amount;
use crate::bounded::Bounded;
use crate::brief::Destination;
use crate::cost::{CostLine, LineKind, QuantityUnit};
use crate::measure::Length;
use crate::range::Guess;

/// Members of the European Union.
const UNION: [&str; 27] = [
    "AT", "BE", "BG", "CY", "CZ", "DE", "DK", "EE", "ES", "FI", "FR", "GR", "HR", "HU", "IE", "IT", "LT", "LU", "LV",
    "MT", "NL", "PL", "PT", "RO", "SE", "SI", "SK",
];

/// Solid wood up to this is left out of the rule. Source: `shared/reference/delivery/crating.md` section 4: 6 mm or less throughout.
const UNREGULATED: Length = Length::from_nanometres(6_000_000);

/// Whether the timber of a crate from one country to another must be treated and marked by ISPM 15: where the two differ, but not
/// between the United States and Canada, nor within the European Union.
///
/// Source: `shared/reference/delivery/crating.md` section 4.
#[must_use]
pub fn wood_packaging_rule(from: &str, to: &str) -> bool {
    let together = |one: &[&str]| one.contains(&from) && one.contains(&to);
    from != to && !together(&["US", "CA"]) && !together(&UNION)
}

/// Whether a crate, or a pallet, has solid wood the rule is about. Panels made with glue are none of it, and neither is what is 6 mm thick
/// or less throughout; where its book does not say how thick its solid wood is, battens and runners are taken to be thicker.
///
/// Source: `shared/reference/delivery/crating.md` section 4.
#[must_use]
pub fn is_regulated_wood(size: &CrateSize) -> bool {
    match size.solid_wood {
        Some(thickest) => thickest > UNREGULATED,
        None => size.batten_weight.is_some() || size.runner_weight.is_some(),
    }
}

/// Whether the timber of such a crate from one country to another must be treated and marked.
#[must_use]
pub fn must_be_marked(size: &CrateSize, from: &str, to: &str) -> bool {
    is_regulated_wood(size) && wood_packaging_rule(from, to)
}

/// How many crates and pallets of an order must be marked on its way.
fn marked(order: &Order<'_>, trip: &Trip<'_>, shipment: &Shipment) -> Decimal {
    let (rates, from) = (&order.book.delivery, order.book.shop.country.as_str());
    let size = |one: &Crated| match &rates.pallets {
        Some(pallets) if one.on_pallet => &pallets.size,
        _ => &rates.crating.size,
    };
    let each = shipment.crates.iter().filter(|one| must_be_marked(size(one), from, &trip.place.country)).count();
    Decimal::from(each).times(Decimal::from(shipment.pieces))
}

/// The table for abroad that holds in a region.
pub(crate) fn table_of<'b>(book: &'b PriceBook, region: &Region) -> Option<&'b AbroadTable> {
    region.abroad.as_ref().and_then(|key| book.delivery.abroad.iter().find(|table| table.key == *key))
}

/// What marking adds to a crate that goes to a region: what its table for abroad says, else what holds everywhere.
fn charge(book: &PriceBook, region: &Region) -> Option<Amount> {
    table_of(book, region).and_then(|table| table.marked_timber).or(book.delivery.marked_timber)
}

/// Whether timber must be marked on the way and the book does not say what that adds: the book check refuses that where a region names its
/// countries, and where it takes anyone, no carrier is offered.
pub(super) fn is_unpriced(order: &Order<'_>, trip: &Trip<'_>, shipment: &Shipment) -> bool {
    charge(order.book, trip.region).is_none() && !marked(order, trip, shipment).is_zero()
}

/// The line of timber that must be treated and marked on the way; none where none must be. Where no charge is named for it, which only a
/// carrier's own quote gets by with, it says so by its amount of nothing.
pub(super) fn marked_timber(order: &Order<'_>, trip: &Trip<'_>, shipment: &Shipment) -> Option<CostLine> {
    let count = marked(order, trip, shipment);
    let each = charge(order.book, trip.region).map_or(Decimal::ZERO, |each| each.value());
    let line = CostLine::new(LineKind::MarkedTimber, "", Guess::certain(count.times(each)));
    (!count.is_zero()).then(|| line.of(count, QuantityUnit::Pieces))
}

/// Whether duty and import tax may be due on the way from one country to another: where the two differ, but not within the European Union.
///
/// Source: from memory, Treaty on the Functioning of the European Union, Article 28: no customs duties between its members.
#[must_use]
pub fn customs_border(from: &str, to: &str) -> bool {
    from != to && !(UNION.contains(&from) && UNION.contains(&to))
}

/// The line of duty and import tax the maker has an estimate of, a share of what the goods are worth; none where it is the buyer's to pay.
/// It is passed on as it is, so that the share a book publishes is the country's own and tells nothing of the maker's.
pub(super) fn duty(order: &Order<'_>, trip: &Trip<'_>) -> Option<CostLine> {
    let duty = table_of(order.book, trip.region)?.duty.as_ref()?;
    let charge = guessed(order.book, order.declared.times(duty.share.value()));
    customs_border(order.book.shop.country.as_str(), &trip.place.country)
        .then(|| CostLine::new(LineKind::Duty, &duty.name, charge))
}

/// A term of delivery, of Incoterms 2020.
///
/// Source: `shared/reference/delivery/insurance_tax_currency.md` section 7: the buyer clears and pays by default, the seller only where he
/// has entered figures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Rule {
    /// Delivered at place, ready to unload: the buyer clears it and pays duty and import tax.
    #[serde(rename = "DAP")]
    DeliveredAtPlace,
    /// Delivered duty paid, ready to unload: the seller clears it and pays them.
    #[serde(rename = "DDP")]
    DeliveredDutyPaid,
}

/// Where a piece is handed over beyond a customs border, and who pays what is due there.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Terms {
    /// The rule.
    pub rule: Rule,
    /// The edition it is of: 2020.
    pub incoterms: u32,
    /// The postal code of the place, as it was written; empty where none was.
    pub postal_code: String,
    /// ISO 3166-1 code of the country.
    pub country: String,
}

impl Terms {
    /// Of a way to a destination; none for what is collected, or crosses no border where duty may be due.
    #[must_use]
    pub fn of(book: &PriceBook, to: &Destination, mode: Mode) -> Option<Self> {
        let place = read_place(to).ok()?;
        let region = region_for(&book.regions, &place)?;
        Self::on(book, &Trip { region, place: &place }, to, mode)
    }

    /// The same, where region and place are known.
    pub(crate) fn on(book: &PriceBook, trip: &Trip<'_>, to: &Destination, mode: Mode) -> Option<Self> {
        let country = &trip.place.country;
        if mode == Mode::Collect || !customs_border(book.shop.country.as_str(), country) {
            return None;
        }
        let paid = table_of(book, trip.region).is_some_and(|table| table.duty.is_some());
        Some(Self {
            rule: if paid { Rule::DeliveredDutyPaid } else { Rule::DeliveredAtPlace },
            incoterms: 2020,
            postal_code: to.postal_code.as_ref().map_or_else(String::new, |code| code.as_str().trim().to_owned()),
            country: country.clone(),
        })
    }

    /// The term with its place and edition, and what it means for the price, in words.
    #[must_use]
    pub fn explain(&self) -> String {
        match self.rule {
            Rule::DeliveredAtPlace => format!("{self}: duty and import tax are not in the price, the buyer pays them"),
            Rule::DeliveredDutyPaid => {
                format!("{self}: duty and import tax are in the price as they are estimated, the maker pays them")
            }
        }
    }
}

/// The term with its place and edition: `DAP 10115 DE, Incoterms 2020`.
impl fmt::Display for Terms {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let rule = match self.rule {
            Rule::DeliveredAtPlace => "DAP",
            Rule::DeliveredDutyPaid => "DDP",
        };
        let gap = if self.postal_code.is_empty() { "" } else { " " };
        write!(f, "{rule} {}{gap}{}, Incoterms {}", self.postal_code, self.country, self.incoterms)
    }
}
