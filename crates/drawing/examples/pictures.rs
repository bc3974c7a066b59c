//! Draws the pictures of the demo page: every design of the demo price book, seen whole.
//!
//! Run by `cargo xtask pictures`; with `--check` it only says whether the committed ones are current.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use scantling_drawing::{View, draw, svg};
use scantling_pricing::book::{Key, PriceBook};
use scantling_pricing::brief::Brief;
use scantling_pricing::design::{Design, resolve};
use scantling_pricing::measure::LengthUnit;

fn main() -> ExitCode {
    let check = std::env::args().any(|argument| argument == "--check");
    let top: PathBuf = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let text = std::fs::read_to_string(top.join("public/price-book.json")).unwrap_or_default();
    let book = match PriceBook::read(&text) {
        Ok(book) => book,
        Err(faults) => {
            faults.iter().for_each(|fault| eprintln!("public/price-book.json: {fault}"));
            return ExitCode::FAILURE;
        }
    };
    let mut current = true;
    for (i, design) in book.designs.iter().enumerate() {
        let path = top.join("public/pictures").join(format!("{}.svg", design.key));
        let picture = picture(&book, design, i);
        if check && std::fs::read_to_string(&path).ok().as_ref() != Some(&picture) {
            eprintln!("public/pictures/{}.svg is not current; run cargo xtask pictures", design.key);
            current = false;
        }
        if !check && std::fs::write(&path, picture).is_err() {
            eprintln!("public/pictures/{}.svg can't be written", design.key);
            current = false;
        }
    }
    if current { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

/// One picture, each design in the next of its woods so that the page is not all of one colour.
fn picture(book: &PriceBook, design: &Design, turn: usize) -> String {
    let mut brief = Brief::new(design.key.clone());
    for role in &design.roles {
        let wood: Option<&Key> = role.materials.get(turn % role.materials.len().max(1));
        brief.materials.extend(wood.map(|wood| (role.key.clone(), wood.clone())));
    }
    let drawn = resolve(book, &brief).map(|resolved| draw(&resolved, View::Solid, LengthUnit::Inch));
    drawn.map_or_else(|_| String::new(), |drawing| svg::write(&drawing, design.name.as_str(), design.summary.as_str()))
}
