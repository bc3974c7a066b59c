//! What moves the price: every brief one choice away, priced, cheapest first.
//!
//! Only briefs the book can fill are listed, so a buyer is never shown an alternative that can't be had.

use serde::Serialize;

use crate::book::PriceBook;
use crate::book::values::Key;
use crate::brief::Brief;
use crate::delivery::Mode;
use crate::design::Design;
use crate::estimate::{Estimate, estimate};
use crate::measure::Length;
use crate::money::Money;
use crate::order::put_in_order;
use crate::problem::Problem;

/// One choice changed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Change {
    /// Another material for a role.
    Material {
        /// The role.
        role: Key,
        /// What it would be of.
        to: Key,
    },
    /// Another finish.
    Finish {
        /// Which.
        to: Key,
    },
    /// Another choice of an option.
    Choice {
        /// The option.
        option: Key,
        /// The choice.
        to: Key,
    },
    /// Another size.
    Size {
        /// The dimension.
        dimension: Key,
        /// What it would be.
        to: Length,
    },
    /// Another way of delivery.
    Delivery {
        /// Which.
        to: Mode,
    },
}

/// A brief one choice away, and what it comes to.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Alternative {
    /// The choice.
    pub change: Change,
    /// The brief with it.
    pub brief: Brief,
    /// The likely price with it: delivered, where the brief says where to.
    pub price: Money,
    /// What it adds; below zero where it saves.
    pub difference: Money,
}

impl Change {
    /// The brief with this choice.
    #[must_use]
    pub fn applied(&self, brief: &Brief) -> Brief {
        let mut brief = brief.clone();
        match self {
            Self::Material { role, to } => {
                brief.materials.insert(role.clone(), to.clone());
            }
            Self::Finish { to } => brief.finish = Some(to.clone()),
            Self::Choice { option, to } => {
                brief.options.insert(option.clone(), to.clone());
            }
            Self::Size { dimension, to } => {
                brief.dimensions.insert(dimension.clone(), *to);
            }
            Self::Delivery { to } => brief.delivery = Some(*to),
        }
        brief
    }
}

/// The likely price that counts for a buyer: delivered where the estimate says how, else at the workshop.
#[must_use]
pub fn price_that_counts(estimate: &Estimate) -> Money {
    estimate.price().likely
}

/// Every brief one choice away, cheapest first. Ties keep the order of the form.
///
/// # Errors
/// What is wrong with the brief itself.
pub fn alternatives(book: &PriceBook, brief: &Brief) -> Result<Vec<Alternative>, Vec<Problem>> {
    let mut search = Search::new(book, brief, &estimate(book, brief)?);
    while search.step(book) {}
    Ok(search.found())
}

/// A search for every brief one choice away, an estimate at a time: where a buyer types, a browser must not be held up by all of them.
#[derive(Debug)]
pub struct Search {
    brief: Brief,
    price: Money,
    changes: std::vec::IntoIter<Change>,
    found: Vec<Alternative>,
}

impl Search {
    /// A search from a brief and its estimate.
    #[must_use]
    pub fn new(book: &PriceBook, brief: &Brief, now: &Estimate) -> Self {
        let changes = book.design(&brief.design).map(|design| changes(book, design, brief, now)).unwrap_or_default();
        Self { brief: brief.clone(), price: price_that_counts(now), changes: changes.into_iter(), found: Vec::new() }
    }

    /// Prices the next brief; whether there was one.
    pub fn step(&mut self, book: &PriceBook) -> bool {
        let Some(change) = self.changes.next() else { return false };
        let brief = change.applied(&self.brief);
        if let Ok(estimate) = estimate(book, &brief) {
            let price = price_that_counts(&estimate);
            self.found.push(Alternative { change, brief, price, difference: price - self.price });
        }
        true
    }

    /// What was found, cheapest first; ties keep the order of the form.
    #[must_use]
    pub fn found(mut self) -> Vec<Alternative> {
        put_in_order(&mut self.found, |one, other| one.price.amount() < other.price.amount());
        self.found
    }
}

/// Every single change there is to make.
fn changes(book: &PriceBook, design: &Design, brief: &Brief, now: &Estimate) -> Vec<Change> {
    let mut changes = kind_changes(book, design, brief);
    changes.extend(size_changes(design, brief));
    let others = now.ways.iter().filter(|way| way.outcome.is_ok() && Some(way.mode) != now.chosen);
    changes.extend(others.map(|way| Change::Delivery { to: way.mode }));
    changes
}

/// Other materials, finishes and choices.
pub(crate) fn kind_changes(book: &PriceBook, design: &Design, brief: &Brief) -> Vec<Change> {
    let mut changes = Vec::new();
    for role in &design.roles {
        let chosen = brief.materials.get(&role.key).or_else(|| role.materials.first());
        let others = role.materials.iter().filter(|material| Some(*material) != chosen);
        changes.extend(others.map(|to| Change::Material { role: role.key.clone(), to: to.clone() }));
    }
    let chosen = brief.finish.as_ref().or_else(|| book.finishes.first().map(|finish| &finish.key));
    let others = book.finishes.iter().map(|finish| &finish.key).filter(|finish| Some(*finish) != chosen);
    changes.extend(others.map(|to| Change::Finish { to: to.clone() }));
    for group in &design.options {
        let chosen = brief.options.get(&group.key).or_else(|| group.choices.first().map(|choice| &choice.key));
        let others = group.choices.iter().map(|choice| &choice.key).filter(|choice| Some(*choice) != chosen);
        changes.extend(others.map(|to| Change::Choice { option: group.key.clone(), to: to.clone() }));
    }
    changes
}

/// Each dimension one step smaller and one step larger, within its limits.
fn size_changes(design: &Design, brief: &Brief) -> Vec<Change> {
    let mut changes = Vec::new();
    for dimension in &design.dimensions {
        let size = brief.size(dimension);
        let smaller = (size - dimension.step).max(dimension.least);
        let larger = (size + dimension.step).min(dimension.most);
        let others = [smaller, larger].into_iter().filter(|to| *to != size);
        changes.extend(others.map(|to| Change::Size { dimension: dimension.key.clone(), to }));
    }
    changes
}
