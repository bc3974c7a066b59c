//! Freight by the hundredweight: density to class, weight breaks, the next break when it is cheaper, fuel, home delivery.

use rust_decimal::Decimal;

use super::Shipment;
use crate::book::delivery::FreightTable;
use crate::measure::{Volume, Weight};

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

/// What the carrier charges for a shipment to a home.
///
/// `max(least, (1 - discount) x min over breaks (rate x max(weight, break) / 100)) x (1 + fuel) + home delivery`, the rate at
/// class 100 taken in proportion to the class (common practice, no source).
/// Source of the order and of the break rule: `shared/reference/delivery/freight_class.md` section 4.
#[must_use]
pub fn carriage(table: &FreightTable, shipment: &Shipment) -> Decimal {
    let class = density_class(shipment.gross, shipment.cube).number() / Decimal::ONE_HUNDRED;
    let weight = shipment.gross.in_pounds();
    let by_break = table.breaks.iter().map(|step| {
        let charged = weight.max(step.from.decimal());
        step.per_hundredweight.value() * class * charged / Decimal::ONE_HUNDRED
    });
    let gross = by_break.min().unwrap_or(Decimal::ZERO);
    let net = (gross * (Decimal::ONE - table.discount.map_or(Decimal::ZERO, |discount| discount.value())))
        .max(table.least.value());
    net * (Decimal::ONE + table.fuel.value()) + table.home_delivery.value()
}
