//! What no combining of published rates can tell: for each thing a maker keeps to himself, two shops that differ in it by a factor and
//! publish the same price book, byte for byte. Whatever is worked out from that book holds for both shops alike, so it is neither's secret.

use rust_decimal::Decimal;
use serde_json::{Value, json};

use crate::start::{demo_value, selling, sound};

fn published(shop: &Value) -> String {
    serde_json::to_string(&selling(&sound(shop))).unwrap()
}

fn number(value: &Value) -> Decimal {
    value.as_str().map_or_else(|| value.as_i64().unwrap().into(), |text| text.parse().unwrap())
}

/// A number so many times as large.
fn times(value: &mut Value, by: Decimal) {
    *value = json!((number(value) * by).normalize().to_string());
}

fn each(shop: &mut Value, pointers: &[&str], by: Decimal) {
    for pointer in pointers {
        times(shop.pointer_mut(pointer).unwrap_or_else(|| panic!("{pointer}")), by);
    }
}

fn rows<'v>(shop: &'v mut Value, table: &str) -> impl Iterator<Item = &'v mut Value> {
    shop.pointer_mut(table).unwrap().as_array_mut().unwrap().iter_mut()
}

const SHOP_RATE: [&str; 2] = ["/pricing/shop_rate/yearly/wages", "/pricing/shop_rate/yearly/overheads"];

/// What hours cost: the maker's own and a helper's.
fn hours(shop: &mut Value, by: Decimal) {
    each(shop, &SHOP_RATE, by);
    each(shop, &["/delivery/van/helper/per_hour"], by);
}

/// Everything bought in: timber, slabs, sheets, resin, finish, hardware, what is used up, crates.
fn materials(shop: &mut Value, by: Decimal) {
    for timber in rows(shop, "/timbers") {
        timber["rates"].as_object_mut().unwrap().values_mut().for_each(|rate| times(rate, by));
    }
    for slab in rows(shop, "/slabs") {
        ["price", "worth", "leftover_worth"].iter().for_each(|key| times(&mut slab[*key], by));
    }
    for (table, key) in [
        ("/sheets", "price"),
        ("/resins", "rate"),
        ("/finishes", "rate"),
        ("/hardware", "price"),
        ("/consumables", "rate"),
    ] {
        rows(shop, table).for_each(|row| times(&mut row[key], by));
    }
    each(shop, &["/delivery/crating/material", "/delivery/pallets/material", "/delivery/cartons/material"], by);
}

/// Every minute there is, and the hours of a week, so that weeks come out the same.
fn minutes(shop: &mut Value, by: Decimal) {
    for operation in rows(shop, "/operations") {
        for guess in ["each", "set_up"] {
            operation[guess].as_object_mut().unwrap().values_mut().for_each(|minutes| times(minutes, by));
        }
    }
    let places = [
        "/delivery/van/handling",
        "/delivery/crating/minutes",
        "/delivery/crating/set_up",
        "/delivery/pallets/minutes",
        "/delivery/pallets/set_up",
        "/delivery/cartons/minutes",
        "/delivery/cartons/set_up",
        "/workload/weekly_hours",
    ];
    each(shop, &places, by);
    // Half the minutes a mile are twice the miles an hour.
    each(shop, &["/delivery/van/miles_per_hour"], Decimal::ONE / by);
}

/// What carriers and fuel cost.
fn carriage(shop: &mut Value, by: Decimal) {
    for table in rows(shop, "/delivery/freight") {
        for step in table["breaks"].as_array_mut().unwrap() {
            times(&mut step["per_hundredweight"], by);
        }
        for key in ["least", "liftgate", "residential", "limited_access"] {
            times(&mut table[key], by);
        }
        ["per_hundredweight", "least"].iter().for_each(|key| times(&mut table["inside"][*key], by));
        table["over_length"].as_array_mut().unwrap().iter_mut().for_each(|step| times(&mut step["adds"], by));
    }
    for region in rows(shop, "/regions") {
        if let Some(tolls) = region.pointer_mut("/van/tolls") {
            times(tolls, by);
        }
    }
    each(shop, &["/delivery/van/overnight/each"], by);
    for table in ["/delivery/parcels", "/delivery/white_glove"] {
        for table in rows(shop, table) {
            table["bands"].as_array_mut().unwrap().iter_mut().for_each(|band| times(&mut band["price"], by));
            for key in ["/awkward/adds", "/large/adds", "/home_delivery"] {
                if let Some(charge) = table.pointer_mut(key) {
                    times(charge, by);
                }
            }
        }
    }
    for table in rows(shop, "/delivery/abroad") {
        ["per_hundredweight", "least", "papers"].iter().for_each(|key| times(&mut table[*key], by));
    }
    let insurance = ["/delivery/insurance/per_hundred", "/delivery/insurance/least"];
    each(shop, &["/delivery/van/per_mile", "/delivery/marked_timber"], by);
    each(shop, &insurance, by);
}

fn set(shop: &mut Value, share: &str, to: &str) {
    shop["pricing"][share] = json!(to);
}

