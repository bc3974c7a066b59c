//! What an order leaves the shop: its cost, its floors, and what any sum of money for it comes to.
//!
//! All of it goes through the one path a price goes through, with the same book folded to other meanings of a rate. For the maker's
//! eyes only.

use rust_decimal::Decimal;
use serde::Serialize;

use crate::book::values::{Key, Share};
use crate::book::work::{HourlyRate, PastJobs, YearlyRate};
use crate::book::{DocumentError, PriceBook, Pricing, ShopBook, ShopRate};
use crate::brief::Brief;
use crate::delivery::CarriageQuote;
use crate::estimate::{Estimate, Known, estimate_knowing};
use crate::money::Money;
use crate::problem::Problem;
use crate::publish::{Basis, carriage_factor, fold, fold_rates};

/// A shop book folded to everything its rates can mean.
#[derive(Debug, Clone)]
pub struct Rates {
    /// To what a buyer pays.
    pub selling: PriceBook,
    /// To what it costs the shop.
    pub cost: PriceBook,
    /// To cost with contingency.
    pub floor: PriceBook,
    /// To what is still to be spent.
    pub outlay: PriceBook,
    /// To minutes of work.
    pub minutes: PriceBook,
    fees: Fees,
    wage: Decimal,
    /// What a carrier's charge is multiplied by when it is sold on.
    carriage: Decimal,
}

/// What the payments of an order cost.
#[derive(Debug, Clone, Copy)]
struct Fees {
    share: Decimal,
    fixed: Decimal,
}

impl Fees {
    /// What must be paid for so much to be left: `(net + fixed) / (1 - share)`.
    /// Source: `shared/reference/delivery/insurance_tax_currency.md` section 5.
    fn on_top_of(self, net: Money) -> Money {
        let paid = (net.amount() + self.fixed) / (Decimal::ONE - self.share);
        Money::up_to_step(paid, Decimal::ZERO, net.currency())
    }

    fn of(self, paid: Money) -> Money {
        Money::rounded(paid.amount() * self.share + self.fixed, paid.currency())
    }

    fn new(shop: &ShopBook) -> Self {
        Self {
            share: shop.pricing.fee_share.value(),
            fixed: shop.pricing.fee_fixed.value() * Decimal::from(shop.shop.deposits.len()),
        }
    }
}

/// What the payments of an order take of what is paid for it, by the book.
#[must_use]
pub fn fees_on(shop: &ShopBook, paid: Money) -> Money {
    Fees::new(shop).of(paid)
}

/// What an order costs the shop, delivered the way the buyer chose.
#[derive(Debug, Clone, Serialize)]
pub struct Costs {
    /// What the buyer is told.
    #[serde(skip)]
    pub selling: Estimate,
    /// The same at cost, line by line.
    #[serde(skip)]
    pub cost: Estimate,
    /// Full cost, wages and overheads included.
    pub full: Money,
    /// What must come in so that nobody works for nothing: cost, contingency and the payment's fees.
    pub floor: Money,
    /// What must come in to cover what is still to be spent, fees included: below it an order costs money.
    pub outlay_floor: Money,
    /// Hours of work, as expected.
    pub hours: Decimal,
    /// What of the way is still to be spent: carriers, fuel, crate timber, no work of the shop's own.
    #[serde(skip)]
    pub outlay_carriage: Money,
    #[serde(skip)]
    outlay: Money,
    #[serde(skip)]
    fees: Fees,
    #[serde(skip)]
    wage: Decimal,
}

/// What a sum of money for an order comes to.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Outcome {
    /// What is paid, tax apart.
    pub paid: Money,
    /// What the payments take of it.
    pub fees: Money,
    /// What is left over full cost.
    pub profit: Money,
    /// What is left over what is still to be spent.
    pub over_outlay: Money,
    /// What an hour at the bench brings, once materials, carriage, fees and overheads are paid; nothing when no hour is worked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pay_per_hour: Option<Money>,
}

impl Rates {
    /// Folds a shop book every way.
    ///
    /// # Errors
    /// When a folded rate is larger than any amount a book may hold.
    pub fn new(shop: &ShopBook) -> Result<Self, DocumentError> {
        Self::selling_by(shop, fold(shop, Basis::Selling)?)
    }

    /// Folds a shop book that has not been checked, by what past jobs teach: to try other rates on a few rows of a book. What waits for
    /// the bench is not in it.
    ///
    /// # Errors
    /// As [`Rates::new`].
    pub fn trial(shop: &ShopBook, past_jobs: Option<PastJobs>) -> Result<Self, DocumentError> {
        let mut selling = fold_rates(shop, Basis::Selling)?;
        selling.past_jobs = past_jobs;
        Self::selling_by(shop, selling)
    }

