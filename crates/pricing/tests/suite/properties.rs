//! What must hold for every book and brief: the fold law, sums, order, scaling.

use proptest::prelude::*;
use rust_decimal::Decimal;
use scantling_pricing::book::PriceBook;
use scantling_pricing::book::values::Amount;
use scantling_pricing::brief::Brief;
use scantling_pricing::cost::LineKind;
use scantling_pricing::delivery::Mode;
use scantling_pricing::estimate::{Estimate, PriceRange, estimate};
use scantling_pricing::measure::Length;
use scantling_pricing::money::total;
use scantling_pricing::publish::{Basis, fold, hourly};
use serde_json::json;

use crate::random::{briefs, holds, scale, shops};
use crate::start::{demo, demo_value, selling, sound};

/// One brief's estimate, or none when no slab or board gives the piece: the same for every book of the demo's stock.
fn priced(book: &PriceBook, brief: &Brief) -> Option<Estimate> {
    estimate(book, brief).ok()
}

#[test]
fn the_price_book_gives_what_the_shop_book_gives_to_the_last_byte() {
    holds(150, &(shops(), briefs()), |(shop, brief)| {
        let private = selling(&sound(&shop));
        let public = PriceBook::read(&serde_json::to_string(&private).unwrap()).unwrap();
        let text = |book: &PriceBook| {
            serde_json::to_string(&estimate(book, &brief).map_err(|problems| problems.len())).unwrap()
        };
        prop_assert_eq!(text(&private), text(&public));
        Ok(())
    });
}

#[test]
fn folded_rates_come_to_what_the_chain_of_factors_comes_to() {
    // The law once more, by another road: costs summed first, then markup, contingency, margin and fee, as a maker would reckon.
    holds(150, &(shops(), briefs()), |(shop, brief)| {
        let shop = sound(&shop);
        let cost_book = fold(&shop, Basis::Cost).unwrap();
        let (Some(sold), Some(cost)) = (priced(&selling(&shop), &brief), priced(&cost_book, &brief)) else {
            return Ok(());
        };
        let of = |estimate: &Estimate, wanted: &dyn Fn(LineKind) -> bool| -> Decimal {
            estimate.lines.iter().filter(|line| wanted(line.kind)).map(|line| line.amount.amount()).sum()
        };
        let materials = of(&cost, &|kind| kind != LineKind::Work && kind != LineKind::LeastJob);
        let work = of(&cost, &|kind| kind == LineKind::Work);
        let pricing = &shop.pricing;
        let one = Decimal::ONE;
        let made = (materials * (one + pricing.material_markup.value()) + work) * (one + pricing.contingency.value());
        let net = (made / (one - pricing.margin.value())).max(shop.shop.least_job.value());
        let fees = pricing.fee_fixed.value() * Decimal::from(shop.shop.deposits.len());
        let expected = (net + fees) / (one - pricing.fee_share.value());
        let actual = of(&sold, &|_| true);
        // Each line is rounded to a cent in both, and a cent of cost is worth up to a few of price.
        let allowed = Decimal::new(5, 2) * Decimal::from(sold.lines.len());
        prop_assert!((actual - expected).abs() <= allowed, "{} is not {}", actual, expected);
        prop_assert!(hourly(&pricing.shop_rate) >= Decimal::ZERO);
        Ok(())
    });
}

pub(crate) fn ordered(price: &PriceRange) -> bool {
    price.low.amount() <= price.likely.amount()
        && price.likely.amount() <= price.high.amount()
        && price.low.amount() >= Decimal::ZERO
}

#[test]
fn lines_add_up_and_ranges_are_in_order_for_every_way() {
    holds(200, &(shops(), briefs()), |(shop, brief)| {
        let book = selling(&sound(&shop));
        let Some(estimate) = priced(&book, &brief) else { return Ok(()) };
        let lines = total(estimate.currency, estimate.lines.iter().map(|line| line.amount));
        prop_assert_eq!((lines + estimate.rounding).amount(), estimate.works.likely.amount());
        prop_assert!(ordered(&estimate.works));
        let step = book.shop.rounding_step.value();
        prop_assert!(step.is_zero() || (estimate.works.likely.amount() % step).is_zero());
        prop_assert!(estimate.works.likely.amount() >= book.shop.least_job.value());
        for delivered in estimate.ways.iter().filter_map(|way| way.outcome.as_ref().ok()) {
            let carried = total(estimate.currency, delivered.lines.iter().map(|line| line.amount));
            prop_assert_eq!((lines + carried + delivered.rounding).amount(), delivered.price.likely.amount());
            prop_assert!(ordered(&delivered.price));
            prop_assert!(delivered.price.likely.amount() >= estimate.works.likely.amount());
        }
        let cheapest =
            estimate.ways.iter().filter(|way| way.mode != Mode::Collect).filter_map(|way| way.outcome.as_ref().ok());
        let cheapest = cheapest.map(|delivered| delivered.price.likely.amount()).min();
        if let (Some(cheapest), Some(delivered)) = (cheapest, estimate.delivered()) {
            prop_assert_eq!(delivered.price.likely.amount(), cheapest, "the cheapest that brings it is chosen");
        }
        Ok(())
    });
}

