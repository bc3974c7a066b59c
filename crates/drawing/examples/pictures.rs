//! Draws the pictures of the demo page from the demo price book: every design seen whole, the first one as a measured sheet, a
//! sample of every timber, every slab as it lies.
//!
//! Run by `cargo xtask pictures`; with `--check` it only says whether the committed ones are current and the page shows them.

use std::path::Path;
use std::process::ExitCode;

use scantling_drawing::{Paper, Scale, View, draw, measured, sample, seats, slab, svg};
use scantling_pricing::book::{Key, PriceBook};
use scantling_pricing::brief::Brief;
use scantling_pricing::design::{Design, resolve};
use scantling_pricing::measure::LengthUnit;

/// A file's name and what it holds.
type Picture = (String, String);

fn main() -> ExitCode {
    let check = std::env::args().any(|argument| argument == "--check");
    let top = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let public = top.join("public");
    let page = std::fs::read_to_string(top.join("index.html")).unwrap_or_default();
    let text = std::fs::read_to_string(public.join("price-book.json")).unwrap_or_default();
    let book = match PriceBook::read(&text) {
        Ok(book) => book,
        Err(faults) => {
            faults.iter().for_each(|fault| eprintln!("public/price-book.json: {fault}"));
            return ExitCode::FAILURE;
        }
    };
    let mut current = true;
    for (name, picture) in pictures(&book) {
        let path = public.join("pictures").join(&name);
        if check && std::fs::read_to_string(&path).ok().as_ref() != Some(&picture) {
            eprintln!("public/pictures/{name} is not current; run cargo xtask pictures");
            current = false;
        }
        if check && !page.contains(&format!("src=\"pictures/{name}\"")) {
            eprintln!("index.html does not show pictures/{name}; give it a place there");
            current = false;
        }
        if !check && std::fs::write(&path, picture).is_err() {
            eprintln!("public/pictures/{name} can't be written");
            current = false;
        }
    }
    if current { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

/// All of them.
fn pictures(book: &PriceBook) -> Vec<Picture> {
    let wholes = book.designs.iter().enumerate().filter_map(|(turn, design)| whole(book, design, turn));
    let sheet = book.designs.first().and_then(|design| sheet(book, design));
    let samples = book.timbers.iter().map(|timber| {
        let drawn = svg::write(&sample(timber.swatch.as_str()), timber.name.as_str(), timber.character.as_str());
        (format!("timber-{}.svg", timber.key), drawn)
    });
    let slabs = book.slabs.iter().filter_map(|lying| {
        let timber = book.timbers.iter().find(|timber| timber.key == lying.timber)?;
        let drawn = slab(lying, timber, LengthUnit::Inch);
        Some((format!("slab-{}.svg", lying.key), svg::write(&drawn, lying.name.as_str(), lying.character.as_str())))
    });
    wholes.chain(sheet).chain(samples).chain(slabs).collect()
}

/// A design seen whole, each in the next of its woods so that the page is not all of one colour.
fn whole(book: &PriceBook, design: &Design, turn: usize) -> Option<Picture> {
    let resolved = resolve(book, &in_wood(design, turn)).ok()?;
    let drawn = draw(&resolved, View::Solid, LengthUnit::Inch);
    Some((format!("{}.svg", design.key), svg::write(&drawn, design.name.as_str(), design.summary.as_str())))
}

/// A design in plan, front and side, in its third wood.
fn sheet(book: &PriceBook, design: &Design) -> Option<Picture> {
    let resolved = resolve(book, &in_wood(design, 2)).ok()?;
    let wood = resolved.materials.first().map_or("", |material| material.stock.name());
    let words = [book.shop.name.as_str(), design.name.as_str(), wood];
    let names = ["Front", "Right-hand end", "From above"];
    let paper = Paper { wide: 720, tall: 600, lettering: 13, names, words: &words, scale: Scale::ThisPiece };
    let drawn = measured(&resolved, LengthUnit::Inch, &paper).drawing;
    let title = format!("{}, measured", design.name);
    let [length, width, height] = resolved.envelope().map(|size| size.show(LengthUnit::Inch));
    let seats = seats(&resolved).map_or(String::new(), |seats| format!(" Chairs stand at its {seats} places."));
    let told = format!("{} Here {length} long, {width} wide and {height} high, of {wood}.{seats}", design.summary);
    Some((format!("{}-measured.svg", design.key), svg::write(&drawn, &title, &told)))
}

fn in_wood(design: &Design, turn: usize) -> Brief {
    let mut brief = Brief::new(design.key.clone());
    for role in &design.roles {
        let wood: Option<&Key> = role.materials.get(turn % role.materials.len().max(1));
        brief.materials.extend(wood.map(|wood| (role.key.clone(), wood.clone())));
    }
    brief
}
