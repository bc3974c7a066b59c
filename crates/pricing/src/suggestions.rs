//! What the jobs done would correct in the book: minutes of each stage, yields of each timber. Proposed with their evidence, one by one;
//! nothing here changes a rate by itself.
//!
//! A job that names its brief can be taken off again, so that what it really took stands beside what the book says now. The ratio of the
//! two is learned as `learning` learns the hours as a whole: few jobs move little.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use rust_decimal::prelude::MathematicalOps;
use serde::Serialize;

use crate::book::job::Job;
use crate::book::read::{reads, reads_word};
use crate::book::values::{Count, Key, Minutes, Text, ThreePoint, Yield};
use crate::book::work::PastJobs;
use crate::book::{DocumentError, PriceBook, ShopBook};
use crate::brief::Brief;
use crate::design::resolve;
use crate::estimate::{PriceRange, estimate};
use crate::learning::{Belief, HABIT, hours_told, posterior, predictive, scatter};
use crate::money::{Money, half_up};
use crate::publish::{Basis, fold, fold_rates};
use crate::range::{EIGHT_IN_TEN, Guess};
use crate::takeoff::take_off;
use crate::work_names::{WorkNames, worked_at};
use crate::worksheet::hours;

/// What is learned about.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Subject {
    /// The minutes of a stage of work.
    Stage(Text),
    /// How much of a timber ends in the piece.
    Timber(Key),
}

reads_word!(Subject {} with { "stage" => Self::Stage, "timber" => Self::Timber });

/// A suggestion the maker left as it was, until a later job speaks of the same thing. Never public.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Refused {
    /// Of what it was.
    pub subject: Subject,
    /// How many jobs it stood on.
    pub jobs: Count,
}

reads!(Refused { subject, jobs });

/// A correction the jobs done would make.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Suggestion {
    /// Of what.
    pub subject: Subject,
    /// How many jobs tell of it.
    pub jobs: usize,
    /// What they took on the whole, as a multiple of what the book says: the geometric mean.
    pub seen: Decimal,
    /// What is proposed: that, drawn towards 1 while the jobs are few or apart. Two decimals.
    pub factor: Decimal,
    /// Where 8 of the next 10 jobs should lie, as multiples.
    pub next: (Decimal, Decimal),
}

/// What a suggestion makes of a piece's price at the workshop.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Effect {
    /// The design.
    pub design: Key,
    /// Now.
    pub before: Money,
    /// With the suggestion taken.
    pub after: Money,
}

/// Everything the jobs of a shop would correct, what they tell most of first; nothing from jobs without a brief.
///
/// # Errors
/// When a folded rate is larger than any amount a book may hold.
pub fn suggestions(shop: &ShopBook) -> Result<Vec<Suggestion>, DocumentError> {
    let mut lessons = Lessons::new(shop)?;
    for job in &shop.jobs {
        lessons.hear(job, shop);
    }
    Ok(lessons.suggestions())
}

/// What the jobs of a shop teach, heard one after another: a page must not stand still while thousands are taken off again.
#[derive(Debug, Clone)]
pub struct Lessons {
    timed: PriceBook,
    seen: BTreeMap<Subject, Vec<Decimal>>,
}

impl Lessons {
    /// None heard yet.
    ///
    /// # Errors
    /// When a folded rate is larger than any amount a book may hold.
    pub fn new(shop: &ShopBook) -> Result<Self, DocumentError> {
        let mut timed = fold_rates(shop, Basis::Minutes)?;
        // A job done was cut from its slab when there was more of it.
        timed.make_slabs_whole();
        Ok(Self { timed, seen: BTreeMap::new() })
    }

    /// Hears a job of this shop; one that is not finished teaches nothing.
    pub fn hear(&mut self, job: &Job, shop: &ShopBook) {
        if job.finished.is_some() {
            for (subject, ratio) in told_by(job, shop, &self.timed) {
                self.seen.entry(subject).or_default().push(ratio);
            }
        }
    }

    /// What those heard so far would correct, what they tell most of first.
    #[must_use]
    pub fn suggestions(self) -> Vec<Suggestion> {
        let found = self.seen.into_iter().filter_map(|(subject, logs)| learned(subject, &logs));
        let mut all: Vec<Suggestion> = found.collect();
        all.sort_by_key(|one| std::cmp::Reverse(one.jobs));
        all
    }
}

