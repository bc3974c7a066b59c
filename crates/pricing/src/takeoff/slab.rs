//! Slabs: area from the stations, what flattening leaves, and the share of the slab's price that falls on the piece.

use rust_decimal::Decimal;

use super::{Allowances, Takeoff};
use crate::book::stock::{Slab, SlabBasis, Timber};
use crate::book::work::Driver;
use crate::bounded::Bounded;
use crate::design::ResolvedPart;
use crate::measure::{Area, BoardFeet, Length};
use crate::money::length_up;
use crate::problem::Problem;

/// What a brief takes of one slab.
#[derive(Debug, Clone)]
pub struct SlabUse<'b> {
    /// The slab.
    pub slab: &'b Slab,
    /// Board feet of it in the cut pieces, at the slab's rough thickness.
    pub board_feet: BoardFeet,
    /// The share of its face that is cut out.
    pub share: Decimal,
    /// The thickness left once the cut pieces are flat: the least of them.
    pub left: Length,
    /// Length of the cut pieces, end to end.
    pub length: Length,
}

impl<'b> SlabUse<'b> {
    /// What one cut of this length and width takes of a slab: to see what each basis would charge, whether it can be had or not.
    #[must_use]
    pub fn of_cut(slab: &'b Slab, length: Length, width: Length, allowances: &Allowances) -> Self {
        let mut used = Self::new(slab);
        used.add(1, (length, width), allowances);
        used.left = flattened(slab, length, width, allowances.slab_skim);
        used
    }

    /// Takes so many cuts of one length and width.
    fn add(&mut self, cuts: u32, (length, width): (Length, Length), allowances: &Allowances) {
        let cut_length = length + allowances.length;
        let cut_area = Area::of(cut_length, width) * Decimal::from(cuts);
        self.share += cut_area.share_of(slab_area(self.slab)).unwrap_or(Decimal::ONE);
        self.length = self.length + cut_length.scaled(cuts.into(), 1);
        self.board_feet = self.board_feet + BoardFeet::in_volume(cut_area.by(self.slab.thickness));
    }

    /// What falls on the piece by the slab's own basis.
    #[must_use]
    pub fn value(&self) -> Decimal {
        self.charged(self.slab.basis)
    }

    /// What would fall on the piece by a basis. The slab is of one thickness, so its volume and its face are shared alike.
    #[must_use]
    pub fn charged(&self, basis: SlabBasis) -> Decimal {
        let (slab, price) = (self.slab, self.slab.price.value());
        match basis {
            SlabBasis::Volume | SlabBasis::Face => price * self.share,
            SlabBasis::SalesValue => {
                let piece = self.share * slab.worth.value();
                let leftover = (Decimal::ONE - self.share) * slab.leftover_worth.value();
                price * piece.over(piece + leftover).unwrap_or(Decimal::ONE)
            }
            SlabBasis::Replacement => self.board_feet.value() * slab.worth.value(),
            SlabBasis::Whole => price,
            SlabBasis::Nothing => Decimal::ZERO,
        }
    }

    /// What is left over: its share of the slab's face, shares sold before taken off, and the length not cut yet by this piece.
    #[must_use]
    pub fn left_over(&self) -> (Decimal, Length) {
        (Decimal::ONE - self.slab.sold() - self.share, self.slab.length - self.length)
    }

    /// A slab nothing has been cut from yet.
    const fn new(slab: &'b Slab) -> Self {
        Self { slab, board_feet: BoardFeet::ZERO, share: Decimal::ZERO, left: slab.thickness, length: Length::ZERO }
    }
}

/// The face of a slab from its stations, evenly spaced, by trapezoids.
///
/// Source: `shared/reference/trade/slab.md` section 1. Fewer than two widths give no area.
#[must_use]
pub fn slab_area(slab: &Slab) -> Area {
    Area::of(slab.length, mean_width(&slab.widths))
}

/// The mean width by trapezoids: the ends count half.
fn mean_width(widths: &[Length]) -> Length {
    let (Some(first), Some(last), Some(gaps)) = (widths.first(), widths.last(), widths.len().checked_sub(1)) else {
        return Length::ZERO;
    };
    let twice = widths.iter().fold(Length::ZERO, |sum, width| sum + width.scaled(2, 1)) - *first - *last;
    twice.scaled(1, i64::try_from(gaps).unwrap_or(1).saturating_mul(2))
}

