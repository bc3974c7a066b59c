//! scratch
use crate::start::{demo_value, selling};
use scantling_pricing::book::{ShopBook};
use scantling_pricing::brief::Brief;
use scantling_pricing::estimate::estimate;
use rust_decimal::Decimal;
use serde_json::{Value, json};

fn leaves(v: &Value, at: String, out: &mut Vec<String>) {
    match v {
        Value::Object(m) => { out.push(at.clone()); for (k, v) in m { leaves(v, format!("{at}/{}", k.replace('~', "~0").replace('/', "~1")), out); } }
        Value::Array(a) => { out.push(at.clone()); for (i, v) in a.iter().enumerate() { leaves(v, format!("{at}/{i}"), out); } }
        _ => out.push(at),
    }
}

#[test]
fn explore() {
    let base = demo_value();
    let mut all = Vec::new();
    leaves(&base, String::new(), &mut all);
    let pool: Vec<Value> = vec![json!("0"), json!(0), json!(1), json!("1"), json!("-1 in"), json!("0 in"), json!("-50 in"), json!("1000 in"), json!("0.000001 mm"), json!([]), json!({}), json!(null), json!("10000000"), json!("1000000"), json!("10"), json!(100000), json!("0.0001"), json!("0.9"), json!("x"), json!(true), json!(false)];
    let briefs: Vec<Brief> = ["trestle-table", "hall-bench", "wall-shelf", "slab-console", "river-low-table"].iter().flat_map(|d| {
        ["60601", "54665"].iter().map(move |z| Brief::read(&format!(r#"{{"scantling_brief":1,"design":"{d}","destination":{{"country":"US","postal_code":"{z}"}}}}"#)).unwrap())
    }).collect();
    let first = selling(&ShopBook::read(&base.to_string()).unwrap());
    let before: Vec<_> = briefs.iter().map(|b| estimate(&first, b).unwrap()).collect();
    eprintln!("{} places", all.len());
    let t = std::time::Instant::now();
    let mut accepted = 0;
    let mut shapes = std::collections::BTreeMap::new();
    for at in &all {
        for new in &pool {
            let mut book = base.clone();
            let Some(place) = book.pointer_mut(at) else { continue };
            if place == new { continue; }
            *place = new.clone();
            let text = book.to_string();
            let r = std::panic::catch_unwind(|| {
                match ShopBook::read(&text) {
                    Ok(shop) => {
                        let book = selling(&shop);
                        Ok(briefs.iter().map(|b| estimate(&book, b)).collect::<Vec<_>>())
                    }
                    Err(e) => Err(e.iter().map(|e| e.to_string()).collect::<Vec<_>>()),
                }
            });
            match r {
                Err(_) => println!("PANIC {at} = {new}"),
                Ok(Err(e)) => {
                    let m = &e[0];
                    if m.contains("expected ") { *shapes.entry(m.split("expected ").nth(1).unwrap().split(", found").next().unwrap().to_string()).or_insert(0) += 1; }
                    if std::env::var_os("ERRS").is_some() { println!("ERR {at} = {new}: {m}"); }
                }
                Ok(Ok(es)) => {
                    accepted += 1;
                    let mut said = String::new();
                    for (e, b) in es.iter().zip(&before) {
                        match e {
                            Ok(e) => {
                                let neg = e.lines.iter().any(|l| l.amount.amount() < Decimal::ZERO) || e.works.low.amount() > e.works.likely.amount() || e.works.likely.amount() > e.works.high.amount() || e.works.low.amount() < Decimal::ZERO
                                  || e.ways.iter().filter_map(|w| w.outcome.as_ref().ok()).any(|d| d.lines.iter().any(|l| l.amount.amount() < Decimal::ZERO) || d.price.likely.amount() < e.works.likely.amount());
                                if neg { said += " NEG"; }
                                let s = |e: &scantling_pricing::estimate::Estimate| scantling_pricing::alternatives::price_that_counts(e).amount();
                                if s(e) != s(b) { said += &format!(" {}:{}->{}", e.design, s(b), s(e)); }
                            }
                            Err(p) => said += &format!(" [{}]", p[0]),
                        }
                    }
                    if !said.is_empty() { println!("OK {at} = {new}:{said}"); }
                }
            }
        }
    }
    println!("accepted {accepted}, {:?}", t.elapsed());
    for (s, n) in shapes { println!("SHAPE {n} {s}"); }
}
