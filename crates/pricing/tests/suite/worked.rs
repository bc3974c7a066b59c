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
use scantling_pricing::book::ShopBook;
use scantling_pricing::cost::LineKind;
use scantling_pricing::delivery::Mode;
use scantling_pricing::estimate::{Estimate, Line, PriceRange, estimate};

use crate::start::{brief, selling};

/// 48 x 12 in bench, 18 in high, to a home in the one region there is.
fn worked() -> Estimate {
    let shop = ShopBook::read(include_str!("../../../../shared/books/worked-example-shop.json")).unwrap();
    let asked =
        r#"{"scantling_brief": 1, "design": "bench", "destination": {"country": "US", "postal_code": "10001"}}"#;
    estimate(&selling(&shop), &brief(asked)).unwrap()
}

fn amounts(lines: &[Line]) -> Vec<(LineKind, String, String)> {
    lines.iter().map(|line| (line.kind, line.name.clone(), line.amount.amount().to_string())).collect()
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

    // THE RANGE. Deviations, (high - low) / 6, sold:
    //   timber: bought 1 to 2 feet a foot: 90 x (2 - 1) / 6 x 1.65 = 24.75
    //   milling: 9.75 x 1.2 x (11 - 3) / 6 = 15.6 and set-up (20 - 10) / 6 = 1.66667: 17.26667 x 1.375 = 23.74167
    //   joinery: 4 x (30 - 10) / 6 = 13.33333 x 1.375 = 18.33333
    //   sum 66.825, squares 612.5625 + 563.6668 + 336.1111 = 1512.3404
    //   correlation 0.25: 0.75 x 1512.3404 + 0.25 x 66.825^2 = 1134.2553 + 1116.3952 = 2250.6505; its root 47.4410
    //   8 in 10 lie within 1.28155 of it: 60.80. 561.46 - 60.80 = 500.66, down to 500; 561.46 + 60.80 = 622.26, up to 630.
    assert_eq!(range(&estimate.works), ["500.00", "570.00", "630.00"]);
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
    //   Outside 2 x (54 x 18 + 54 x 27 + 18 x 27) = 5832 sq in = 40.5 sq ft. It weighs 2 lb a foot: 81 lb; with the bench 111.18,
    //   as carriers weigh it 112 lb. Material 2 a foot sold at 1.65 and a minute a foot sold at 1.375: 40.5 x 4.675 = 189.3375;
    //   30 minutes a crate: 41.25. Together 230.59 (230.5875).
    // FREIGHT. 54 x 18 x 27 / 1728 = 15.1875 cu ft; 112 / 15.1875 = 7.37 lb a foot lies between 6 and 8: class 125.
    //   At class 100 a hundredweight costs 80 to 500 lb, 40 from there, sold at 1.10: 88 and 44.
    //   Own weight: 88 x 1.25 x 1.12 = 123.20. As 500 lb: 44 x 1.25 x 5 = 275. The lower, 123.20, is over the least charge of 100
    //   (sold 110). Fuel 25 %: 154.00. Home delivery 50, sold 55: 209.00.
    //   561.46 + 230.59 + 209.00 = 1001.05, up to 1010: rounding 8.95.
    let freight = way(Mode::Freight);
    assert_eq!(
        amounts(&freight.lines),
        [(LineKind::Crating, String::new(), "230.59".into()), (LineKind::Freight, String::new(), "209.00".into())]
    );
    assert_eq!(freight.rounding.amount().to_string(), "8.95");

    // Its range: carriage may miss by 15 %, a deviation of 209 x 0.15 / 3 = 10.45, apart from the hours:
    //   root of 2250.6505 + 109.2025 = 48.5783, times 1.28155 = 62.26: 938.79 down to 930, 1063.31 up to 1070.
    assert_eq!(range(&freight.price), ["930.00", "1010.00", "1070.00"]);

    // TAX, 8 % on piece and delivery: 1010.00 x 0.08 = 80.80.
    assert_eq!(freight.tax.as_ref().unwrap().amount.amount().to_string(), "80.80");
    assert_eq!(estimate.chosen, Some(Mode::Van), "the cheapest that brings it");
}
