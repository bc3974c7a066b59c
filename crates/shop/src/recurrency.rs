//! A book brought into another currency: every amount multiplied by one rate, and the rates of the others with it, as a single edit.

use rust_decimal::{Decimal, RoundingStrategy};
use scantling_pricing::book::document::Node;
use scantling_pricing::money::Currency;

use crate::currency::{DECIMALS, turned};
use crate::form::Kind;
use crate::rates::{fitting, number};
use crate::sheet::{Edit, Path};
use crate::slim::rows;

/// Where the currency of a book stands.
const OF_BOOK: &str = "shop.currency";
/// The amount that prices are a multiple of, and that must itself be one of the least coin.
const STEP: &str = "shop.rounding_step";

/// Every amount of a book that is in the book's own currency, with its place. What names a currency of its own, an offer or what a buyer was
/// told, has its amounts in that one.
#[must_use]
pub fn amounts(root: &Node, kind: &Kind) -> Vec<(Path, Decimal)> {
    let mut found = Vec::new();
    within(root, kind, &Path::whole(), &mut found);
    found
}

fn within(node: &Node, kind: &Kind, place: &Path, found: &mut Vec<(Path, Decimal)>) {
    match (node, kind) {
        (_, Kind::Money) => found.extend(number(node).map(|amount| (place.clone(), amount))),
        (Node::Table(entries), Kind::Table(fields)) => {
            let apart = node.text("currency").is_some() && *place != Path::whole().key("shop");
            for (key, value) in entries {
                let field = fields.iter().find(|field| field.key == *key);
                if let Some(field) = field.filter(|field| !(apart && field.kind == Kind::Money)) {
                    within(value, &field.kind, &place.key(key), found);
                }
            }
        }
        (Node::Table(entries), Kind::Map(held)) => {
            for (key, value) in entries {
                within(value, held, &place.key(key), found);
            }
        }
        (Node::List(items), Kind::List(held)) => {
            for (index, item) in items.iter().enumerate() {
                within(item, held, &place.index(index), found);
            }
        }
        (_, Kind::OneOf(shapes)) => {
            if let Some(shape) = fitting(shapes, node) {
                within(node, shape, place, found);
            }
        }
        _ => {}
    }
}

/// How many quotes went out: what went out is in the book's currency and is never changed, so that the book stays in it.
#[must_use]
pub fn went_out(root: &Node) -> usize {
    let quotes = root.under("quotes").map_or(&[][..], rows);
    quotes.iter().filter(|quote| quote.under("revisions").is_some_and(|sent| !rows(sent).is_empty())).count()
}

/// The row of a currency among those of a book, with its rate: units of it for one of the book's.
#[must_use]
pub fn rate_of(root: &Node, code: &str) -> Option<(usize, Decimal)> {
    let held = root.under("currencies").map_or(&[][..], rows);
    let row = held.iter().position(|row| row.text("currency") == Some(code))?;
    let rate = number(held.get(row)?.under("rate")?).filter(|rate| *rate > Decimal::ZERO)?;
    Some((row, rate))
}

