//! Regions that reach no one, name what is not there, or would send abroad to the shop's own country: refused, each with its path and remedy.

use scantling_pricing::book::ShopBook;
use serde_json::{Value, json};

use crate::bad_input::{refused, with, without};
use crate::start::demo_value;

#[test]
fn regions_and_codes_that_reach_no_one() {
    for prefix in ["546–549", "546-54", "549-546", "k1a", "54 6", "-", "546-549-552"] {
        refused(
            &with("/regions/0/prefixes", json!([prefix])),
            "regions[0].prefixes[0]",
            "as 546, or a run of one length",
        );
    }
    refused(&with("/regions/1/states", json!([])), "regions[2]", "“Wisconsin” before it takes everyone there");
    refused(&with("/regions", json!([])), "regions", "add one at least");
    refused(&with("/regions/0/countries", json!(["us"])), "regions[0]", "write countries as US");
    refused(&with("/regions/10/countries", json!(["UK"])), "regions[10].countries", "write GB");
    refused(&with("/regions/11/countries", json!(["EL"])), "regions[11].countries", "write GR");
    refused(&with("/shop/country", json!("UK")), "shop.country", "write GB");
    refused(&with("/regions/1/states", json!(["WI", "B", "mn"])), "regions[1]", "states as WI (entry 3)");
    refused(&with("/regions/0/tax/rate", json!("5.5")), "regions[0].tax.rate", "write a share from 0 to 1");
}

#[test]
fn what_a_region_names_must_be_there() {
    refused(&with("/regions/0/freight", json!("pony")), "regions[0].freight", "there is no freight table “pony”");
    refused(&with("/regions/1/states", json!(["Wisconsin"])), "regions[1]", "two capital letters");
    refused(&with("/regions/13/countries", json!(["MX"])), "regions[13]", "the last region must take everyone else");
    refused(
        &with("/regions/0", json!({ "key": "all", "name": "All", "collect": true })),
        "regions[0]",
        "never reached",
    );
    refused(&without("/delivery/van"), "regions[0].van", "the van has no rates");
    refused(&with("/shop/postal_code", json!("09001")), "regions[1].van.miles", "where 09001 lies is not known here");
    refused(&with("/regions/10/currency", json!("JPY")), "regions[10].currency", "there is no rate of JPY");
    refused(&with("/regions/0/abroad", json!("mule")), "regions[0].abroad", "name one of delivery.abroad");
    refused(&with("/regions/0/parcel", json!("mule")), "regions[0].parcel", "name one of delivery.parcels");
    refused(
        &with("/regions/0/white_glove", json!("mule")),
        "regions[0].white_glove",
        "name one of delivery.white_glove",
    );
    refused(&without("/delivery/marked_timber"), "regions[10].abroad", "add delivery.marked_timber");
}

#[test]
fn the_shop_s_own_country_is_not_abroad() {
    // The demo's regions are those of a shop in the United States: one in Germany falls among those that are sent to.
    let at_home = "“Europe, where the euro is paid” takes buyers in DE, which is the shop's own country";
    refused(&with("/shop/country", json!("DE")), "regions[11].abroad", at_home);
    // Also where nobody names the country, and the last resort sends abroad. That its van can't be told how far it goes is another fault.
    let sent_abroad = |book: &Value| {
        let faults = ShopBook::read(&book.to_string()).err().unwrap_or_default();
        faults.into_iter().filter(|fault| fault.path.ends_with(".abroad")).map(|fault| fault.path).collect::<Vec<_>>()
    };
    assert_eq!(sent_abroad(&demo_value()), Vec::<String>::new(), "at home in the United States");
    let mut elsewhere = with("/shop/country", json!("NZ"));
    assert_eq!(sent_abroad(&elsewhere), Vec::<String>::new(), "nothing is sent from there to New Zealand");
    elsewhere["regions"][13]["abroad"] = json!("europe");
    refused(&elsewhere, "regions[13].abroad", "put a region for NZ before it");
    // A region for it before that one mends it, whatever comes after; one of its states only does not.
    let mut mended = with("/shop/country", json!("DE"));
    let home = json!({ "key": "home", "name": "Germany", "countries": ["DE"], "collect": true });
    mended["regions"].as_array_mut().unwrap().insert(0, home);
    assert_eq!(sent_abroad(&mended), Vec::<String>::new());
    mended["regions"][0]["prefixes"] = json!(["10"]);
    refused(&mended, "regions[12].abroad", "put a region for DE before it");
}
