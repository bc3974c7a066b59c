//! How many times as long as what stands beside it a page may take, and what is measured against that.

use anyhow::{Context, Result};

/// A word and a number on each line.
const BUDGET: &str = include_str!("../../crates/xtask/speed-budget.txt");

/// How often it is measured before it counts as over: a machine that is busy for a moment must not fail it.
pub const TRIES: usize = 3;

/// The ratio that is allowed for a word.
///
/// # Errors
/// When the file has no such line.
pub fn allowed(word: &str) -> Result<f64> {
    let mut lines = BUDGET.lines().filter_map(|line| line.split_once(' '));
    let number = lines.find(|(known, _)| *known == word).and_then(|(_, number)| number.trim().parse().ok());
    number.with_context(|| format!("speed-budget.txt has no {word}"))
}

/// The middle one of what was measured; nothing of nothing.
#[must_use]
pub fn middle(all: &mut [f64]) -> f64 {
    all.sort_by(f64::total_cmp);
    all.get(all.len().div_euclid(2)).copied().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_word_has_its_ratio_and_no_other_has() {
        for word in ["first-price", "key", "worst-key", "shop-opens", "shop-frame"] {
            assert!(allowed(word).unwrap() > 1.0, "{word}");
        }
        assert!(allowed("shop").is_err());
    }

    #[test]
    fn half_of_the_others_are_below_the_middle_one() {
        assert_eq!(middle(&mut [5.0, 1.0, 9.0]), 5.0);
        assert_eq!(middle(&mut []), 0.0);
    }
}
