//! Does one thing so often and ends: what `cargo xtask cost` counts the instructions of.
//!
//! The counter takes the difference between few times and many, so that reading the files and starting up fall out.
#![expect(clippy::unwrap_used, reason = "it stops where its own set-up fails")]

use std::hint::black_box;

use scantling_pricing::alternatives::alternatives;
use scantling_pricing::book::{PriceBook, ShopBook};
use scantling_pricing::brief::Brief;
use scantling_pricing::estimate::estimate;
use scantling_pricing::link::Link;
use scantling_pricing::publish::{Basis, fold};

const SHOP: &str = include_str!("../../../shared/books/demo-shop.json");
const PRICES: &str = include_str!("../../../public/price-book.json");
const TABLE: &str = include_str!("../../../shared/briefs/table-to-chicago.json");

fn main() {
    let arguments: Vec<String> = std::env::args().collect();
    let [_, what, times] = arguments.as_slice() else {
        eprintln!("write what to do, and how often");
        return;
    };
    let times: u32 = times.parse().unwrap();
    let book = PriceBook::read_published(PRICES).unwrap();
    let brief = Brief::read(TABLE).unwrap();
    let link = Link { brief: brief.clone(), edition: book.edition.clone() };
    let deed: &dyn Fn() -> bool = match what.as_str() {
        "estimate" => &|| estimate(black_box(&book), black_box(&brief)).is_ok(),
        "moves" => &|| alternatives(black_box(&book), black_box(&brief)).is_ok(),
        "price-book" => &|| PriceBook::read_published(black_box(PRICES)).is_ok(),
        "shop-book" => &|| {
            let shop = ShopBook::read(black_box(SHOP)).unwrap();
            fold(&shop, Basis::Selling).is_ok()
        },
        "link" => &|| Link::read(&black_box(&link).write().unwrap()).is_ok(),
        _ => {
            eprintln!("nothing is called {what}");
            return;
        }
    };
    for _ in 0..times {
        assert!(deed(), "{what} failed");
    }
}
