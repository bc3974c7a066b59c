//! `scantling draw`: a piece to scale with its sizes, or seen whole, as SVG.

use std::fs;
use std::path::Path;

use scantling_drawing::{Paper, Scale, Seen, View, described, draw as drawn, measured, svg};
use scantling_pricing::book::PriceBook;
use scantling_pricing::brief::Brief;
use scantling_pricing::design::resolve;
use scantling_pricing::measure::LengthUnit;
use scantling_pricing::problem::Problem;
use scantling_pricing::publish::{Basis, fold};

use crate::report::Failure;
use crate::{AnyBook, read_book, read_brief};

/// Draws a brief, measured or seen whole, to a file or to standard output.
pub(crate) fn draw(
    (book_path, brief_path): (&Path, &Path),
    whole: bool,
    unit: LengthUnit,
    out: Option<&Path>,
) -> Result<String, Failure> {
    let book = match read_book(book_path)? {
        AnyBook::Price(book) => *book,
        AnyBook::Shop(shop) => fold(&shop, Basis::Selling).map_err(|fault| Failure::in_file(book_path, &[fault]))?,
    };
    let brief = read_brief(brief_path)?;
    let text = picture(&book, &brief, whole, unit).map_err(|problems| Failure::in_brief(brief_path, &problems))?;
    let Some(out) = out else { return Ok(text) };
    fs::write(out, format!("{text}\n"))
        .map_err(|error| Failure::Unreadable(format!("{} can't be written: {error}", out.display())))?;
    Ok(format!("{}: drawn.", out.display()))
}

fn picture(book: &PriceBook, brief: &Brief, whole: bool, unit: LengthUnit) -> Result<String, Vec<Problem>> {
    let resolved = resolve(book, brief)?;
    let name = resolved.design.name.as_str();
    let told = described(&resolved, unit, if whole { Seen::Alone } else { Seen::Measured });
    if whole {
        return Ok(svg::write(&drawn(&resolved, View::Solid, unit), name, &told));
    }
    let wood = resolved.materials.first().map_or("", |material| material.stock.name());
    let words = [book.shop.name.as_str(), name, wood];
    let names = ["Front", "Right-hand end", "From above"];
    let paper = Paper { wide: 720, tall: 600, lettering: 13, names, words: &words, scale: Scale::ThisPiece };
    Ok(svg::write(&measured(&resolved, unit, &paper).drawing, &format!("{name}, measured"), &told))
}
