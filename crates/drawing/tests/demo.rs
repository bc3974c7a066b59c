//! Every design of the demo book, drawn.
#![expect(clippy::unwrap_used, reason = "a test stops where its own set-up fails")]

use scantling_drawing::{
    Drawing, Light, Paper, Scale, Seen, Shape, View, described, draw, measured, sample_described, slab, slab_described,
};
use scantling_pricing::book::PriceBook;
use scantling_pricing::brief::Brief;
use scantling_pricing::design::{Resolved, resolve};
use scantling_pricing::measure::LengthUnit;

fn demo() -> PriceBook {
    PriceBook::read(include_str!("../../../public/price-book.json")).unwrap()
}

fn faces(drawing: &Drawing) -> Vec<Vec<(i64, i64)>> {
    let corners = |shape: &'_ Shape| if let Shape::Face { corners, .. } = shape { Some(corners.clone()) } else { None };
    drawing.shapes.iter().filter_map(corners).collect()
}

fn extent(drawing: &Drawing) -> (i64, i64) {
    let points: Vec<(i64, i64)> = faces(drawing).into_iter().flatten().collect();
    let span = |values: Vec<i64>| values.iter().max().unwrap() - values.iter().min().unwrap();
    (span(points.iter().map(|point| point.0).collect()), span(points.iter().map(|point| point.1).collect()))
}

/// Left, right, upper and lower edge of a face.
fn span(face: &[(i64, i64)]) -> [i64; 4] {
    let (x, y) = (face.iter().map(|point| point.0), face.iter().map(|point| point.1));
    [x.clone().min().unwrap(), x.max().unwrap(), y.clone().min().unwrap(), y.max().unwrap()]
}

