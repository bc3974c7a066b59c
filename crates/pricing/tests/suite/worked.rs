//! One estimate worked by hand, line by line, from a book of round figures. Anyone with a pencil can follow it.
//!
//! The book, `shared/books/worked-example-shop.json`, is invented: a bench of one timber, in pairs of hands at $60 an hour.
//! The amounts of the book are costs. What is sold multiplies them:
//!
//! - a year's wages of 72,000 and overheads of 18,000 over 1,500 billable hours make 60.00 an hour, 1.00 a minute;
//! - contingency 10 %, margin 20 % of the price, payment fee 0: a cost of work is sold at 1.10 / 0.80 = 1.375 times itself;
//! - materials carry 20 % markup on top: 1.20 x 1.375 = 1.65 times their cost;
//! - carriage carries 10 %: 1.10 times;
//! - one payment costs 1.00 fixed, charged once.

use rust_decimal::Decimal;
use scantling_pricing::book::{PriceBook, ShopBook};
use scantling_pricing::cost::LineKind;
use scantling_pricing::delivery::Mode;
use scantling_pricing::estimate::{Estimate, Line, PriceRange, estimate};

use crate::start::{brief, selling};

fn priced(asked: &str) -> Estimate {
    let shop = ShopBook::read(include_str!("../../../../shared/books/worked-example-shop.json")).unwrap();
    estimate(&selling(&shop), &brief(asked)).unwrap()
}

