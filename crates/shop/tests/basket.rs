//! The basket: its figures are the engine's own, before and after an edit.

use rust_decimal::Decimal;
use scantling_pricing::book::ShopBook;
use scantling_pricing::book::document::Node;
use scantling_pricing::book::values::Text;
use scantling_pricing::profit::Rates;
use scantling_shop::basket::{places, places_in, price, watched};
use scantling_shop::sheet::{Edit, Path, Sheet};

const DEMO: &str = include_str!("../../../shared/books/demo-shop.json");

#[test]
fn every_design_is_priced_as_the_engine_prices_it_and_delivered_where_the_maker_says() {
    let mut book = ShopBook::read(DEMO).unwrap();
    let typed = places_in("60601, CA K1A 0B1\n 54601,,");
    assert_eq!(typed, ["60601", "CA K1A 0B1", "54601"]);
    book.watched_places = typed.iter().map(|place| Text::new(place).unwrap()).collect();
    let to = places(&book);
    assert_eq!(to.iter().map(|place| place.country.as_str()).collect::<Vec<_>>(), ["US", "CA", "US"]);
    let priced = price(&book, &watched(&book), &to).unwrap();
    assert_eq!(priced.pieces.len(), book.designs.len());
    let rates = Rates::new(&book).unwrap();
    for (piece, figures) in &priced.pieces {
        let (figures, costs) = (figures.as_ref().unwrap(), rates.costs(&piece.brief).unwrap());
        let outcome = costs.as_estimated();
        assert_eq!((figures.price, figures.profit), (costs.selling.works.likely, outcome.profit));
        // The margin is what is left as a share of what is paid, to a tenth of a percent.
        let share = outcome.profit.amount() / outcome.paid.amount() * Decimal::ONE_HUNDRED;
        assert!((figures.margin - share).abs() <= Decimal::new(5, 2), "{}", piece.name);
        // Everything goes to Chicago and to Ottawa, and delivered is dearer than collected.
        assert!(figures.delivered.iter().flatten().all(|delivered| delivered.amount() > figures.price.amount()));
        assert!(figures.delivered[0].is_some() && figures.delivered[1].is_some(), "{}", piece.name);
    }
}

#[test]
fn an_edit_of_a_rate_moves_the_pieces_made_of_it_and_undoing_it_moves_them_back() {
    let mut sheet = Sheet::open(DEMO).unwrap();
    let figures = |sheet: &Sheet| {
        let book = ShopBook::read(&sheet.text()).unwrap();
        price(&book, &watched(&book), &[]).unwrap()
    };
    let before = figures(&sheet);
    let walnut = Path::read("timbers[0].rates.6/4");
    assert!(sheet.edit("walnut", vec![Edit::set(walnut, Node::Text("99".into()))]));
    let after = figures(&sheet);
    let moved: Vec<&str> = before
        .pieces
        .iter()
        .zip(&after.pieces)
        .filter(|((_, before), (_, after))| before != after)
        .map(|((piece, _), _)| piece.brief.design.as_str())
        .collect();
    // The table's top is 1 1/4 in thick, out of walnut of 6/4 as it starts; the bookcase has no walnut of that thickness in it.
    assert!(moved.contains(&"trestle-table") && !moved.contains(&"bookcase"), "{moved:?}");
    sheet.undo();
    assert_eq!(figures(&sheet), before);
}