/// What one job took of each thing, as the logarithm of its ratio to what the book says now.
fn told_by(job: &Job, shop: &ShopBook, timed: &PriceBook) -> Vec<(Subject, Decimal)> {
    let Some(brief) = &job.brief else { return Vec::new() };
    // The number of pieces is the job's: a brief as it was asked for may have had another.
    let brief = Brief { quantity: job.quantity, ..brief.clone() };
    let Ok(resolved) = resolve(timed, &brief) else { return Vec::new() };
    let Ok(takeoff) = take_off(timed, &resolved) else { return Vec::new() };
    let mut told = Vec::new();
    let mut stages: BTreeMap<&Text, Decimal> = BTreeMap::new();
    let times = hours(timed, &takeoff, resolved.quantity);
    let names = WorkNames::new(shop);
    for time in &times {
        *stages.entry(&time.stage).or_default() += time.minutes;
    }
    for (stage, minutes) in stages {
        let worked = worked_at(&job.hours, &names, stage) * Decimal::from(60);
        let log = (!worked.is_zero()).then(|| log_ratio(worked, minutes)).flatten();
        told.extend(log.map(|log| (Subject::Stage(stage.clone()), log)));
    }
    for (timber, bought) in &job.bought {
        let used = takeoff.timbers.iter().filter(|used| used.timber.key == *timber);
        let net: Decimal = used.map(|used| used.net.value()).sum();
        let usual = shop.timbers.iter().find(|known| known.key == *timber).map(usual_yield);
        let got = net.checked_div(bought.value());
        let log = got.zip(usual).and_then(|(got, usual)| log_ratio(got, usual));
        told.extend(log.map(|log| (Subject::Timber(timber.clone()), log)));
    }
    told
}

/// What a timber yields as a rule, by its three points.
fn usual_yield(timber: &crate::book::stock::Timber) -> Decimal {
    Guess::pert(&timber.yields.map(|share| share.value())).mean
}

/// More than ten times either way is held to ten: a slip of the pen, not a habit.
fn log_ratio(actual: Decimal, said: Decimal) -> Option<Decimal> {
    actual.checked_div(said)?.clamp(Decimal::new(1, 1), Decimal::TEN).checked_ln()
}

/// A suggestion from the logarithms of ratios.
///
/// Source: the conjugate normal model and the log ratios of `shared/reference/trade/estimate_range.md` section 5.
fn learned(subject: Subject, logs: &[Decimal]) -> Option<Suggestion> {
    let apart = scatter(logs);
    let habit = posterior(Belief { mean: Decimal::ZERO, deviation: HABIT }, apart, logs);
    let next = predictive(habit, apart);
    let mean = logs.iter().sum::<Decimal>().checked_div(Decimal::from(logs.len()))?;
    let multiple = |log: Decimal| Some(half_up(log.checked_exp()?, 2).normalize());
    let miss = next.deviation * EIGHT_IN_TEN;
    Some(Suggestion {
        subject,
        jobs: logs.len(),
        seen: multiple(mean)?,
        factor: multiple(habit.mean)?,
        next: (multiple(next.mean - miss)?, multiple(next.mean + miss)?),
    })
}

impl Suggestion {
    /// This suggestion as one that is left as it is.
    #[must_use]
    pub fn refused(&self) -> Option<Refused> {
        let jobs = u32::try_from(self.jobs).ok().and_then(Count::new)?;
        Some(Refused { subject: self.subject.clone(), jobs })
    }

    /// Whether the maker has left it as it is, and no job has spoken of it since.
    #[must_use]
    pub fn is_left(&self, refused: &[Refused]) -> bool {
        let held = |one: &Refused| usize::try_from(one.jobs.value()).is_ok_and(|jobs| jobs >= self.jobs);
        refused.iter().any(|one| one.subject == self.subject && held(one))
    }

    /// The shop book with the suggestion taken: the minutes of the stage, or the yields of the timber, multiplied.
    #[must_use]
    pub fn applied(&self, shop: &ShopBook) -> ShopBook {
        let mut shop = shop.clone();
        match &self.subject {
            Subject::Stage(stage) => {
                let own = shop.operations.iter_mut().filter(|operation| operation.stage == *stage);
                own.for_each(|operation| {
                    operation.each = self.of_minutes(&operation.each);
                    operation.set_up = self.of_minutes(&operation.set_up);
                });
            }
            Subject::Timber(key) => {
                let own = shop.timbers.iter_mut().filter(|timber| timber.key == *key);
                own.for_each(|timber| timber.yields = self.of_yields(&timber.yields));
            }
        }
        shop
    }