/// 48 x 12 in bench, 18 in high, to a home in the one region there is.
fn worked() -> Estimate {
    priced(r#"{"scantling_brief": 1, "design": "bench", "destination": {"country": "US", "postal_code": "10001"}}"#)
}

fn amounts(lines: &[Line]) -> Vec<(LineKind, String, String)> {
    lines.iter().map(|line| (line.kind, line.name.clone(), line.amount.amount().to_string())).collect()
}

/// The lines of freight to a home: a crate, carriage with fuel, a lift at the tail, a residential address.
fn carried(crates: &str, freight: &str) -> Vec<(LineKind, String, String)> {
    [
        (LineKind::Crating, crates),
        (LineKind::Freight, freight),
        (LineKind::Liftgate, "22.00"),
        (LineKind::Residential, "33.00"),
    ]
    .map(|(kind, amount)| (kind, String::new(), amount.to_owned()))
    .to_vec()
}

fn range(price: &PriceRange) -> [String; 3] {
    [price.low, price.likely, price.high].map(|money| money.amount().to_string())
}

#[test]
fn every_line_is_what_the_pencil_says() {
    let estimate = worked();

    // TIMBER. Allowances: 1 in of length, 1/4 in of width for each stave.
    //   Seat, 47 x 11 3/4 x 1 5/16 in. 1 5/16 is just what 6/4 gives surfaced. Boards to 12 1/4 in: one stave.
    //     blank 48 x 12 in, 1 1/2 in nominal: 1.5 x 12 x 48 / 144 = 6.00 bf.
    //   Two ends, each 17 x 11 3/4 x 1 in. 1 in needs 5/4 (1 1/16 surfaced).
    //     blank 18 x 12 in, 1 1/4 in nominal: 1.25 x 12 x 18 / 144 = 1.875 bf, twice 3.75 bf.
    //   Blanks together 9.75 bf.
    //   Yield 50 % at worst, 75 % likely, 100 % at best: for each foot of blank 2, 4/3 or 1 foot is bought; the three-point mean is
    //     (1 + 4 x 4/3 + 2) / 6 = 25/18 = 1.38889. Bought: 9.75 x 25/18 = 13.5417 bf, shown as 13.54.
    //   6/4 costs 10 a foot, 5/4 costs 8: 6.00 x 10 + 3.75 x 8 = 90.00 for the blanks, 90 x 25/18 = 125.00 bought.
    //   Sold at 1.65: 206.25.
    assert_eq!(estimate.net_board_feet, Decimal::new(975, 2));
    assert_eq!(estimate.board_feet, Decimal::new(1354, 2));

    // FINISH. Surfaces of the finished sizes, all six of each part:
    //   seat: 2 x (47 x 11.75 + 47 x 1.3125 + 11.75 x 1.3125) = 2 x (552.25 + 61.6875 + 15.421875) = 1258.71875 sq in
    //   an end: 2 x (17 x 11.75 + 17 x 1 + 11.75 x 1) = 2 x (199.75 + 17 + 11.75) = 457 sq in, twice 914
    //   together 2172.71875 / 144 = 15.08832 sq ft.
    //   Two coats at 400 sq ft a gallon, 10 % lost: 15.08832 x 2 / 400 x 1.10 = 0.0829858 gal, at 100: 8.29858. Sold at 1.65: 13.69.

    // SUNDRIES. Abrasive at 0.20 a square foot: 15.08832 x 0.20 x 1.65 = 4.97915; the fixed fee 1.00: 5.98.

    // WORK. A minute is sold at 1.375. Means of three points (low + 4 likely + high) / 6:
    //   Milling: 3, 4, 11 a board foot of blank, mean 5; timber factor 1.2: 9.75 x 1.2 x 5 = 58.5; set-up 10, 15, 20, mean 15.
    //     73.5 minutes: 101.06 (101.0625).
    //   Joinery: four joints, 10, 20, 30, mean 20: 80 minutes, no set-up: 110.00.
    //   Finishing: sanding 4 a square foot flat, 15.08832 x 4 = 60.3533; wiping 1, 1, 1 a square foot a coat, 30.1766;
    //     90.5299 minutes: 124.48 (124.4786).
    assert_eq!(
        amounts(&estimate.lines),
        [
            (LineKind::Timber, "Plain oak".into(), "206.25".into()),
            (LineKind::Finish, "Oil".into(), "13.69".into()),
            (LineKind::Sundries, String::new(), "5.98".into()),
            (LineKind::Work, "Milling".into(), "101.06".into()),
            (LineKind::Work, "Joinery".into(), "110.00".into()),
            (LineKind::Work, "Finishing".into(), "124.48".into()),
        ]
    );

    // THE PRICE: 206.25 + 13.69 + 5.98 + 101.06 + 110.00 + 124.48 = 561.46, up to the next 10: 570.00; rounding 8.54.
    assert_eq!(estimate.rounding.amount().to_string(), "8.54");

    // THE RANGE. Deviations, the root of (mean - low) x (high - mean) / 7, sold:
    //   timber: bought 1 to 2 feet a foot, 25/18 on average: root of 7/18 x 11/18 / 7 = 0.184257; 90 x 0.184257 x 1.65 = 27.36218
    //   milling: 3, 4, 11, mean 5: root of 2 x 6 / 7 = 1.309307; 9.75 x 1.2 x 1.309307 = 15.31890; set-up 10, 15, 20: root of 25/7 =
    //     1.88982: 17.20872 x 1.375 = 23.66199
    //   joinery: 10, 20, 30: root of 100/7 = 3.779645; 4 x 3.779645 x 1.375 = 20.78805
    //   sum 71.81221, squares 748.6889 + 559.8896 + 432.1429 = 1740.7213
    //   correlation 0.25: 0.75 x 1740.7213 + 0.25 x 71.81221^2 = 1305.5410 + 1289.2485 = 2594.7895; its root 50.9391
    //   8 in 10 lie within 1.28155 of it: 65.28. 561.46 - 65.28 = 496.18, down to 490; 561.46 + 65.28 = 626.74, up to 630.
    assert_eq!(range(&estimate.works), ["490.00", "570.00", "630.00"]);
}

#[test]
fn delivery_is_what_the_pencil_says() {
    let estimate = worked();
    let way = |mode| estimate.ways.iter().find(|way| way.mode == mode).unwrap().outcome.as_ref().unwrap();

    // VAN. 50 miles there and 50 back. A mile costs 0.60 to run (sold 0.66) and, at 60 miles an hour, a minute of work (sold 1.375):
    //   100 x 2.035 = 203.50. Loading and placing, 40 minutes: 55.00. Together 258.50.
    //   561.46 + 258.50 = 819.96, up to 820: rounding 0.04.
    let van = way(Mode::Van);
    assert_eq!(amounts(&van.lines), [(LineKind::Van, String::new(), "258.50".into())]);
    assert_eq!(
        (van.rounding.amount().to_string(), range(&van.price)),
        ("0.04".into(), ["750.00", "820.00", "890.00"].map(String::from))
    );

    // WEIGHT. Basic gravity 0.60 at 12 %: 46.38 lb to the cubic foot (FPL-GTR-190 eq. 4-9 to 4-12, shared/reference/wood/weight.md).
    //   Volume 47 x 11.75 x 1.3125 + 2 x 17 x 11.75 x 1 = 724.828 + 399.5 = 1124.328 cu in = 0.650653 cu ft: 30.18 lb, shown as 30.
    assert_eq!(estimate.weight_pounds, Decimal::from(30));

    // CRATE. The piece 48 x 12 x 18 in, 2 in of padding and 1 in of wall on every side, a 3 in skid: 54 x 18 x 27 in outside.
    //   Inside 2 x (52 x 16 + 52 x 22 + 16 x 22) = 4656 sq in = 32.3333 sq ft of panel at 2.5 lb: 80.83 lb; with the bench 111.01,
    //   as carriers weigh it 112 lb. Outside 2 x (54 x 18 + 54 x 27 + 18 x 27) = 5832 sq in = 40.5 sq ft. Material 2 a foot sold at 1.65 and a minute a foot sold at 1.375: 40.5 x 4.675 = 189.3375;
    //   30 minutes a crate: 41.25. Together 230.59 (230.5875).
    // FREIGHT. 54 x 18 x 27 / 1728 = 15.1875 cu ft; 112 / 15.1875 = 7.37 lb a foot lies between 6 and 8: class 125.
    //   At class 100 a hundredweight costs 80 to 500 lb, 40 from there, sold at 1.10: 88 and 44.
    //   Own weight: 88 x 1.25 x 1.12 = 123.20. As 500 lb: 44 x 1.25 x 5 = 275. The lower, 123.20, is over the least charge of 100
    //   (sold 110). Fuel 25 %: 154.00. A home has no dock: a lift 20, sold 22.00, and a residential address 30, sold 33.00.
    //   561.46 + 230.59 + 154.00 + 22.00 + 33.00 = 1001.05, up to 1010: rounding 8.95.
    let freight = way(Mode::Freight);
    assert_eq!(amounts(&freight.lines), carried("230.59", "154.00"));
    assert_eq!(freight.rounding.amount().to_string(), "8.95");

    // Its range: carriage may miss by 15 %, a deviation of 154 x 0.15 / 3 = 7.70, apart from the hours:
    //   root of 2594.7895 + 59.29 = 51.5178, times 1.28155 = 66.02: 935.03 down to 930, 1067.07 up to 1070.
    assert_eq!(range(&freight.price), ["930.00", "1010.00", "1070.00"]);

    // TAX, 8 % on piece and delivery: 1010.00 x 0.08 = 80.80.
    assert_eq!(freight.tax.as_ref().unwrap().amount.amount().to_string(), "80.80");
    assert_eq!(estimate.chosen, Some(Mode::Van), "the cheapest that brings it");
}

#[test]
fn a_slab_and_a_resin_channel_come_to_what_the_pencil_says() {
    let estimate = priced(r#"{"scantling_brief": 1, "design": "river"}"#);

    // TIMBER. Two ends of 14 1/2 x 18 x 1 in: 5/4. Boards to 12 1/4 in give 12 in each: two staves of 9 + 1/4 in.
    //   A blank is 15 1/2 x 9 1/4 in: 1.25 x 9.25 x 15.5 / 144 = 1.2445747 bf; four of them 4.9782986, shown as 4.98.
    //   Bought 4.9782986 x 25/18 = 6.9143036, shown as 6.91; at 8: 55.31443; sold at 1.65: 91.27.
    // SLAB. 80 x 16 in of face, 400.00. Cut 41 x 15 in, an inch longer than the top: 615 / 1280 = 0.48046875 of it: 192.1875; sold 317.11.
    //   It is 2 in thick: 615 x 2 / 144 = 8.54 bf. It lies flat, and a skim of 1/16 in leaves 1 15/16 in.
    // RESIN. 40 x 5 in, poured 1/2 in proud of 1 1/2 in: 400 cu in, and a fifth: 480, at 0.50: 240.00; sold 396.00.
    //   2 in at 1 in a pour: two pours.
    // FINISH. All six faces of each part: top 2 x (600 + 60 + 22.5) = 1365; channel 2 x (200 + 60 + 7.5) = 535; an end
    //   2 x (261 + 14.5 + 18) = 587, twice 1174: 3074 sq in, 21.347222 sq ft. 21.347222 x 2 / 400 x 1.10 = 0.1174097 gal: 11.74; sold 19.37.
    // SUNDRIES. 21.347222 x 0.20 x 1.65 = 7.0446 and the fee of 1.00: 8.04.
    // WORK. Milling: 4.9782986 x 1.2 x 5 = 29.86979 and 15: 44.86979 minutes: 61.69596. Flattening, both faces of the top: 8.3333 sq ft
    //   x 1.2 x 12 = 120 and 30: 150 minutes: 206.25. Together 267.95. Casting: two pours of 30 and 10: 70 minutes: 96.25.
    //   Finishing: 21.347222 x (4 + 2 x 1) = 128.08333 minutes: 176.11.
    assert_eq!(
        amounts(&estimate.lines),
        [
            (LineKind::Timber, "Plain oak".into(), "91.27".into()),
            (LineKind::Slab, "Oak slab".into(), "317.11".into()),
            (LineKind::Resin, "Resin".into(), "396.00".into()),
            (LineKind::Finish, "Oil".into(), "19.37".into()),
            (LineKind::Sundries, String::new(), "8.04".into()),
            (LineKind::Work, "Milling".into(), "267.95".into()),
            (LineKind::Work, "Casting".into(), "96.25".into()),
            (LineKind::Work, "Finishing".into(), "176.11".into()),
        ]
    );
    // 6.91 and 8.54 bf to buy.
    assert_eq!(estimate.board_feet, Decimal::new(1545, 2));
    // Together 1372.10, up to 1380: 7.90.
    assert_eq!(estimate.rounding.amount().to_string(), "7.90");

    // RANGE. Deviations sold, as above: timber 4.9782986 x 8 x 0.184257 x 1.65 = 12.10813; milling (4.9782986 x 1.2 x 1.309307 + 1.889822)
    //   x 1.375 = 13.35343; flattening 6, 12, 18: 10 x root of 36/7 x 1.375 = 31.18207; casting 2 x 3.779645 x 1.375 = 10.39402.
    //   Sum 67.03765, squares 1405.2781: 0.75 x 1405.2781 + 0.25 x 67.03765^2 = 2177.470; root 46.6634 x 1.28155 = 59.80:
    //   1312.30 down to 1310, 1431.90 up to 1440.
    assert_eq!(range(&estimate.works), ["1310.00", "1380.00", "1440.00"]);

    // WEIGHT. Oak 900 + 522 = 1422 cu in, 0.822917 cu ft at 46.38 lb: 38.17; resin 300 cu in at 1.10 x 0.0361273 lb: 11.92. 50.09 lb.
    assert_eq!(estimate.weight_pounds, Decimal::from(50));
}

#[test]
fn sheets_hardware_and_freight_come_to_what_the_pencil_says() {
    let asked = r#"{"scantling_brief": 1, "design": "case", "delivery": "freight",
        "destination": {"country": "US", "postal_code": "10001"}}"#;
    let estimate = priced(asked);

    // SHEET. 96 x 48 in, less 1/4 in all round: 95 1/2 x 47 1/2 in. Two sides of 30 in and a kerf, 60 1/8 in, are a strip of 12 in; three
    //   shelves of 28 1/2 in (one every 15 in at most over 29 1/4: three) and two kerfs, 85 3/4 in, another. 24 1/8 in of 47 1/2: one
    //   sheet, 80.00; sold 132.00.
    // FINISH. A side 2 x (360 + 22.5 + 9) = 783, twice 1566; a shelf 2 x (342 + 21.375 + 9) = 744.75, three 2234.25: 3800.25 sq in,
    //   26.390625 sq ft. x 2 / 400 x 1.10 x 100 x 1.65 = 23.95.
    // HARDWARE. Four feet at 3.00: 12.00; sold 19.80. SUNDRIES. 26.390625 x 0.20 x 1.65 = 8.7089 and 1.00: 9.71.
    // WORK. Joinery: three shelves of two joints, 120 minutes: 165.00. Finishing: 26.390625 x 6 = 158.34375 minutes: 217.72. Assembly: 4 x 5
    //   minutes: 27.50.
    assert_eq!(
        amounts(&estimate.lines),
        [
            (LineKind::Sheet, "Plywood".into(), "132.00".into()),
            (LineKind::Finish, "Oil".into(), "23.95".into()),
            (LineKind::Hardware, "Foot".into(), "19.80".into()),
            (LineKind::Sundries, String::new(), "9.71".into()),
            (LineKind::Work, "Joinery".into(), "165.00".into()),
            (LineKind::Work, "Finishing".into(), "217.72".into()),
            (LineKind::Work, "Assembly".into(), "27.50".into()),
        ]
    );
    // Together 595.68, up to 600. RANGE. Joinery alone varies: 6 x 3.779645 x 1.375 = 31.18207, x 1.28155 = 39.96: 555.72 and 635.64.
    assert_eq!(range(&estimate.works), ["550.00", "600.00", "640.00"]);

    // CRATE. 30 x 12 x 30 in: 36 x 18 x 39 in outside, 5508 sq in = 38.25 sq ft: 38.25 x 4.675 = 178.81875 and 41.25: 220.07.
    // WEIGHT. 12.125 sq ft of sheet at 2 lb and feet of 1 lb: 25.25 lb, shown as 25; inside the crate 34 x 16 x 34 in, 31.1667 sq ft
    //   of panel at 2.5 lb, 77.92: 103.17, carried as 104 lb.
    // FREIGHT. 14.625 cu ft: 7.11 lb a foot, class 125. 88 x 1.25 x 1.04 = 114.40, over the least of 110; fuel: 143.00; lift and home
    //   address as above.
    let freight = estimate.delivered().unwrap();
    assert_eq!(amounts(&freight.lines), carried("220.07", "143.00"));
    assert_eq!(estimate.weight_pounds, Decimal::from(25));
    // 595.68 + 220.07 + 143.00 + 55.00 = 1013.75, up to 1020. Range: 31.18207^2 + (143 x 0.15 / 3)^2 = 1023.44, root 31.991 x
    // 1.28155 = 41.00: 972.75 and 1054.75.
    assert_eq!(range(&freight.price), ["970.00", "1020.00", "1060.00"]);
    // Tax 8 % of 1020: 81.60. All of it is paid before it leaves.
    assert_eq!(estimate.to_pay().amount().to_string(), "1101.60");
    assert_eq!(estimate.payments.iter().map(|payment| payment.amount).collect::<Vec<_>>(), [estimate.to_pay()]);
}

/// Sends what goes beyond the shop's own country by a table, in a book with one region.
pub(crate) fn goes_abroad(shop: &mut serde_json::Value, table: serde_json::Value) {
    let mut home = shop["regions"][0].clone();
    home["key"] = serde_json::json!("home");
    home["countries"] = serde_json::json!([shop["shop"]["country"]]);
    shop["regions"][0]["abroad"] = table["key"].clone();
    shop["delivery"]["abroad"] = serde_json::json!([table]);
    shop["regions"].as_array_mut().unwrap().insert(0, home);
}

#[test]
fn abroad_is_what_the_pencil_says() {
    let mut shop: serde_json::Value =
        serde_json::from_str(include_str!("../../../../shared/books/worked-example-shop.json")).unwrap();
    goes_abroad(
        &mut shop,
        serde_json::json!({ "key": "far", "pounds_per_cubic_foot": "10", "per_hundredweight": "100", "least": "100",
        "marked_timber": "20", "papers": "50", "days_least": 10, "days_most": 30 }),
    );
    let panels = selling(&crate::start::sound(&shop));
    shop["delivery"]["crating"]["size"]["solid_wood"] = serde_json::json!("3/4 in");
    let boards = selling(&crate::start::sound(&shop));
    let lines = |book: &PriceBook, country: &str, code: &str| {
        let asked = format!(
            r#"{{"scantling_brief": 1, "design": "case", "delivery": "abroad", "destination": {{"country": "{country}", "postal_code": "{code}"}}}}"#
        );
        amounts(&estimate(book, &brief(&asked)).unwrap().delivered().unwrap().lines)
    };
    // The crate of the case, as above: 14.625 cu ft, 104 lb. At 10 lb a foot it counts as 146.25, 147 lb: 147.00, sold 161.70. Papers 50.00,
    // sold 55.00. To Germany the timber of a crate of boards is marked: 20.00, sold 22.00; to Canada it need not be, and of plywood there is none.
    let unmarked = [(LineKind::Crating, "220.07"), (LineKind::Abroad, "161.70"), (LineKind::Papers, "55.00")]
        .map(|(kind, amount)| (kind, String::new(), amount.to_owned()));
    let mut marked = unmarked.to_vec();
    marked.insert(1, (LineKind::MarkedTimber, String::new(), "22.00".into()));
    assert_eq!(lines(&boards, "DE", "10115"), marked);
    assert_eq!(lines(&boards, "CA", "K1A 0B1"), unmarked);
    assert_eq!(lines(&panels, "DE", "10115"), unmarked);
}