#[test]
fn no_price_and_no_low_end_is_below_the_least_job() {
    let least = prop::sample::select(vec!["2", "900", "2500", "9000"]);
    holds(100, &(shops(), briefs(), least), |(mut shop, brief, least)| {
        shop["shop"]["least_job"] = json!(least);
        let book = selling(&sound(&shop));
        let Some(estimate) = priced(&book, &brief) else { return Ok(()) };
        let least = book.shop.least_job.value();
        prop_assert!(estimate.works.low.amount() >= least, "{:?} is under {}", estimate.works, least);
        for delivered in estimate.ways.iter().filter_map(|way| way.outcome.as_ref().ok()) {
            let carried = total(estimate.currency, delivered.lines.iter().map(|line| line.amount));
            prop_assert!(
                delivered.price.low.amount() >= least + carried.amount(),
                "{:?} is under {}",
                delivered,
                least
            );
        }
        Ok(())
    });
}

#[test]
fn a_larger_size_or_another_piece_never_costs_less() {
    let book = demo();
    holds(200, &briefs(), |brief| {
        let works = |brief: &Brief| priced(&book, brief).map(|estimate| sum(&estimate));
        let Some(before) = works(&brief) else { return Ok(()) };
        let design = book.design(&brief.design).unwrap();
        for dimension in &design.dimensions {
            let mut larger = brief.clone();
            let size = larger.dimensions.get_mut(&dimension.key).unwrap();
            *size = (*size + Length::sixty_fourths(24)).min(dimension.most);
            // The channel of resin takes its width from the planks beside it: what grows there shrinks here.
            if dimension.key.as_str() == "channel" {
                continue;
            }
            if let Some(after) = works(&larger) {
                prop_assert!(
                    after >= before,
                    "{} of {} grew and the price fell from {} to {}",
                    dimension.key,
                    design.key,
                    before,
                    after
                );
            }
        }
        let mut more = brief.clone();
        more.quantity = scantling_pricing::book::values::Count::new(brief.quantity.value() + 1).unwrap();
        if let Some(after) = works(&more) {
            prop_assert!(after > before);
        }
        Ok(())
    });
}

fn sum(estimate: &Estimate) -> Decimal {
    total(estimate.currency, estimate.lines.iter().map(|line| line.amount)).amount()
}

#[test]
fn a_dearer_rate_a_longer_job_or_another_coat_never_costs_less() {
    let raised = prop::sample::select(vec![
        "/timbers/0/rates/6~14",
        "/timbers/1/rates/8~14",
        "/finishes/0/rate",
        "/hardware/0/price",
        "/consumables/0/rate",
        "/operations/2/each/high",
        "/operations/12/each/high",
        "/pricing/margin",
        "/pricing/contingency",
        "/pricing/shop_rate/yearly/wages",
        "/resins/0/rate",
        "/slabs/0/price",
    ]);
    holds(120, &(briefs(), raised), |(brief, pointer)| {
        let before = priced(&demo(), &brief);
        let mut book = demo_value();
        scale(book.pointer_mut(pointer).unwrap(), 130);
        book["finishes"][1]["coats"] = json!(4);
        let after = priced(&selling(&sound(&book)), &brief);
        if let (Some(before), Some(after)) = (before, after) {
            prop_assert!(sum(&after) >= sum(&before), "{} raised, price fell", pointer);
        }
        Ok(())
    });
}

#[test]
fn money_scaled_scales_the_price() {
    holds(60, &(briefs(), 2..9u32), |(brief, times)| {
        let small = demo();
        let mut large = small.clone();
        let by = Decimal::from(times);
        let grow = |amount: &mut Amount| *amount = Amount::new(amount.value() * by).unwrap();
        [&mut large.shop.least_job, &mut large.shop.rounding_step, &mut large.per_order].into_iter().for_each(grow);
        large.timbers.iter_mut().for_each(|timber| timber.rates.values_mut().for_each(grow));
        for slab in &mut large.slabs {
            [&mut slab.price, &mut slab.worth, &mut slab.leftover_worth].into_iter().for_each(grow);
        }
        large.resins.iter_mut().for_each(|resin| grow(&mut resin.rate));
        large.finishes.iter_mut().for_each(|finish| grow(&mut finish.rate));
        large.hardware.iter_mut().for_each(|item| grow(&mut item.price));
        large.consumables.iter_mut().for_each(|item| grow(&mut item.rate));
        for operation in &mut large.operations {
            for guess in [&mut operation.each, &mut operation.set_up] {
                [&mut guess.low, &mut guess.likely, &mut guess.high].into_iter().for_each(grow);
            }
        }
        let (Some(before), Some(after)) = (priced(&small, &brief), priced(&large, &brief)) else { return Ok(()) };
        let cents = Decimal::new(5, 3) * (by + Decimal::ONE) * Decimal::from(before.lines.len());
        prop_assert!((sum(&after) - sum(&before) * by).abs() <= cents);
        Ok(())
    });
}
