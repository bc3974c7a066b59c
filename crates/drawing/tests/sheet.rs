//! The measured sheet: its dimensions, its scale, what stands beside the piece, and the handles that pull its sizes.
#![expect(clippy::unwrap_used, clippy::integer_division, reason = "a test stops where its own set-up fails")]

use scantling_drawing::{Along, Grip, Limit, Measured, Paper, Point, Scale, Shape, measured, seats};
use scantling_pricing::book::{Key, PriceBook};
use scantling_pricing::brief::Brief;
use scantling_pricing::design::{Design, Dimension, Resolved, resolve};
use scantling_pricing::measure::{Length, LengthUnit};

const NAMES: [&str; 3] = ["Front", "Right-hand end", "From above"];

fn demo() -> PriceBook {
    PriceBook::read(include_str!("../../../public/price-book.json")).unwrap()
}

fn paper(wide: i64, scale: Scale) -> Paper<'static> {
    Paper { wide, tall: 520, lettering: 13, names: NAMES, words: &[], scale }
}

fn key(text: &str) -> Key {
    Key::new(text).unwrap()
}

fn design<'b>(book: &'b PriceBook, name: &str) -> &'b Design {
    book.design(&key(name)).unwrap()
}

fn sized<'b>(book: &'b PriceBook, name: &str, sizes: &[(&str, Length)]) -> Resolved<'b> {
    let mut brief = Brief::new(key(name));
    brief.dimensions.extend(sizes.iter().map(|(dimension, size)| (key(dimension), *size)));
    resolve(book, &brief).unwrap()
}

/// Every design at its usual size, at its least and at its most.
fn each_size(check: impl Fn(&Resolved<'_>)) {
    let book = demo();
    for design in &book.designs {
        let all = |size: fn(&Dimension) -> Length| {
            design.dimensions.iter().map(|known| (known.key.as_str(), size(known))).collect::<Vec<_>>()
        };
        for sizes in [all(|known| known.default), all(|known| known.least), all(|known| known.most)] {
            check(&sized(&book, design.key.as_str(), &sizes));
        }
    }
}

fn figures(sheet: &Measured) -> Vec<String> {
    let word = |shape: &Shape| if let Shape::Figure { text, .. } = shape { Some(text.clone()) } else { None };
    sheet.drawing.shapes.iter().filter_map(word).collect()
}

fn faces(sheet: &Measured) -> impl Iterator<Item = &Vec<Point>> {
    sheet.drawing.shapes.iter().filter_map(|shape| match shape {
        Shape::Face { corners, .. } => Some(corners),
        _ => None,
    })
}

fn cues(sheet: &Measured) -> Vec<Vec<Vec<Point>>> {
    let outlines = |shape: &Shape| if let Shape::Cue(outlines) = shape { Some(outlines.clone()) } else { None };
    sheet.drawing.shapes.iter().filter_map(outlines).collect()
}

fn rulers(sheet: &Measured) -> Vec<Vec<[Point; 2]>> {
    let strokes = |shape: &Shape| if let Shape::Ruler(strokes) = shape { Some(strokes.clone()) } else { None };
    sheet.drawing.shapes.iter().filter_map(strokes).collect()
}

fn grip<'s>(sheet: &'s Measured, dimension: &str) -> &'s Grip {
    sheet.grips.iter().find(|grip| grip.dimension.as_str() == dimension).unwrap()
}

#[test]
fn each_size_is_given_once_in_the_unit_on_display() {
    let book = demo();
    let table = sized(&book, "trestle-table", &[]);
    let at = |unit| figures(&measured(&table, unit, &paper(560, Scale::RoomToGrow)));
    assert_eq!(at(LengthUnit::Inch), ["84 in", "38 in", "29 1/2 in"]);
    assert_eq!(at(LengthUnit::Millimetre), ["2133.6 mm", "965.2 mm", "749.3 mm"]);
    let river = sized(&book, "river-low-table", &[("channel", Length::sixty_fourths(64 * 5 + 16))]);
    let told = figures(&measured(&river, LengthUnit::Inch, &paper(560, Scale::RoomToGrow)));
    assert_eq!(told, ["44 in", "22 in", "16 1/2 in", "5 1/4 in"], "the resin channel is measured too");
}