    fn of_minutes(&self, minutes: &ThreePoint<Minutes>) -> ThreePoint<Minutes> {
        minutes.map(|minutes| Minutes::new(half_up(minutes.value() * self.factor, 2).normalize()).unwrap_or(*minutes))
    }

    /// Kept within what a yield may be.
    fn of_yields(&self, yields: &ThreePoint<Yield>) -> ThreePoint<Yield> {
        yields.map(|share| {
            let scaled = half_up(share.value() * self.factor, 3).clamp(Decimal::new(5, 2), Decimal::ONE);
            Yield::new(scaled.normalize()).unwrap_or(*share)
        })
    }
}

/// What each of some suggestions, taken by itself, makes of the price of some pieces at the workshop; those that can't be built are left out.
///
/// # Errors
/// When a folded rate is larger than any amount a book may hold.
pub fn effects(found: &[Suggestion], shop: &ShopBook, basket: &[Brief]) -> Result<Vec<Vec<Effect>>, DocumentError> {
    let unchanged = Unchanged::new(shop, basket)?;
    found.iter().map(|one| unchanged.with(one, shop)).collect()
}

/// What the jobs done make of ranges. They do so by themselves from three on, as `publish` says: there is nothing to take.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LearnedRange {
    /// How many jobs tell of hours.
    pub jobs: usize,
    /// What they teach of the hours of the next.
    pub past_jobs: PastJobs,
    /// What that makes of some pieces.
    pub pieces: Vec<Ranged>,
}

/// The range of a piece at the workshop, without what past jobs teach and with it. Its likely price is the same.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Ranged {
    /// The design.
    pub design: Key,
    /// Without.
    pub without: PriceRange,
    /// With it.
    pub with: PriceRange,
}

/// What the jobs done make of the ranges of some pieces, those that can't be built left out; nothing while the jobs are too few.
///
/// # Errors
/// When a folded rate is larger than any amount a book may hold.
pub fn learned_range(shop: &ShopBook, basket: &[Brief]) -> Result<Option<LearnedRange>, DocumentError> {
    let with = fold(shop, Basis::Selling)?;
    let Some(past_jobs) = with.past_jobs.clone() else { return Ok(None) };
    let without = PriceBook { past_jobs: None, ..with.clone() };
    let range = |book: &PriceBook, brief: &Brief| Some(estimate(book, brief).ok()?.works);
    let piece = |brief: &Brief| {
        let design = brief.design.clone();
        Some(Ranged { design, without: range(&without, brief)?, with: range(&with, brief)? })
    };
    let jobs = hours_told(&shop.jobs).len();
    Ok(Some(LearnedRange { jobs, past_jobs, pieces: basket.iter().filter_map(piece).collect() }))
}

/// Some pieces and their prices by the book as it is, which stands beside every suggestion: it is folded and priced once.
#[derive(Debug, Clone)]
pub struct Unchanged(Vec<(Brief, Money)>);

impl Unchanged {
    /// Prices the pieces.
    ///
    /// # Errors
    /// When a folded rate is larger than any amount a book may hold.
    pub fn new(shop: &ShopBook, basket: &[Brief]) -> Result<Self, DocumentError> {
        let book = fold(shop, Basis::Selling)?;
        Ok(Self(basket.iter().filter_map(|brief| Some((brief.clone(), at_the_workshop(&book, brief)?))).collect()))
    }

    /// What a suggestion makes of them.
    ///
    /// # Errors
    /// When a folded rate is larger than any amount a book may hold.
    pub fn with(&self, one: &Suggestion, shop: &ShopBook) -> Result<Vec<Effect>, DocumentError> {
        let changed = fold(&one.applied(shop), Basis::Selling)?;
        let effect = |(brief, before): &(Brief, Money)| {
            let after = at_the_workshop(&changed, brief)?;
            Some(Effect { design: brief.design.clone(), before: *before, after })
        };
        Ok(self.0.iter().filter_map(effect).collect())
    }
}

fn at_the_workshop(book: &PriceBook, brief: &Brief) -> Option<Money> {
    Some(estimate(book, brief).ok()?.works.likely)
}
