//! Freight by the hundredweight: density to class, weight breaks, the next break when it is cheaper, fuel, and what the place asks for.

use rust_decimal::Decimal;

use super::{Order, Outcome, Trip, Unreachable, border, crates_of, guessed, shipment, taken};
use crate::book::delivery::{FreightTable, Rated};
use crate::brief::Site;
use crate::cost::{CostLine, LineKind, QuantityUnit};
use crate::measure::{Length, Volume, Weight};
use crate::range::Guess;

/// A freight class, in tenths so that 92.5 is whole.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct FreightClass(u32);

impl FreightClass {
    /// The class number: 92.5.
    #[must_use]
    pub fn number(self) -> Decimal {
        Decimal::new(self.0.into(), 1).normalize()
    }
}

/// Least density of each class in pounds per cubic foot, in tenths, densest first; the bound belongs to the class.
///
/// Source: the 13-sub density scale in force since 19 July 2025, `shared/reference/delivery/freight_class.csv`.
const SCALE: [(i64, u32); 13] = [
    (500, 500),
    (350, 550),
    (300, 600),
    (225, 650),
    (150, 700),
    (120, 850),
    (100, 925),
    (80, 1000),
    (60, 1250),
    (40, 1750),
    (20, 2500),
    (10, 3000),
    (0, 4000),
];

/// The class of so much weight in so much space, skids and crates included. Exact on both sides of every bound.
#[must_use]
pub fn density_class(gross: Weight, cube: Volume) -> FreightClass {
    let feet = cube.in_cubic_feet();
    let reaches = |tenths: i64| gross.in_pounds() >= Decimal::new(tenths, 1) * feet;
    let class = SCALE.into_iter().find(|(least, _)| reaches(*least)).map_or(4000, |(_, class)| class);
    FreightClass(class)
}

/// The class of the scale before 19 July 2025, which ended at 30 lb/ft3 and class 60.
///
/// Source: the 11-sub scale of `shared/reference/delivery/freight_class.csv`.
#[must_use]
pub fn older_density_class(gross: Weight, cube: Volume) -> FreightClass {
    density_class(gross, cube).max(FreightClass(600))
}

/// What the carrier charges to bring a shipment, fuel included: its linehaul.
///
/// `max(least, (1 - discount) x min over breaks (rate x max(weight, break) / 100)) x (1 + fuel)`, the rate at class 100 taken in
/// proportion to the class (common practice, no source).
/// Source of the order and of the break rule: `shared/reference/delivery/freight_class.md` section 4.
#[must_use]
pub fn linehaul(table: &FreightTable, gross: Weight, cube: Volume) -> Decimal {
    let class = match table.rated {
        Rated::Density => density_class(gross, cube).number(),
        Rated::OlderDensity => older_density_class(gross, cube).number(),
        Rated::Class(class) => class.value(),
    };
    let (class, weight) = (class / Decimal::ONE_HUNDRED, gross.in_pounds());
    let by_break = table.breaks.iter().map(|step| {
        let charged = weight.max(step.from.decimal());
        step.per_hundredweight.value() * class * charged / Decimal::ONE_HUNDRED
    });
    let gross = by_break.min().unwrap_or(Decimal::ZERO);
    let net = (gross * (Decimal::ONE - table.discount.map_or(Decimal::ZERO, |discount| discount.value())))
        .max(table.least.value());
    net * (Decimal::ONE + table.fuel.value())
}

/// What a shipment to such a place costs besides its linehaul, each charge by its name. Fuel is not reckoned on them.
///
/// Source: `shared/reference/delivery/freight_class.md` section 5; that a home has no dock and is served by appointment is common practice.
#[must_use]
pub fn accessorials(table: &FreightTable, trip: &Trip<'_>, longest: Length, gross: Weight) -> Vec<(LineKind, Decimal)> {
    let long = table.over_length.iter().rev().find(|step| longest >= step.from);
    let inside = table.inside.as_ref().filter(|_| trip.place.inside).map(|inside| {
        let by_weight = inside.per_hundredweight.value() * gross.in_pounds() / Decimal::ONE_HUNDRED;
        by_weight.max(inside.least.value())
    });
    let of_site = |holds: bool, charge: Decimal| if holds { charge } else { Decimal::ZERO };
    let site = trip.place.site;
    let charges = [
        (LineKind::Liftgate, of_site(site != Site::Dock, table.liftgate.value())),
        (LineKind::Residential, of_site(site == Site::Home, table.residential.value())),
        (LineKind::LimitedAccess, of_site(site == Site::LimitedAccess, table.limited_access.value())),
        (LineKind::OverLength, long.map_or(Decimal::ZERO, |step| step.adds.value())),
        (LineKind::Inside, inside.unwrap_or(Decimal::ZERO)),
    ];
    charges.into_iter().filter(|(_, charge)| !charge.is_zero()).collect()
}

/// Crates, linehaul and what the place asks for.
pub(super) fn send(order: &Order<'_>, trip: &Trip<'_>) -> Outcome {
    let tables = &order.book.delivery.freight;
    let table = trip.region.freight.as_ref().and_then(|key| tables.iter().find(|table| table.key == *key));
    let table = table.ok_or(Unreachable::NotOffered)?;
    if trip.place.inside && table.inside.is_none() {
        return Err(Unreachable::StaysOutside);
    }
    let shipment = shipment(order.book, order.resolved, order.takeoff);
    if border::is_unpriced(order, trip, &shipment) {
        return Err(Unreachable::NotOffered);
    }
    taken(&shipment, table.longest, table.heaviest)?;
    let haul = guessed(order.book, linehaul(table, shipment.gross, shipment.cube));
    let mut lines = crates_of(order, trip, &shipment);
    let pounds = shipment.gross.in_pounds();
    lines.push(CostLine::new(LineKind::Freight, "", haul).of(pounds, QuantityUnit::Pounds));
    let besides = accessorials(table, trip, shipment.longest(), shipment.gross);
    lines.extend(besides.into_iter().map(|(kind, charge)| CostLine::new(kind, "", Guess::certain(charge))));
    Ok((lines, (table.days_least.value(), table.days_most.value())))
}
