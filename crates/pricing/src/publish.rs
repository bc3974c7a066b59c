//! Folding a shop book into a price book: every selling rate is its cost times the factors above it.
//!
//! `price = (cost x (1 + markup) x (1 + contingency)) / (1 - margin)`, then `(price + fixed fees) / (1 - fee)`, is linear in
//! the costs, so each cost can carry its own factor, and the fixed fees, one a payment, are a charge per order. A shop's own
//! price is computed from the folded rates too: one path, so that the public price can't differ from it. A selling rate is
//! rounded to the millionth of the currency here, and nowhere else.
//!
//! Sources: margin on the selling price and fee gross-up, `shared/reference/trade/labour.md` section 5 and
//! `shared/reference/delivery/insurance_tax_currency.md` section 5.

use crate::map::Map;
use rust_decimal::Decimal;

use crate::book::delivery::{
    AbroadTable, CrateCost, CrateRate, DeliveryRates, FreightTable, HelperRate, Insurance, ParcelTable, Region,
    VanCost, VanRate, WhiteGloveTable,
};
use crate::book::record::{CurrencyRate, PublicRate};
use crate::book::shop::Shop;
use crate::book::stock::{Consumable, Finish, Hardware, Resin, Sheet, Slab, Timber};
use crate::book::values::{Amount, Count, Key, Measured, ThreePoint};
use crate::book::work::{Bench, HourlyRate, Operation, PricedOperation, TimedOperation, YearlyRate};
use crate::book::{DocumentError, PriceBook, Pricing, ShopBook, ShopRate};
use crate::brief::Brief;
use crate::cost;
use crate::delivery::Atlas;
use crate::design::{Design, resolve};
use crate::learning;
use crate::money::{half_up, up, whole_up};
use crate::range::Spread;
use crate::takeoff::take_off;

/// Decimals of a folded rate.
const RATE_DECIMALS: u32 = 6;

/// What the amounts of a folded book mean.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// What a buyer pays: for publishing, and for every price shown.
    Selling,
    /// What it costs the shop, wages included: for the maker's eyes only.
    Cost,
    /// What it costs the shop with the contingency on what is made, before the payment's fees: below it someone works for nothing.
    /// For the maker's eyes only.
    Floor,
    /// What is still to be spent outside the shop: materials and carriage, no work and no slab, which is paid for. For the maker's
    /// eyes only.
    Outlay,
    /// Minutes of work instead of money, and nothing for anything else: for the maker's eyes only.
    Minutes,
}

/// What each kind of cost is multiplied by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Factors {
    /// For what is bought in.
    material: Decimal,
    /// For a slab, which lies in the shop already.
    slab: Decimal,
    /// For a minute of work: money per minute.
    minute: Decimal,
    /// For what a helper is paid.
    helper: Decimal,
    /// For what carriers and fuel cost.
    carriage: Decimal,
    /// Charged once per order.
    per_order: Decimal,
    /// For the least job.
    least_job: Decimal,
}

impl Factors {
    fn new(pricing: &Pricing, payments: usize, basis: Basis) -> Self {
        let (one, none) = (Decimal::ONE, Decimal::ZERO);
        let minute = hourly(&pricing.shop_rate) / Decimal::from(60);
        let cost =
            Self { material: one, slab: one, minute, helper: one, carriage: one, per_order: none, least_job: none };
        let safe = one + pricing.contingency.value();
        match basis {
            Basis::Selling => Self::sold(pricing, payments, minute),
            Basis::Cost => cost,
            Basis::Floor => Self { material: safe, slab: safe, minute: minute * safe, helper: safe, ..cost },
            Basis::Outlay => Self { slab: none, minute: none, ..cost },
            Basis::Minutes => Self { material: none, slab: none, minute: one, helper: none, carriage: none, ..cost },
        }
    }

    fn sold(pricing: &Pricing, payments: usize, minute: Decimal) -> Self {
        let one = Decimal::ONE;
        let after_fee = one / (one - pricing.fee_share.value());
        let made = (one + pricing.contingency.value()) / (one - pricing.margin.value()) * after_fee;
        let material = (one + pricing.material_markup.value()) * made;
        Self {
            material,
            slab: material,
            minute: minute * made,
            helper: made,
            carriage: (one + pricing.freight_handling.value()) * after_fee,
            per_order: pricing.fee_fixed.value() * Decimal::from(payments) * after_fee,
            least_job: after_fee,
        }
    }
}

/// What a carrier's charge is multiplied by when it is sold on.
pub(crate) fn carriage_factor(shop: &ShopBook) -> Decimal {
    Factors::new(&shop.pricing, shop.shop.deposits.len(), Basis::Selling).carriage
}

