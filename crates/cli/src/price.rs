//! `scantling price`: an estimate, what moves it, and what fits a budget.

use std::path::{Path, PathBuf};

use rust_decimal::Decimal;
use scantling_pricing::alternatives::{Alternative, alternatives};
use scantling_pricing::book::PriceBook;
use scantling_pricing::book::values::Day;
use scantling_pricing::brief::Brief;
use scantling_pricing::budget::{Budget, fit};
use scantling_pricing::estimate::{Estimate, estimate};
use scantling_pricing::problem::Problem;
use scantling_pricing::profit::{Costs, Rates};
use scantling_pricing::request::Told;

use crate::report::Failure;
use crate::{AnyBook, read_asked, read_book, text};

/// A brief priced from a book.
pub(crate) struct Priced {
    book: PriceBook,
    brief_path: PathBuf,
    brief: Brief,
    estimate: Estimate,
    costs: Option<Costs>,
    /// What the shop keeps against movement of the other currency, in percent.
    kept_percent: Option<Decimal>,
    told: Option<Told>,
    moves: Option<Vec<Alternative>>,
    budget: Option<Budget>,
}

/// Prices a brief; with a shop book, at cost too.
pub(crate) fn price(book_path: &Path, brief_path: &Path) -> Result<Priced, Failure> {
    let (book, shop, rates) = match read_book(book_path)? {
        AnyBook::Price(book) => (*book, None, None),
        AnyBook::Shop(shop) => {
            let rates = Rates::new(&shop).map_err(|fault| Failure::in_file(book_path, &[fault]))?;
            (rates.selling.clone(), Some(shop), Some(rates))
        }
    };
    let (brief, request) = read_asked(brief_path)?;
    let quoted = request.as_ref().and_then(|request| request.quoted.as_ref());
    if quoted.is_some() && rates.is_none() {
        let why = "what a carrier named is a cost; give the shop book, which knows what it is sold for";
        return Err(Failure::Unreadable(format!("{}: {why}", book_path.display())));
    }
    let refused = |problems: Vec<Problem>| Failure::in_brief(brief_path, &problems);
    let costs = rates.map(|rates| rates.costs_quoted(&brief, quoted)).transpose().map_err(refused)?;
    let estimate = match &costs {
        Some(costs) => costs.selling.clone(),
        None => estimate(&book, &brief).map_err(refused)?,
    };
    let told = request.map(|request| request.told);
    let other = estimate.conversion.as_ref().map(|other| other.currency.code());
    let kept_percent = shop.zip(other).and_then(|(shop, code)| shop.kept_percent(code));
    let brief_path = brief_path.to_owned();
    Ok(Priced { book, brief_path, brief, estimate, costs, kept_percent, told, moves: None, budget: None })
}

impl Priced {
    /// With what moves the price and what fits a budget, where they are asked for.
    pub(crate) fn with(self, moves: bool, budget: Option<Decimal>) -> Result<Self, Failure> {
        let refused = |problems: Vec<Problem>| Failure::in_brief(&self.brief_path, &problems);
        let moves = moves.then(|| alternatives(&self.book, &self.brief)).transpose().map_err(refused)?;
        let budget = budget.map(|sum| fit(&self.book, &self.brief, sum)).transpose().map_err(refused)?;
        Ok(Self { moves, budget, ..self })
    }

    /// All of it, for people or for programs.
    pub(crate) fn show(&self, json: bool, today: Option<&Day>) -> Result<String, Failure> {
        let Self { book, estimate, costs, kept_percent, told, moves, budget, .. } = self;
        let cost = costs.as_ref().map(|costs| &costs.cost);
        let earliest = today.zip(estimate.days()).and_then(|(today, (fewest, _))| today.after(fewest));
        if !json {
            let parts = [
                Some(text::estimate(book, estimate, cost, earliest.as_ref())),
                told.as_ref().map(|told| text::told(told, estimate)),
                costs.as_ref().map(|costs| text::costs(costs, *kept_percent)),
                moves.as_deref().map(text::moves),
                budget.as_ref().map(text::budget),
            ];
            return Ok(parts.into_iter().flatten().collect::<Vec<_>>().join("\n\n"));
        }
        let all = serde_json::json!({
            "estimate": estimate, "cost": cost, "costs": costs, "as_estimated": costs.as_ref().map(Costs::as_estimated),
            "kept_percent": kept_percent,
            "told": told, "moves": moves, "budget": budget, "earliest": earliest
        });
        serde_json::to_string_pretty(&all).map_err(|error| Failure::Unreadable(error.to_string()))
    }
}
