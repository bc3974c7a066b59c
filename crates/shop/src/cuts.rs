//! Cuts of a slab in words and figures: which are looked at, and what is said of one that can't be had.

use rust_decimal::prelude::ToPrimitive;
use rust_decimal::{Decimal, RoundingStrategy};
use scantling_drawing::Shape;
use scantling_pricing::book::stock::{Slab, SlabBasis};
use scantling_pricing::measure::{Length, LengthUnit};
use scantling_pricing::takeoff::SlabUse;

use crate::percent::percent_of;

/// The cut that is looked at first: half the slab's length, as wide as its narrowest place.
#[must_use]
pub fn usual(slab: &Slab) -> (Length, Length) {
    (slab.length.scaled(1, 2), slab.widths.iter().min().copied().unwrap_or(Length::ZERO))
}

/// The outline of a cut on the drawing of its slab: from the left end, in the middle; nothing for one that does not go into it.
#[must_use]
pub fn outline(slab: &Slab, (length, width): (Length, Length)) -> Option<Shape> {
    let fits = length.is_positive() && width.is_positive() && length <= slab.length;
    let millimetres = |length: Length| length.in_millimetres().round().to_i64();
    let (right, low) = (millimetres(length).filter(|_| fits)?, millimetres(width.scaled(1, 2))?);
    let high = low.checked_neg()?;
    let corners = [(0, high), (right, high), (right, low), (0, low)];
    let sides = corners.iter().zip(corners.iter().cycle().skip(1));
    Some(Shape::Ruler(sides.map(|(from, to)| [*from, *to]).collect()))
}

/// The whole of a slab and parts of its length, each by what it is called.
#[must_use]
pub fn by_length(slab: &Slab, unit: LengthUnit) -> Vec<(String, Length)> {
    let parts =
        [("All its length", 1, 1), ("Three quarters", 3, 4), ("Half", 1, 2), ("A third", 1, 3), ("A quarter", 1, 4)];
    let one = |(name, top, bottom): (&str, i64, i64)| {
        let length = slab.length.scaled(top, bottom);
        let shown = match unit {
            LengthUnit::Inch => length.to_sixty_fourth_down().show(unit),
            LengthUnit::Millimetre => show_down(length, unit),
        };
        (format!("{name}, {shown}"), length)
    };
    parts.into_iter().map(one).collect()
}

/// Why a cut can't be had; nothing where it can.
#[must_use]
pub fn too_much(used: &SlabUse<'_>, (length, width): (Length, Length), unit: LengthUnit) -> Option<String> {
    let slab = used.slab;
    let narrowest = slab.widths.iter().min().copied().unwrap_or(Length::ZERO);
    let (left, left_length) = used.left_over();
    if !length.is_positive() || !width.is_positive() {
        Some("A cut is longer and wider than nothing.".to_owned())
    } else if (-left_length).is_positive() {
        Some(format!(
            "The slab is {} long: with what the saw needs at the ends the cut does not go into it.",
            slab.length.show(unit)
        ))
    } else if width > narrowest {
        Some(format!(
            "The slab is {} wide at its narrowest: a cut that wide keeps some of its edge.",
            narrowest.show(unit)
        ))
    } else if left.is_sign_negative() {
        Some("More was sold of it than is left for this cut.".to_owned())
    } else {
        None
    }
}

/// What a basis goes by.
#[must_use]
pub const fn basis_in_words(basis: SlabBasis) -> &'static str {
    match basis {
        SlabBasis::Volume => "Share of its volume",
        SlabBasis::Face => "Share of its face",
        SlabBasis::SalesValue => "What cut and rest would sell for",
        SlabBasis::Replacement => "What equal stock costs today",
        SlabBasis::Whole => "The whole slab",
        SlabBasis::Nothing => "Nothing",
    }
}

/// A share in percent, to one decimal.
#[must_use]
pub fn percent(share: Decimal) -> Decimal {
    percent_of(share, Decimal::ONE, 1).normalize()
}

/// Millimetres as a figure a rule shows: a sixty-fourth of an inch or a tenth of a millimetre, up, since it is lost.
#[must_use]
pub fn show_part(millimetres: Decimal, unit: LengthUnit) -> String {
    let nanometres =
        millimetres.checked_mul(Decimal::from(1_000_000)).and_then(|nanometres| nanometres.ceil().to_i64());
    show_up(Length::from_nanometres(nanometres.unwrap_or(0)), unit)
}

