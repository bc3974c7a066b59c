//! The closed form of the range against simulation: every guess drawn from its own beta distribution, by a statistics library.
//!
//! A guess of low, likely and high is the beta distribution of the PERT rule, with shapes `1 + 4 (likely - low)/(high - low)` and `1 + 4
//! (high - likely)/(high - low)` (`shared/reference/trade/estimate_range.md` section 1); hours run late together through a Gaussian copula of
//! the book's correlation. The closed form takes their sum as normal, which it is not quite: so 8 in 10 is held to between 78 and 82 of a
//! hundred, and the mean to one percent.
#![expect(clippy::float_arithmetic, reason = "statistics, not money")]

use rust_decimal::Decimal;
use rust_decimal::prelude::{FromPrimitive, ToPrimitive};
use scantling_pricing::book::PriceBook;
use scantling_pricing::book::values::{Amount, ThreePoint};
use scantling_pricing::brief::Brief;
use scantling_pricing::cost;
use scantling_pricing::design::resolve;
use scantling_pricing::learning::scatter;
use scantling_pricing::range::Spread;
use scantling_pricing::takeoff::{Takeoff, take_off};
use statrs::distribution::{Beta, ContinuousCDF, Normal};

use crate::start::demo;
use crate::thousand::Numbers;

/// A guess to be drawn: its low end, its spread, and the distribution between.
struct Drawn {
    low: f64,
    span: f64,
    between: Option<Beta>,
}

fn float(value: Decimal) -> f64 {
    value.to_f64().unwrap()
}

fn drawn(points: &ThreePoint<Decimal>) -> Drawn {
    let (low, likely, high) = (float(points.low), float(points.likely), float(points.high));
    let span = high - low;
    let shape = |part: f64| 1.0 + 4.0 * part / span;
    let between = (span > 0.0).then(|| Beta::new(shape(likely - low), shape(high - likely)).unwrap());
    Drawn { low, span, between }
}

impl Drawn {
    fn at(&self, share: f64) -> f64 {
        self.low + self.span * self.between.as_ref().map_or(0.0, |between| between.inverse_cdf(share))
    }
}

/// Every guess of a piece. The run and the set-up of an operation go together, as do the boards of a species.
fn guesses(book: &PriceBook, takeoff: &Takeoff<'_>) -> Vec<Vec<Drawn>> {
    let operations = book.operations.iter().filter_map(|operation| {
        let drive = takeoff.drivers.get(&operation.driver)?;
        let units = if operation.by_timber { drive.worked } else { drive.amount };
        let run = operation.each.map(|each: &Amount| each.value() * units);
        Some(vec![drawn(&run), drawn(&operation.set_up.map(|amount| amount.value()))])
    });
    let mut species: Vec<(&str, Vec<Drawn>)> = Vec::new();
    for used in &takeoff.timbers {
        match species.iter_mut().find(|(key, _)| *key == used.timber.key.as_str()) {
            Some((_, boards)) => boards.push(drawn(&used.value)),
            None => species.push((used.timber.key.as_str(), vec![drawn(&used.value)])),
        }
    }
    operations.chain(species.into_iter().map(|(_, boards)| boards)).collect()
}

/// A number between 0 and 1.
fn share(numbers: &mut Numbers) -> f64 {
    f64::from(numbers.next()) / f64::from(Numbers::MOST + 1)
}

