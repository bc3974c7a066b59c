//! What drives the work: how many parts, feet, joints there are, plain and weighed by how hard the timber is to work.

use crate::map::Map;
use rust_decimal::Decimal;

use crate::book::price_book::Stock;
use crate::book::work::Driver;
use crate::design::ResolvedPart;

/// The amount of one driver.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Drive {
    /// How much there is.
    pub amount: Decimal,
    /// How much there is, each unit counted as often as its timber's work factor says.
    pub worked: Decimal,
}

/// The amounts of all drivers of a brief.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Drivers(Map<Driver, Drive>);

impl Drivers {
    /// Counts so much more of a driver, in timber of this work factor.
    pub(super) fn add(&mut self, driver: Driver, amount: Decimal, factor: Decimal) {
        if amount.is_zero() {
            return;
        }
        let worked = amount * factor;
        match self.0.get_mut(&driver) {
            Some(drive) => {
                drive.amount += amount;
                drive.worked += worked;
            }
            None => drop(self.0.insert(driver, Drive { amount, worked })),
        }
    }

    /// The amount of a driver; nothing when the brief has none of it.
    #[must_use]
    pub fn get(&self, driver: &Driver) -> Option<Drive> {
        self.0.get(driver).copied()
    }
}

/// How much longer a part takes than one in the shop's usual timber. Resin is cast, not worked: its pours count by themselves.
pub(super) fn work_factor(part: &ResolvedPart<'_>) -> Decimal {
    match part.material.stock {
        Stock::Timber(timber) | Stock::Slab(_, timber) => timber.work_factor.value(),
        Stock::Sheet(sheet) => sheet.work_factor.value(),
        Stock::Resin(_) => Decimal::ONE,
    }
}
