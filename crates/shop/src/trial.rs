//! Other rates tried on a piece: one rate swept over a range, and every rate raised in turn to see which the price hangs on.
//!
//! All of it is the engine's own reckoning on the few rows the piece is made of. Each trial is one call, so that whoever asks can cut the
//! work as small as a screen needs.

use rust_decimal::Decimal;
use scantling_pricing::book::document::Node;
use scantling_pricing::book::work::PastJobs;
use scantling_pricing::book::{DocumentError, ShopBook};
use scantling_pricing::brief::Brief;
use scantling_pricing::estimate::estimate;
use scantling_pricing::money::Money;
use scantling_pricing::profit::Rates;
use scantling_pricing::publish::draft;

use crate::basket::why_not;
use crate::form::Kind;
use crate::percent::percent_of;
use crate::rates::{Rate, rates};
use crate::sheet::{Edit, Path, Sheet};
use crate::slim::{Slim, rows};

/// A piece and the rows it is made of.
#[derive(Debug, Clone)]
pub struct Trial {
    slim: Slim,
    brief: Brief,
    past: Option<PastJobs>,
    /// The price as the book has it, before it is rounded to the shop's step.
    before: Result<Money, String>,
}

/// A point of a sweep.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Point {
    /// What the rate was made.
    pub value: Decimal,
    /// What the piece then comes to, or why it can't be priced.
    pub figures: Result<At, String>,
}

/// What a piece comes to at one value of a rate.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct At {
    /// The likely price at the workshop, as buyers see it.
    pub price: Money,
    /// What it costs the shop.
    pub cost: Money,
    /// What an hour at the bench brings.
    pub pay: Option<Money>,
}

/// What raising a rate does to the price of a piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Effect {
    /// The rate, at its place in the whole book.
    pub rate: Rate,
    /// What was tried in its stead.
    pub tried: Decimal,
    /// How much the price rises: before rounding to the shop's step, which would hide what is small.
    pub rise: Money,
    /// That in percent of the price, to two decimals.
    pub percent: Decimal,
}

impl Trial {
    /// A piece of a book as it is edited, with what its past jobs teach; nothing for a design that is not in it.
    #[must_use]
    pub fn of(root: &Node, brief: &Brief, past: Option<PastJobs>) -> Option<Self> {
        let designs = rows(root.under("designs")?);
        let index = designs.iter().position(|design| design.text("key") == Some(brief.design.as_str()))?;
        let roles = rows(designs.get(index)?.under("roles")?);
        let chosen: Vec<&str> = roles.iter().filter_map(|role| material(role, brief)).collect();
        let slim = Slim::of(root, index, Some(&chosen))?;
        let mut trial = Self { slim, brief: brief.clone(), past, before: Err(String::new()) };
        trial.before = trial.unrounded(&[]);
        Some(trial)
    }

    /// The rates of the rows the piece is made of, each at its place in the small book.
    #[must_use]
    pub fn rates(&self, kind: &Kind) -> Vec<Rate> {
        rates(&self.slim.root, kind)
    }

    /// A rate of [`Trial::rates`] at its place in the whole book.
    #[must_use]
    pub fn in_whole(&self, rate: &Rate) -> Rate {
        rate.elsewhere(self.slim.in_whole(&rate.place))
    }

    /// What the piece comes to with a rate of [`Trial::rates`] at another value.
    #[must_use]
    pub fn at(&self, rate: &Rate, value: Decimal) -> Point {
        Point { value, figures: self.priced(&rate.edits(value)) }
    }

    /// What raising a rate by this share does; nothing where it can't be raised so far, or moves nothing.
    #[must_use]
    pub fn effect(&self, rate: &Rate, share: Decimal) -> Option<Effect> {
        let tried = rate.value.checked_mul(Decimal::ONE.checked_add(share)?)?.normalize();
        let before = *self.before.as_ref().ok()?;
        let after = self.unrounded(&rate.edits(tried)).ok()?;
        let rise = after - before;
        let percent = percent_of(rise.amount(), before.amount(), 2);
        (!rise.amount().is_zero()).then(|| Effect { rate: self.in_whole(rate), tried, rise, percent })
    }

    fn changed(&self, edits: &[Edit]) -> Result<ShopBook, String> {
        let told = |error: &DocumentError| error.fault.to_string();
        if edits.is_empty() {
            return self.slim.root.read_as().map_err(|error| told(&error));
        }
        let mut sheet = Sheet::of(self.slim.root.clone());
        if !sheet.edit("", edits.to_vec()) {
            return Err("there is no such rate".to_owned());
        }
        sheet.root().read_as().map_err(|error| told(&error))
    }

    fn priced(&self, edits: &[Edit]) -> Result<At, String> {
        let shop = self.changed(edits)?;
        let rates = Rates::trial(&shop, self.past.clone()).map_err(|error| error.to_string())?;
        let costs = rates.costs(&self.brief).map_err(|problems| why_not(&problems, shop.shop.units.length_unit()))?;
        Ok(At { price: costs.selling.works.likely, cost: costs.full, pay: costs.as_estimated().pay_per_hour })
    }

    fn unrounded(&self, edits: &[Edit]) -> Result<Money, String> {
        let mut edits = edits.to_vec();
        edits.push(Edit::set(Path::read("shop.rounding_step"), Node::Text("0".to_owned())));
        let shop = self.changed(&edits)?;
        let mut prices = draft(&shop).map_err(|error| error.to_string())?;
        prices.past_jobs = self.past.clone();
        let unit = shop.shop.units.length_unit();
        let estimate = estimate(&prices, &self.brief).map_err(|problems| why_not(&problems, unit))?;
        Ok(estimate.works.likely)
    }
}

/// What a role is made of: what the brief says, else the first that is offered.
fn material<'n>(role: &'n Node, brief: &'n Brief) -> Option<&'n str> {
    let said = role.text("key").and_then(|key| brief.materials.iter().find(|(known, _)| known.as_str() == key));
    let first = || match rows(role.under("materials")?).first()? {
        Node::Text(key) => Some(key.as_str()),
        _ => None,
    };
    said.map(|(_, material)| material.as_str()).or_else(first)
}