/// What an hour costs: stated, or a year's wages and overheads over its billable hours.
///
/// Source: `shared/reference/trade/labour.md` section 4 (overheads are recovered over billable hours, not paid ones).
#[must_use]
pub fn hourly(rate: &ShopRate) -> Decimal {
    match rate {
        ShopRate::Hourly(HourlyRate { wage, overhead }) => wage.value() + overhead.value(),
        ShopRate::Yearly(YearlyRate { wages, overheads, billable_hours }) => {
            (wages.value() + overheads.value()) / billable_hours.value()
        }
    }
}

/// Folds a shop book.
///
/// # Errors
/// When a folded rate is larger than any amount a book may hold: a slip in a cost or a share.
pub fn fold(shop: &ShopBook, basis: Basis) -> Result<PriceBook, DocumentError> {
    let mut book = fold_rates(shop, basis)?;
    book.bench.design_weeks = design_weeks(shop)?;
    book.past_jobs = learning::from_jobs(&shop.jobs);
    Ok(book)
}

/// Weeks at the bench one piece of each design takes at its defaults: the span of its hours that should hold 8 jobs in 10, over
/// the shop's weekly hours, rounded outwards to whole weeks, so that no hour can be told from them.
fn design_weeks(shop: &ShopBook) -> Result<Map<Key, [Count; 2]>, DocumentError> {
    let timed = fold_rates(shop, Basis::Minutes)?;
    let weekly = shop.workload.weekly_hours.value() * Decimal::from(60);
    let weeks = |design: &Design| {
        let [fewest, most] = minutes_of_work(&timed, &Brief::new(design.key.clone()))?;
        let whole = |minutes: Decimal| Count::new(whole_up((minutes / weekly).max(Decimal::ZERO)));
        let fewest = whole(fewest)?;
        Some((design.key.clone(), [fewest, whole(most)?.max(fewest)]))
    };
    Ok(shop.designs.iter().filter_map(weeks).collect())
}

/// The fewest and the most minutes that 8 jobs in 10 take, from a book folded to [`Basis::Minutes`]; nothing for a brief that can't
/// be built.
#[must_use]
pub fn minutes_of_work(timed: &PriceBook, brief: &Brief) -> Option<[Decimal; 2]> {
    let resolved = resolve(timed, brief).ok()?;
    let takeoff = take_off(timed, &resolved).ok()?;
    let lines = cost::lines(timed, &resolved, &takeoff);
    let minutes = lines.iter().fold(Decimal::ZERO, |sum, line| sum.saturating_add(line.guess.mean));
    let spread: Spread = lines.iter().map(|line| line.spread).sum();
    let miss = spread.eight_in_ten(timed.uncertainty.correlation.value());
    Some([minutes.saturating_sub(miss), minutes.saturating_add(miss)])
}

/// Folds a shop book that has not been checked, to draw and prove a design of it while it is edited.
///
/// # Errors
/// As [`fold`].
pub fn draft(shop: &ShopBook) -> Result<PriceBook, DocumentError> {
    fold_rates(shop, Basis::Selling)
}

/// Folds all but the weeks at the bench, which come from parts, and what past jobs teach: what a book that has not been checked yet
/// may be folded to.
pub(crate) fn fold_rates(shop: &ShopBook, basis: Basis) -> Result<PriceBook, DocumentError> {
    let factors = Factors::new(&shop.pricing, shop.shop.deposits.len(), basis);
    let material = |what: &str, amount: &mut Amount| scale(what, amount, factors.material);
    let mut sold = Shop { quote_terms: None, ..shop.shop.clone() };
    scale("shop.least_job", &mut sold.least_job, factors.least_job)?;
    sold.least_job = amount("shop.least_job", sold.least_job.value() + factors.per_order)?;
    if basis != Basis::Selling {
        sold.rounding_step = Amount::ZERO;
    }
    Ok(PriceBook {
        scantling_price_book: 1,
        edition: shop.edition.clone(),
        notice: shop.notice.clone(),
        shop: sold,
        bench: Bench { queue_weeks: shop.workload.weeks_sold, design_weeks: Map::new() },
        waits: shop.waits.clone(),
        uncertainty: shop.uncertainty.clone(),
        past_jobs: None,
        allowances: shop.allowances.clone(),
        per_order: amount("pricing.fee_fixed", factors.per_order)?,
        timbers: each(&shop.timbers, |timber: &mut Timber| {
            timber.rates.values_mut().try_for_each(|rate| material("timbers", rate))
        })?,
        slabs: each(&shop.slabs, |slab: &mut Slab| {
            [&mut slab.price, &mut slab.worth, &mut slab.leftover_worth]
                .into_iter()
                .try_for_each(|a| scale("slabs", a, factors.slab))
        })?,
        sheets: each(&shop.sheets, |sheet: &mut Sheet| material("sheets", &mut sheet.price))?,
        resins: each(&shop.resins, |resin: &mut Resin| material("resins", &mut resin.rate))?,
        finishes: each(&shop.finishes, |finish: &mut Finish| material("finishes", &mut finish.rate))?,
        hardware: each(&shop.hardware, |item: &mut Hardware| material("hardware", &mut item.price))?,
        consumables: each(&shop.consumables, |item: &mut Consumable| material("consumables", &mut item.rate))?,
        operations: shop.operations.iter().map(|operation| priced(operation, &factors)).collect::<Result<_, _>>()?,
        designs: shop.designs.clone(),
        delivery: delivery(shop, &factors)?,
        regions: each(&shop.regions, |region: &mut Region| regional(region, basis, &factors))?,
        currencies: shop.currencies.iter().map(with_spread).collect::<Result<_, _>>()?,
        atlas: Atlas::bundled(),
    })
}

