//! What moves the price, and what fits a budget, on the demo book.

use rust_decimal::Decimal;
use scantling_pricing::alternatives::{Change, alternatives, price_that_counts};
use scantling_pricing::book::PriceBook;
use scantling_pricing::brief::Brief;
use scantling_pricing::budget::{Budget, fit};
use scantling_pricing::delivery::Mode;
use scantling_pricing::estimate::estimate;

use crate::start::demo;

fn table_to_chicago() -> Brief {
    Brief::read(include_str!("../../../../shared/briefs/table-to-chicago.json")).unwrap()
}

fn now(book: &PriceBook, brief: &Brief) -> Decimal {
    price_that_counts(&estimate(book, brief).unwrap()).amount()
}

#[test]
fn every_alternative_is_one_choice_away_and_priced_as_if_asked_for() {
    let (book, brief) = (demo(), table_to_chicago());
    let before = now(&book, &brief);
    let found = alternatives(&book, &brief).unwrap();
    assert!(found.is_sorted_by_key(|alternative| alternative.price.amount()));
    for alternative in &found {
        assert_eq!(now(&book, &alternative.brief), alternative.price.amount());
        assert_eq!(before + alternative.difference.amount(), alternative.price.amount());
        assert_ne!(alternative.brief, brief);
    }
    // Five other woods for the top, six for the base, two finishes, one other end, three sizes up and down, three other ways.
    assert_eq!(found.len(), 5 + 6 + 2 + 1 + 6 + 3);
    let saves =
        |change: &Change| found.iter().find(|a| a.change == *change).unwrap().difference.amount() < Decimal::ZERO;
    assert!(saves(&Change::Delivery { to: Mode::Collect }));
    let poplar = book.timbers.iter().find(|timber| timber.key.as_str() == "yellow-poplar").unwrap().key.clone();
    let base = book.design(&brief.design).unwrap().roles.last().unwrap().key.clone();
    assert!(saves(&Change::Material { role: base, to: poplar }));
}

#[test]
fn a_budget_the_brief_meets_changes_nothing() {
    let (book, brief) = (demo(), table_to_chicago());
    assert_eq!(fit(&book, &brief, now(&book, &brief)).unwrap(), Budget::Within);
}

#[test]
fn a_little_less_money_takes_one_change_and_a_size_gives_way_no_further_than_it_must() {
    let (book, brief) = (demo(), table_to_chicago());
    let sum = now(&book, &brief) - Decimal::from(100);
    let Budget::Plans(plans) = fit(&book, &brief, sum).unwrap() else { panic!("one change must do") };
    assert!(plans.is_sorted_by(|a, b| a.price.amount() >= b.price.amount()));
    for plan in &plans {
        assert_eq!(plan.changes.len(), 1, "the fewest changes come first: {:?}", plan.changes);
        assert!(plan.price.amount() <= sum);
        assert_eq!(now(&book, &plan.brief), plan.price.amount());
        let [Change::Size { dimension, to }] = plan.changes.as_slice() else { continue };
        let step = book.design(&brief.design).unwrap().dimension(dimension.as_str()).unwrap().step;
        let one_step_larger = Change::Size { dimension: dimension.clone(), to: *to + step }.applied(&brief);
        assert!(now(&book, &one_step_larger) > sum, "a larger {dimension} would have fitted");
    }
    assert!(plans.iter().any(|plan| matches!(plan.changes.as_slice(), [Change::Size { .. }])));
}

#[test]
fn what_can_t_be_had_says_the_least_it_can_be_had_for() {
    let (book, brief) = (demo(), table_to_chicago());
    let Budget::OutOfReach { cheapest } = fit(&book, &brief, Decimal::from(300)).unwrap() else {
        panic!("no table costs 300")
    };
    assert_eq!(now(&book, &cheapest.brief), cheapest.price.amount());
    for further in alternatives(&book, &cheapest.brief).unwrap() {
        let is_delivery = matches!(further.change, Change::Delivery { .. });
        assert!(is_delivery || further.difference.amount() >= Decimal::ZERO, "{:?} would save more", further.change);
    }
    // Just at that least, it can be had.
    assert!(matches!(fit(&book, &brief, cheapest.price.amount()).unwrap(), Budget::Plans(_)));
}
