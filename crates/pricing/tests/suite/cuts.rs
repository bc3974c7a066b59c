//! Cuts taken out of a slab for a job, by hand: of the demo's oak slab a job takes 0.75 of the face, so a quarter is left.

use rust_decimal::Decimal;
use scantling_pricing::book::ShopBook;
use scantling_pricing::book::values::{Key, Share};
use scantling_pricing::jobs::{Against, NotCut, account, slab_cut, slabs_of};
use scantling_pricing::problem::Problem;
use scantling_pricing::profit::Rates;
use scantling_pricing::suggestions::suggestions;
use serde_json::{Value, json};

use crate::start::{demo_value, sound};

fn key(text: &str) -> Key {
    Key::new(text).unwrap()
}

fn share(text: &str) -> Share {
    Share::new(text.parse().unwrap()).unwrap()
}

/// The demo's book where each job takes these shares of the oak slab.
fn book(shares: &[&str]) -> Value {
    let mut book = demo_value();
    for (at, share) in shares.iter().enumerate() {
        book["jobs"][at]["slabs"] = json!({ "oak-slab-04": { "share": share, "cost": "1" } });
    }
    book
}

fn oak(book: &mut Value) -> &mut Value {
    let slabs = book["slabs"].as_array_mut().unwrap();
    slabs.iter_mut().find(|slab| slab["key"] == "oak-slab-04").unwrap()
}

#[test]
fn a_cut_is_what_the_job_took_and_is_taken_once_and_never_beyond_what_is_left() {
    let mut value = book(&["0.75", "0.26", "0.25", "0"]);
    let shop = sound(&value);
    let of = |shop: &ShopBook, job: usize| slab_cut(shop, &shop.jobs[job], &key("oak-slab-04"));
    let first = of(&shop, 0).unwrap();
    assert_eq!((first.share, first.before, first.after), (share("0.75"), Decimal::ONE, Decimal::new(25, 2)));

    oak(&mut value)["cut"] = json!(["0.75"]);
    value["jobs"][0]["cut_out"] = json!({ "oak-slab-04": "0.75" });
    let shop = sound(&value);
    assert_eq!(of(&shop, 0), Err(NotCut::Already(share("0.75"))));
    assert_eq!(of(&shop, 1), Err(NotCut::TooMuch { share: share("0.26"), left: Decimal::new(25, 2) }));
    assert!(of(&shop, 1).unwrap_err().explain().contains("takes 0.26 of its face, and 0.25 of it is left"));
    // Just what is left may go.
    assert_eq!(of(&shop, 2).unwrap().after, Decimal::ZERO);
    assert_eq!(of(&shop, 3), Err(NotCut::NothingTaken));
    assert_eq!(slab_cut(&shop, &shop.jobs[0], &key("walnut-slab-17")), Err(NotCut::NothingTaken));
    let stands = slabs_of(&shop, &shop.jobs[0]);
    assert_eq!((stands[0].taken_out, stands[0].left), (Some(share("0.75")), Some(Decimal::new(25, 2))));

    // A slab that is no more can't be cut; more sold than there was leaves nothing, in words too.
    value["jobs"][3]["slabs"] = json!({ "sold-slab": { "share": "0.5", "cost": "1" } });
    oak(&mut value)["cut"] = json!(["0.75", "0.5"]);
    let shop = sound(&value);
    assert_eq!(slab_cut(&shop, &shop.jobs[3], &key("sold-slab")), Err(NotCut::NoSlab));
    assert_eq!(slabs_of(&shop, &shop.jobs[3])[0].left, None);
    assert!(of(&shop, 2).unwrap_err().explain().contains("and 0 of it is left"));
}

/// The demo's third job is a console of the walnut slab: cut from it, it teaches and is accounted for as before.
#[test]
fn a_job_teaches_the_same_and_comes_to_the_same_once_its_slab_is_cut() {
    let before = demo_value();
    let console = before["jobs"].as_array().unwrap().iter().position(|job| job["design"] == "slab-console").unwrap();
    let mut after = before.clone();
    after["slabs"][0]["cut"] = json!(["0.9"]);
    after["slabs"][0]["saleable"] = json!(false);
    let (before, after) = (sound(&before), sound(&after));
    assert_eq!(suggestions(&before).unwrap(), suggestions(&after).unwrap());
    let of = |shop: &ShopBook| account(shop, &Rates::new(shop).unwrap(), &shop.jobs[console]);
    let (was, is) = (of(&before), of(&after));
    assert_eq!(was.against, Against::Now);
    assert_eq!(was, is);
    // For anyone else it is gone.
    let brief = after.jobs[console].brief.clone().unwrap();
    let refused = Rates::new(&after).unwrap().costs(&brief).unwrap_err();
    assert!(matches!(refused.as_slice(), [Problem::SlabGone(_)]), "{refused:?}");
}

/// The quote of the job whose cut was taken out is still reckoned with it; another quote for the same slab is not.
#[test]
fn a_quote_is_reckoned_with_the_cut_of_its_own_job() {
    let mut value = demo_value();
    let told = json!({ "edition": "2026-11-25", "currency": "USD", "low": "1", "likely": "1", "high": "1" });
    let request = json!({ "scantling_request": 1, "brief": { "scantling_brief": 1, "design": "slab-console" }, "told": told,
        "from": { "name": "Invented buyer", "mail": "buyer@home.example" } });
    value["requests"] = json!([{ "key": "r-1", "received": "2026-11-20", "request": request }]);
    value["quotes"] = json!([{ "key": "q-1", "request": "r-1" }, { "key": "q-2", "request": "r-1" }]);
    let firm = |value: &Value, at: usize| {
        let shop = sound(value);
        let request = shop.requests[0].request.clone();
        shop.quotes[at].firm(&shop, &Rates::new(&shop).unwrap(), &request).map(|firm| firm.to_pay)
    };
    let price = firm(&value, 0).unwrap();
    value["slabs"][0]["cut"] = json!(["0.8"]);
    value["jobs"][0]["quote"] = json!("q-1");
    value["jobs"][0]["slabs"] = json!({ "walnut-slab-17": { "share": "0.8", "cost": "1" } });
    assert!(firm(&value, 0).is_err(), "a cut that is nobody's own");
    value["jobs"][0]["cut_out"] = json!({ "walnut-slab-17": "0.8" });
    assert_eq!(firm(&value, 0).unwrap(), price);
    assert!(matches!(firm(&value, 1).unwrap_err().as_slice(), [Problem::SlabGone(_)]));
}
