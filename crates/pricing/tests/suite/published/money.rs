//! What an hour costs, what a cost becomes, how sure it is, and the coins it is paid in: `shared/reference/trade/labour.md`,
//! `finish.md`, `estimate_range.md` and `shared/reference/delivery/insurance_tax_currency.md`.

use rust_decimal::Decimal;
use scantling_pricing::book::document::Node;
use scantling_pricing::book::stock::Finish;
use scantling_pricing::book::values::{Addition, Count, Measured, ThreePoint};
use scantling_pricing::book::work::ShopRate;
use scantling_pricing::book::{PriceBook, ShopBook};
use scantling_pricing::cost::LineKind;
use scantling_pricing::estimate::estimate;
use scantling_pricing::measure::Area;
use scantling_pricing::money::Currency;
use scantling_pricing::publish::{Basis, fold, hourly};
use scantling_pricing::range::{Guess, Spread};
use scantling_pricing::takeoff::finish_units;
use serde_json::{Value, json};

use super::{close, decimal, oak_part, page_rows, the_part};
use crate::start::{brief, demo, demo_value, length, selling, sound};

#[test]
fn shop_rates_of_the_trade_articles() {
    // shared/reference/trade/labour.md section 4: trade article 2003 (PUB), $71,000 over 50 weeks of 30 h is $47.33, printed as $47.
    let rate = |wages: &str, overheads: &str, hours: &str| {
        let json =
            format!(r#"{{"yearly": {{"wages": "{wages}", "overheads": "{overheads}", "billable_hours": "{hours}"}}}}"#);
        hourly(&Node::read(&json).unwrap().read_as::<ShopRate>().unwrap())
    };
    close(rate("41000", "30000", "1500"), decimal("47.33"), "0.005", "2003 article");
    // Overhead recovery over billable hours (DER): 30,000 / 1500 = 20.00, over 2080 paid hours only 14.42.
    assert_eq!(rate("0", "30000", "1500"), Decimal::from(20));
    close(rate("0", "30000", "2080"), decimal("14.42"), "0.005", "over paid hours");
    // Trade article 2006 (PUB): three makers, (10,000 + 300 + 400 + 1,000 + 4,000) / 3 / 160 h a month is $32.71 (printed 32.70); with
    // $26.50 of labour $59.21 (printed 59). Once as figures, once as a stated rate.
    close(rate("0", "15700", "480"), decimal("32.71"), "0.005", "2006 article");
    let stated = Node::read(r#"{"hourly": {"wage": "26.50", "overhead": "32.71"}}"#).unwrap();
    assert_eq!(hourly(&stated.read_as::<ShopRate>().unwrap()), decimal("59.21"));
}

/// A fold of the demo with no share above cost but these.
fn folded(shares: &Value) -> PriceBook {
    let mut value = demo_value();
    value["pricing"] = json!({ "shop_rate": { "hourly": { "wage": "40", "overhead": "20" } }, "material_markup": "0", "contingency": "0",
        "margin": "0", "fee_share": "0", "fee_fixed": "0", "freight_handling": "0" });
    for (key, share) in shares.as_object().unwrap() {
        value["pricing"][key] = share.clone();
    }
    value["timbers"][0]["rates"]["4/4"] = json!("100");
    selling(&sound(&value))
}

fn first_rate(book: &PriceBook) -> Decimal {
    book.timbers[0].rates.values().next().unwrap().value()
}

#[test]
fn a_markup_on_cost_and_its_margin_on_the_price_come_to_the_same() {
    // shared/reference/trade/labour.md section 5 (DER): margin = markup / (1 + markup). 100.00 of timber either way.
    let page = include_str!("../../../../../shared/reference/trade/labour.md");
    let published = page_rows(page, "| markup | margin |");
    assert_eq!(published.len(), 6);
    for row in published {
        let share = |text: &str| decimal(text.trim_end_matches(" %")) / Decimal::ONE_HUNDRED;
        let (markup, margin) = (share(row[0]), share(row[1]));
        let marked_up = first_rate(&folded(&json!({ "material_markup": markup.to_string() })));
        assert_eq!(marked_up, Decimal::ONE_HUNDRED * (Decimal::ONE + markup));
        close(first_rate(&folded(&json!({ "margin": margin.to_string() }))), marked_up, "0.001", row[0]);
    }
    // And by hand: 20 % markup, then 10 % contingency, then 25 % margin: 100 x 1.2 x 1.1 / 0.75 = 176.
    let all = folded(&json!({ "material_markup": "0.20", "contingency": "0.10", "margin": "0.25" }));
    assert_eq!(first_rate(&all), decimal("176"));
}

#[test]
fn a_payment_fee_is_grossed_up_so_that_the_net_is_left() {
    // shared/reference/delivery/insurance_tax_currency.md section 5 (CP, algebra): (net + fixed) / (1 - share), up to the cent. The net is
    // the least job here, which no bench of the worked book reaches. Two payments cost the fixed fee twice: 1000.60 / 0.971 = 1030.4841.
    for (net, share, fixed, payments, asked) in [
        ("1000", "0.029", "0.30", 1, "1030.18"),
        ("1200", "0.015", "0.25", 1, "1218.53"),
        ("1000", "0.029", "0.30", 2, "1030.49"),
    ] {
        let text = include_str!("../../../../../shared/books/worked-example-shop.json");
        let mut value: Value = serde_json::from_str(text).unwrap();
        (value["shop"]["least_job"], value["shop"]["rounding_step"]) = (json!(net), json!("0"));
        (value["pricing"]["fee_share"], value["pricing"]["fee_fixed"]) = (json!(share), json!(fixed));
        let part = (Decimal::ONE / Decimal::from(payments)).to_string();
        value["shop"]["deposits"] = (0..payments).map(|_| json!({ "when": "in parts", "share": part })).collect();
        let book = selling(&ShopBook::read(&value.to_string()).unwrap());
        let gross =
            estimate(&book, &brief(r#"{"scantling_brief": 1, "design": "bench"}"#)).unwrap().works.likely.amount();
        assert_eq!(gross, decimal(asked), "{net} net of {share} and {payments} x {fixed}");
        let left = gross - gross * decimal(share) - decimal(fixed) * Decimal::from(payments);
        assert!(left >= decimal(net), "{left} is left of {gross}");
    }
}

#[test]
fn a_top_takes_the_finish_of_the_worked_take_off() {
    // shared/reference/trade/finish.md section 3 (DER): a top 84 x 42 x 1.5 in is 51.625 sq ft; three coats at 400 sq ft to the gallon are
    // 0.3872 gal, 49.56 fl oz. At 128 a gallon a fluid ounce costs 1. Section 1 works coverage out of solids and film: with us it is
    // the maker's own figure, so of that section only 1 gal over 400 sq ft is used.
    let mut value = oak_part(["84 in", "42 in", "1 1/2 in"], "1");
    let finish = &mut value["finishes"][0];
    (finish["coats"], finish["coverage"], finish["loss"], finish["rate"]) =
        (json!(3), json!("400"), json!("0"), json!("128"));
    let priced = estimate(&fold(&sound(&value), Basis::Cost).unwrap(), &the_part()).unwrap();
    let line = priced.lines.iter().find(|line| line.kind == LineKind::Finish).unwrap();
    assert_eq!((line.quantity, line.amount.amount()), (Some(decimal("51.63")), decimal("49.56")));
}

#[test]
fn a_gallon_covers_what_the_spread_rate_says() {
    // shared/reference/trade/finish.md section 1: 1604.1667 sq ft a gallon a mil, times the volume solids and what reaches the piece, over
    // the dry film in mils. PUB rows: a spreading-rate sheet, a resource centre's answer, a web article, a trade answer.
    let mil = decimal("1604.1667");
    for (solids, reaches, film, published, within) in [
        ("0.65", "1", "5", "208.5", "0.1"),
        ("0.52", "0.30", "1.5", "166.8", "0.1"),
        ("0.45", "1", "2", "361", "0.5"),
        ("0.25", "1", "1", "400", "1.1"),
        ("0.25", "0.5", "1", "200", "0.6"),
    ] {
        let coverage = mil * decimal(solids) * decimal(reaches) / decimal(film);
        close(coverage, decimal(published), within, published);
        // A finish of that coverage: two coats on 100 sq ft with a tenth lost take 220 sq ft of it.
        let finish = Finish {
            coverage: Measured::new(decimal(published)).unwrap(),
            coats: Count::new(2).unwrap(),
            loss: Addition::new(decimal("0.10")).unwrap(),
            ..demo().finishes[0].clone()
        };
        let area = Area::of(length("10 ft"), length("10 ft"));
        close(finish_units(&finish, area) * decimal(published), decimal("220"), "0.0001", published);
    }
}

#[test]
fn a_job_of_four_lines_spreads_by_its_correlation() {
    // shared/reference/trade/estimate_range.md section 6, item 4 (DER): means by the PERT rule; with its classic deviations, 30, 133.33,
    // 13.333, 66.667, the total is 152.643 when each goes its own way, 243.333 when all go together. (0.3 and the band are a unit test
    // beside the code, as are items 1 and 3. A guess of the engine has the deviation of the beta itself: item 1.)
    let point =
        |low: i64, likely: i64, high: i64| ThreePoint { low: low.into(), likely: likely.into(), high: high.into() };
    let lines = [
        (point(300, 360, 480), "370.00", "30"),
        (point(900, 1100, 1700), "1166.67", "133.33333"),
        (point(80, 100, 160), "106.67", "13.33333"),
        (point(0, 150, 400), "166.67", "66.66667"),
    ];
    let guesses = lines.map(|(points, mean, deviation)| {
        close(Guess::pert(&points).mean, decimal(mean), "0.005", mean);
        Guess { mean: Guess::pert(&points).mean, deviation: decimal(deviation) }
    });
    let spread = guesses.iter().fold(Spread::NONE, |spread, line| spread.and(*line));
    for (correlation, deviation) in [("0", "152.643"), ("0.3", "184.590"), ("1", "243.333")] {
        let expected = decimal(deviation);
        close(spread.variance(decimal(correlation)), expected * expected, "0.3", correlation);
    }
}

#[test]
fn currencies_have_the_minor_units_of_the_standard() {
    // ISO 4217 (PUB, checked): shared/reference/delivery/insurance_tax_currency.md section 6. Those "also" listed are not all held.
    let page = include_str!("../../../../../shared/reference/delivery/insurance_tax_currency.md");
    let mut known = 0;
    for row in page_rows(page, "| exp | codes |") {
        let (digits, codes) = (row[0].parse::<u32>().unwrap(), row[1].split(" (also").next().unwrap());
        for code in codes.split([' ', ',']).filter(|code| code.len() == 3) {
            let held = Currency::from_code(code).map(Currency::minor_digits);
            assert!(held == Some(digits) || digits == 4 && held.is_none(), "{code}: {held:?}");
            known += usize::from(held.is_some());
        }
    }
    // One more is held: the Uruguayan peso, 2 from memory (MEM), not to be taken for its index unit UYW, which has 4.
    assert_eq!(Currency::from_code("UYU").map(Currency::minor_digits), Some(2));
    assert_eq!(known, 39);
    // Wrongly written, an index unit, two that have gone, and XXX, which ISO 4217 gives to what has no currency.
    assert!(["usd", "US", "UYW", "HRK", "BGN", "XXX", ""].iter().all(|code| Currency::from_code(code).is_none()));
}

#[test]
fn cash_ends_at_the_coins_there_are_in_a_country() {
    // shared/reference/delivery/insurance_tax_currency.md section 6, the list of cash rounding: each currency with its least coin, the euro
    // with the countries that have given up its cents.
    let page = include_str!("../../../../../shared/reference/delivery/insurance_tax_currency.md");
    let list = page.lines().find_map(|line| line.split_once("Cash rounding (not for card or bank): ")).unwrap().1;
    let known = |code: &str| Currency::from_code(code).unwrap();
    let mut checked = Vec::new();
    for entry in list.split("; ") {
        let mut words = entry.split([' ', ',']).filter(|word| !word.is_empty());
        let (Some(code), Some(coin)) = (words.next(), words.next().and_then(|coin| coin.parse().ok())) else { break };
        let currency = known(code);
        // What is rounded to its minor unit anyway, as the krona of Iceland, has no other coin.
        let step = |country| currency.cash_step(country).max(Decimal::new(1, currency.minor_digits()));
        if code == "EUR" {
            let countries: Vec<&str> = words.filter(|word| word.len() == 2 && *word != "in").collect();
            assert_eq!(countries.len(), 8, "{entry}");
            for country in
                ["AT", "BE", "CY", "DE", "EE", "ES", "FI", "FR", "GR", "IE", "IT", "LT", "LU", "LV", "NL", "SK"]
            {
                let expected = if countries.contains(&country) { coin } else { decimal("0.01") };
                assert_eq!(step(country), expected, "EUR in {country}");
            }
        } else {
            assert_eq!(step(""), coin, "{code}");
        }
        checked.push(code);
    }
    assert_eq!(
        checked,
        ["CHF", "CAD", "AUD", "NZD", "SEK", "NOK", "DKK", "CZK", "HUF", "ILS", "ISK", "EUR"],
        "all that stand there"
    );
    for whole in ["USD", "GBP", "PLN", "JPY"] {
        assert!(known(whole).cash_step("US").is_zero(), "{whole}");
    }
    // The demo in euro: to the cent in Germany, to five of them in the Netherlands.
    let to = |country: &str| {
        let asked =
            format!(r#"{{"scantling_brief": 1, "design": "wall-shelf", "destination": {{"country": "{country}"}}}}"#);
        estimate(&demo(), &brief(&asked)).unwrap().conversion.unwrap()
    };
    let (germany, netherlands) = (to("DE"), to("NL"));
    let five = decimal("0.05");
    let exact = |price: Decimal| price * germany.rate;
    let works = estimate(&demo(), &brief(r#"{"scantling_brief": 1, "design": "wall-shelf"}"#)).unwrap().works.likely;
    let [cents, fives] = [&germany, &netherlands].map(|one| one.of(works).amount());
    assert!((cents - exact(works.amount())).abs() <= decimal("0.005"));
    assert!((fives - exact(works.amount())).abs() <= decimal("0.025") && (fives % five).is_zero(), "{fives}");
}
