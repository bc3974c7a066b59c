//! What an hour costs: `shared/reference/trade/labour.md`.

use rust_decimal::Decimal;
use scantling_pricing::book::document::Node;
use scantling_pricing::book::work::ShopRate;
use scantling_pricing::publish::hourly;

use super::{close, decimal};

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
}
