//! What an order costs the shop and leaves it: the worked bench by hand, then what must hold for every book.

use proptest::prelude::*;
use rust_decimal::Decimal;
use scantling_pricing::book::ShopBook;
use scantling_pricing::brief::Brief;
use scantling_pricing::money::Money;
use scantling_pricing::profit::{Costs, Rates};
use serde_json::json;

use crate::random::{briefs, holds, shops};
use crate::start::{brief, demo_value, sound};

fn costs(shop: &ShopBook, brief: &Brief) -> Option<Costs> {
    Rates::new(shop).unwrap().costs(brief).ok()
}

#[test]
fn the_worked_bench_by_van_leaves_what_the_pencil_says() {
    let shop = ShopBook::read(include_str!("../../../../shared/books/worked-example-shop.json")).unwrap();
    let asked =
        r#"{"scantling_brief": 1, "design": "bench", "destination": {"country": "US", "postal_code": "10001"}}"#;
    let costs = costs(&shop, &brief(asked)).unwrap();
    let amount = |money: Money| money.amount().to_string();
    // Amounts and minutes as worked in worked.rs, before anything is put on them.
    // COST: timber 125.00, oil 8.30, abrasive 3.02, work 73.50 + 80.00 + 90.53 at 1.00 a minute: 380.35.
    //   Van: 100 miles at 0.60 and 100 + 40 minutes: 200.00. Together 580.35.
    assert_eq!(amount(costs.full), "580.35");
    // FLOOR: a tenth more on what is made: 137.50, 9.13, 3.32, 80.85, 88.00, 99.58: 418.38. Van: 60 and 140 x 1.10: 214.00.
    //   632.38 and the payment's 1.00: 633.38.
    assert_eq!(amount(costs.floor), "633.38");
    // STILL TO BE SPENT: 125.00 + 8.30 + 3.02 + 60.00 = 196.32 and the payment's 1.00.
    assert_eq!(amount(costs.outlay_floor), "197.32");
    // HOURS: 73.50 + 80.00 + 90.53 + 140 = 384.03 minutes: 6.40.
    assert_eq!(costs.hours.to_string(), "6.40");
    // PROFIT at 820: less 1.00 and 580.35: 238.65; over what is still to be spent 820 - 1 - 196.32 = 622.68.
    // PAY: the wage is 72,000 / 1,500 = 48 an hour: (238.65 + 48 x 6.40) / 6.40 = 85.29.
    let outcome = costs.as_estimated();
    assert_eq!([outcome.fees, outcome.profit, outcome.over_outlay].map(amount), ["1.00", "238.65", "622.68"]);
    assert_eq!(outcome.pay_per_hour.map(amount).unwrap(), "85.29");
}

#[test]
fn at_the_floor_nobody_works_for_nothing_and_at_cost_nothing_is_left() {
    holds(40, &(shops(), briefs()), |(shop, brief)| {
        let shop = sound(&shop);
        let Some(costs) = costs(&shop, &brief) else { return Ok(()) };
        let cent = Decimal::new(1, 2);
        prop_assert!(costs.outlay_floor.amount() <= costs.floor.amount());
        let at_floor = costs.sold_for(costs.floor);
        prop_assert!(at_floor.profit.amount() >= -cent, "{:?}", at_floor);
        let at_outlay = costs.sold_for(costs.outlay_floor);
        prop_assert!(at_outlay.over_outlay.amount().abs() <= cent * Decimal::TWO, "{:?}", at_outlay);
        // With no margin on top the price can't lie under the floor: markup, handling and rounding only add.
        prop_assert!(costs.selling.price().likely.amount() >= costs.floor.amount() - cent * Decimal::TEN);
        // Where nothing is left over cost, an hour pays the wage.
        let even = costs.sold_for(costs.full);
        let pay = even.pay_per_hour.unwrap().amount();
        let wages = &shop.pricing.shop_rate;
        let scantling_pricing::book::ShopRate::Yearly(year) = wages else { panic!("the demo states a year") };
        let wage = year.wages.value() / year.billable_hours.value();
        prop_assert!((pay - wage - even.profit.amount() / costs.hours).abs() <= cent);
        Ok(())
    });
}

#[test]
fn payments_add_up_to_the_price_whatever_the_shares() {
    let shares = prop::collection::vec(1..500u32, 1..6);
    holds(60, &(shares, briefs()), |(parts, brief)| {
        let whole: u32 = parts.iter().sum();
        let mut value = demo_value();
        // Shares to the ninth decimal, the last one the rest, so that they make up the whole.
        let mut shares: Vec<Decimal> =
            parts.iter().map(|part| Decimal::new(i64::from(*part), 0) / Decimal::from(whole)).collect();
        shares.iter_mut().for_each(|share| *share = share.trunc_with_scale(9));
        let short: Decimal = Decimal::ONE - shares.iter().sum::<Decimal>();
        *shares.last_mut().unwrap() += short;
        let deposits: Vec<_> =
            shares.iter().map(|share| json!({ "when": "then", "share": share.to_string() })).collect();
        value["shop"]["deposits"] = json!(deposits);
        let Ok(priced) = scantling_pricing::estimate::estimate(&crate::start::selling(&sound(&value)), &brief) else {
            return Ok(());
        };
        let sum: Decimal = priced.payments.iter().map(|payment| payment.amount.amount()).sum();
        prop_assert_eq!(sum, priced.to_pay().amount());
        for (payment, share) in priced.payments.iter().zip(shares) {
            let exact = priced.to_pay().amount() * share;
            prop_assert!((payment.amount.amount() - exact).abs() <= Decimal::new(1, 2), "{:?} of {}", payment, exact);
        }
        Ok(())
    });
}
