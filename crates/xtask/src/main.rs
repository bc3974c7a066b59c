//! `cargo xtask`: what a contributor runs. Each verb has a file of its own; this one only tells them apart.

mod cost;
mod deny;
mod dist;
mod embedding;
mod fuzz;
mod licences;
mod nightly;
mod order;
mod papers;
mod points;
mod release;
mod serve;
mod shell;
mod size;
mod split;
mod steps;
mod tools;
mod twice;

use std::path::Path;
use std::process::ExitCode;

use shell::root;

const USAGE: &str = "\
cargo xtask serve [--port N] [--no-open]   build the demo page and serve it on this machine
cargo xtask dist                           write the deployable folder, target/dist, and the release folder
cargo xtask release                        write the release folder from target/dist as it stands, twice, and compare
cargo xtask dist --shop-quickly            put the maker's page alone into it, not made small, for a look
cargo xtask dist --quickly                 write both folders with nothing made small, for a look
cargo xtask size                           compare the bundle with its budget
cargo xtask test [--only STEP]             run every test, or one step of them
cargo xtask nightly [--only STEP]          what takes too long for every change: fuzz, soak, bench page, shots, deny, a second build
cargo xtask bench [FILTER]                 time the engine: one estimate, many, large documents, growth
cargo xtask bench browser                  time it in a browser, beside the same pricing in plain JavaScript
cargo xtask bench shop                     time the maker's page in target/dist with a book of 5 000 rows, beside the demo's
cargo xtask bench page [TIMES]             time target/dist as a buyer on a slow phone meets it: first price, keystrokes, shifts;
                                           the processor slowed four times, or so many
cargo xtask cost                           count the instructions of the engine's work, and hold them against their budget
cargo xtask fuzz [TARGET [RUNS]]           throw bytes at the readers, one of them or all
cargo xtask fuzz --keep [TARGET]           put the fewest inputs that reach what the fuzzer has reached into the corpus
cargo xtask soak                           10 000 edits and 1000 widgets that come and go, with what the page holds
cargo xtask shots                          take the widget in every state, look and width, and the demo page
cargo xtask shots start                    take the pictures of START.html, the page a maker starts at
cargo xtask papers                         build the papers into target/papers, every figure worked out, every link followed
cargo xtask licences                       say whether all we build with is under terms on the list and from crates.io
cargo xtask deny [--db FOLDER]             the same by cargo-deny, what is withdrawn, and what is known against them by the public list,
                                           which is fetched, or by a list in a folder of this machine, a git repository
cargo xtask pictures [--check]             draw the pictures of the demo page anew, or say whether they are current
cargo xtask points [--check]               write where postal codes lie anew, or say whether it is current
cargo xtask schema [--check]               write the JSON Schemas anew, or say whether they are current
";

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let done = match words.as_slice() {
        ["serve", options @ ..] => serve::serve(options),
        ["dist", "--shop-quickly"] => dist::shop_page_quickly(),
        ["dist", "--quickly"] => dist::quickly(),
        ["dist"] => dist::dist().map(drop),
        ["size"] => dist::dist().and_then(|dist| size::check(&dist.folder)),
        ["test"] => return steps::test(None),
        ["test", "--only", step] => return steps::test(Some(step)),
        ["nightly"] => return nightly::nightly(None),
        ["nightly", "--only", step] => return nightly::nightly(Some(step)),
        ["bench", filter @ ..] => steps::bench(filter),
        ["fuzz", options @ ..] => fuzz::fuzz(options),
        ["release"] => release::check(&root().join("target/dist")),
        ["deny"] => deny::deny(None),
        ["deny", "--db", folder] => deny::deny(Some(Path::new(folder))),
        ["papers"] => papers::papers(),
        ["licences"] => licences::check(),
        ["cost"] => cost::check(),
        ["soak"] => steps::soak(),
        ["shots"] => steps::shots("shots"),
        ["shots", "start"] => steps::shots("start"),
        ["pictures", options @ ..] => steps::pictures(options),
        ["points", options @ ..] => points::points(options),
        ["schema", options @ ..] => steps::schema(options),
        _ => {
            eprint!("{USAGE}");
            return ExitCode::from(2);
        }
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("\nxtask: {error:#}");
            ExitCode::FAILURE
        }
    }
}
