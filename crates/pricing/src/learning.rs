//! What past jobs teach about the hours of the next: how far over they run as a rule, and how far apart.
//!
//! A job's ratio is hours worked over hours estimated. Its logarithm is taken as normal about the shop's own habit, and the habit as
//! normal about none at all, so few jobs move little: `shared/reference/trade/estimate_range.md` section 5. The result shifts and
//! widens the range of an estimate; it changes no rate, and no likely price.

use rust_decimal::prelude::*;

use crate::book::job::Job;
use crate::book::values::{Factor, Share};
use crate::book::work::PastJobs;
use crate::money::{half_up, up};
use crate::range::square_root;

/// Fewer jobs than this are told to no one: from fewer, a rival could guess at one of them.
const FEWEST_TOLD: usize = 3;
/// How far the habit of a shop may lie from its estimates, before it is known: a deviation of the logarithm. Section 6, item 6.
pub(crate) const HABIT: Decimal = Decimal::from_parts(20, 0, 0, false, 2);
/// How far the jobs of one shop lie apart, before it is known (section 5, common practice), and as how many jobs that counts
/// (a choice of ours).
const APART: Decimal = Decimal::from_parts(20, 0, 0, false, 2);
const APART_JOBS: Decimal = Decimal::from_parts(4, 0, 0, false, 0);
/// No shop's jobs lie less apart than this. Section 5, common practice.
const LEAST_APART: Decimal = Decimal::from_parts(10, 0, 0, false, 2);

/// What is held of a normal quantity: its mean and deviation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Belief {
    /// The mean.
    pub mean: Decimal,
    /// The standard deviation.
    pub deviation: Decimal,
}

/// What is held of a mean once values are seen that scatter about it by this deviation.
///
/// `precision = 1/t0² + n/s²`, `mean = (m0/t0² + n r/s²) / precision`. Source: the conjugate normal model,
/// `shared/reference/trade/estimate_range.md` section 5.
#[must_use]
pub fn posterior(prior: Belief, scatter: Decimal, seen: &[Decimal]) -> Belief {
    let weight = |deviation: Decimal| Decimal::ONE.checked_div(deviation * deviation).unwrap_or(Decimal::ZERO);
    let (of_prior, of_one) = (weight(prior.deviation), weight(scatter));
    let precision = of_prior + of_one * Decimal::from(seen.len());
    let weighed = prior.mean * of_prior + seen.iter().sum::<Decimal>() * of_one;
    let share = |value: Decimal| value.checked_div(precision).unwrap_or(Decimal::ZERO);
    Belief { mean: share(weighed), deviation: square_root(share(Decimal::ONE)) }
}

/// How far apart values lie: their own variance, drawn towards what is usual while there are few of them. How far they lie from no habit at
/// all counts as well: one value far out tells of values that lie far apart as much as of a habit.
///
/// Source: the conjugate normal model with mean and variance unknown (normal, scaled inverse chi-squared), whose posterior scale is
/// `(k s0² + sum (r - mean)² + p n / (p + n) mean²) / (k + n)`, with a prior mean of 0 that counts as `p` values (from memory; held against
/// the integral itself in `tests/suite/simulated.rs`). As many values as the habit's own deviation says: `p = s0² / t0²`.
#[must_use]
pub fn scatter(seen: &[Decimal]) -> Decimal {
    let count = Decimal::from(seen.len());
    let mean = seen.iter().sum::<Decimal>().checked_div(count).unwrap_or(Decimal::ZERO);
    let squares: Decimal = seen.iter().map(|value| (*value - mean) * (*value - mean)).sum();
    let prior = (APART * APART).checked_div(HABIT * HABIT).unwrap_or(Decimal::ONE);
    let weight = (prior * count).checked_div(prior + count).unwrap_or(Decimal::ZERO);
    let apart = APART_JOBS * APART * APART + squares + weight * mean * mean;
    square_root(apart / (APART_JOBS + count)).max(LEAST_APART)
}

/// The next value: about the belief of the mean, scattered.
#[must_use]
pub fn predictive(mean: Belief, scatter: Decimal) -> Belief {
    Belief { mean: mean.mean, deviation: square_root(mean.deviation * mean.deviation + scatter * scatter) }
}