    fn selling_by(shop: &ShopBook, selling: PriceBook) -> Result<Self, DocumentError> {
        Ok(Self {
            selling,
            cost: fold_rates(shop, Basis::Cost)?,
            floor: fold_rates(shop, Basis::Floor)?,
            outlay: fold_rates(shop, Basis::Outlay)?,
            minutes: fold_rates(shop, Basis::Minutes)?,
            fees: Fees::new(shop),
            wage: wage(&shop.pricing),
            carriage: carriage_factor(shop),
        })
    }

    /// The same with every slab as it was before anything was cut from it: for jobs done, whose pieces are of those cuts.
    #[must_use]
    pub fn with_whole_slabs(&self) -> Self {
        let mut whole = self.clone();
        whole.books().into_iter().for_each(PriceBook::make_slabs_whole);
        whole
    }

    /// The same with some cuts put back into their slabs: for the quote they were cut for.
    #[must_use]
    pub fn with_cuts_put_back<'k>(&self, cuts: impl Iterator<Item = (&'k Key, &'k Share)>) -> Self {
        let mut before = self.clone();
        for (key, share) in cuts {
            before.books().into_iter().for_each(|book| book.put_cut_back(key, *share));
        }
        before
    }

    const fn books(&mut self) -> [&mut PriceBook; 5] {
        [&mut self.selling, &mut self.cost, &mut self.floor, &mut self.outlay, &mut self.minutes]
    }

    /// What a brief costs the shop.
    ///
    /// # Errors
    /// Everything in the brief the book can't fill.
    pub fn costs(&self, brief: &Brief) -> Result<Costs, Vec<Problem>> {
        self.costs_quoted(brief, None)
    }

    /// What a brief costs the shop when a carrier has named its charge.
    ///
    /// # Errors
    /// As [`Rates::costs`].
    pub fn costs_quoted(&self, brief: &Brief, quoted: Option<&CarriageQuote>) -> Result<Costs, Vec<Problem>> {
        let charged = |factor: Decimal| quoted.map(|quoted| quoted.times(factor));
        let sold = charged(self.carriage);
        let selling = estimate_knowing(&self.selling, brief, &Known { declared: None, quoted: sold.as_ref() })?;
        // The way the buyer is shown, whichever is cheapest at cost.
        let brief = Brief { delivery: selling.chosen, ..brief.clone() };
        let priced = |book: &PriceBook, quoted: Option<&CarriageQuote>| {
            estimate_knowing(book, &brief, &Known { declared: Some(selling.works_net()), quoted })
        };
        let cost = priced(&self.cost, quoted)?;
        let (floor, spent) = (priced(&self.floor, quoted)?.price().likely, priced(&self.outlay, quoted)?);
        let outlay = spent.price().likely;
        let minutes = priced(&self.minutes, charged(Decimal::ZERO).as_ref())?.price().likely;
        Ok(Costs {
            full: cost.price().likely,
            floor: self.fees.on_top_of(floor),
            outlay_floor: self.fees.on_top_of(outlay),
            hours: crate::money::half_up(minutes.amount() / Decimal::from(60), 2),
            selling,
            cost,
            outlay_carriage: outlay - spent.works.likely,
            outlay,
            fees: self.fees,
            wage: self.wage,
        })
    }
}

/// What an hour pays the maker, overheads apart.
pub(crate) fn wage(pricing: &Pricing) -> Decimal {
    match &pricing.shop_rate {
        ShopRate::Hourly(HourlyRate { wage, .. }) => wage.value(),
        ShopRate::Yearly(YearlyRate { wages, billable_hours, .. }) => wages.value() / billable_hours.value(),
    }
}

impl Costs {
    /// What so much money for it comes to.
    #[must_use]
    pub fn sold_for(&self, paid: Money) -> Outcome {
        let fees = self.fees.of(paid);
        let kept = paid - fees;
        let profit = kept - self.full;
        let for_the_bench = profit.amount() + self.wage * self.hours;
        let pay = for_the_bench.checked_div(self.hours);
        Outcome {
            paid,
            fees,
            profit,
            over_outlay: kept - self.outlay,
            pay_per_hour: pay.map(|pay| Money::rounded(pay, paid.currency())),
        }
    }

    /// What the price the buyer is told comes to.
    #[must_use]
    pub fn as_estimated(&self) -> Outcome {
        self.sold_for(self.selling.net())
    }
}
