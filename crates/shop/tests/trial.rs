//! Other rates tried on a piece: held against the same rate written into the book and the whole basket priced from it.
#![expect(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test stops where its own set-up fails; helpers are not marked as tests"
)]

use rust_decimal::Decimal;
use scantling_pricing::book::ShopBook;
use scantling_pricing::book::document::Node;
use scantling_pricing::profit::Rates;
use scantling_shop::basket;
use scantling_shop::form::Kind;
use scantling_shop::plot::steps;
use scantling_shop::rates::Rate;
use scantling_shop::trial::Trial;
use serde_json::{Value, json};

const DEMO: &str = include_str!("../../../shared/books/demo-shop.json");

fn kind() -> Kind {
    Kind::of_document(&serde_json::from_str(include_str!("../../../shared/schema/shop-book.json")).unwrap())
}

fn trial(index: usize) -> Trial {
    let book = ShopBook::read(DEMO).unwrap();
    let piece = basket::watched(&book).remove(index);
    Trial::of(&Node::read(DEMO).unwrap(), &piece.brief, scantling_pricing::learning::from_jobs(&book.jobs)).unwrap()
}

fn named(trial: &Trial, name: &str) -> Rate {
    trial.rates(&kind()).into_iter().find(|rate| rate.name == name).unwrap_or_else(|| panic!("{name}"))
}

/// The price of a piece by a book in which a value was written over.
fn by_the_book(place: &str, value: &str, index: usize) -> basket::Figures {
    let mut book: Value = serde_json::from_str(DEMO).unwrap();
    *book.pointer_mut(place).unwrap() = json!(value);
    let book = ShopBook::read(&book.to_string()).unwrap();
    let piece = basket::watched(&book).remove(index);
    basket::price(&book, &[piece], &[]).unwrap().pieces.remove(0).1.unwrap()
}

#[test]
fn a_sweep_says_what_the_book_would_say_at_each_value() {
    let trial = trial(0);
    for (name, place) in [
        ("Pricing: margin", "/pricing/margin"),
        ("Timbers, Black walnut: rates 5/4", "/timbers/0/rates/5~14"),
        ("Pricing: shop rate yearly wages", "/pricing/shop_rate/yearly/wages"),
    ] {
        let rate = named(&trial, name);
        for value in steps(rate.value / Decimal::TWO, rate.value * Decimal::TWO, 5) {
            let point = trial.at(&rate, value);
            let whole = by_the_book(place, &value.to_string(), 0);
            let at = point.figures.unwrap();
            assert_eq!((at.price, at.pay), (whole.price, whole.pay), "{name} {value}");
        }
    }
    // What no book may hold is told, not drawn.
    let margin = named(&trial, "Pricing: margin");
    assert!(trial.at(&margin, Decimal::ONE).figures.unwrap_err().contains("out of bounds"));
}

#[test]
fn the_cost_is_what_the_engine_says_it_is() {
    let book = ShopBook::read(DEMO).unwrap();
    let piece = basket::watched(&book).remove(0);
    let costs = Rates::new(&book).unwrap().costs(&piece.brief).unwrap();
    let trial = trial(0);
    let margin = named(&trial, "Pricing: margin");
    assert_eq!(trial.at(&margin, margin.value).figures.unwrap().cost, costs.full);
}

/// With no margin, fee, contingency nor markup in the way, a price is a sum of costs; what a tenth more of a rate adds is a tenth of its line.
/// Worked by hand: wages 52 000 and overheads 27 000 over the same hours carry the work in the proportion 52 to 27.
#[test]
fn effects_stand_in_the_proportion_of_what_they_pay_for() {
    let trial = trial(0);
    let tenth = Decimal::new(1, 1);
    let wages = trial.effect(&named(&trial, "Pricing: shop rate yearly wages"), tenth).unwrap();
    let overheads = trial.effect(&named(&trial, "Pricing: shop rate yearly overheads"), tenth).unwrap();
    let ratio = wages.rise.amount() / overheads.rise.amount();
    let expected = Decimal::from(52) / Decimal::from(27);
    assert!((ratio - expected).abs() < Decimal::new(1, 3), "{ratio} {expected}");
    assert_eq!(wages.rate.place.to_string(), "pricing.shop_rate.yearly.wages");
    // A tenth more hours that can be billed make the hour a little more than a tenth cheaper to run: the price falls.
    let hours = trial.effect(&named(&trial, "Pricing: shop rate yearly billable hours"), tenth).unwrap();
    assert!(hours.rise.amount().is_sign_negative());
    // 1/1.1 - 1 = -0.0909 of the work, and wages and overheads together are +0.1 of it.
    let work = wages.rise.amount() + overheads.rise.amount();
    assert!((hours.rise.amount() / work + Decimal::new(909_091, 6)).abs() < Decimal::new(1, 3));
}

#[test]
fn what_the_piece_is_not_made_of_moves_nothing() {
    let trial = trial(0);
    let names: Vec<String> = trial.rates(&kind()).into_iter().map(|rate| rate.name).collect();
    assert!(
        names.iter().all(|name| !name.starts_with("Slabs") && !name.starts_with("Timbers, White oak")),
        "{names:?}"
    );
    assert!(names.len() > 60, "{}", names.len());
    let shelf = trial.rates(&kind()).into_iter().filter_map(|rate| trial.effect(&rate, Decimal::new(1, 1)));
    let effects: Vec<_> = shelf.collect();
    assert!(effects.len() > 15 && effects.len() < names.len());
    // A rate's place is one of the whole book.
    let root = Node::read(DEMO).unwrap();
    assert!(effects.iter().all(|effect| effect.rate.place.find(&root).is_some()));
}
