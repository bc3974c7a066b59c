//! The pieces a maker cares about, priced before and after what was edited: price, margin, pay for an hour, delivered to a few places.

use rust_decimal::Decimal;
use scantling_pricing::book::ledger::BasketPiece;
use scantling_pricing::book::values::Text;
use scantling_pricing::book::{DocumentError, ShopBook};
use scantling_pricing::brief::{Brief, Destination};
use scantling_pricing::estimate::estimate;
use scantling_pricing::measure::LengthUnit;
use scantling_pricing::money::Money;
use scantling_pricing::problem::Problem;
use scantling_pricing::profit::Rates;

use crate::percent::percent_of;

/// A piece of the basket.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Piece {
    /// What it is called: the maker's name for it, or the design's.
    pub name: String,
    /// What is asked for.
    pub brief: Brief,
}

/// What a piece comes to by one book.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Figures {
    /// The likely price at the workshop.
    pub price: Money,
    /// What is left of it over full cost, fees taken off.
    pub profit: Money,
    /// That as a share of the price, in percent to one decimal.
    pub margin: Decimal,
    /// What an hour at the bench brings.
    pub pay: Option<Money>,
    /// The likely price delivered to each place, the cheapest way that brings it; nothing where none does.
    pub delivered: Vec<Option<Money>>,
}

/// A basket priced from a book.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Priced {
    /// Each piece with its figures, or why it can't be built.
    pub pieces: Vec<(Piece, Result<Figures, String>)>,
}

/// Pieces in the basket of a maker who has chosen none: as many as are taken in at a glance.
const USUAL: usize = 12;

/// The pieces the maker watches; without any, the first designs at their defaults.
#[must_use]
pub fn watched(book: &ShopBook) -> Vec<Piece> {
    if !book.basket.is_empty() {
        let piece = |one: &BasketPiece| Piece { name: one.name.to_string(), brief: one.brief.clone() };
        return book.basket.iter().map(piece).collect();
    }
    let piece = |design: &scantling_pricing::design::Design| Piece {
        name: design.name.to_string(),
        brief: Brief::new(design.key.clone()),
    };
    book.designs.iter().take(USUAL).map(piece).collect()
}

/// Places as people write them, separated by commas or line ends: `60601`, `CA K1A 0B1`.
#[must_use]
pub fn places_in(text: &str) -> Vec<String> {
    text.split([',', '\n']).map(str::trim).filter(|written| !written.is_empty()).map(str::to_owned).collect()
}

/// The places a basket is brought to. A code alone is in the shop's own country.
#[must_use]
pub fn places(book: &ShopBook) -> Vec<Destination> {
    let place = |written: &Text| {
        let written = written.as_str();
        let (country, code) = match written.split_once(' ') {
            Some((country, code)) if country.len() == 2 && country.chars().all(char::is_alphabetic) => {
                (Text::new(&country.to_uppercase()).ok()?, code)
            }
            _ => (book.shop.country.clone(), written),
        };
        Some(Destination::new(country, Text::new(code.trim()).ok()))
    };
    book.watched_places.iter().filter_map(place).collect()
}

/// Prices a basket.
///
/// # Errors
/// When a folded rate is larger than any amount a book may hold.
pub fn price(book: &ShopBook, basket: &[Piece], places: &[Destination]) -> Result<Priced, DocumentError> {
    let rates = Rates::new(book)?;
    let pieces = basket.iter().map(|piece| (piece.clone(), figures(&rates, &piece.brief, places)));
    Ok(Priced { pieces: pieces.collect() })
}

fn figures(rates: &Rates, brief: &Brief, places: &[Destination]) -> Result<Figures, String> {
    let costs = rates.costs(brief).map_err(|problems| why_not(&problems, rates.selling.shop.units.length_unit()))?;
    let outcome = costs.as_estimated();
    let delivered = |place: &Destination| {
        let brief = Brief { destination: Some(place.clone()), ..brief.clone() };
        estimate(&rates.selling, &brief).ok()?.brought().map(|brought| brought.price.likely)
    };
    Ok(Figures {
        price: costs.selling.works.likely,
        profit: outcome.profit,
        margin: percent_of(outcome.profit.amount(), outcome.paid.amount(), 1),
        pay: outcome.pay_per_hour,
        delivered: places.iter().map(delivered).collect(),
    })
}

/// Why a piece can't be built or brought as asked, on one line, its lengths in the shop's unit.
pub(crate) fn why_not(problems: &[Problem], unit: LengthUnit) -> String {
    problems.iter().map(|problem| problem.explain(unit)).collect::<Vec<_>>().join("; ")
}

impl Priced {
    /// The figures of a piece, when it can be built.
    #[must_use]
    pub fn of(&self, wanted: &Piece) -> Option<&Figures> {
        self.pieces.iter().find(|(piece, _)| piece == wanted).and_then(|(_, figures)| figures.as_ref().ok())
    }
}
