//! The maker's own van: there and back by the mile, loading and placing by the trip, a helper for what is heavy or long, nights away.

use rust_decimal::Decimal;

use super::distance::{great_circle_miles, road_miles};
use super::packing::weighed;
use super::{Order, Outcome, Place, Trip, Unreachable, read_place};
use crate::book::PriceBook;
use crate::book::delivery::{Overnight, VanRate, VanTo};
use crate::book::values::Text;
use crate::bounded::Bounded;
use crate::brief::Destination;
use crate::cost::{CostLine, LineKind, QuantityUnit};
use crate::range::Guess;

/// Where the shop is; nothing when its postal code does not read, which the book check refuses where the van goes by distance.
#[must_use]
pub(crate) fn origin(book: &PriceBook) -> Option<Place> {
    let code = Text::new(book.shop.postal_code.as_str()).ok();
    read_place(&Destination::new(book.shop.country.clone(), code)).ok()
}

/// Road miles one way, and whether they are reckoned rather than stated.
fn miles_to(book: &PriceBook, rate: &VanRate, to: &VanTo, place: &Place) -> Option<(u32, bool)> {
    if let Some(stated) = to.miles {
        return Some((stated.value(), false));
    }
    let from = origin(book)?;
    let crow = great_circle_miles(book.atlas.point(&from)?, book.atlas.point(place)?);
    Some((road_miles(crow, &from.country, rate.circuity), true))
}

/// Nights away on a trip of so many miles one way.
fn nights(overnight: &Overnight, miles: u32) -> u32 {
    miles.div_ceil(overnight.beyond_miles.value().max(1)).saturating_sub(1)
}

/// How far a distance reckoned from postal codes may be off, as a share of what goes by the mile.
/// Source: `shared/reference/delivery/own_van.md` section 3: 10 % over 100 miles, 20 % under (common practice).
fn doubt(miles: u32) -> Decimal {
    Decimal::new(if miles > 100 { 10 } else { 20 }, 2)
}

/// Source of the cost model: `shared/reference/delivery/own_van.md` section 1.
pub(super) fn send(order: &Order<'_>, trip: &Trip<'_>) -> Outcome {
    let (Some(rate), Some(to)) = (&order.book.delivery.van, &trip.region.van) else {
        return Err(Unreachable::NotOffered);
    };
    let (miles, reckoned) = miles_to(order.book, rate, to, trip.place).ok_or(Unreachable::Unmeasured)?;
    let farthest = rate.farthest_miles.value();
    if miles > farthest {
        return Err(Unreachable::TooFar { miles, farthest });
    }
    let driven = Decimal::from(miles) * Decimal::TWO;
    let by_mile = |per_mile: Decimal, per_trip: Decimal| {
        let deviation = if reckoned { driven.times(per_mile).times(doubt(miles)).over(Decimal::from(3)) } else { None };
        Guess { mean: driven.times(per_mile).plus(per_trip), deviation: deviation.unwrap_or(Decimal::ZERO) }
    };
    let drive = by_mile(rate.per_mile.value(), rate.per_trip.value());
    let mut lines = vec![CostLine::new(LineKind::Van, "", drive).of(driven, QuantityUnit::Miles)];
    let heavy_or_long = rate.helper.as_ref().filter(|helper| {
        weighed(order.resolved, order.takeoff).iter().any(|(pack, weight)| {
            weight.in_pounds() > helper.pounds.decimal() || pack.sides.iter().any(|side| *side > helper.length)
        })
    });
    if let Some(helper) = heavy_or_long {
        let charge = by_mile(helper.per_mile.value(), helper.per_trip.value());
        lines.push(CostLine::new(LineKind::Helper, "", charge));
    }
    let nights = rate.overnight.as_ref().map_or(0, |overnight| nights(overnight, miles));
    if let Some(overnight) = rate.overnight.as_ref().filter(|_| nights > 0) {
        let beds = Decimal::from(nights) * Decimal::from(if heavy_or_long.is_some() { 2 } else { 1 });
        let charge = Guess::certain(beds * overnight.each.value());
        lines.push(CostLine::new(LineKind::Nights, "", charge).of(beds, QuantityUnit::Nights));
    }
    if let Some(tolls) = to.tolls.filter(|tolls| !tolls.value().is_zero()) {
        lines.push(CostLine::new(LineKind::Tolls, "", Guess::certain(tolls.value())));
    }
    let days = nights.saturating_add(1);
    Ok((lines, (days, days)))
}
