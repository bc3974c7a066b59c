//! What a shop that measures in millimetres is told beside a field that the book counts in board feet, pounds or miles. The figure stays the
//! book's: it is never turned, so that what stands in the field is what stands in the file.

use rust_decimal::{Decimal, RoundingStrategy};
use scantling_pricing::measure::{LengthUnit, Quantity};

/// Words that say what a field counts in, with the quantity, and what its unit is called in the sentence.
const COUNTED: [(&[&str], Quantity, &str); 6] = [
    (&["board f"], Quantity::Timber, "board feet"),
    (&["square f"], Quantity::Surface, "square feet"),
    (&["cubic inch"], Quantity::Resin, "cubic inches"),
    (&["pound", "lb"], Quantity::Weight, "pounds"),
    (&["mile"], Quantity::Distance, "miles"),
    (&["per foot", "each foot"], Quantity::Run, "feet"),
];

/// What a field means, out of its label and its hint; beside millimetres with how much of its unit is one of the metric one.
#[must_use]
pub fn explained(label: &str, hint: &str, unit: LengthUnit) -> String {
    if unit == LengthUnit::Inch {
        return hint.to_owned();
    }
    let words = format!("{label} {hint}").to_lowercase();
    let named = COUNTED.iter().filter(|(names, ..)| names.iter().any(|name| has_word(&words, name)));
    let told = named.map(|(_, quantity, name)| format!("1 {} is {} {name}.", quantity.unit(unit), in_one(*quantity)));
    std::iter::once(hint.to_owned()).filter(|hint| !hint.is_empty()).chain(told).collect::<Vec<_>>().join(" ")
}

/// Whether words have one that starts with this.
fn has_word(words: &str, start: &str) -> bool {
    words
        .match_indices(start)
        .any(|(at, _)| words.get(..at).is_none_or(|before| !before.ends_with(|letter: char| letter.is_alphanumeric())))
}

/// How much of the unit a book counts in is one of the metric unit, to a thousandth.
fn in_one(quantity: Quantity) -> Decimal {
    let whole = Decimal::ONE.checked_div(quantity.metric()).unwrap_or_default();
    whole.round_dp_with_strategy(3, RoundingStrategy::MidpointAwayFromZero).normalize()
}

#[cfg(test)]
mod tests {
    use super::*;

    const METRIC: LengthUnit = LengthUnit::Millimetre;

    #[test]
    fn a_hint_says_how_much_of_the_book_s_unit_one_of_the_metric_unit_is() {
        // shared/reference/trade/board_measure.md has 423.776 board feet in a cubic metre; the others are one over the exact factors:
        // 1 / 0.09290304 = 10.7639, 1 / 0.45359237 = 2.20462, 1 / 1.609344 = 0.62137, 1 / 0.016387064 = 61.0237, 1 / 0.3048 = 3.28084.
        for (label, hint, told) in [
            (
                "Rates",
                "Money per board foot, by thickness class.",
                "Money per board foot, by thickness class. 1 m³ is 423.776 board feet.",
            ),
            (
                "Panel weight",
                "Pounds of panel per square foot.",
                "Pounds of panel per square foot. 1 m² is 10.764 square feet. 1 kg is 2.205 pounds.",
            ),
            ("Farthest miles", "", "1 km is 0.621 miles."),
            ("Rate", "Money per cubic inch, mixed.", "Money per cubic inch, mixed. 1 l is 61.024 cubic inches."),
            (
                "Runner weight",
                "Pounds of runner per foot.",
                "Pounds of runner per foot. 1 kg is 2.205 pounds. 1 m is 3.281 feet.",
            ),
            ("Margin", "Kept of the price.", "Kept of the price."),
            ("Days", "Compounded.", "Compounded."),
        ] {
            assert_eq!(explained(label, hint, METRIC), told);
            assert_eq!(explained(label, hint, LengthUnit::Inch), hint);
        }
    }
}
