//! Tax by region, as a line of its own, never inside the price.

use rust_decimal::Decimal;

use crate::book::delivery::Tax;
use crate::money::Money;

/// The tax on a piece's price and, where delivery is taxed, on its delivery.
#[must_use]
pub fn tax_on(tax: &Tax, piece: Money, delivery: Money) -> Money {
    let taxed = piece.amount() + if tax.on_delivery { delivery.amount() } else { Decimal::ZERO };
    Money::rounded(taxed * tax.rate.value(), piece.currency())
}