/// What the jobs of a shop teach, in whole percents; nothing from fewer than three.
#[must_use]
pub fn from_jobs(jobs: &[Job]) -> Option<PastJobs> {
    let seen = hours_told(jobs);
    if seen.len() < FEWEST_TOLD {
        return None;
    }
    let scatter = scatter(&seen);
    let habit = posterior(Belief { mean: Decimal::ZERO, deviation: HABIT }, scatter, &seen);
    let next = predictive(habit, scatter);
    Some(PastJobs {
        hours_take: Factor::new(half_up(next.mean.checked_exp()?, 2).normalize())?,
        miss_by: Share::new(up(next.deviation, 2).min(Decimal::ONE).normalize())?,
    })
}

/// What each job that is done tells of hours. What is on the bench still has not taken what it takes.
pub(crate) fn hours_told(jobs: &[Job]) -> Vec<Decimal> {
    jobs.iter().filter(|job| job.finished.is_some()).filter_map(over_estimate).collect()
}

/// The logarithm of hours worked over hours estimated; nothing where nobody wrote hours down. More than ten times either way is held to
/// ten: a slip of the pen, not a habit.
fn over_estimate(job: &Job) -> Option<Decimal> {
    let worked: Decimal = job.hours.values().map(|hours| hours.value()).sum();
    let worked = Some(worked).filter(|worked| !worked.is_zero())?;
    let ratio = worked.checked_div(job.hours_estimated.value())?;
    ratio.clamp(Decimal::new(1, 1), Decimal::TEN).checked_ln()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(actual: Decimal, expected: &str) {
        let expected: Decimal = expected.parse().unwrap();
        assert!((actual - expected).abs() < Decimal::new(1, 6), "{actual} is not {expected}");
    }

    fn five() -> Vec<Decimal> {
        // shared/reference/trade/estimate_range.md section 6, item 5.
        ["1.10", "1.25", "0.95", "1.40", "1.05"].map(|ratio| ratio.parse::<Decimal>().unwrap().ln()).to_vec()
    }

    #[test]
    fn the_five_jobs_of_the_worked_values() {
        // Section 6, item 5: mean log 0.130485, geometric mean 1.139380.
        let mean = five().iter().sum::<Decimal>() / Decimal::from(5);
        close(mean, "0.130485");
        close(mean.exp(), "1.139380");
        // Item 6: prior 0.10 by 0.20, scatter 0.20: mean 0.125404, deviation 0.081650, predictive 0.216025.
        let prior = Belief { mean: Decimal::new(10, 2), deviation: Decimal::new(20, 2) };
        let scatter = Decimal::new(20, 2);
        let learned = posterior(prior, scatter, &five());
        close(learned.mean, "0.125404");
        close(learned.deviation, "0.081650");
        let next = predictive(learned, scatter);
        close(next.deviation, "0.216025");
        // A job of 40 h: median 45.344, 8 in 10 from 34.379 to 59.807.
        let at = |deviations: &str| {
            let off = next.deviation * deviations.parse::<Decimal>().unwrap();
            half_up(Decimal::from(40) * (next.mean + off).exp(), 3).to_string()
        };
        assert_eq!([at("0"), at("-1.28155"), at("1.28155")], ["45.344", "34.379", "59.807"]);
        // Item 7: without jobs the prior stands, and the span is wider.
        let none = predictive(posterior(prior, scatter, &[]), scatter);
        assert!(none.deviation > next.deviation);
        close(none.mean, "0.10");
    }

    #[test]
    fn few_jobs_scatter_as_is_usual_and_many_as_they_do() {
        close(scatter(&[]), "0.20");
        // One value of 1: (4 x 0.04 + 0 + 1/2 x 1²) / 5 = 0.132, root 0.363318. One that came out even: 0.16 / 5 = 0.032, root 0.178885.
        close(scatter(&[Decimal::ONE]), "0.363318");
        close(scatter(&[Decimal::ZERO]), "0.178885");
        // Item 5: the five lie 0.151634 apart about 0.130485; (4 x 0.04 + 4 x 0.151634² + 5/6 x 0.130485²) / 9 = 0.0295733, root 0.171969.
        close(scatter(&five()), "0.171969");
        // Jobs that never miss lie no less than a tenth apart.
        close(scatter(&vec![Decimal::ZERO; 400]), "0.10");
    }
}
