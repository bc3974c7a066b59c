//! Whole sheets: layouts worked by hand, and what every layout must hold whatever the parts.

use proptest::prelude::*;
use scantling_pricing::book::stock::Sheet;
use scantling_pricing::measure::Length;
use scantling_pricing::takeoff::{Layout, Piece, nest};

use crate::random::holds;
use crate::start::{demo, length};

/// A sheet of 96 x 48 in with these losses.
fn sheet(kerf: &str, trim: &str, grain: bool) -> Sheet {
    Sheet { kerf: length(kerf), trim: length(trim), grain, ..demo().sheets[0].clone() }
}

fn piece(long: &str, wide: &str, count: u32) -> Piece {
    Piece { name: format!("{long} x {wide}"), length: length(long), width: length(wide), count }
}

fn sheets(sheet: &Sheet, pieces: &[Piece]) -> Option<u32> {
    nest(sheet, pieces).map(|layout| layout.sheets)
}

#[test]
fn layouts_worked_by_hand() {
    // Eight of 48 x 12 in fill a sheet to the last inch: four strips of 12 in, two in each. A ninth needs another sheet.
    let exact = sheet("0 in", "0 in", true);
    assert_eq!(sheets(&exact, &[piece("48 in", "12 in", 8)]), Some(1));
    assert_eq!(sheets(&exact, &[piece("48 in", "12 in", 9)]), Some(2));
    // With a kerf of 1/8 in two of 48 in no longer fit in 96: one in each of three strips of 12 1/8 in, or three across.
    let sawn = sheet("1/8 in", "0 in", true);
    assert_eq!(sheets(&sawn, &[piece("48 in", "12 in", 8)]), Some(3));
    // Four strips of 11 7/8 in take 47 1/2 in and three kerfs of 1/8: 47 7/8. Two lengths of 47 15/16 with one kerf are 96 in.
    assert_eq!(sheets(&sawn, &[piece("47 15/16 in", "11 7/8 in", 8)]), Some(1));
    // Half an inch of trim all round leaves 95 x 47 in (shared/reference/trade/yield.md section 5): 47 in is the widest.
    let trimmed = sheet("1/8 in", "1/2 in", true);
    assert_eq!(sheets(&trimmed, &[piece("95 in", "47 in", 1)]), Some(1));
    assert_eq!(sheets(&trimmed, &[piece("95 in", "47 1/64 in", 1)]), None);
    // Along the grain 24 in of length go four times into 96, and 96 in of length never into 48 the other way.
    assert_eq!(sheets(&exact, &[piece("24 in", "40 in", 4)]), Some(1));
    assert_eq!(sheets(&exact, &[piece("40 in", "24 in", 4)]), Some(1));
    assert_eq!(sheets(&exact, &[piece("40 in", "90 in", 1)]), None);
    assert_eq!(sheets(&sheet("0 in", "0 in", false), &[piece("40 in", "90 in", 1)]), Some(1));
}

#[test]
fn parts_of_like_width_share_strips() {
    // Top and bottom, 30 x 12 in, share a strip of 96 in. Three shelves of 29 1/2 in and two kerfs are 88 3/4 in: another, of 11 3/4 in.
    // The sides of 72 x 11 1/2 in take one each. 12 + 11 3/4 + 2 x 11 1/2 in and three kerfs are 47 1/8 in: one sheet.
    let case = [
        piece("30 in", "12 in", 1),
        piece("30 in", "12 in", 1),
        piece("29 1/2 in", "11 3/4 in", 3),
        piece("72 in", "11 1/2 in", 2),
    ];
    let layout = nest(&sheet("1/8 in", "0 in", true), &case).unwrap();
    assert_eq!(layout.sheets, 1);
    let strips: Vec<_> = layout.runs.iter().map(|run| (run.strips, run.width, run.pieces.clone())).collect();
    let expected = [(1, "12 in", 0..2), (1, "11 3/4 in", 2..3), (2, "11 1/2 in", 3..4)]
        .map(|(n, width, pieces)| (n, length(width), pieces));
    assert_eq!(strips, expected);
}

fn pieces() -> impl Strategy<Value = Vec<Piece>> {
    let one = (1..96i32, 1..48i32, 1..9u32).prop_map(|(length, width, count)| Piece {
        name: "part".into(),
        length: Length::inches(length),
        width: Length::inches(width),
        count,
    });
    prop::collection::vec(one, 1..11)
}