/// A demo shop with shares of round figures, and no job that tells of its hours.
fn shop() -> Value {
    let mut shop = demo_value();
    shop["jobs"] = json!([]);
    for (share, value) in [
        ("material_markup", "0.25"),
        ("contingency", "0"),
        ("margin", "0.20"),
        ("fee_share", "0"),
        ("fee_fixed", "0.30"),
        ("freight_handling", "0"),
    ] {
        set(&mut shop, share, value);
    }
    shop
}

/// Two shops publish the same; the figures named differ by a factor of two or more.
fn indistinct(one: &Value, other: &Value, secrets: &[&str]) {
    for secret in secrets {
        let (a, b) = (number(one.pointer(secret).unwrap()), number(other.pointer(secret).unwrap()));
        assert!(a.max(b) >= a.min(b) * Decimal::TWO && a != b, "{secret}: {a} and {b}");
    }
    assert_eq!(published(one), published(other), "{secrets:?}");
}

#[test]
fn a_wage_and_the_hours_worked_for_it() {
    let (one, mut other) = (shop(), shop());
    hours(&mut other, Decimal::TWO);
    minutes(&mut other, Decimal::new(5, 1));
    indistinct(&one, &other, &[SHOP_RATE[0], SHOP_RATE[1], "/operations/1/each/likely", "/workload/weekly_hours"]);
}

#[test]
fn wages_and_overheads_and_the_hours_billed() {
    let one = shop();
    let mut swapped = one.clone();
    let all = number(&one["pricing"]["shop_rate"]["yearly"]["wages"])
        + number(&one["pricing"]["shop_rate"]["yearly"]["overheads"]);
    swapped["pricing"]["shop_rate"] = json!({ "yearly": { "wages": "13000", "overheads": (all - Decimal::from(13_000)).to_string(), "billable_hours": "1450" } });
    indistinct(&one, &swapped, &[SHOP_RATE[0], SHOP_RATE[1]]);
    let mut busier = one.clone();
    each(&mut busier, &SHOP_RATE, Decimal::TWO);
    each(&mut busier, &["/pricing/shop_rate/yearly/billable_hours"], Decimal::TWO);
    indistinct(&one, &busier, &["/pricing/shop_rate/yearly/billable_hours"]);
}

#[test]
fn a_margin_and_everything_it_is_on() {
    // A fifth kept of the price, or three fifths of it with every cost half as large.
    let (one, mut other) = (shop(), shop());
    set(&mut other, "margin", "0.60");
    materials(&mut other, Decimal::new(5, 1));
    hours(&mut other, Decimal::new(5, 1));
    indistinct(&one, &other, &["/pricing/margin", "/timbers/0/rates/4~14", "/slabs/0/price", SHOP_RATE[0]]);
}

#[test]
fn a_contingency_and_everything_it_is_on() {
    let (one, mut other) = (shop(), shop());
    set(&mut other, "contingency", "1");
    materials(&mut other, Decimal::new(5, 1));
    hours(&mut other, Decimal::new(5, 1));
    indistinct(&one, &other, &["/pricing/contingency", "/finishes/0/rate", SHOP_RATE[1]]);
}

#[test]
fn a_markup_and_what_the_materials_cost() {
    let (one, mut other) = (shop(), shop());
    set(&mut other, "material_markup", "1.50");
    materials(&mut other, Decimal::new(5, 1));
    indistinct(&one, &other, &["/pricing/material_markup", "/hardware/0/price", "/sheets/0/price", "/resins/0/rate"]);
}

#[test]
fn a_carrier_s_price_its_discount_and_what_is_put_on_it() {
    let (one, mut other) = (shop(), shop());
    set(&mut other, "freight_handling", "1");
    carriage(&mut other, Decimal::new(5, 1));
    indistinct(&one, &other, &["/pricing/freight_handling", "/delivery/freight/0/least", "/delivery/van/per_mile"]);
    // A rate of twice as much with half of it taken off.
    let (mut plain, mut discounted) = (shop(), shop());
    rows(&mut plain, "/delivery/freight").for_each(|table| table["discount"] = json!("0"));
    for table in rows(&mut discounted, "/delivery/freight") {
        table["discount"] = json!("0.5");
        table["breaks"]
            .as_array_mut()
            .unwrap()
            .iter_mut()
            .for_each(|step| times(&mut step["per_hundredweight"], Decimal::TWO));
    }
    assert_eq!(published(&plain), published(&discounted));
}

#[test]
fn what_a_payment_costs_and_everything_it_is_on() {
    // Half of every payment kept by whoever handles it, with every cost, the least job and the fixed fee half as large.
    let (one, mut other) = (shop(), shop());
    let half = Decimal::new(5, 1);
    set(&mut other, "fee_share", "0.50");
    materials(&mut other, half);
    carriage(&mut other, half);
    hours(&mut other, half);
    each(&mut other, &["/pricing/fee_fixed", "/shop/least_job"], half);
    indistinct(&one, &other, &["/pricing/fee_fixed", "/shop/least_job", SHOP_RATE[0]]);
}
