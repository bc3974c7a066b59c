//! How long the engine takes: one estimate, its neighbourhood, books read, documents as large as are read, and how it grows.
//!
//! `cargo xtask bench` runs it. Where a bench counts items, the same items a second at every size is growth in proportion.
#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    reason = "a bench stops where its own set-up fails"
)]

#[path = "../tests/large/mod.rs"]
mod large;

use divan::counter::{BytesCount, ItemsCount};
use divan::{Bencher, black_box};
use scantling_pricing::alternatives::alternatives;
use scantling_pricing::book::document::Node;
use scantling_pricing::book::{Key, PriceBook, ShopBook};
use scantling_pricing::brief::Brief;
use scantling_pricing::estimate::estimate;
use scantling_pricing::measure::{DecimalMark, LengthUnit, read_length};
use scantling_pricing::publish::{Basis, fold};
use serde_json::{Value, json};

const SHOP: &str = include_str!("../../../shared/books/demo-shop.json");
const PRICES: &str = include_str!("../../../public/price-book.json");
const TABLE: &str = include_str!("../../../shared/briefs/table-to-chicago.json");

fn main() {
    divan::main();
}

fn book() -> PriceBook {
    PriceBook::read(PRICES).unwrap()
}

fn table() -> Brief {
    Brief::read(TABLE).unwrap()
}

#[divan::bench]
fn estimate_of_the_demo_table(bencher: Bencher<'_, '_>) {
    let (book, brief) = (book(), table());
    bencher.bench_local(|| estimate(black_box(&book), black_box(&brief)));
}

#[divan::bench]
fn neighbourhood_of_200(bencher: Bencher<'_, '_>) {
    // The table's own neighbours, and those of as many next ones as make 200 briefs.
    let book = book();
    let mut briefs = vec![table()];
    while briefs.len() < 200 {
        let next = briefs.iter().find_map(|brief| {
            let moved = alternatives(&book, brief).unwrap();
            moved.into_iter().map(|one| one.brief).find(|one| !briefs.contains(one))
        });
        briefs.push(next.expect("the demo offers 200 different tables"));
    }
    bencher
        .counter(ItemsCount::new(briefs.len()))
        .bench_local(|| briefs.iter().filter(|brief| estimate(black_box(&book), brief).is_ok()).count());
}

#[divan::bench]
fn what_moves_the_price(bencher: Bencher<'_, '_>) {
    let (book, brief) = (book(), table());
    let count = alternatives(&book, &brief).unwrap().len();
    bencher.counter(ItemsCount::new(count)).bench_local(|| alternatives(black_box(&book), black_box(&brief)));
}

#[divan::bench]
fn read_the_price_book(bencher: Bencher<'_, '_>) {
    bencher.counter(BytesCount::of_str(PRICES)).bench_local(|| PriceBook::read(black_box(PRICES)));
}

#[divan::bench]
fn read_and_fold_the_shop_book(bencher: Bencher<'_, '_>) {
    bencher
        .counter(BytesCount::of_str(SHOP))
        .bench_local(|| fold(&ShopBook::read(black_box(SHOP)).unwrap(), Basis::Selling));
}

#[divan::bench]
fn read_a_length(bencher: Bencher<'_, '_>) {
    bencher.bench_local(|| read_length(black_box("6' 2-1/2\""), LengthUnit::Inch, DecimalMark::Point));
}

/// Documents of 2 MiB, each the worst of its kind; the aim is 100 ms.
mod two_mebibytes {
    use super::{Bencher, BytesCount, ShopBook, black_box, large};

    #[divan::bench(args = large::documents().into_iter().map(|(name, _)| name).collect::<Vec<_>>(), sample_count = 5, sample_size = 1)]
    fn as_a_shop_book(bencher: Bencher<'_, '_>, name: &str) {
        let text = large::documents().into_iter().find(|(known, _)| *known == name).map(|(_, text)| text).unwrap();
        bencher.counter(BytesCount::of_str(&text)).bench_local(|| drop(ShopBook::read(black_box(&text))));
    }
}

/// A book without the limits its check sets, to see how the engine itself grows.
fn unchecked(book: &Value) -> PriceBook {
    Node::read(&book.to_string()).unwrap().read_as().unwrap()
}

fn grown(pointer: &str, count: usize, change: impl Fn(usize, &mut Value)) -> PriceBook {
    let mut book: Value = serde_json::from_str(PRICES).unwrap();
    let rows = book.pointer_mut(pointer).unwrap().as_array_mut().unwrap();
    let first = rows.first().unwrap().clone();
    let more = (0..count).map(|i| {
        let mut row = first.clone();
        change(i, &mut row);
        row
    });
    // Behind the new rows the old ones, which the brief asks for.
    *rows = more.chain(rows.drain(..)).collect();
    unchecked(&book)
}

const TENS: [usize; 4] = [10, 100, 1000, 10_000];

mod growth {
    use super::{
        Bencher, Brief, ItemsCount, Key, PRICES, TENS, Value, black_box, estimate, grown, json, table, unchecked,
    };

    #[divan::bench(args = [10, 30, 100, 300, 1000])]
    fn with_parts(bencher: Bencher<'_, '_>, parts: usize) {
        let mut book: Value = serde_json::from_str(PRICES).unwrap();
        let design = book.pointer_mut("/designs/1").unwrap();
        let first = design["parts"][2].clone();
        let part = |i: usize| {
            let mut part = first.clone();
            part["key"] = json!(format!("part-{i}"));
            part
        };
        design["parts"] = (0..parts).map(part).collect();
        let (book, brief) = (unchecked(&book), Brief::new(Key::new("hall-bench").unwrap()));
        bencher.counter(ItemsCount::new(parts)).bench_local(|| estimate(black_box(&book), black_box(&brief)));
    }

    #[divan::bench(args = TENS)]
    fn with_species(bencher: Bencher<'_, '_>, species: usize) {
        let book = grown("/timbers", species, |i, row| row["key"] = json!(format!("wood-{i}")));
        let brief = table();
        bencher.counter(ItemsCount::new(species)).bench_local(|| estimate(black_box(&book), black_box(&brief)));
    }

    #[divan::bench(args = TENS)]
    fn with_regions(bencher: Bencher<'_, '_>, regions: usize) {
        let book = grown("/regions", regions, |i, row| {
            row["key"] = json!(format!("region-{i}"));
            row["prefixes"] = json!([format!("9{i:05}")]);
        });
        let brief = table();
        bencher.counter(ItemsCount::new(regions)).bench_local(|| estimate(black_box(&book), black_box(&brief)));
    }
}