/// Puts every piece of a layout down one by one, and every strip, as a saw would; the sheets that takes, when all fit.
fn cut_one_by_one(sheet: &Sheet, pieces: &[Piece], layout: &Layout) -> Option<u32> {
    let usable = |size: Length| size - sheet.trim - sheet.trim;
    let (length, width) = (usable(sheet.length), usable(sheet.width));
    let (strip, across) = if layout.along { (length, width) } else { (width, length) };
    let one_by_one = |room: Length, sizes: &[Length]| {
        let (mut opened, mut at) = (0, room);
        for size in sizes {
            (opened, at) = if opened > 0 && at + *size <= room { (opened, at) } else { (opened + 1, Length::ZERO) };
            at = at + *size + sheet.kerf;
            if *size > room {
                return None;
            }
        }
        Some(opened)
    };
    let mut strips = Vec::new();
    for run in &layout.runs {
        let lies = pieces[run.pieces.clone()].iter().flat_map(|piece| {
            let (l, w) = (piece.length, piece.width);
            // The grain of a part that is not turned runs along the sheet.
            let (along, deep) = if layout.along == layout.turned { (w, l) } else { (l, w) };
            assert!(deep <= run.width, "wider than its strip");
            vec![along; usize::try_from(piece.count).unwrap()]
        });
        assert_eq!(one_by_one(strip, &lies.collect::<Vec<_>>())?, run.strips);
        strips.extend(vec![run.width; usize::try_from(run.strips).unwrap()]);
    }
    assert!(!(sheet.grain && layout.turned), "a part across the grain");
    one_by_one(across, &strips)
}

#[test]
fn every_layout_can_be_sawn_and_wastes_no_more_than_its_bound() {
    holds(400, &(pieces(), 0..16i32, any::<bool>()), |(pieces, kerf, grain)| {
        let sheet = Sheet { kerf: Length::sixty_fourths(kerf), grain, ..sheet("0 in", "1/4 in", grain) };
        let Some(layout) = nest(&sheet, &pieces) else { return Ok(()) };
        prop_assert_eq!(cut_one_by_one(&sheet, &pieces, &layout), Some(layout.sheets));
        let kinds: Vec<usize> = layout.runs.iter().flat_map(|run| run.pieces.clone()).collect();
        prop_assert_eq!(kinds, (0..pieces.len()).collect::<Vec<_>>(), "every piece once");
        // Next fit (Johnson 1974, from memory): fewer than twice what its strips would fill, and one.
        let room = if layout.along { sheet.width } else { sheet.length } - sheet.trim - sheet.trim + sheet.kerf;
        let filled: i64 =
            layout.runs.iter().map(|run| (run.width + sheet.kerf).nanometres() * i64::from(run.strips)).sum();
        prop_assert!(i64::from(layout.sheets) * room.nanometres() <= 2 * filled + room.nanometres());
        Ok(())
    });
}

#[test]
fn a_larger_part_or_one_more_never_needs_fewer_sheets() {
    let grown = (pieces(), any::<prop::sample::Index>(), 0..20i32, 0..20i32, 0..3u32, any::<bool>());
    holds(400, &grown, |(pieces, which, longer, wider, more, grain)| {
        let sheet = sheet("1/8 in", "1/4 in", grain);
        let mut larger = pieces.clone();
        let one = &mut larger[which.index(pieces.len())];
        one.length = one.length + Length::inches(longer);
        one.width = one.width + Length::inches(wider);
        one.count += more;
        let (Some(before), after) = (sheets(&sheet, &pieces), sheets(&sheet, &larger)) else { return Ok(()) };
        prop_assert!(after.is_none_or(|after| after >= before));
        Ok(())
    });
}

#[test]
fn of_one_kind_of_part_no_sheet_holds_more() {
    // A strip holds as many as its length divides into, a sheet as many strips as its width: the most a saw can get edge to edge.
    let (sheet, room) = (sheet("0 in", "0 in", true), (96_i32, 48_i32));
    for (length, width) in [(30, 12), (95, 1), (17, 23), (33, 16), (48, 24)] {
        let grid: i32 = room.0.div_euclid(length) * room.1.div_euclid(width);
        let piece =
            |count| Piece { name: "part".into(), length: Length::inches(length), width: Length::inches(width), count };
        let grid = u32::try_from(grid).unwrap();
        assert_eq!(sheets(&sheet, &[piece(grid)]), Some(1), "{length} x {width}");
        assert_eq!(sheets(&sheet, &[piece(grid + 1)]), Some(2), "{length} x {width}");
        assert_eq!(sheets(&sheet, &[piece(grid * 7)]), Some(7), "{length} x {width}");
    }
}
