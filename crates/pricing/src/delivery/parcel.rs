//! Parcels: cartons grown from what they hold, charged by what they weigh or by the space they take, whichever is more.

use rust_decimal::Decimal;

use super::packing::{charge, crated, weighed};
use super::{Excess, Order, Outcome, Trip, Unreachable, guessed, most};
use crate::book::delivery::ParcelTable;
use crate::book::values::Count;
use crate::bounded::Bounded;
use crate::cost::{CostLine, LineKind, QuantityUnit};
use crate::measure::{Length, Weight};
use crate::money::whole_up;
use crate::order::put_in_order;
use crate::range::Guess;

/// A carton as a carrier measures it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Parcel {
    /// Its sides in inches, each rounded up, the longest first.
    pub sides: [u32; 3],
    /// Its weight in pounds, rounded up.
    pub pounds: u32,
}

impl Parcel {
    /// A carton of these outside sides and this weight. Any fraction of an inch or a pound counts as a whole one.
    ///
    /// Source: `shared/reference/delivery/parcel.md` sections 1 and 2.
    #[must_use]
    pub fn new(sides: [Length; 3], weight: Weight) -> Self {
        let mut inches = sides.map(|side| side.covered_by(Length::inches(1)));
        put_in_order(&mut inches, |one, other| one > other);
        Self { sides: inches, pounds: whole_up(weight.in_pounds()) }
    }

    /// Cubic inches of the rounded sides.
    #[must_use]
    pub fn cubic_inches(&self) -> u64 {
        self.sides.iter().fold(1, |product: u64, side| product.saturating_mul((*side).into()))
    }

    /// Its length and, twice over, its other two sides. Source: `shared/reference/delivery/parcel.md` section 3.
    #[must_use]
    pub fn length_and_girth(&self) -> u32 {
        let [longest, second, shortest] = self.sides;
        longest.saturating_add(second.saturating_add(shortest).saturating_mul(2))
    }

    /// Pounds it is charged as: its weight, or its space at so many cubic inches a pound, rounded up.
    #[must_use]
    pub fn charged_pounds(&self, divisor: u32) -> u32 {
        let by_space = self.cubic_inches().div_ceil(u64::from(divisor.max(1)));
        self.pounds.max(u32::try_from(by_space).unwrap_or(u32::MAX))
    }
}

/// What a carrier charges for a parcel.
///
/// `(band + what is awkward or large + home) x (1 + fuel)`, the larger of the two additions. Source of the form and of the tests for
/// size: `shared/reference/delivery/parcel.md` sections 1 to 4.
///
/// # Errors
/// What is over a limit of the carrier's, for one it does not take.
pub fn parcel_charge(table: &ParcelTable, parcel: &Parcel) -> Result<Decimal, Excess> {
    let inches = |length: Length| length.covered_by(Length::inches(1));
    let whole = |count: u32| Length::inches(1).scaled(count.into(), 1);
    let [longest, second, _] = parcel.sides;
    if longest > inches(table.longest) {
        return Err(Excess::Length { is: whole(longest), most: table.longest });
    }
    let around = parcel.length_and_girth();
    if around > inches(table.length_and_girth) {
        return Err(Excess::LengthAndGirth { is: whole(around), most: table.length_and_girth });
    }
    if parcel.pounds > table.heaviest.value() {
        return Err(Excess::Weight { is: parcel.pounds, most: table.heaviest.value() });
    }
    let heavy = |limit: Count| parcel.pounds > limit.value();
    let bulky = |limit: Count| parcel.cubic_inches() > limit.value().into();
    let wide = |limit: Length| around > inches(limit);
    let awkward = table.awkward.as_ref().filter(|limit| {
        longest > inches(limit.longest)
            || second > inches(limit.second)
            || heavy(limit.pounds)
            || limit.cubic_inches.is_some_and(bulky)
            || limit.length_and_girth.is_some_and(wide)
    });
    let large = table.large.as_ref().filter(|limit| {
        longest > inches(limit.longest)
            || bulky(limit.cubic_inches)
            || limit.length_and_girth.is_some_and(wide)
            || limit.pounds.is_some_and(heavy)
    });
    let pounds = parcel.charged_pounds(table.divisor.value()).max(large.map_or(0, |large| large.least_pounds.value()));
    let band = table.bands.iter().find(|band| band.to.value() >= pounds).ok_or_else(|| {
        let (is, most) = (pounds, most(&table.bands));
        if pounds > parcel.pounds { Excess::ChargedWeight { is, most } } else { Excess::Weight { is, most } }
    })?;
    let awkward = awkward.map_or(Decimal::ZERO, |awkward| awkward.adds.value());
    let added = awkward.max(large.map_or(Decimal::ZERO, |large| large.adds.value()));
    let charge = band.price.value() + added + table.home_delivery.value();
    Ok(charge.times(Decimal::ONE + table.fuel.value()))
}

/// Every pack of every piece in a carton of its own.
pub(super) fn send(order: &Order<'_>, trip: &Trip<'_>) -> Outcome {
    let (delivery, pieces) = (&order.book.delivery, Decimal::from(order.resolved.quantity));
    let table = trip.region.parcel.as_ref().and_then(|key| delivery.parcels.iter().find(|table| table.key == *key));
    let (Some(table), Some(rates)) = (table, &delivery.cartons) else { return Err(Unreachable::NotOffered) };
    if trip.place.inside {
        return Err(Unreachable::StaysOutside);
    }
    let (mut carriage, mut packing, mut pounds, mut cartons) = (Decimal::ZERO, Decimal::ZERO, 0_u32, Decimal::ZERO);
    for (pack, weight) in weighed(order.resolved, order.takeoff) {
        let carton = crated(&rates.size, &pack, weight);
        let parcel = Parcel::new(carton.sides, carton.gross);
        carriage += parcel_charge(table, &parcel).map_err(Unreachable::TooLarge)?;
        packing += charge(rates, carton.surface());
        pounds = pounds.saturating_add(parcel.pounds);
        cartons += pieces;
    }
    let packing = CostLine::new(LineKind::Cartons, "", Guess::certain(packing * pieces));
    let carried = CostLine::new(LineKind::Parcel, "", guessed(order.book, carriage * pieces));
    Ok((
        vec![
            packing.of(cartons, QuantityUnit::Pieces),
            carried.of(Decimal::from(pounds) * pieces, QuantityUnit::Pounds),
        ],
        (table.days_least.value(), table.days_most.value()),
    ))
}
