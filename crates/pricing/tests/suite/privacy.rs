//! What the public book must not tell.

use std::collections::BTreeSet;

use serde_json::Value;

use crate::start::{demo, demo_value, selling, sound};

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
    let mut private = demo_value();
    // What a buyer may ask for is said in public words.
    for job in private["jobs"].as_array_mut().unwrap() {
        job.as_object_mut().unwrap().remove("brief");
    }
    let mut secret = BTreeSet::new();
    for table in ["pricing", "workload", "jobs", "currencies"] {
        walk(&private[table], &mut secret, &mut BTreeSet::new());
    }
    for place in [
        "/delivery/van/miles_per_hour",
        "/delivery/van/handling",
        "/delivery/van/helper/per_hour",
        "/delivery/crating/minutes",
        "/delivery/crating/set_up",
    ] {
        assert!(private.pointer(place).is_some(), "{place}");
        secret.insert(place.rsplit('/').next().unwrap().to_owned());
    }
    // These words also name public things: a job's design, a timber's key, the day of a rate, an operation's set-up in money.
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
        "spread",
        "day",
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

/// Digits no other number of the demo has, one for each private figure.
const PLANTED: [(&str, &str); 22] = [
    ("/pricing/shop_rate/yearly/wages", "51973"),
    ("/pricing/shop_rate/yearly/overheads", "26839"),
    ("/pricing/shop_rate/yearly/billable_hours", "1447.3"),
    ("/pricing/material_markup", "0.21371"),
    ("/pricing/contingency", "0.053117"),
    ("/pricing/margin", "0.15713"),
    ("/pricing/fee_share", "0.028937"),
    ("/pricing/fee_fixed", "0.307131"),
    ("/pricing/freight_handling", "0.051937"),
    ("/workload/weekly_hours", "36.173"),
    ("/operations/1/each/likely", "1.27131"),
    ("/operations/3/set_up/low", "10.3193"),
    ("/timbers/0/rates/4~14", "12.93713"),
    ("/slabs/0/price", "420.371"),
    ("/finishes/0/rate", "198.531"),
    ("/delivery/van/per_mile", "0.943719"),
    ("/delivery/van/miles_per_hour", "45.8317"),
    ("/delivery/van/handling", "75.4139"),
    ("/delivery/van/helper/per_hour", "26.71939"),
    ("/currencies/0/spread", "0.021793"),
    ("/delivery/crating/material", "1.713913"),
    ("/delivery/crating/minutes", "0.917317"),
];

#[test]
fn no_planted_figure_or_word_of_the_private_tables_is_published() {
    let mut book = demo_value();
    for (pointer, digits) in PLANTED {
        *book.pointer_mut(pointer).unwrap_or_else(|| panic!("{pointer}")) = digits.into();
    }
    book["delivery"]["freight"][0]["discount"] = "0.371993".into();
    book["currencies"][0]["rate"] = "1.382917".into();
    book["jobs"][0]["note"] = "A word for no one else.".into();
    book["jobs"][0]["paid"] = "4417.29".into();
    book["refused"] = serde_json::json!([{ "subject": { "stage": "A stage of no one's" }, "jobs": 91_357 }]);
    book["watched_places"] = serde_json::json!(["CA K9K 8X7"]);
    let (mut keys, mut values) = (BTreeSet::new(), BTreeSet::new());
    walk(&serde_json::to_value(selling(&sound(&book))).unwrap(), &mut keys, &mut values);
    // By digits alone, so that 0.15713 is not there as 15.713 % either.
    let digits = |text: &str| text.replace('.', "").trim_matches('0').to_owned();
    let published: BTreeSet<String> = values.iter().map(|value| digits(value)).collect();
    assert!(published.contains(&digits("0.93")), "the repeat rate of the demo is public and read here");
    for (pointer, planted) in PLANTED {
        assert!(!published.contains(&digits(planted)), "{pointer}, {planted}, can be read");
    }
    assert!(!keys.contains("refused") && !keys.contains("watched_places"));
    for planted in
        ["0.371993", "1.382917", "4417.29", "A word for no one else", "A stage of no one's", "91357", "K9K 8X7"]
    {
        assert!(values.iter().all(|value| !value.contains(planted)), "{planted} can be read");
        assert!(!published.contains(&digits(planted)), "{planted} can be read");
    }
}