/// What flattening takes off a cut piece, and what it leaves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Flattening {
    /// What is left of the bow.
    pub bow: Decimal,
    /// What is left of the cup.
    pub cup: Decimal,
    /// Half of what is left of the twist: the other half goes when the piece is shimmed level.
    pub twist: Decimal,
    /// Taken off both faces to make them clean.
    pub skim: Length,
    /// The thickness that is left; nothing or less where the piece is planed away.
    pub left: Length,
}

/// What flattening does to a piece of this length and width once it is cut from the slab: bow, cup and twist in millimetres.
///
/// A cut of length l out of L keeps bow x (l/L)^2, of width w out of W cup x (w/W)^2, and twist in proportion to both, half
/// of which comes off when the piece is shimmed level. Source: arc geometry, `shared/reference/trade/slab.md` section 2.
#[must_use]
pub fn flattening(slab: &Slab, length: Length, width: Length, skim: Length) -> Flattening {
    let part = |cut: Length, whole: Length| {
        cut.in_millimetres().over(whole.in_millimetres()).unwrap_or(Decimal::ONE).min(Decimal::ONE)
    };
    let along = part(length, slab.length);
    let across = part(width, mean_width(&slab.widths));
    let bow = slab.bow.in_millimetres() * along * along;
    let cup = slab.cup.in_millimetres() * across * across;
    let twist = slab.twist.in_millimetres() * along * across / Decimal::TWO;
    Flattening { bow, cup, twist, skim, left: slab.thickness - length_up(bow + cup + twist) - skim }
}

/// The thickness left when a piece of this length and width is cut from the slab and then flattened.
#[must_use]
pub fn flattened(slab: &Slab, length: Length, width: Length, skim: Length) -> Length {
    flattening(slab, length, width, skim).left
}

/// The thickness left of a part's cut once it is flat.
///
/// # Errors
/// When the slab is too small for the cut, or too thin once flat.
pub(super) fn cut(slab: &Slab, part: &ResolvedPart<'_>, allowances: &Allowances) -> Result<Length, Problem> {
    let needs = (part.length + allowances.length, part.width);
    let narrowest = slab.widths.iter().min().copied().unwrap_or(Length::ZERO);
    if needs.0 > slab.length || needs.1 > narrowest {
        return Err(Problem::SlabTooSmall { slab: slab.name.to_string(), needs, has: (slab.length, narrowest) });
    }
    let left = flattened(slab, part.length, part.width, allowances.slab_skim);
    if left < part.thickness {
        return Err(Problem::SlabTooThin { slab: slab.name.to_string(), needs: part.thickness, left });
    }
    Ok(left)
}

/// Takes a part's cut off its slab.
pub(super) fn take<'b>(
    (slab, timber): (&'b Slab, &'b Timber),
    part: &ResolvedPart<'_>,
    quantity: u32,
    allowances: &Allowances,
    takeoff: &mut Takeoff<'b>,
) -> Result<(), Problem> {
    let cuts = part.count().saturating_mul(quantity);
    let left = cut(slab, part, allowances)?;
    // Another part may have been cut from the same slab: there is one of it, and its price is shared out once.
    let earlier = takeoff.slabs.iter().position(|used| used.slab.key == slab.key);
    let mut used = earlier.map_or_else(|| SlabUse::new(slab), |i| takeoff.slabs.remove(i));
    used.add(cuts, (part.length, part.width), allowances);
    if !slab.saleable || used.share + slab.sold() > Decimal::ONE || used.length > slab.length {
        return Err(Problem::SlabGone(slab.name.to_string()));
    }
    used.left = used.left.min(left);
    let face = Area::of(part.length, part.width) * Decimal::from(cuts);
    takeoff.drivers.add(Driver::SlabSquareFoot, face.in_square_feet() * Decimal::TWO, timber.work_factor.value());
    takeoff.slabs.push(used);
    Ok(())
}
