//! Random shop books and briefs, the same ones every time.
//!
//! Books are the demo book with its rates and shares changed; briefs choose among all it offers. Seeds are fixed, so that a
//! failure is the same on every machine.

use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use rust_decimal::Decimal;
use scantling_pricing::brief::{Brief, Destination, Site};
use scantling_pricing::measure::Length;
use serde_json::{Value, json};

use crate::start::{demo, demo_value};

/// Runs a property on so many cases, the same ones every time.
pub(crate) fn holds<S: Strategy>(cases: u32, strategy: &S, check: impl Fn(S::Value) -> Result<(), TestCaseError>) {
    let rng = TestRng::from_seed(RngAlgorithm::ChaCha, &[7; 32]);
    let config = Config { cases, failure_persistence: None, ..Config::default() };
    TestRunner::new_with_rng(config, rng).run(strategy, check).unwrap_or_else(|failure| panic!("{failure}"));
}

/// A demo shop book with other shares, rates and steps. `factors` scale its costs and minutes.
pub(crate) fn shops() -> impl Strategy<Value = Value> {
    let shares = (0..60u32, 0..30u32, 0..45u32, 0..9u32, 0..50u32);
    let money = (20_000..150_000u32, 0..90_000u32, 800..2200u32, 0..300u32);
    let scales = (50..200u32, 50..200u32, 60..140u32);
    let step = prop::sample::select(vec!["0", "1", "5", "25", "100"]);
    (shares, money, scales, step).prop_map(|((markup, contingency, margin, fee, handling), money, (costs, minutes, yields), step)| {
        let percent = |share: u32| json!(Decimal::new(share.into(), 2).to_string());
        let (wages, overheads, hours, fixed) = money;
        let mut book = demo_value();
        book["pricing"] = json!({
            "shop_rate": { "yearly": { "wages": wages, "overheads": overheads, "billable_hours": hours } },
            "material_markup": percent(markup), "contingency": percent(contingency), "margin": percent(margin),
            "fee_share": percent(fee), "fee_fixed": Decimal::new(fixed.into(), 2).to_string(), "freight_handling": percent(handling),
        });
        book["shop"]["rounding_step"] = json!(step);
        for timber in book["timbers"].as_array_mut().unwrap() {
            timber["rates"].as_object_mut().unwrap().values_mut().for_each(|rate| scale(rate, costs));
            timber["yields"].as_object_mut().unwrap().values_mut().for_each(|point| scale_yield(point, yields));
        }
        for operation in book["operations"].as_array_mut().unwrap() {
            for guess in ["each", "set_up"] {
                operation[guess].as_object_mut().unwrap().values_mut().for_each(|point| scale(point, minutes));
            }
        }
        book
    })
}

/// A number in quotes, so many hundredths of itself.
pub(crate) fn scale(value: &mut Value, percent: u32) {
    let number: Decimal = value.as_str().unwrap().parse().unwrap();
    *value = json!((number * Decimal::new(percent.into(), 2)).to_string());
}

/// A yield, so many hundredths of itself, but no more than everything.
fn scale_yield(value: &mut Value, percent: u32) {
    scale(value, percent);
    let number: Decimal = value.as_str().unwrap().parse().unwrap();
    *value = json!(number.min(Decimal::ONE).to_string());
}

/// A brief over everything the demo offers, to somewhere.
pub(crate) fn briefs() -> impl Strategy<Value = Brief> {
    // Nowhere, at home, abroad by each table and in each currency of the demo, and where nothing goes.
    let home = ["54601", "53703", "60601", "10001", "98101-1234", "99501", "00901"].map(|zip| ("US", zip));
    let abroad =
        [("CA", "K1A 0B1"), ("GB", "SW1A 1AA"), ("DE", "10115"), ("NL", "1012 JS"), ("PL", "00-001"), ("NZ", "6011")];
    let place = prop::sample::select([&[("US", "")], &home[..], &abroad].concat());
    (any::<prop::sample::Index>(), prop::collection::vec(any::<u16>(), 12), 1..4u32, place).prop_map(
        |(design, picks, quantity, (country, code))| {
            let book = demo();
            let design = design.get(&book.designs);
            let mut picks = picks.into_iter().cycle();
            let mut pick = |n: usize| usize::from(picks.next().unwrap()) % n.max(1);
            let mut brief = Brief::new(design.key.clone());
            for dimension in &design.dimensions {
                let span = (dimension.most - dimension.least).nanometres();
                let part = i64::try_from(pick(1000)).unwrap();
                let size = dimension.least + Length::from_nanometres(span).scaled(part, 999);
                brief.dimensions.insert(dimension.key.clone(), size);
            }
            for role in &design.roles {
                brief.materials.insert(role.key.clone(), role.materials[pick(role.materials.len())].clone());
            }
            for group in &design.options {
                brief.options.insert(group.key.clone(), group.choices[pick(group.choices.len())].key.clone());
            }
            brief.finish = Some(book.finishes[pick(book.finishes.len())].key.clone());
            brief.quantity = scantling_pricing::book::values::Count::new(quantity).unwrap();
            brief.destination = destination(country, code).map(|to| Destination {
                site: [Site::Home, Site::Dock, Site::LimitedAccess][pick(3)],
                inside: pick(2) == 1,
                ..to
            });
            brief
        },
    )
}

pub(crate) fn destination(country: &str, code: &str) -> Option<Destination> {
    use scantling_pricing::book::Text;
    Some(Destination::new(Text::new(country).ok()?, Some(Text::new(code).ok()?)))
}
