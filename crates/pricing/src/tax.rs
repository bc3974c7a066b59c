//! Tax by place: on top of the price shown or within it, as the law of the place asks.

use rust_decimal::Decimal;

use crate::book::PriceBook;
use crate::book::delivery::{Shown, Tax};
use crate::bounded::Bounded;
use crate::brief::Destination;
use crate::delivery::{Mode, origin, read_place, region_for};
use crate::money::Money;

/// The tax on a price as it is shown, of which so much is carriage.
///
/// On top: what is taxed times the rate. Within: what is taxed less its net, `gross / (1 + rate)`, so that net and tax are the price to the
/// last coin. Source: inclusive maths of `shared/reference/delivery/insurance_tax_currency.md` section 3.
#[must_use]
pub fn tax_on(tax: &Tax, shown: Money, carriage: Money) -> Money {
    let taxed = shown.amount().less(untaxed(tax, carriage.amount()));
    let (rate, currency) = (tax.rate.value(), shown.currency());
    match tax.shown {
        Shown::Apart => Money::rounded(taxed.times(rate), currency),
        Shown::Within => {
            let net = taxed.over(Decimal::ONE + rate).unwrap_or(taxed);
            Money::rounded(taxed, currency) - Money::rounded(net, currency)
        }
    }
}

/// Carriage that is not taxed.
fn untaxed(tax: &Tax, carriage: Decimal) -> Decimal {
    if tax.on_delivery { Decimal::ZERO } else { carriage }
}

/// The tax of what goes to a place by a way: what is collected, or has no place, is taxed at the workshop.
pub(crate) fn rule_for<'b>(book: &'b PriceBook, to: Option<&Destination>, way: Option<Mode>) -> Option<&'b Tax> {
    let there = to.and_then(|to| read_place(to).ok()).filter(|_| way != Some(Mode::Collect));
    let place = there.or_else(|| origin(book))?;
    region_for(&book.regions, &place)?.tax.as_ref()
}

/// What a tax shown within a price adds to it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Levy {
    rate: Decimal,
    untaxed: Decimal,
}

impl Levy {
    /// Of a price with so much carriage; none where there is no tax, or it comes on top.
    pub(crate) fn within(tax: Option<&Tax>, carriage: Decimal) -> Self {
        tax.filter(|tax| tax.shown == Shown::Within).map_or(
            Self { rate: Decimal::ZERO, untaxed: Decimal::ZERO },
            |tax| Self { rate: tax.rate.value(), untaxed: untaxed(tax, carriage) },
        )
    }

    /// A net amount as it is shown.
    pub(crate) fn added_to(&self, net: Decimal) -> Decimal {
        net.plus(net.less(self.untaxed).times(self.rate))
    }
}
