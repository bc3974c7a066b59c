//! Every design of the demo book, drawn.
#![expect(clippy::unwrap_used, reason = "a test stops where its own set-up fails")]

use scantling_drawing::{Drawing, Shape, View, draw};
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
fn the_figures_are_the_sizes_in_the_unit_on_display() {
    let book = demo();
    let brief = Brief::new(book.designs.first().unwrap().key.clone());
    let resolved = resolve(&book, &brief).unwrap();
    let figures = |unit| -> Vec<String> {
        let word = |shape: Shape| if let Shape::Figure { text, .. } = shape { Some(text) } else { None };
        draw(&resolved, View::Front, unit).shapes.into_iter().filter_map(word).collect()
    };
    assert_eq!(figures(LengthUnit::Inch), ["84 in", "29 1/2 in"]);
    assert_eq!(figures(LengthUnit::Millimetre), ["2133.6 mm", "749.3 mm"]);
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