/// Tolls are passed on; what is reckoned at cost knows no tax.
fn regional(region: &mut Region, basis: Basis, factors: &Factors) -> Result<(), DocumentError> {
    if basis != Basis::Selling {
        region.tax = None;
    }
    let tolls = region.van.as_mut().and_then(|van| van.tolls.as_mut());
    tolls.map_or(Ok(()), |tolls| scale("regions.van.tolls", tolls, factors.carriage))
}

/// A rate with what is kept against movement in it: how much that is, is the shop's own affair.
fn with_spread(rate: &CurrencyRate) -> Result<PublicRate, DocumentError> {
    let kept = rate.rate.value().saturating_mul(Decimal::ONE + rate.spread.value());
    let with = Measured::new(up(kept, RATE_DECIMALS).normalize());
    Ok(PublicRate {
        currency: rate.currency.clone(),
        rate: with.ok_or_else(|| {
            DocumentError::unusable(
                "currencies",
                format!("{kept} {} for one is more than a rate may be", rate.currency),
            )
        })?,
        day: rate.day.clone(),
    })
}

/// A copy of a table with the amounts of every row changed.
fn each<T: Clone>(
    rows: &[T],
    mut change: impl FnMut(&mut T) -> Result<(), DocumentError>,
) -> Result<Vec<T>, DocumentError> {
    let mut rows = rows.to_vec();
    rows.iter_mut().try_for_each(&mut change)?;
    Ok(rows)
}

fn amount(what: &str, value: Decimal) -> Result<Amount, DocumentError> {
    Amount::new(half_up(value, RATE_DECIMALS).normalize()).ok_or_else(|| {
        let why = format!(
            "a selling rate comes to {value}, more than a book may hold; check the cost, the margin and the fee"
        );
        DocumentError::unusable(what, why)
    })
}

fn scale(what: &str, held: &mut Amount, factor: Decimal) -> Result<(), DocumentError> {
    *held = amount(what, held.value().saturating_mul(factor))?;
    Ok(())
}

fn priced(operation: &TimedOperation, factors: &Factors) -> Result<PricedOperation, DocumentError> {
    let worth = |minutes: Decimal| amount("operations", minutes * factors.minute);
    let points = |minutes: &ThreePoint<_>| -> Result<ThreePoint<Amount>, DocumentError> {
        let value = minutes.map(|minutes: &crate::book::values::Minutes| minutes.value());
        Ok(ThreePoint { low: worth(value.low)?, likely: worth(value.likely)?, high: worth(value.high)? })
    };
    Ok(Operation {
        name: operation.name.clone(),
        stage: operation.stage.clone(),
        driver: operation.driver.clone(),
        each: points(&operation.each)?,
        set_up: points(&operation.set_up)?,
        by_timber: operation.by_timber,
        repeat: operation.repeat,
    })
}