/// The edits that bring a book into another currency by the rate it has of it, with that rate: every amount multiplied, the other rates
/// divided, and the row of the new currency made one of the old. Nothing where it has no such rate.
#[must_use]
pub fn multiplied(root: &Node, kind: &Kind, to: Currency) -> Option<(Decimal, Vec<Edit>)> {
    let from = root.under("shop")?.text("currency")?;
    let (own, rate) = rate_of(root, to.code())?;
    let (step, coin) = (Path::read(STEP), Decimal::new(1, to.minor_digits()));
    let set = |place: Path, value: Decimal| Edit::set(place, Node::Text(value.normalize().to_string()));
    let rounded =
        |value: Decimal, decimals: u32| value.round_dp_with_strategy(decimals, RoundingStrategy::MidpointAwayFromZero);
    let mut edits = vec![becomes(to)];
    for (place, amount) in amounts(root, kind) {
        let product = amount.checked_mul(rate)?;
        // Prices go by whole coins: a step that is smaller than one would be none.
        let whole = || rounded(product, to.minor_digits()).max(if amount.is_zero() { amount } else { coin });
        let value = if place == step { whole() } else { rounded(product, DECIMALS) };
        edits.push(set(place, value));
    }
    let list = Path::whole().key("currencies");
    for (index, row) in root.under("currencies").map_or(&[][..], rows).iter().enumerate() {
        let place = list.index(index);
        if index == own {
            edits.push(Edit::set(place.key("currency"), Node::Text(from.to_owned())));
            edits.push(set(place.key("rate"), turned(rate)));
        } else if let Some(other) = row.under("rate").and_then(number) {
            edits.push(set(place.key("rate"), rounded(other.checked_div(rate)?, DECIMALS)));
        }
    }
    Some((rate, edits))
}

/// The edits that call the amounts of a book another currency's, as they stand: a rate of it in itself goes.
#[must_use]
pub fn renamed(root: &Node, to: Currency) -> Vec<Edit> {
    let row = rate_of(root, to.code()).map(|(row, _)| Edit::Remove(Path::whole().key("currencies").index(row)));
    std::iter::once(becomes(to)).chain(row).collect()
}

fn becomes(to: Currency) -> Edit {
    Edit::set(Path::read(OF_BOOK), Node::Text(to.code().to_owned()))
}

#[cfg(test)]
mod tests {
    use scantling_pricing::book::ShopBook;

    use super::*;
    use crate::basket::{price, watched};
    use crate::sheet::Sheet;

    fn kind() -> Kind {
        Kind::of_document(&serde_json::from_str(crate::SCHEMA).unwrap())
    }

    fn euro() -> Currency {
        Currency::from_code("EUR").unwrap()
    }

    fn at(sheet: &Sheet, place: &str) -> String {
        match sheet.at(&Path::read(place)) {
            Some(Node::Text(text)) => text.clone(),
            other => panic!("{place}: {other:?}"),
        }
    }

    #[test]
    fn the_demo_in_euros_earns_the_same_and_undone_is_as_it_was() {
        let mut sheet = Sheet::open(crate::DEMO).unwrap();
        let before = sheet.text();
        let (rate, edits) = multiplied(sheet.root(), &kind(), euro()).unwrap();
        assert!(sheet.edit("euros", edits));
        // The demo has 0.86 EUR for one USD. 15.40 x 0.86 = 13.244 and 52000 x 0.86 = 44720; prices go up to 5 x 0.86 = 4.30.
        assert_eq!(rate, Decimal::new(86, 2));
        let figures = ["timbers[0].rates.8/4", "pricing.shop_rate.yearly.wages", "shop.rounding_step"];
        assert_eq!(figures.map(|place| at(&sheet, place)), ["13.244", "44720", "4.3"]);
        // 1 / 0.86 = 1.162791; of Canadian dollars 1.38 / 0.86 = 1.604651, of pounds 0.75 / 0.86 = 0.872093.
        let rates = [0, 1, 2].map(|row| {
            (at(&sheet, &format!("currencies[{row}].currency")), at(&sheet, &format!("currencies[{row}].rate")))
        });
        let rates = rates.each_ref().map(|(code, rate)| (code.as_str(), rate.as_str()));
        assert_eq!(rates, [("CAD", "1.604651"), ("USD", "1.162791"), ("GBP", "0.872093")]);
        let [old, new] = [&before, &sheet.text()].map(|text| ShopBook::read(text).unwrap());
        let [old, new] = [old, new].map(|book| price(&book, &watched(&book), &[]).unwrap());
        for ((piece, old), (_, new)) in old.pieces.iter().zip(&new.pieces) {
            let (old, new) = (old.as_ref().unwrap(), new.as_ref().unwrap());
            assert_eq!(new.price.currency(), euro());
            // Lines are rounded to the cent in either currency, which moves a margin by less than it is told in.
            assert!(
                (old.margin - new.margin).abs() <= Decimal::new(1, 1),
                "{}: {} {}",
                piece.name,
                old.margin,
                new.margin
            );
        }
        sheet.undo();
        assert_eq!(sheet.text(), before);
    }

