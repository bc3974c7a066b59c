//! What the wood looks like on a drawing: grain along each part's length, and faces in the colour of the species that was chosen. What a part's
//! length is and which colour a species has is read from the book: `lies` and `swatch`.
#![expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test stops where its own set-up fails")]

use scantling_drawing::{Drawing, Point, Shape, View, draw};
use scantling_pricing::book::{Key, PriceBook};
use scantling_pricing::brief::Brief;
use scantling_pricing::design::{Resolved, resolve};
use scantling_pricing::measure::{Axis, Length, LengthUnit};

fn demo() -> PriceBook {
    PriceBook::read(include_str!("../../../public/price-book.json")).unwrap()
}

/// The axes that run right and up on a square view.
const fn axes(view: View) -> [Axis; 2] {
    match view {
        View::Side => [Axis::Y, Axis::Z],
        View::Plan => [Axis::X, Axis::Y],
        View::Front | View::Solid => [Axis::X, Axis::Z],
    }
}

/// Left, right, upper and lower edge.
fn span(points: &[Point]) -> [i64; 4] {
    let (x, y) = (points.iter().map(|point| point.0), points.iter().map(|point| point.1));
    [x.clone().min().unwrap(), x.max().unwrap(), y.clone().min().unwrap(), y.max().unwrap()]
}

/// Each face with the strokes of grain that are painted on it.
fn grained(drawing: &Drawing) -> Vec<(&[Point], &[Vec<Point>])> {
    let on = drawing.shapes.windows(2).filter_map(|pair| match pair {
        [Shape::Face { corners, .. }, Shape::Grain(strokes)] => Some((corners.as_slice(), strokes.as_slice())),
        _ => None,
    });
    on.collect()
}

/// The axes that the lengths of the parts run along whose box fills just this face; a tenon that is hidden in another part leaves none.
fn lengths_of(resolved: &Resolved<'_>, view: View, face: &[Point]) -> Vec<Axis> {
    let millimetres = |length: Length| (length.nanometres() + 500_000).div_euclid(1_000_000);
    let [right, up] = axes(view).map(Axis::index);
    let high = millimetres(resolved.envelope()[up]);
    let mut all: Vec<Axis> = Vec::new();
    for part in &resolved.parts {
        let fills = part.boxes.iter().any(|placed| {
            let low = placed.at.map(millimetres);
            let end = |axis: usize| millimetres(placed.at[axis] + placed.size[axis]);
            span(face) == [low[right], end(right), high - end(up), high - low[up]]
        });
        if fills && !all.contains(&part.part.lies.length) {
            all.push(part.part.lies.length);
        }
    }
    all
}

/// Which axis of the view the strokes on a face run along: each from one end to the other at one height, or the rings of an end.
fn run_of(strokes: &[Vec<Point>], view: View) -> Option<Axis> {
    let [right, up] = axes(view);
    let along = |stroke: &Vec<Point>| {
        let (from, to) = (stroke.first().unwrap(), stroke.last().unwrap());
        match (stroke.len(), from.0 == to.0, from.1 == to.1) {
            (3, false, true) => Some(right),
            (3, true, false) => Some(up),
            _ => None,
        }
    };
    let first = strokes.first().and_then(along);
    assert!(strokes.iter().all(|stroke| along(stroke) == first), "strokes of one face run two ways");
    first
}

#[test]
fn strokes_of_grain_run_along_a_part_s_length_and_an_end_shows_rings() {
    let book = demo();
    let mut seen = [0; 3];
    for design in &book.designs {
        let resolved = resolve(&book, &Brief::new(design.key.clone())).unwrap();
        for view in [View::Front, View::Side, View::Plan] {
            let drawing = draw(&resolved, view, LengthUnit::Inch);
            for (face, strokes) in grained(&drawing) {
                // Where parts of two lengths fill the same face, it may be either's.
                let [length] = lengths_of(&resolved, view, face)[..] else { continue };
                let lies = axes(view).into_iter().find(|axis| *axis == length);
                assert_eq!(run_of(strokes, view), lies, "{}, {view:?}, {:?}", design.key, span(face));
                seen[lies.map_or(2, |lies| usize::from(lies == axes(view)[1]))] += 1;
                let [left, right, upper, lower] = span(face);
                let inside = |(x, y): &Point| (left..=right).contains(x) && (upper..=lower).contains(y);
                assert!(strokes.iter().flatten().all(inside), "{}: grain runs out of the wood", design.key);
            }
        }
    }
    assert!(seen.iter().all(|faces| *faces >= 5), "across, up and at the end: {seen:?}");
}

/// The colour a key of the book stands for: a timber's, a sheet's, a resin's, or that of the timber a slab is of.
fn swatch<'b>(book: &'b PriceBook, material: &Key) -> &'b str {
    let timber = book.slabs.iter().find(|slab| slab.key == *material).map_or(material, |slab| &slab.timber);
    let timbers = book.timbers.iter().map(|one| (&one.key, one.swatch.as_str()));
    let sheets = book.sheets.iter().map(|one| (&one.key, one.swatch.as_str()));
    let resins = book.resins.iter().map(|one| (&one.key, one.swatch.as_str()));
    timbers.chain(sheets).chain(resins).find(|(key, _)| *key == timber).unwrap().1
}

fn swatches(drawing: &Drawing) -> Vec<&str> {
    let of = drawing.shapes.iter().filter_map(|shape| match shape {
        Shape::Face { swatch, .. } => Some(swatch.as_str()),
        _ => None,
    });
    let mut all: Vec<&str> = of.collect();
    all.sort_unstable();
    all
}

#[test]
fn every_face_has_the_swatch_of_the_species_that_was_chosen_for_its_part() {
    let book = demo();
    let mut told_apart = 0;
    for design in &book.designs {
        for role in &design.roles {
            for material in &role.materials {
                let mut brief = Brief::new(design.key.clone());
                brief.materials.insert(role.key.clone(), material.clone());
                // A slab too small for the piece is refused, and not drawn.
                let Ok(resolved) = resolve(&book, &brief) else { continue };
                let chosen = |own: &Key| {
                    let first = design.roles.iter().find(|one| one.key == *own).map(|one| &one.materials[0]);
                    if *own == role.key { material } else { first.unwrap() }
                };
                for view in View::ALL {
                    let faces = if view == View::Solid { 3 } else { 1 };
                    let of_part = resolved.parts.iter().flat_map(|part| {
                        let own = swatch(&book, chosen(&part.part.role));
                        std::iter::repeat_n(own, part.boxes.len() * faces)
                    });
                    let mut expected: Vec<&str> = of_part.collect();
                    expected.sort_unstable();
                    let drawing = draw(&resolved, view, LengthUnit::Inch);
                    assert_eq!(swatches(&drawing), expected, "{}, {view:?}: {} in {material}", design.key, role.key);
                    told_apart += usize::from(expected.first() != expected.last());
                }
            }
        }
    }
    assert!(told_apart > 50, "pieces of two colours: {told_apart}");
}