/// A length up to what a rule shows.
#[must_use]
pub fn show_up(length: Length, unit: LengthUnit) -> String {
    match unit {
        LengthUnit::Inch => length.to_sixty_fourth_up().show(unit),
        LengthUnit::Millimetre => tenths(length, RoundingStrategy::ToPositiveInfinity),
    }
}

/// A length down to what a rule shows.
#[must_use]
pub fn show_down(length: Length, unit: LengthUnit) -> String {
    match unit {
        LengthUnit::Inch => length.to_sixty_fourth_down().show(unit),
        LengthUnit::Millimetre => tenths(length, RoundingStrategy::ToNegativeInfinity),
    }
}

fn tenths(length: Length, strategy: RoundingStrategy) -> String {
    format!("{} mm", length.in_millimetres().round_dp_with_strategy(1, strategy).normalize())
}

#[cfg(test)]
mod tests {
    use scantling_pricing::book::ShopBook;
    use scantling_pricing::takeoff::flattening;
    use scantling_pricing::worksheet::BASES;

    use super::*;

    fn inches(text: &str) -> Length {
        use scantling_pricing::measure::{DecimalMark, read_length};
        read_length(text, LengthUnit::Inch, DecimalMark::Point).unwrap()
    }

    /// Worked by hand. A slab of 80 in by 20 in, 2 in thick, bow 1/2 in, cup 1/4 in, twist 1/4 in. A cut of half its length and all its
    /// width keeps a quarter of the bow, 1/8 in, all of the cup, 1/4 in, and of the twist half of a half, 1/16 in.
    #[test]
    fn a_cut_loses_what_its_length_and_width_keep_of_bow_cup_and_twist() {
        let mut slab = ShopBook::read(crate::DEMO).unwrap().slabs.remove(0);
        (slab.length, slab.widths, slab.thickness) = (inches("80"), vec![inches("20"); 3], inches("2"));
        (slab.bow, slab.cup, slab.twist) = (inches("1/2"), inches("1/4"), inches("1/4"));
        let flat = flattening(&slab, inches("40"), inches("20"), inches("1/8"));
        let shown = [flat.bow, flat.cup, flat.twist].map(|part| show_part(part, LengthUnit::Inch));
        assert_eq!(shown, ["1/8 in", "1/4 in", "1/16 in"]);
        assert_eq!(show_down(flat.left, LengthUnit::Inch), "1 7/16 in");
        // What is lost and what is left are the thickness it had.
        let lost = flat.bow + flat.cup + flat.twist + flat.skim.in_millimetres();
        assert_eq!(lost + flat.left.in_millimetres(), slab.thickness.in_millimetres());
    }

    /// Worked by hand. A cut of 40 in by 20 in with 2 in for the saw takes 42/80 = 0.525 of the face. Of 400 paid, 210 by volume or face; of
    /// 24 and 8 a board foot, 0.525 x 24 = 12.6 against 0.475 x 8 = 3.8, 400 x 12.6/16.4 = 307.32; its 11.6667 board feet at 24, 280.
    #[test]
    fn six_bases_fall_on_a_cut_side_by_side() {
        let mut book = ShopBook::read(crate::DEMO).unwrap();
        let mut slab = book.slabs.remove(0);
        (slab.length, slab.widths, slab.thickness) = (inches("80"), vec![inches("20"); 3], inches("2"));
        let amount = |text: &str| Node::Text(text.into()).read_as().unwrap();
        (slab.price, slab.worth, slab.leftover_worth) = (amount("400"), amount("24"), amount("8"));
        let mut allowances = book.allowances;
        allowances.length = inches("2");
        let used = SlabUse::of_cut(&slab, inches("40"), inches("20"), &allowances);
        assert_eq!(percent(used.share).to_string(), "52.5");
        let charged = BASES.map(|basis| used.charged(basis).round_dp(2).normalize().to_string());
        assert_eq!(charged, ["210", "210", "307.32", "280", "400", "0"]);
        assert_eq!(too_much(&used, (inches("40"), inches("20")), LengthUnit::Inch), None);
        assert!(
            matches!(outline(&slab, (inches("40"), inches("20"))), Some(Shape::Ruler(sides)) if sides[0] == [(0, -254), (1016, -254)] && sides.len() == 4)
        );
        assert_eq!(outline(&slab, (inches("81"), inches("20"))), None);
        let long = SlabUse::of_cut(&slab, inches("79"), inches("20"), &allowances);
        assert!(too_much(&long, (inches("79"), inches("20")), LengthUnit::Inch).unwrap().contains("80 in long"));
    }

    use scantling_pricing::book::document::Node;
}