fn each_design(check: impl Fn(&Resolved<'_>)) {
    let book = demo();
    for design in &book.designs {
        check(&resolve(&book, &Brief::new(design.key.clone())).unwrap());
    }
}

#[test]
fn square_views_are_as_large_as_the_piece_to_the_millimetre() {
    each_design(|resolved| {
        let [length, width, height] =
            resolved.envelope().map(|size| (size.nanometres() + 500_000).div_euclid(1_000_000));
        let at = |view| extent(&draw(resolved, view, LengthUnit::Inch));
        assert_eq!(at(View::Front), (length, height), "{}", resolved.design.key);
        assert_eq!(at(View::Side), (width, height), "{}", resolved.design.key);
        assert_eq!(at(View::Plan), (length, width), "{}", resolved.design.key);
    });
}

#[test]
fn every_copy_of_every_part_is_drawn_once_square_on_and_three_times_in_the_solid() {
    each_design(|resolved| {
        let copies: usize = resolved.parts.iter().map(|part| part.boxes.len()).sum();
        for view in View::ALL {
            let per_part = if view == View::Solid { 3 } else { 1 };
            assert_eq!(faces(&draw(resolved, view, LengthUnit::Inch)).len(), copies * per_part);
        }
    });
}

#[test]
fn nothing_is_drawn_off_the_sheet() {
    each_design(|resolved| {
        for view in View::ALL {
            let drawing = draw(resolved, view, LengthUnit::Inch);
            let [left, top, width, height] = drawing.sheet;
            for (x, y) in faces(&drawing).into_iter().flatten() {
                assert!((left..=left + width).contains(&x) && (top..=top + height).contains(&y));
            }
        }
    });
}

#[test]
fn what_is_mirrored_left_to_right_is_drawn_so() {
    each_design(|resolved| {
        let whole = extent(&draw(resolved, View::Front, LengthUnit::Inch)).0;
        let spans: Vec<[i64; 4]> =
            faces(&draw(resolved, View::Front, LengthUnit::Inch)).iter().map(|face| span(face)).collect();
        for [left, right, upper, lower] in &spans {
            // Each corner is rounded to the millimetre by itself, so a mirrored one may be one off.
            let near = |a: i64, b: i64| (a - b).abs() <= 1;
            let mirrored = |other: &[i64; 4]| {
                near(other[0], whole - right)
                    && near(other[1], whole - left)
                    && near(other[2], *upper)
                    && near(other[3], *lower)
            };
            assert!(spans.iter().any(mirrored), "{}: {left} to {right} has no partner", resolved.design.key);
        }
    });
}

#[test]
fn a_board_that_points_at_the_reader_shows_its_end() {
    let book = demo();
    let brief =
        Brief::new(book.designs.iter().find(|design| design.key.as_str() == "trestle-table").unwrap().key.clone());
    let resolved = resolve(&book, &brief).unwrap();
    let ends = |view| {
        let end = |shape: &&Shape| matches!(shape, Shape::Face { light: Light::End, .. });
        draw(&resolved, view, LengthUnit::Inch).shapes.iter().filter(end).count()
    };
    // From the front: two bearers and two feet, which run front to back. From the side: the top, and the stretcher whose end
    // is hidden in the post but is a face of its own still.
    assert_eq!((ends(View::Front), ends(View::Side)), (4, 2));
}

#[test]
fn a_slab_top_keeps_the_edges_of_the_slab_it_is_of() {
    let book = demo();
    let design = book.designs.iter().find(|design| design.key.as_str() == "slab-console").unwrap();
    let resolved = resolve(&book, &Brief::new(design.key.clone())).unwrap();
    for view in [View::Plan, View::Solid] {
        let corners = faces(&draw(&resolved, view, LengthUnit::Inch)).into_iter().map(|face| face.len());
        assert!(corners.max().unwrap() > 20, "{view:?} shows a sawn top");
    }
    // A sawn top has four corners and no more.
    let table = resolve(&book, &Brief::new(book.designs[0].key.clone())).unwrap();
    assert!(faces(&draw(&table, View::Plan, LengthUnit::Inch)).iter().all(|face| face.len() == 4));
}

#[test]
fn a_slab_is_drawn_as_long_as_it_is_with_a_figure_at_every_width() {
    let book = demo();
    for drawn in &book.slabs {
        let timber = book.timbers.iter().find(|timber| timber.key == drawn.timber).unwrap();
        let drawing = slab(drawn, timber, LengthUnit::Inch);
        assert_eq!(extent(&drawing).0, (drawn.length.nanometres() + 500_000).div_euclid(1_000_000));
        let figures = drawing.shapes.iter().filter(|shape| matches!(shape, Shape::Figure { .. })).count();
        assert_eq!(figures, drawn.widths.len() + 1);
    }
}

#[test]
fn the_same_piece_is_drawn_the_same_twice() {
    each_design(|resolved| {
        for view in View::ALL {
            assert_eq!(draw(resolved, view, LengthUnit::Inch), draw(resolved, view, LengthUnit::Inch));
        }
    });
}

/// What is said of a drawing is what is drawn: the names and sizes of the book's own words, counted by hand from the brief.
#[test]
fn a_drawing_is_told_in_words_with_its_sizes_its_woods_and_what_stands_by() {
    let book = demo();
    let told = |design: &str, seen| {
        let design = book.designs.iter().find(|one| one.key.as_str() == design).unwrap();
        described(&resolve(&book, &Brief::new(design.key.clone())).unwrap(), LengthUnit::Inch, seen)
    };
    let table = "Trestle dining table: length 84 in, width 38 in, height 29 1/2 in. Top: Black walnut; Trestles and stretcher: Black walnut.";
    assert_eq!(told("trestle-table", Seen::Alone), table);
    assert_eq!(told("trestle-table", Seen::Measured), format!("{table} Chairs for scale stand at its 6 places."));
    let river = told("river-low-table", Seen::Measured);
    assert!(river.contains("width of the resin ") && river.contains("; Resin: "), "{river}");
    assert!(river.ends_with(" A chair stands there for scale."), "{river}");
}

/// A figure on the sheet that is not in the words would be kept from those who don't see it.
#[test]
fn every_size_that_is_lettered_on_the_sheet_is_told() {
    each_design(|resolved| {
        let words = described(resolved, LengthUnit::Inch, Seen::Measured);
        let names = ["Front", "Right-hand end", "From above"];
        let paper = Paper { wide: 720, tall: 600, lettering: 13, names, words: &[], scale: Scale::ThisPiece };
        let sheet = measured(resolved, LengthUnit::Inch, &paper).drawing;
        let figures = sheet.shapes.iter().filter_map(|shape| match shape {
            Shape::Figure { text, .. } => Some(text),
            _ => None,
        });
        assert!(figures.clone().count() >= 3, "{}", resolved.design.key);
        for figure in figures {
            assert!(words.contains(figure.as_str()), "{figure}: {words}");
        }
    });
}

#[test]
fn a_slab_and_a_sample_are_told_in_words() {
    let book = demo();
    let slab = book.slabs.iter().find(|slab| slab.key.as_str() == "walnut-slab-17").unwrap();
    let timber = book.timbers.iter().find(|timber| timber.key == slab.timber).unwrap();
    let told = slab_described(slab, timber, LengthUnit::Inch);
    assert_eq!(
        told,
        "Walnut slab no. 17, Black walnut, from above: 78 in long, and from end to end 17 in, 16 1/2 in, 17 1/2 in, 19 in wide. \
         Even brown heart, a knot near one end, waney on both sides."
    );
    assert!(sample_described(timber).starts_with("A board of Black walnut: Dark brown heart"));
}
