//! A hundred thousand briefs through the command, from lines on standard input to lines on standard output.
#![expect(clippy::unwrap_used, reason = "a bench stops where its own set-up fails")]

use std::io::Write;
use std::process::{Command, Stdio};

use divan::Bencher;
use divan::counter::ItemsCount;

const BRIEFS: usize = 100_000;

fn main() {
    divan::main();
}

/// Tables of every length and top the demo offers, sent all over the country.
fn briefs() -> String {
    let woods = ["black-walnut", "white-oak", "black-cherry", "hard-maple", "white-ash", "northern-red-oak"];
    let brief = |(i, wood): (usize, &&str)| {
        let (length, town) = (60 + i % 31, 10_000 + i * 7919 % 90_000);
        format!(
            r#"{{"scantling_brief":1,"design":"trestle-table","dimensions":{{"length":"{length} in"}},"materials":{{"top":"{wood}"}},"destination":{{"country":"US","postal_code":"{town}"}}}}"#
        ) + "\n"
    };
    (0..BRIEFS).zip(woods.iter().cycle()).map(brief).collect()
}

#[divan::bench(sample_count = 3, sample_size = 1)]
fn a_hundred_thousand_briefs(bencher: Bencher<'_, '_>) {
    let (briefs, book) = (briefs(), concat!(env!("CARGO_MANIFEST_DIR"), "/../../public/price-book.json"));
    bencher.counter(ItemsCount::new(BRIEFS)).bench_local(|| {
        let mut child = Command::new(env!("CARGO_BIN_EXE_scantling"))
            .args(["price", "--book", book, "--lines", "-"])
            .stdin(Stdio::piped())
            .stdout(Stdio::null())
            .spawn()
            .unwrap();
        child.stdin.take().unwrap().write_all(briefs.as_bytes()).unwrap();
        child.wait().unwrap()
    });
}
