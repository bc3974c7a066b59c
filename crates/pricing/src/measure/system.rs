//! Quantities as readers of either system are shown them. Books, requests and estimates count in board feet, square feet, cubic inches,
//! pounds and miles; whoever reads lengths in millimetres reads cubic and square metres, litres, kilograms and kilometres.

use rust_decimal::Decimal;

use super::LengthUnit;
use super::quantity::{KILOGRAMS_PER_POUND, MM2_PER_SQUARE_FOOT, MM3_PER_BOARD_FOOT, MM3_PER_CUBIC_INCH};
use crate::bounded::Bounded;
use crate::money::half_up;

/// A kind of quantity that the two systems count differently.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quantity {
    /// Timber: board feet, or cubic metres.
    Timber,
    /// A surface: square feet, or square metres.
    Surface,
    /// Resin: cubic inches, or litres.
    Resin,
    /// A weight: pounds, or kilograms.
    Weight,
    /// A way by road: miles, or kilometres.
    Distance,
    /// Battens and runners: feet, or metres.
    Run,
}

/// Kilometres in a mile and metres in a foot, exactly: the international mile and foot, as in the inch of 25.4 mm (NIST SP 811, appendix B).
const KM_PER_MILE: Decimal = Decimal::from_parts(1_609_344, 0, 0, false, 6);
const M_PER_FOOT: Decimal = Decimal::from_parts(3048, 0, 0, false, 4);

/// Decimals of a quantity that was typed in its metric unit, in the unit that is held: as many as the least a book may hold has.
const HELD: u32 = 4;

impl Quantity {
    /// How much of the metric unit is in one of the unit that is held, exactly.
    #[must_use]
    pub fn metric(self) -> Decimal {
        match self {
            Self::Timber => MM3_PER_BOARD_FOOT.times(Decimal::new(1, 9)),
            Self::Surface => MM2_PER_SQUARE_FOOT.times(Decimal::new(1, 6)),
            Self::Resin => MM3_PER_CUBIC_INCH.times(Decimal::new(1, 6)),
            Self::Weight => KILOGRAMS_PER_POUND,
            Self::Distance => KM_PER_MILE,
            Self::Run => M_PER_FOOT,
        }
    }

    /// Decimals that are shown of the metric unit: about as fine as the other is shown.
    const fn decimals(self) -> u32 {
        match self {
            Self::Timber => 4,
            Self::Resin => 3,
            Self::Surface => 2,
            Self::Weight | Self::Run => 1,
            Self::Distance => 0,
        }
    }

    /// So much of what is held as it is shown: as it stands beside inches, rounded in the metric unit beside millimetres.
    #[must_use]
    pub fn shown(self, held: Decimal, unit: LengthUnit) -> Decimal {
        match unit {
            LengthUnit::Inch => held,
            LengthUnit::Millimetre => half_up(held.times(self.metric()), self.decimals()).normalize(),
        }
    }

    /// What is held of so much as it was typed in the unit that is shown.
    #[must_use]
    pub fn held(self, shown: Decimal, unit: LengthUnit) -> Decimal {
        match unit {
            LengthUnit::Inch => shown,
            LengthUnit::Millimetre => half_up(shown.over(self.metric()).unwrap_or(Decimal::ZERO), HELD).normalize(),
        }
    }

    /// The unit that is shown, as it stands after a number.
    #[must_use]
    pub const fn unit(self, unit: LengthUnit) -> &'static str {
        match (self, unit) {
            (Self::Timber, LengthUnit::Inch) => "board feet",
            (Self::Timber, LengthUnit::Millimetre) => "m³",
            (Self::Surface, LengthUnit::Inch) => "sq ft",
            (Self::Surface, LengthUnit::Millimetre) => "m²",
            (Self::Resin, LengthUnit::Inch) => "cu in",
            (Self::Resin, LengthUnit::Millimetre) => "l",
            (Self::Weight, LengthUnit::Inch) => "lb",
            (Self::Weight, LengthUnit::Millimetre) => "kg",
            (Self::Distance, LengthUnit::Inch) => "miles",
            (Self::Distance, LengthUnit::Millimetre) => "km",
            (Self::Run, LengthUnit::Inch) => "ft",
            (Self::Run, LengthUnit::Millimetre) => "m",
        }
    }

    /// So much of what is held, with the unit it is shown in.
    #[must_use]
    pub fn show(self, held: Decimal, unit: LengthUnit) -> String {
        format!("{} {}", self.shown(held, unit), self.unit(unit))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const METRIC: LengthUnit = LengthUnit::Millimetre;

    fn decimal(text: &str) -> Decimal {
        text.parse().unwrap()
    }

    #[test]
    fn factors_are_those_that_are_published() {
        // Board foot: shared/reference/trade/board_measure.md, 0.002359737216 m3 exactly. Cubic inch: trade/resin.md, 16.387064 ml exactly.
        // Mile: delivery/own_van.md, 1.609344 km exactly. Pound, foot and square foot: the international yard and pound of 1959 (NIST SP 811,
        // appendix B), from memory.
        for (quantity, factor) in [
            (Quantity::Timber, "0.002359737216"),
            (Quantity::Surface, "0.09290304"),
            (Quantity::Resin, "0.016387064"),
            (Quantity::Weight, "0.45359237"),
            (Quantity::Distance, "1.609344"),
            (Quantity::Run, "0.3048"),
        ] {
            assert_eq!(quantity.metric(), decimal(factor), "{quantity:?}");
        }
    }

    #[test]
    fn what_is_held_is_shown_in_the_unit_of_its_reader() {
        let both =
            |quantity: Quantity, held: &str| [LengthUnit::Inch, METRIC].map(|unit| quantity.show(decimal(held), unit));
        // shared/reference/trade/board_measure.md: a cubic metre is 423.776 board feet.
        assert_eq!(both(Quantity::Timber, "423.776"), ["423.776 board feet", "1 m³"]);
        assert_eq!(both(Quantity::Surface, "51.63"), ["51.63 sq ft", "4.8 m²"]);
        assert_eq!(both(Quantity::Resin, "1008"), ["1008 cu in", "16.518 l"]);
        assert_eq!(both(Quantity::Weight, "102"), ["102 lb", "46.3 kg"]);
        assert_eq!(both(Quantity::Distance, "25"), ["25 miles", "40 km"]);
        assert_eq!(both(Quantity::Run, "89.3"), ["89.3 ft", "27.2 m"]);
    }

    #[test]
    fn what_is_typed_is_held_in_the_unit_of_the_book() {
        let held = |quantity: Quantity, shown: &str, unit| quantity.held(decimal(shown), unit).to_string();
        assert_eq!(held(Quantity::Timber, "0.29", METRIC), "122.895");
        assert_eq!(held(Quantity::Resin, "2.5", METRIC), "152.5594");
        assert_eq!(held(Quantity::Timber, "12.50", LengthUnit::Inch), "12.50");
        // Typed back, it is shown as it was typed.
        for (quantity, typed) in [(Quantity::Timber, "0.0285"), (Quantity::Resin, "0.049"), (Quantity::Resin, "16.518")]
        {
            assert_eq!(quantity.shown(quantity.held(decimal(typed), METRIC), METRIC), decimal(typed));
        }
    }
}