#[test]
fn a_dimension_line_is_as_long_as_what_it_measures_on_either_axis() {
    each_size(|resolved| {
        let sheet = measured(resolved, LengthUnit::Inch, &paper(560, Scale::RoomToGrow));
        let sizes = resolved.envelope().map(|size| (size.nanometres() + 500_000).div_euclid(1_000_000));
        let [length, width, height] = sizes;
        let lines: Vec<(i64, i64)> =
            rulers(&sheet).iter().map(|strokes| strokes[0]).map(|[a, b]| (b.0 - a.0, b.1 - a.1)).collect();
        // One scale: what runs right and what runs up the sheet is in the same millimetres.
        assert_eq!(lines[..3], [(length, 0), (0, width), (0, height)], "{}", resolved.design.key);
    });
}

#[test]
fn everything_is_on_the_sheet_on_a_phone_and_on_a_desk() {
    each_size(|resolved| {
        for (wide, unit) in [
            (240, LengthUnit::Millimetre),
            (380, LengthUnit::Inch),
            (560, LengthUnit::Inch),
            (1100, LengthUnit::Millimetre),
        ] {
            for scale in [Scale::ThisPiece, Scale::RoomToGrow] {
                let sheet = measured(resolved, unit, &paper(wide, scale));
                let [_, _, right, foot] = sheet.drawing.sheet;
                let on = |(x, y): Point, what: &str| {
                    let inside = (0..=right).contains(&x) && (0..=foot).contains(&y);
                    assert!(inside, "{} {what} at {x} {y} of {right} {foot}, {wide} px", resolved.design.key);
                };
                faces(&sheet).flatten().for_each(|point| on(*point, "face"));
                cues(&sheet).iter().flatten().flatten().for_each(|point| on(*point, "chair"));
                rulers(&sheet).iter().flatten().flatten().for_each(|point| on(*point, "line"));
                let letters = sheet.drawing.lettering;
                for shape in &sheet.drawing.shapes {
                    let (at, upright, text) = match shape {
                        Shape::Figure { at, upright, text } => (at, *upright, text),
                        Shape::Caption { at, text } => (at, false, text),
                        _ => continue,
                    };
                    // Letters half as wide as high, as most fonts have them.
                    let half = i64::try_from(text.chars().count()).unwrap() * letters / 4;
                    let along = if upright {
                        [(at.0, at.1 - half), (at.0 - letters * 8 / 10, at.1 + half)]
                    } else {
                        [(at.0 - half, at.1), (at.0 + half, at.1 - letters * 8 / 10)]
                    };
                    along.into_iter().for_each(|point| on(point, text));
                }
            }
        }
    });
}

#[test]
fn the_names_of_the_views_keep_clear_of_each_other_also_where_they_are_long() {
    // As the German words of the widget have them.
    let names = ["Vorderansicht", "Seitenansicht von rechts", "Draufsicht"];
    each_size(|resolved| {
        for wide in [240, 300, 380, 460, 560, 700, 1100] {
            for scale in [Scale::ThisPiece, Scale::RoomToGrow] {
                let sheet = measured(resolved, LengthUnit::Inch, &Paper { names, ..paper(wide, scale) });
                let letters = sheet.drawing.lettering;
                let places: Vec<(i64, i64, i64)> = (sheet.drawing.shapes.iter())
                    .filter_map(|shape| if let Shape::Caption { at, text } = shape { Some((at, text)) } else { None })
                    .map(|(at, text)| (at.0, at.1, i64::try_from(text.chars().count()).unwrap() * letters / 4))
                    .collect();
                for (i, (x, y, half)) in places.iter().enumerate() {
                    for (other_x, other_y, other_half) in &places[i + 1..] {
                        let clear = (y - other_y).abs() > letters || (x - other_x).abs() > half + other_half;
                        assert!(clear, "{} at {wide} px: two names overlap", resolved.design.key);
                    }
                }
            }
        }
    });
}

/// Whether two level or upright strokes cross or touch.
fn cross([a, b]: [Point; 2], [c, d]: [Point; 2]) -> bool {
    let apart = |p: i64, q: i64, r: i64, s: i64| p.max(q) < r.min(s) || r.max(s) < p.min(q);
    !apart(a.0, b.0, c.0, d.0) && !apart(a.1, b.1, c.1, d.1)
}

#[test]
fn no_dimension_line_crosses_another_or_runs_through_the_piece() {
    each_size(|resolved| {
        for wide in [240, 560, 1100] {
            let sheet = measured(resolved, LengthUnit::Inch, &paper(wide, Scale::RoomToGrow));
            // Each dimension line with its two extension lines; the ticks are left out.
            let lines: Vec<Vec<[Point; 2]>> = rulers(&sheet).iter().map(|strokes| strokes[..3].to_vec()).collect();
            for (i, one) in lines.iter().enumerate() {
                for other in &lines[i + 1..] {
                    let crossing = one.iter().any(|a| other.iter().any(|b| cross(*a, *b)));
                    assert!(!crossing, "{} at {wide} px: two dimensions cross", resolved.design.key);
                }
                for face in faces(&sheet) {
                    let (x, y) = (face.iter().map(|point| point.0), face.iter().map(|point| point.1));
                    let corner = (x.clone().min().unwrap(), y.clone().min().unwrap());
                    let across = [corner, (x.max().unwrap(), y.max().unwrap())];
                    assert!(
                        !one.iter().any(|line| cross(*line, across)),
                        "{} at {wide} px: a line through a part",
                        resolved.design.key
                    );
                }
            }
        }
    });
}

