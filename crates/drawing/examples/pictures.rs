//! Draws the pictures of the demo page from the demo price book: every design seen whole, the first one as a measured sheet, a
//! sample of every timber, every slab as it lies.
//!
//! Run by `cargo xtask pictures`, which also writes on the page what is on each, for those who don't see it; with `--check` it only says
//! whether the committed ones are current and the page shows and tells them.

use std::path::Path;
use std::process::ExitCode;

use scantling_drawing::{
    Paper, Scale, Seen, View, described, draw, measured, sample, sample_described, slab, slab_described, svg,
};
use scantling_pricing::book::{Key, PriceBook};
use scantling_pricing::brief::Brief;
use scantling_pricing::design::{Design, resolve};
use scantling_pricing::measure::LengthUnit;

/// A picture: its file's name, what the file holds, and the same in words.
struct Picture {
    name: String,
    drawn: String,
    told: String,
}

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
    let mut told = page.clone();
    for Picture { name, drawn, told: words } in pictures(&book) {
        let path = public.join("pictures").join(&name);
        if check && std::fs::read_to_string(&path).ok().as_ref() != Some(&drawn) {
            eprintln!("public/pictures/{name} is not current; run cargo xtask pictures");
            current = false;
        }
        match with_words(&told, &name, &words) {
            Some(page) => told = page,
            None => {
                eprintln!("index.html does not show pictures/{name} with an alt; give it a place there");
                current = false;
            }
        }
        if !check && std::fs::write(&path, drawn).is_err() {
            eprintln!("public/pictures/{name} can't be written");
            current = false;
        }
    }
    if check && told != page {
        eprintln!("index.html does not say of each picture what is on it; run cargo xtask pictures");
        current = false;
    }
    if !check && std::fs::write(top.join("index.html"), told).is_err() {
        eprintln!("index.html can't be written");
        current = false;
    }
    if current { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

/// A page whose picture of this name says these words to those who don't see it; nothing where it does not show it.
fn with_words(page: &str, name: &str, words: &str) -> Option<String> {
    let (before, after) = page.split_once(&format!("src=\"pictures/{name}\""))?;
    let (tag, rest) = after.split_once('>')?;
    let (start, end) = tag.split_once("alt=\"")?;
    let (_, end) = end.split_once('"')?;
    let words = words.replace('&', "&amp;").replace('<', "&lt;").replace('"', "&quot;");
    Some(format!("{before}src=\"pictures/{name}\"{start}alt=\"{words}\"{end}>{rest}"))
}

/// All of them.
fn pictures(book: &PriceBook) -> Vec<Picture> {
    let wholes = book.designs.iter().enumerate().filter_map(|(turn, design)| whole(book, design, turn));
    let sheet = book.designs.first().and_then(|design| sheet(book, design));
    let samples = book.timbers.iter().map(|timber| {
        let told = sample_described(timber);
        let drawn = svg::write(&sample(timber.swatch.as_str()), timber.name.as_str(), &told);
        Picture { name: format!("timber-{}.svg", timber.key), drawn, told }
    });
    let slabs = book.slabs.iter().filter_map(|lying| {
        let timber = book.timbers.iter().find(|timber| timber.key == lying.timber)?;
        let told = slab_described(lying, timber, LengthUnit::Inch);
        let drawn = svg::write(&slab(lying, timber, LengthUnit::Inch), lying.name.as_str(), &told);
        Some(Picture { name: format!("slab-{}.svg", lying.key), drawn, told })
    });
    wholes.chain(sheet).chain(samples).chain(slabs).collect()
}

/// A design seen whole, each in the next of its woods so that the page is not all of one colour.
fn whole(book: &PriceBook, design: &Design, turn: usize) -> Option<Picture> {
    let resolved = resolve(book, &in_wood(design, turn)).ok()?;
    let told = described(&resolved, LengthUnit::Inch, Seen::Alone);
    let drawn = svg::write(&draw(&resolved, View::Solid, LengthUnit::Inch), design.name.as_str(), &told);
    Some(Picture { name: format!("{}.svg", design.key), drawn, told })
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
    let told = described(&resolved, LengthUnit::Inch, Seen::Measured);
    Some(Picture { name: format!("{}-measured.svg", design.key), drawn: svg::write(&drawn, &title, &told), told })
}

fn in_wood(design: &Design, turn: usize) -> Brief {
    let mut brief = Brief::new(design.key.clone());
    for role in &design.roles {
        let wood: Option<&Key> = role.materials.get(turn % role.materials.len().max(1));
        brief.materials.extend(wood.map(|wood| (role.key.clone(), wood.clone())));
    }
    brief
}