#[test]
fn eight_simulated_jobs_in_ten_end_within_the_range() {
    let (book, mut numbers) = (demo(), Numbers(20_261_125));
    let standard = Normal::new(0.0, 1.0).unwrap();
    let correlation = book.uncertainty.correlation.value();
    let (shared, own) = (float(correlation).sqrt(), (1.0 - float(correlation)).sqrt());
    for design in &book.designs {
        let resolved = resolve(&book, &Brief::new(design.key.clone())).unwrap();
        let takeoff = take_off(&book, &resolved).unwrap();
        let guesses = guesses(&book, &takeoff);
        let lines: Vec<_> = cost::lines(&book, &resolved, &takeoff);
        // What is certain adds the same to both: only what is guessed is compared.
        let mean: f64 = lines
            .iter()
            .filter(|line| line.spread != Spread::NONE.and(certain()))
            .map(|line| float(line.guess.mean))
            .sum();
        let miss = float(lines.iter().map(|line| line.spread).sum::<Spread>().eight_in_ten(correlation));
        let (jobs, mut within, mut sum) = (4000, 0, 0.0);
        for _ in 0..jobs {
            let late = standard.inverse_cdf(share(&mut numbers));
            let mut job = 0.0;
            for guess in &guesses {
                let luck = standard.cdf(shared * late + own * standard.inverse_cdf(share(&mut numbers)));
                job += guess.iter().map(|drawn| drawn.at(luck)).sum::<f64>();
            }
            sum += job;
            within += usize::from((job - mean).abs() <= miss);
        }
        let (held, simulated) = (f64::from(u32::try_from(within).unwrap()) / f64::from(jobs), sum / f64::from(jobs));
        assert!((0.78..=0.82).contains(&held), "{}: {held} of the jobs end within the range", design.key);
        assert!(
            (simulated / mean - 1.0).abs() < 0.01,
            "{}: {simulated} on average, {mean} by the closed form",
            design.key
        );
    }
}

fn certain() -> scantling_pricing::range::Guess {
    scantling_pricing::range::Guess::certain(Decimal::ZERO)
}

/// What is held of the precision, one over the square of how far values lie apart, once these are seen: its mean, by adding up the model's
/// own density over a grid. Nothing of the closed form is used but the densities: the normal one of a value about the mean, and of the mean about
/// none with the deviation of one value (`HABIT` and `APART` are equal), and the scaled inverse chi-squared one of the variance, which counts
/// as four values of 0.20.
fn mean_precision(seen: &[f64]) -> f64 {
    let steps = |from: f64, to: f64, count: u32| {
        (0..=count).map(move |step| from + (to - from) * f64::from(step) / f64::from(count))
    };
    let (mut weight, mut precisions) = (0.0, 0.0);
    // Even steps of the logarithm of the deviation: a variance of e^2t comes with 2 e^2t of itself to each.
    for log in steps(-4.5, 3.5, 1200) {
        let variance = (2.0 * log).exp();
        let prior = -3.0 * variance.ln() - 4.0 * 0.04 / (2.0 * variance) + variance.ln();
        let (deviation, mut of_means) = (variance.sqrt(), 0.0);
        for mean in steps(-9.0, 9.0, 600) {
            // The mean in deviations: nine either way hold all of it.
            let squares: f64 = seen.iter().map(|value| (value / deviation - mean).powi(2)).sum();
            of_means += (-0.5 * (squares + mean * mean)).exp();
        }
        let own = (prior - f64::from(u32::try_from(seen.len()).unwrap()) * deviation.ln()).exp() * of_means;
        weight += own;
        precisions += own / variance;
    }
    precisions / weight
}

#[test]
fn how_far_jobs_lie_apart_is_the_mean_of_the_model_itself() {
    // The five jobs of `shared/reference/trade/estimate_range.md` section 6, item 5; one job twice and one ten times what was said; two.
    let five = [1.10_f64, 1.25, 0.95, 1.40, 1.05].map(f64::ln);
    for seen in [&five[..], &[2.0_f64.ln()], &[10.0_f64.ln()], &[0.4, -0.3], &[]] {
        let values: Vec<Decimal> = seen.iter().map(|value| Decimal::from_f64(*value).unwrap()).collect();
        let (ours, model) = (float(scatter(&values)), mean_precision(seen).recip().sqrt());
        assert!((ours - model).abs() < 0.001 * model, "{seen:?}: {ours}, and by the integral {model}");
    }
}
