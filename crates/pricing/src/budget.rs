//! Fitting a budget: the fewest choices to change, and the least of each, that bring the price that counts under a sum.
//!
//! Plans of one change come before plans of two, and of two before three. A size is brought down only as far as it must be: the
//! price never falls as a size grows, so the largest size that fits is found by halving. How it is delivered is left as it is. When three changes don't do it, every
//! choice is set to its cheapest, and when that is still too dear the answer says so, with the least it can be had for.

use serde::Serialize;

use crate::alternatives::{Change, kind_changes, price_that_counts};
use crate::book::PriceBook;
use crate::brief::Brief;
use crate::design::{Design, Dimension};
use crate::estimate::estimate;
use crate::money::Money;
use crate::order::put_in_order;
use crate::problem::Problem;
use rust_decimal::Decimal;

/// Plans that are shown at most.
const MOST_PLANS: usize = 6;
/// Changes in one plan at most, before everything is made cheapest.
const MOST_CHANGES: usize = 3;

/// The answer to a budget.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Budget {
    /// The brief is within it as it stands.
    Within,
    /// These plans bring it within: all of the fewest changes that do, dearest first, since it keeps most of the piece.
    Plans(Vec<Plan>),
    /// Nothing on offer does; the least it can be had for.
    OutOfReach {
        /// That least.
        cheapest: Box<Plan>,
    },
}

/// Choices changed together.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Plan {
    /// The choices.
    pub changes: Vec<Change>,
    /// The brief with them.
    pub brief: Brief,
    /// What it comes to.
    pub price: Money,
}

/// Looks for the smallest changes that bring a brief under a sum.
///
/// # Errors
/// What is wrong with the brief itself.
pub fn fit(book: &PriceBook, brief: &Brief, sum: Decimal) -> Result<Budget, Vec<Problem>> {
    let now = Plan { changes: Vec::new(), price: price_that_counts(&estimate(book, brief)?), brief: brief.clone() };
    let Some(design) = book.design(&brief.design) else { return Ok(Budget::Within) };
    if now.price.amount() <= sum {
        return Ok(Budget::Within);
    }
    let mut open = vec![now.clone()];
    for _ in 0..MOST_CHANGES {
        let tried: Vec<Plan> = open.iter().flat_map(|plan| one_more(book, design, plan, sum)).collect();
        let mut fitting: Vec<Plan> = tried.iter().filter(|plan| plan.price.amount() <= sum).cloned().collect();
        if !fitting.is_empty() {
            put_in_order(&mut fitting, |one, other| one.price.amount() > other.price.amount());
            fitting.dedup_by(|a, b| a.brief == b.brief);
            fitting.truncate(MOST_PLANS);
            return Ok(Budget::Plans(fitting));
        }
        open = most_saving(tried);
    }
    Ok(cheapest(book, design, now, sum))
}

/// The plans worth a further change: those that save most. Following every plan would price the form many thousand times.
fn most_saving(mut plans: Vec<Plan>) -> Vec<Plan> {
    put_in_order(&mut plans, |one, other| one.price.amount() < other.price.amount());
    plans.dedup_by(|a, b| a.brief == b.brief);
    plans.truncate(MOST_PLANS);
    plans
}

/// The plan with one more choice changed, in every way there is that makes it cheaper.
fn one_more(book: &PriceBook, design: &Design, plan: &Plan, sum: Decimal) -> Vec<Plan> {
    let kinds = kind_changes(book, design, &plan.brief).into_iter().filter_map(|change| with(book, plan, change));
    let sizes = design.dimensions.iter().filter_map(|dimension| smaller(book, dimension, plan, sum));
    kinds.chain(sizes).filter(|tried| tried.price.amount() < plan.price.amount()).collect()
}

fn with(book: &PriceBook, plan: &Plan, change: Change) -> Option<Plan> {
    let brief = change.applied(&plan.brief);
    let price = price_that_counts(&estimate(book, &brief).ok()?);
    let mut changes = plan.changes.clone();
    changes.retain(|earlier| !same_choice(earlier, &change));
    changes.push(change);
    Some(Plan { changes, brief, price })
}

/// Whether two changes are of one choice, so that the later replaces the earlier.
fn same_choice(a: &Change, b: &Change) -> bool {
    match (a, b) {
        (Change::Material { role: a, .. }, Change::Material { role: b, .. }) => a == b,
        (Change::Choice { option: a, .. }, Change::Choice { option: b, .. }) => a == b,
        (Change::Size { dimension: a, .. }, Change::Size { dimension: b, .. }) => a == b,
        (Change::Finish { .. }, Change::Finish { .. }) | (Change::Delivery { .. }, Change::Delivery { .. }) => true,
        _ => false,
    }
}

/// One dimension as large as the sum allows, in whole steps below what was asked; its least when even that is too dear.
fn smaller(book: &PriceBook, dimension: &Dimension, plan: &Plan, sum: Decimal) -> Option<Plan> {
    let asked = plan.brief.size(dimension);
    let at = |steps: u32| -> Option<Plan> {
        let to = (asked - dimension.step.scaled(steps.into(), 1)).max(dimension.least);
        with(book, plan, Change::Size { dimension: dimension.key.clone(), to })
    };
    let steps = (asked - dimension.least).covered_by(dimension.step);
    if steps == 0 {
        return None;
    }
    let least = at(steps)?;
    if least.price.amount() > sum {
        return Some(least);
    }
    let (mut too_dear, mut fits, mut best) = (0, steps, least);
    while fits - too_dear > 1 {
        let middle = too_dear.midpoint(fits);
        match at(middle).filter(|tried| tried.price.amount() <= sum) {
            Some(tried) => (fits, best) = (middle, tried),
            None => too_dear = middle,
        }
    }
    Some(best)
}

/// Every choice at its cheapest, one after the other until none saves any more.
fn cheapest(book: &PriceBook, design: &Design, now: Plan, sum: Decimal) -> Budget {
    let mut plan = now;
    while let Some(better) =
        one_more(book, design, &plan, Decimal::ZERO).into_iter().min_by_key(|tried| tried.price.amount())
    {
        plan = better;
        if plan.price.amount() <= sum {
            return Budget::Plans(vec![plan]);
        }
    }
    Budget::OutOfReach { cheapest: Box::new(plan) }
}
