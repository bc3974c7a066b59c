//! Board timber: finished part, rough blank, thickness class or layers, staves, board feet, and what is bought for them.

use rust_decimal::Decimal;

use super::{Allowances, Takeoff};
use crate::book::stock::{Premium, Tally, Timber};
use crate::book::values::ThreePoint;
use crate::book::work::Driver;
use crate::design::ResolvedPart;
use crate::measure::{BoardFeet, Length, ThicknessClass, board_feet};
use crate::problem::Problem;

/// The most layers a part is laminated in. Common practice, no source.
const MOST_LAYERS: u32 = 4;

/// What one part is cut from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Blank {
    /// The class of every board in it.
    pub class: ThicknessClass,
    /// Layers glued face to face.
    pub layers: u32,
    /// Staves glued edge to edge in each layer.
    pub staves: u32,
    /// Length of each board.
    pub length: Length,
    /// Width of each board.
    pub stave_width: Length,
    /// Board feet of all of them.
    pub board_feet: BoardFeet,
    /// Feet of glue line between staves and between layers.
    pub glue_line: Length,
}

/// What a brief takes of one thickness class of a species.
#[derive(Debug, Clone)]
pub struct TimberUse<'b> {
    /// The species.
    pub timber: &'b Timber,
    /// The class.
    pub class: ThicknessClass,
    /// Board feet in the blanks.
    pub net: BoardFeet,
    /// Board feet to buy for them, by how good the yield turns out.
    pub bought: ThreePoint<BoardFeet>,
    /// What buying them comes to, by how good the yield turns out: board feet at the rate of the class, premiums included.
    pub value: ThreePoint<Decimal>,
    /// The longest and the widest blank: some of the boards must hold them.
    pub largest: (Length, Length),
}

/// The smallest class that covers the part in one, else the fewest layers that do and then the smallest class for those.
fn class_for(timber: &Timber, thickness: Length) -> Option<(ThicknessClass, u32)> {
    (1..=MOST_LAYERS).find_map(|layers| {
        let each = thickness.share_rounded_up(layers);
        timber.rates.keys().find(|class| class.surfaced() >= each).map(|class| (*class, layers))
    })
}

/// The blank of a part.
///
/// # Errors
/// When the part is longer than any board, or thicker than the species is sold even in layers.
///
/// Source of the allowances and of gross footage: `shared/reference/trade/yield.md` section 4.
pub fn blank(timber: &Timber, part: &ResolvedPart<'_>, allowances: &Allowances) -> Result<Blank, Problem> {
    let name = || part.part.name.to_string();
    let length = part.length + allowances.length;
    if length > timber.longest {
        return Err(Problem::PartTooLong {
            part: name(),
            material: timber.name.to_string(),
            needs: length,
            longest: timber.longest,
        });
    }
    let (class, layers) = class_for(timber, part.thickness).ok_or_else(|| Problem::PartTooThick {
        part: name(),
        material: timber.name.to_string(),
        needs: part.thickness,
    })?;
    let staves = part.width.covered_by(timber.widest - allowances.width).max(1);
    let stave_width = part.width.share_rounded_up(staves) + allowances.width;
    let boards = Decimal::from(layers) * Decimal::from(staves);
    let edges = i64::from(layers).saturating_mul(i64::from(staves).saturating_sub(1));
    let faces = i64::from(layers).saturating_sub(1);
    Ok(Blank {
        class,
        layers,
        staves,
        length,
        stave_width,
        board_feet: board_feet(class.nominal(), stave_width, length) * boards,
        glue_line: part.length.scaled(edges.saturating_add(faces), 1),
    })
}

/// Takes a part's boards off.
pub(super) fn take<'b>(
    timber: &'b Timber,
    part: &ResolvedPart<'_>,
    pieces: Decimal,
    allowances: &Allowances,
    takeoff: &mut Takeoff<'b>,
) -> Result<(), Problem> {
    let blank = blank(timber, part, allowances)?;
    let net = blank.board_feet * pieces;
    let factor = timber.work_factor.value();
    takeoff.drivers.add(Driver::BoardFoot, net.value(), factor);
    takeoff.drivers.add(Driver::GlueFoot, blank.glue_line.in_feet() * pieces, factor);
    let rate = timber.rates.get(&blank.class).map_or(Decimal::ZERO, |rate| rate.value());
    let rate = rate * (Decimal::ONE + premium(timber.length_premium.as_ref(), part.length));
    let rate = rate * (Decimal::ONE + premium(timber.width_premium.as_ref(), part.width));
    let bought = bought(timber, net);
    let value = bought.map(|board_feet| board_feet.value() * rate);
    let largest = (blank.length, blank.stave_width);
    match takeoff.timbers.iter_mut().find(|used| used.timber.key == timber.key && used.class == blank.class) {
        Some(used) => {
            used.net = used.net + net;
            used.bought = sum(&used.bought, &bought, |a, b| *a + *b);
            used.value = sum(&used.value, &value, |a, b| *a + *b);
            used.largest = (used.largest.0.max(largest.0), used.largest.1.max(largest.1));
        }
        None => takeoff.timbers.push(TimberUse { timber, class: blank.class, net, bought, value, largest }),
    }
    Ok(())
}

/// Rounds what is bought of each class up to what its seller's tally counts in, the rest at the rate of the class.
pub(super) fn round_up(uses: &mut [TimberUse<'_>]) {
    for used in uses {
        let Some(step) = step(used.timber.tally, used.class) else { continue };
        let rate = used.timber.rates.get(&used.class).map_or(Decimal::ZERO, |rate| rate.value());
        let tallied = used.bought.map(|exact| exact.up_to(step));
        let added = sum(&tallied, &used.bought, |up, exact| BoardFeet::new(up.value() - exact.value()));
        used.value = sum(&used.value, &added.map(|more| more.value() * rate), |a, b| a + b);
        used.bought = tallied;
    }
}

/// Board feet a tally counts in; nothing where it counts exactly.
///
/// Sources: `shared/reference/trade/board_measure.md` section 2: surface measure is in whole square feet, and the footage is that times
/// the thickness (NHLA; AHEC); retail yards that bill the next quarter board foot (one dealer's page).
fn step(tally: Tally, class: ThicknessClass) -> Option<Decimal> {
    match tally {
        Tally::Exact => None,
        Tally::SurfaceMeasure => Some(class.nominal().in_inches()),
        Tally::RoundUpQuarter => Some(Decimal::new(25, 2)),
    }
}

/// Board feet to buy for so many in the blanks: least when the yield is high.
fn bought(timber: &Timber, net: BoardFeet) -> ThreePoint<BoardFeet> {
    let at = |yielded: Decimal| net.over(yielded);
    let yields = &timber.yields;
    ThreePoint { low: at(yields.high.value()), likely: at(yields.likely.value()), high: at(yields.low.value()) }
}

fn sum<T>(a: &ThreePoint<T>, b: &ThreePoint<T>, add: impl Fn(&T, &T) -> T) -> ThreePoint<T> {
    ThreePoint { low: add(&a.low, &b.low), likely: add(&a.likely, &b.likely), high: add(&a.high, &b.high) }
}

/// What a part's size adds to the rate. It goes by the part, not the board, so that a larger part never costs less.
fn premium(premium: Option<&Premium>, size: Length) -> Decimal {
    premium.filter(|premium| size > premium.over).map_or(Decimal::ZERO, |premium| premium.adds.value())
}