#[test]
fn views_stand_in_line_where_there_is_room_and_one_below_another_where_there_is_not() {
    let book = demo();
    let table = sized(&book, "trestle-table", &[]);
    let tops = |wide| {
        let sheet = measured(&table, LengthUnit::Inch, &paper(wide, Scale::RoomToGrow));
        // The top is the one part as wide as the length in two views and as the depth in one.
        let spans = faces(&sheet).map(|face| (face[1].0 - face[0].0, face[0])).collect::<Vec<_>>();
        let of = |width| spans.iter().filter(|span| span.0 == width).map(|span| span.1).collect::<Vec<Point>>();
        (of(2134), of(965))
    };
    let (level, aside) = tops(560);
    assert_eq!(level[0].0, level[1].0, "the front stands under the plan");
    assert_eq!(level[1].1, aside[0].1, "the end stands level with the front");
    let (level, below) = tops(240);
    assert_eq!(level[0].0, level[1].0);
    assert!(below[0].1 > level[1].1 + 500, "the end stands under the front");
}

#[test]
fn as_many_chairs_stand_at_a_table_as_the_published_elbow_room_allows() {
    // Source: shared/reference/trade/furniture_rules.md, 24 in of table for each diner (published), whole places along each
    // long side: 60 in gives 2 a side, 84 in 3, 95 in 3, 96 in 4.
    let book = demo();
    for (length, expected) in [(60, 4), (84, 6), (95, 6), (96, 8), (108, 8)] {
        let table = sized(&book, "trestle-table", &[("length", Length::inches(length))]);
        assert_eq!(seats(&table), Some(expected), "{length} in");
        let sheet = measured(&table, LengthUnit::Inch, &paper(560, Scale::RoomToGrow));
        // From above a chair is a seat and a back rail.
        assert_eq!(cues(&sheet)[0].len(), 2 * usize::try_from(expected).unwrap(), "{length} in");
    }
    for (piece, none) in
        [("hall-bench", 0), ("wall-shelf", 0), ("bookcase", 1), ("slab-console", 1), ("river-low-table", 1)]
    {
        let resolved = sized(&book, piece, &[]);
        assert_eq!(seats(&resolved), None, "{piece}: nobody eats at it");
        let sheet = measured(&resolved, LengthUnit::Inch, &paper(560, Scale::RoomToGrow));
        assert_eq!(cues(&sheet).len(), none, "{piece}");
    }
}

#[test]
fn a_chair_is_drawn_to_the_scale_of_the_piece_and_each_in_a_place_of_its_own() {
    let book = demo();
    let table = sized(&book, "trestle-table", &[]);
    let sheet = measured(&table, LengthUnit::Inch, &paper(560, Scale::RoomToGrow));
    let all = cues(&sheet);
    // From above, seats along one side: their middles are 24 in, 609.6 mm, apart.
    let middle = |outline: &Vec<Point>| (outline[0].0 + outline[1].0) / 2;
    let near: Vec<i64> = all[0].iter().step_by(4).map(middle).collect();
    assert!(near.windows(2).all(|pair| (609..=611).contains(&(pair[1] - pair[0]))), "{near:?}");
    // From the side: the seat is 18 in, 457 mm, above the floor. Published: a seat is 17 to 19 in high (furniture_rules.md).
    let profile = &all[1][0];
    let floor = profile.iter().map(|point| point.1).max().unwrap();
    assert!(profile.iter().any(|point| (432..=483).contains(&(floor - point.1))));
    let leg = faces(&sheet).flatten().map(|point| point.1).max().unwrap();
    assert_eq!(floor, leg, "chair and table stand on one floor");
}

