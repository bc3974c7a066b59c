//! What the public book must not tell.

use std::collections::BTreeSet;

use serde_json::Value;

use crate::start::{demo, demo_value};

/// Every key and every value of a document.
fn walk(value: &Value, keys: &mut BTreeSet<String>, values: &mut BTreeSet<String>) {
    match value {
        Value::Object(entries) => entries.iter().for_each(|(key, value)| {
            keys.insert(key.clone());
            walk(value, keys, values);
        }),
        Value::Array(items) => items.iter().for_each(|item| walk(item, keys, values)),
        other => {
            values.insert(other.as_str().map_or_else(|| other.to_string(), str::to_owned));
        }
    }
}

#[test]
fn no_key_of_the_private_tables_is_in_the_price_book() {
    let published = serde_json::to_value(demo()).unwrap();
    let (mut keys, mut values) = (BTreeSet::new(), BTreeSet::new());
    walk(&published, &mut keys, &mut values);
    let private = demo_value();
    let mut secret = BTreeSet::new();
    for table in ["pricing", "workload", "jobs", "currencies"] {
        walk(&private[table], &mut secret, &mut BTreeSet::new());
    }
    for place in [
        "/delivery/van/miles_per_hour",
        "/delivery/van/handling",
        "/delivery/crating/minutes",
        "/delivery/crating/set_up",
    ] {
        assert!(private.pointer(place).is_some(), "{place}");
        secret.insert(place.rsplit('/').next().unwrap().to_owned());
    }
    // These words also name public things: a job's design, a timber's key, an operation's set-up in money.
    for shared in [
        "design",
        "key",
        "set_up",
        "quantity",
        "currency",
        "finished",
        "rate",
        "source",
        "sanding",
        "carriage",
        "materials",
        "note",
    ] {
        secret.remove(shared);
    }
    assert!(secret.contains("margin") && secret.contains("wages") && secret.contains("hours_estimated"));
    assert_eq!(keys.intersection(&secret).collect::<Vec<_>>(), Vec::<&String>::new());
}

#[test]
fn no_cost_wage_or_minute_stands_in_the_price_book() {
    let private = demo_value();
    let published = serde_json::to_value(demo()).unwrap();
    for pointer in [
        "/pricing/shop_rate/yearly/wages",
        "/pricing/shop_rate/yearly/overheads",
        "/pricing/shop_rate/yearly/billable_hours",
        "/workload/weekly_hours",
    ] {
        let (mut keys, mut values) = (BTreeSet::new(), BTreeSet::new());
        walk(&published, &mut keys, &mut values);
        let secret = private.pointer(pointer).unwrap().as_str().unwrap();
        // The number might stand somewhere by chance as a length or a count; as an amount of its own size it must not.
        assert!(!values.contains(secret) || secret.len() < 4, "{pointer} is {secret}");
    }
    for table in [
        "/timbers/0/rates",
        "/finishes/0/rate",
        "/hardware/0/price",
        "/slabs/0/price",
        "/consumables/0/rate",
        "/operations/1/each",
        "/delivery/freight/0/breaks",
    ] {
        assert_ne!(private.pointer(table), published.pointer(table), "{table} is published at cost");
        assert!(published.pointer(table).is_some(), "{table}");
    }
}
