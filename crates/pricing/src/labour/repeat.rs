//! How a repeat gets faster: Wright's law in its unit form, the k-th piece taking `k^b` of the first, `b = log2(rate)`.
//!
//! Source: Wright's law as given in `shared/reference/trade/labour.md` section 3 (Delionback, NASA Technical Memorandum, 1975,
//! for the form). The unit form is used: the rate is what the second piece takes of the first.

use rust_decimal::Decimal;

use crate::range::square_root;

/// Halvings of the exponent that are followed: the result is good to the sixth decimal.
const BITS: u32 = 20;

/// Times of pieces 1 to `pieces` together, the first taking 1, each doubling of the count taking `rate` of what it took.
#[must_use]
pub fn pieces_together(pieces: u32, rate: Decimal) -> Decimal {
    (1..=pieces).map(|piece| piece_alone(piece, rate)).sum()
}

/// `rate ^ log2(piece)`, by the binary digits of the logarithm: squaring the mantissa gives the digits one by one, square roots
/// of the rate the factors they stand for. Decimals only, so that every machine gets the same.
fn piece_alone(piece: u32, rate: Decimal) -> Decimal {
    let doublings = piece.max(1).ilog2();
    let mut mantissa = (0..doublings).fold(Decimal::from(piece.max(1)), |rest, _| rest / Decimal::TWO);
    let mut time = (0..doublings).fold(Decimal::ONE, |time, _| time * rate);
    let mut factor = rate;
    for _ in 0..BITS {
        mantissa *= mantissa;
        factor = square_root(factor);
        if mantissa >= Decimal::TWO {
            mantissa /= Decimal::TWO;
            time *= factor;
        }
    }
    time
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(actual: Decimal, expected: &str) {
        let expected: Decimal = expected.parse().unwrap();
        assert!((actual - expected).abs() < Decimal::new(6, 6), "{actual} is not {expected}");
    }

    #[test]
    fn units_follow_the_worked_values() {
        // shared/reference/trade/labour.md section 3, T_1 = 100 (derived there).
        let (r85, r90) = (Decimal::new(85, 2), Decimal::new(90, 2));
        for (piece, at_85, at_90) in
            [(2, "0.85000", "0.90000"), (3, "0.77291", "0.84621"), (4, "0.72250", "0.81000"), (8, "0.61412", "0.72900")]
        {
            close(piece_alone(piece, r85), at_85);
            close(piece_alone(piece, r90), at_90);
        }
        close(pieces_together(4, r85), "3.34541");
        close(pieces_together(4, r90), "3.55621");
    }

    #[test]
    fn one_piece_takes_its_time_and_no_learning_takes_it_every_time() {
        assert_eq!(pieces_together(1, Decimal::new(8, 1)), Decimal::ONE);
        assert_eq!(pieces_together(7, Decimal::ONE), Decimal::from(7));
    }
}