#[test]
fn a_pull_in_pixels_is_the_length_it_covers_on_the_sheet() {
    let book = demo();
    let table = design(&book, "trestle-table");
    let sheet = measured(&sized(&book, "trestle-table", &[]), LengthUnit::Inch, &paper(560, Scale::RoomToGrow));
    let (length, height) = (&table.dimensions[0], &table.dimensions[2]);
    // Worked by hand: 2540 mm shown 1000 pixels wide, a pixel is a tenth of an inch.
    let shown = (2540, 1000);
    let pull = |inches: i32, by| grip(&sheet, "length").pull(length, Length::inches(inches), by, shown);
    assert_eq!(pull(84, (50, 7)).size, Length::inches(89));
    assert_eq!(pull(84, (54, 0)).size, Length::inches(89), "89.4 in: the step is an inch");
    assert_eq!(pull(84, (-60, 0)).size, Length::inches(78));
    assert_eq!((pull(84, (400, 0)).size, pull(84, (400, 0)).limit), (Length::inches(108), Some(Limit::Most)));
    assert_eq!((pull(84, (-400, 0)).size, pull(84, (-400, 0)).limit), (Length::inches(60), Some(Limit::Least)));
    assert_eq!(pull(84, (i32::MAX, 0)).size, Length::inches(108));
    assert_eq!(pull(84, (i32::MIN, 0)).size, Length::inches(60));
    // Up the sheet is taller; the step is a quarter of an inch, counted from the least.
    let raised = grip(&sheet, "height").pull(height, Length::inches(29), (0, -6), shown);
    assert_eq!((raised.size, raised.limit), (Length::sixty_fourths(64 * 29 + 32), None));
    // A sheet that is shown nowhere moves nothing out of its limits.
    assert!(grip(&sheet, "height").pull(height, Length::inches(29), (0, -6), (2540, 0)).size <= height.most);
}

#[test]
fn a_handle_stays_under_the_pointer_that_pulls_it() {
    let book = demo();
    let mut followed = 0;
    for design in &book.designs {
        let name = design.key.as_str();
        for known in &design.dimensions {
            let start = sized(&book, name, &[]);
            let sheet = measured(&start, LengthUnit::Inch, &paper(560, Scale::RoomToGrow));
            let held = grip(&sheet, known.key.as_str());
            let wide = sheet.drawing.sheet[2];
            for pixels in [-40, -9, 9, 25] {
                let by = if held.along == Along::Right { (pixels, 0) } else { (0, -pixels) };
                let pulled = held.pull(known, known.default, by, (wide, 560));
                // Where it stopped at a limit or where the sheet had to be drawn smaller, it can't follow.
                if pulled.limit.is_some() {
                    continue;
                }
                let resized = sized(&book, name, &[(known.key.as_str(), pulled.size)]);
                let after = measured(&resized, LengthUnit::Inch, &paper(560, Scale::RoomToGrow));
                if after.drawing.sheet != sheet.drawing.sheet {
                    continue;
                }
                let moved = grip(&after, known.key.as_str()).knob;
                let (right, up) = (moved.0 - held.knob.0, held.knob.1 - moved.1);
                let moved = if held.along == Along::Right { right } else { up };
                let step = known.step.nanometres().div_euclid(1_000_000);
                let meant = i64::from(pixels) * wide / 560;
                assert!((moved - meant).abs() <= step / 2 + 3, "{name} {}: {moved} for {meant} mm", known.key);
                followed += 1;
            }
        }
    }
    // Of 19 sizes pulled four ways each.
    assert!(followed > 30, "only {followed} pulls could be followed");
}

#[test]
fn what_grows_both_ways_from_its_middle_is_pulled_half_as_far() {
    let book = demo();
    let river = design(&book, "river-low-table");
    let sheet = measured(&sized(&book, "river-low-table", &[]), LengthUnit::Inch, &paper(560, Scale::RoomToGrow));
    let channel = river.dimension("channel").unwrap();
    // A pixel is a tenth of an inch: 5 pixels up move the far edge half an inch, and the channel grows by an inch.
    let pulled = grip(&sheet, "channel").pull(channel, Length::inches(4), (0, -5), (2540, 1000));
    assert_eq!(pulled.size, Length::inches(5));
}

#[test]
fn a_size_that_is_not_for_the_buyer_to_choose_has_no_handle() {
    let mut book = demo();
    book.designs[0].dimensions[1].least = book.designs[0].dimensions[1].default;
    book.designs[0].dimensions[1].most = book.designs[0].dimensions[1].default;
    let table = sized(&book, "trestle-table", &[]);
    let sheet = measured(&table, LengthUnit::Inch, &paper(560, Scale::RoomToGrow));
    let named: Vec<&str> = sheet.grips.iter().map(|grip| grip.dimension.as_str()).collect();
    assert_eq!(named, ["length", "height"]);
    assert_eq!(figures(&sheet).len(), 3, "it is measured still");
}
