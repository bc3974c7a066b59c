//! How far a shelf, a seat or a top bends under what it is meant to carry, now and in the long run.

use rust_decimal::Decimal;

use super::{Check, Figure, Finding, Level};
use crate::book::price_book::Stock;
use crate::bounded::Bounded;
use crate::design::{Carries, Resolved, ResolvedPart};
use crate::measure::{Axis, Length};
use crate::money::length_up;

/// A beam of one or more rectangles side by side.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Beam {
    /// From support to support.
    pub span: Length,
    /// Modulus of elasticity times second moment of area, all rectangles together, in lb in².
    pub rigidity: Decimal,
}

/// Millions of psi, as properties of timber are given.
const MILLION: Decimal = Decimal::from_parts(1_000_000, 0, 0, false, 0);
/// Long-lasting loads bend wood about twice as far as at first.
/// Source: FPL-GTR-190 (2010) ch. 5, from memory; `shared/reference/wood/deflection.md`.
const LASTING: Decimal = Decimal::TWO;
/// Bends over this part of the span are refused, and over half of it warned of. Common practice, no source.
const REFUSED: i64 = 120;

/// Second moment of area of a rectangle, `b h³ / 12`, in in⁴. Source: FPL-GTR-190 (2010) ch. 9.
fn second_moment(breadth: Length, depth: Length) -> Decimal {
    let (b, h) = (breadth.in_inches(), depth.in_inches());
    b.times(h).times(h).times(h) / Decimal::from(12)
}

/// The bend at midspan of a simply supported beam under a load in pounds, evenly spread: `5 W L³ / (384 E I)`, in inches.
///
/// The tabled modulus already holds what shear adds at ordinary proportions. Source: FPL-GTR-190 (2010) ch. 9, eq. 9-2 and
/// Table 9-1; `shared/reference/wood/deflection.md`, route a.
#[must_use]
pub fn deflection(beam: Beam, load: Decimal) -> Decimal {
    let span = beam.span.in_inches();
    let cubed = span.times(span).times(span);
    let bent = Decimal::from(5).times(load).times(cubed);
    bent.over(beam.rigidity.times(Decimal::from(384))).unwrap_or(span)
}

impl Beam {
    /// A beam of rectangles of such breadth and depth, each with its modulus in million psi.
    #[must_use]
    pub fn new(span: Length, rectangles: impl IntoIterator<Item = (Length, Length, Decimal)>) -> Self {
        let rigid = |(breadth, depth, stiffness): (Length, Length, Decimal)| {
            second_moment(breadth, depth).times(stiffness).times(MILLION)
        };
        let rigidity = rectangles.into_iter().map(rigid).fold(Decimal::ZERO, Decimal::plus);
        Self { span, rigidity }
    }
}

/// Every part that carries something.
pub(super) fn check(resolved: &Resolved<'_>) -> Vec<Finding> {
    resolved.parts.iter().filter_map(|part| Some(bend(resolved, part, part.part.carries.as_ref()?))).collect()
}

fn bend(resolved: &Resolved<'_>, part: &ResolvedPart<'_>, carries: &Carries) -> Finding {
    let span = carries.span.at(&resolved.sizes);
    let with = resolved.parts.iter().filter(|other| carries.stiffened_by.contains(&other.part.key));
    let rectangles = std::iter::once(part).chain(with).flat_map(|part| {
        let breadth_and_depth = (across(part), part.part.lies.along(Axis::Z, part.sizes()));
        part.boxes.iter().map(move |_| (breadth_and_depth.0, breadth_and_depth.1, stiffness(part)))
    });
    let beam = Beam::new(span, rectangles);
    let load = carries.pounds_per_foot.value().times(span.in_feet());
    let first = deflection(beam, load);
    let bent = if carries.lasting { first.times(LASTING) } else { first };
    let bent = length_up(bent.times(Decimal::new(254, 1))).min(span).to_sixty_fourth_up();
    let (refused, warned) = (span.scaled(1, REFUSED), span.scaled(1, REFUSED.saturating_mul(2)));
    let (level, most) = match bent {
        bent if bent > refused => (Level::Refuse, refused),
        bent if bent > warned => (Level::Warn, warned),
        _ => (Level::Note, warned),
    };
    let finding = Finding::of_part(Check::Sag, level, &part.part.name, Figure::Length(bent));
    finding.at_most(Figure::Length(most.to_sixty_fourth_up()))
}

/// What a level part measures across its length.
fn across(part: &ResolvedPart<'_>) -> Length {
    let flat = part.part.lies.thickness == Axis::Z;
    if flat { part.width } else { part.thickness }
}

/// In million psi. Resin carries nothing that can be counted on.
fn stiffness(part: &ResolvedPart<'_>) -> Decimal {
    match part.material.stock {
        Stock::Timber(timber) | Stock::Slab(_, timber) => timber.properties.stiffness.value(),
        Stock::Sheet(sheet) => sheet.stiffness.value(),
        Stock::Resin(_) => Decimal::ZERO,
    }
}
