//! Percents as they are shown: one way to round them.

use rust_decimal::{Decimal, RoundingStrategy};

/// A part of a whole in percent, to so many decimals, halves away from zero; nothing of nothing.
#[must_use]
pub fn percent_of(part: Decimal, whole: Decimal, decimals: u32) -> Decimal {
    let percent = part.checked_div(whole).and_then(|share| share.checked_mul(Decimal::ONE_HUNDRED));
    percent.unwrap_or_default().round_dp_with_strategy(decimals, RoundingStrategy::MidpointAwayFromZero)
}

/// Percent with the sign of a rise or a fall.
#[must_use]
pub fn signed(percent: Decimal) -> String {
    let sign = if percent.is_sign_negative() { "" } else { "+" };
    format!("{sign}{percent} %")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn halves_go_away_from_zero_and_a_share_of_nothing_is_nothing() {
        let of = |part: i64, whole: i64, decimals: u32| percent_of(part.into(), whole.into(), decimals).to_string();
        // 1/800 is 0.125 %, 1/2000 0.05 %.
        assert_eq!([of(1, 800, 2), of(-1, 800, 2), of(1, 2000, 1), of(3, 0, 1)], ["0.13", "-0.13", "0.1", "0"]);
        assert_eq!([signed(Decimal::new(15, 1)), signed(Decimal::new(-15, 1))], ["+1.5 %", "-1.5 %"]);
    }
}
