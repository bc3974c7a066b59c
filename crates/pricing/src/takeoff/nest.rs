//! Nesting: how many whole sheets hold the parts, cut the way a saw cuts, in strips from edge to edge.
//!
//! Each sheet is cut into strips, each strip into parts. Parts that follow one another in the design may share strips as wide as the
//! widest of them. Every such grouping is tried, with the strips along and across the sheet, and where the sheet has no grain
//! with the parts turned; the one with the fewest sheets counts. Parts go into strips, and strips into sheets, each into the
//! last opened if it still fits (next fit), which needs at most twice the least there can be, plus one: D. S. Johnson, Fast
//! algorithms for bin packing, J. Comput. Syst. Sci. 8 (1974), the bound from memory.
//!
//! **Invariant:** a larger part, or one more, never needs fewer sheets, so that no price falls as a piece grows. Next fit alone
//! of the usual rules has this property (F. D. Murgolo, Discrete Applied Math. 21, 1988, from memory): with larger items the count
//! of opened bins and the fill of the last, in that order, never fall. What is tried depends on no size, and the least
//! of numbers that never fall never falls.

use std::ops::Range;

use crate::book::stock::Sheet;
use crate::measure::Length;

/// So many equal parts to be cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Piece {
    /// The part's name.
    pub name: String,
    /// Its length, along the grain where there is one.
    pub length: Length,
    /// Its width.
    pub width: Length,
    /// How many.
    pub count: u32,
}

/// How the sheets are cut.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Layout {
    /// Whole sheets.
    pub sheets: u32,
    /// Whether the strips run along the sheets, else across.
    pub along: bool,
    /// Whether parts lie with their length across the sheets.
    pub turned: bool,
    /// The strips, group by group.
    pub runs: Vec<Run>,
}

/// Strips of one width.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Run {
    /// How many.
    pub strips: u32,
    /// How wide.
    pub width: Length,
    /// Which of the pieces are cut from them.
    pub pieces: Range<usize>,
}

/// More kinds of part than this are only nested each on its own or all together: each kind more would double what is tried.
const MOST_GROUPED: usize = 8;

/// Lays pieces out on sheets; nothing when a piece fits on none.
#[must_use]
pub fn nest(sheet: &Sheet, pieces: &[Piece]) -> Option<Layout> {
    let layouts = ways(sheet)
        .into_iter()
        .flat_map(|way| groupings(pieces.len()).filter_map(move |breaks| way.layout(pieces, breaks)));
    // Of equal counts the one with the fewest and narrowest strips: it leaves the widest offcut.
    layouts.min_by_key(|layout| (layout.sheets, layout.ripped()))
}

impl Layout {
    /// The width of all strips together.
    fn ripped(&self) -> Length {
        self.runs.iter().fold(Length::ZERO, |sum, run| sum + run.width.scaled(run.strips.into(), 1))
    }
}

/// Where groups of pieces may begin anew: bit i is set when piece i + 1 does not share strips with piece i.
fn groupings(pieces: usize) -> impl Iterator<Item = u32> {
    let (all, few) = ((1_u32 << pieces.saturating_sub(1).min(MOST_GROUPED)).saturating_sub(1), pieces <= MOST_GROUPED);
    let tried = if few { 0..=all } else { 0..=0 };
    tried.chain((!few).then_some(u32::MAX))
}

/// One way of cutting a sheet.
#[derive(Debug, Clone, Copy)]
struct Way {
    along: bool,
    turned: bool,
    kerf: Length,
    strip: Length,
    across: Length,
}

fn ways(sheet: &Sheet) -> Vec<Way> {
    let usable = |size: Length| size - sheet.trim.scaled(2, 1);
    let (length, width) = (usable(sheet.length), usable(sheet.width));
    let way = |along: bool, turned: bool| {
        let (strip, across) = if along { (length, width) } else { (width, length) };
        Way { along, turned, kerf: sheet.kerf, strip, across }
    };
    let straight = [way(true, false), way(false, false)];
    let turned = [way(true, true), way(false, true)];
    straight.into_iter().chain(turned.into_iter().filter(|_| !sheet.grain)).collect()
}

impl Way {
    /// What a piece measures along its strip and across it.
    fn lie(self, piece: &Piece) -> (Length, Length) {
        if self.along == self.turned { (piece.width, piece.length) } else { (piece.length, piece.width) }
    }

    fn layout(self, pieces: &[Piece], breaks: u32) -> Option<Layout> {
        let mut runs: Vec<Run> = Vec::new();
        let mut start = 0_usize;
        for end in 1..=pieces.len() {
            let last = end == pieces.len();
            let ends_here = last || end > 32 || breaks & (1_u32 << end.saturating_sub(1)) != 0;
            if ends_here {
                runs.push(self.run(pieces, start..end)?);
                start = end;
            }
        }
        let sheets = next_fit(self.across, self.kerf, runs.iter().map(|run| (run.width, run.strips)))?;
        Some(Layout { sheets, along: self.along, turned: self.turned, runs })
    }

    fn run(self, pieces: &[Piece], range: Range<usize>) -> Option<Run> {
        let lies = || pieces.get(range.clone()).unwrap_or_default().iter().map(|piece| (self.lie(piece), piece.count));
        let width = lies().map(|((_, across), _)| across).max()?;
        let strips = next_fit(self.strip, self.kerf, lies().map(|((along, _), count)| (along, count)))?;
        Some(Run { strips, width, pieces: range })
    }
}

/// How many lengths of `room` the items need, each into the last opened if it still fits, with a kerf between them; nothing when
/// one fits in none.
fn next_fit(room: Length, kerf: Length, items: impl Iterator<Item = (Length, u32)>) -> Option<u32> {
    // With a kerf behind every item, the last one included, the room is longer by as much.
    let room = (room + kerf).nanometres();
    let (mut opened, mut left) = (0_u32, 0_i64);
    for (size, count) in items {
        let taken = (size + kerf).nanometres();
        let fit = |room: i64| room.checked_div(taken).filter(|_| taken > 0).and_then(|n| u32::try_from(n).ok());
        let each = fit(room).filter(|each| *each > 0)?;
        let first = fit(left)?.min(count);
        let rest = count.saturating_sub(first);
        let more = rest.div_ceil(each);
        let in_last = rest.saturating_sub(more.saturating_sub(1).saturating_mul(each));
        let (from, so_many) = if more > 0 { (room, in_last) } else { (left, first) };
        left = from.saturating_sub(taken.saturating_mul(so_many.into()));
        opened = opened.saturating_add(more);
    }
    Some(opened)
}