/// The van's hours go into its mile and its trip, the helper's too: no hour is left to be read.
fn van(van: &VanCost, factors: &Factors) -> Result<VanRate, DocumentError> {
    let (minutes_per_mile, hour) = (Decimal::from(60) / van.miles_per_hour.value(), Decimal::from(60));
    let per_mile = van.per_mile.value() * factors.carriage + minutes_per_mile * factors.minute;
    let helper = van.helper.as_ref().map(|helper| -> Result<HelperRate, DocumentError> {
        let minute = helper.per_hour.value() / hour * factors.helper;
        Ok(HelperRate {
            pounds: helper.pounds,
            length: helper.length,
            per_mile: amount("delivery.van.helper", minutes_per_mile * minute)?,
            per_trip: amount("delivery.van.helper", van.handling.value() * minute)?,
        })
    });
    let mut overnight = van.overnight.clone();
    if let Some(overnight) = &mut overnight {
        scale("delivery.van.overnight", &mut overnight.each, factors.carriage)?;
    }
    Ok(VanRate {
        per_mile: amount("delivery.van.per_mile", per_mile)?,
        per_trip: amount("delivery.van.handling", van.handling.value() * factors.minute)?,
        farthest_miles: van.farthest_miles,
        circuity: van.circuity,
        helper: helper.transpose()?,
        overnight,
    })
}

/// The maker's own ways and the carriers' tables.
fn delivery(shop: &ShopBook, factors: &Factors) -> Result<DeliveryRates, DocumentError> {
    let costs = &shop.delivery;
    Ok(DeliveryRates {
        van: costs.van.as_ref().map(|cost| van(cost, factors)).transpose()?,
        crating: crates("delivery.crating", &costs.crating, factors)?,
        pallets: costs.pallets.as_ref().map(|cost| crates("delivery.pallets", cost, factors)).transpose()?,
        marked_timber: costs
            .marked_timber
            .map(|charge| amount("delivery.marked_timber", charge.value().saturating_mul(factors.carriage)))
            .transpose()?,
        freight: costs.freight.iter().map(|table| freight(table, factors)).collect::<Result<_, _>>()?,
        cartons: costs.cartons.as_ref().map(|cost| crates("delivery.cartons", cost, factors)).transpose()?,
        parcels: each(&costs.parcels, |table: &mut ParcelTable| {
            let awkward = table.awkward.as_mut().map(|limit| &mut limit.adds);
            let large = table.large.as_mut().map(|limit| &mut limit.adds);
            let bands = table.bands.iter_mut().map(|band| &mut band.price);
            let mut all = bands.chain(awkward).chain(large).chain([&mut table.home_delivery]);
            all.try_for_each(|charge| scale("delivery.parcels", charge, factors.carriage))
        })?,
        white_glove: each(&costs.white_glove, |table: &mut WhiteGloveTable| {
            let mut bands = table.bands.iter_mut();
            bands.try_for_each(|band| scale("delivery.white_glove", &mut band.price, factors.carriage))
        })?,
        abroad: each(&costs.abroad, |table: &mut AbroadTable| {
            let charges = [&mut table.per_hundredweight, &mut table.least, &mut table.papers];
            let mut charges = charges.into_iter().chain(&mut table.marked_timber);
            charges.try_for_each(|charge| scale("delivery.abroad", charge, factors.carriage))
        })?,
        insurance: costs.insurance.as_ref().map(|cover| insurance(cover, factors)).transpose()?,
    })
}

/// What is covered without a charge is a price, whatever a charge means.
fn insurance(cover: &Insurance, factors: &Factors) -> Result<Insurance, DocumentError> {
    let mut cover = cover.clone();
    scale("delivery.insurance", &mut cover.per_hundred, factors.carriage)?;
    scale("delivery.insurance", &mut cover.least, factors.carriage)?;
    Ok(cover)
}

/// What a crate or a carton is charged at.
fn crates(what: &str, cost: &CrateCost, factors: &Factors) -> Result<CrateRate, DocumentError> {
    let per_square_foot = cost.material.value() * factors.material + cost.minutes.value() * factors.minute;
    Ok(CrateRate {
        size: cost.size.clone(),
        per_square_foot: amount(what, per_square_foot)?,
        per_crate: amount(what, cost.set_up.value() * factors.minute)?,
    })
}

/// The carrier's discount goes into its rates: what a shop has negotiated is its own affair.
fn freight(table: &FreightTable, factors: &Factors) -> Result<FreightTable, DocumentError> {
    let mut table = table.clone();
    let kept = Decimal::ONE - table.discount.take().map_or(Decimal::ZERO, |discount| discount.value());
    for step in &mut table.breaks {
        scale("delivery.freight", &mut step.per_hundredweight, kept * factors.carriage)?;
    }
    let inside = table.inside.iter_mut().flat_map(|inside| [&mut inside.per_hundredweight, &mut inside.least]);
    let long = table.over_length.iter_mut().map(|step| &mut step.adds);
    let own = [&mut table.least, &mut table.liftgate, &mut table.residential, &mut table.limited_access];
    own.into_iter()
        .chain(inside)
        .chain(long)
        .try_for_each(|charge| scale("delivery.freight", charge, factors.carriage))?;
    Ok(table)
}