    #[test]
    fn what_names_a_currency_of_its_own_stays() {
        let book = r#"{"shop": {"currency": "USD", "least_job": "100"}, "currencies": [{"currency": "EUR", "rate": "0.5"}],
            "requests": [{"request": {"told": {"currency": "USD", "low": "8", "likely": "9", "high": "10"}, "quoted": {"charge": "30"}}}],
            "offers": [{"offers": [{"amount": "40"}, {"amount": "50", "currency": "GBP", "quoted": {"charge": "60"}}]}],
            "jobs": [{"paid": 70, "hours": {"milling": "3"}, "said": {"work": {"milling": "80"}}}]}"#;
        let mut sheet = Sheet::open(book).unwrap();
        let (_, edits) = multiplied(sheet.root(), &kind(), euro()).unwrap();
        assert!(sheet.edit("euros", edits));
        let book = r#"{"shop": {"currency": "EUR", "least_job": "50"}, "currencies": [{"currency": "USD", "rate": "2"}],
            "requests": [{"request": {"told": {"currency": "USD", "low": "8", "likely": "9", "high": "10"}, "quoted": {"charge": "15"}}}],
            "offers": [{"offers": [{"amount": "20"}, {"amount": "50", "currency": "GBP", "quoted": {"charge": "30"}}]}],
            "jobs": [{"paid": "35", "hours": {"milling": "3"}, "said": {"work": {"milling": "40"}}}]}"#;
        assert_eq!(sheet.text(), Sheet::open(book).unwrap().text());
    }

    #[test]
    fn prices_go_by_coins_there_are() {
        let step = |step: &str, rate: &str, to: &str| {
            let book = format!(
                r#"{{"shop": {{"currency": "EUR", "rounding_step": "{step}"}}, "currencies": [{{"currency": "{to}", "rate": "{rate}"}}]}}"#
            );
            let mut sheet = Sheet::open(&book).unwrap();
            let (_, edits) = multiplied(sheet.root(), &kind(), Currency::from_code(to).unwrap()).unwrap();
            assert!(sheet.edit("other", edits));
            at(&sheet, "shop.rounding_step")
        };
        assert_eq!(step("5", "162.45", "JPY"), "812", "of yen there is no part: ISO 4217 gives them no minor unit");
        assert_eq!(step("0.01", "0.5", "USD"), "0.01");
        assert_eq!(step("0", "2", "USD"), "0");
    }

    #[test]
    fn without_a_rate_nothing_is_multiplied_and_figures_can_be_left() {
        let mut sheet = Sheet::open(crate::DEMO).unwrap();
        let (before, yen) = (sheet.text(), Currency::from_code("JPY").unwrap());
        assert_eq!(multiplied(sheet.root(), &kind(), yen), None);
        let edits = renamed(sheet.root(), euro());
        assert!(sheet.edit("only the name", edits));
        assert_eq!((at(&sheet, "shop.currency"), at(&sheet, "timbers[0].rates.8/4")), ("EUR".into(), "15.40".into()));
        assert_eq!(rate_of(sheet.root(), "EUR"), None);
        sheet.undo();
        assert_eq!(sheet.text(), before);
    }

    #[test]
    fn quotes_that_went_out_are_counted() {
        let book =
            r#"{"quotes": [{"key": "q-1", "revisions": [{}, {}]}, {"key": "q-2"}, {"key": "q-3", "revisions": []}]}"#;
        assert_eq!(went_out(Sheet::open(book).unwrap().root()), 1);
        assert_eq!(went_out(Sheet::open(crate::DEMO).unwrap().root()), 0);
    }
}
