//! Offers of several buyers for one piece, ranked by what each leaves the shop: after delivery, payment fees, tax and what a currency may lose.
//!
//! The highest offer is often not the best: it may come with carriage to pay, tax within it, or in money that is worth less by the time it
//! arrives. For the maker's eyes only.

use rust_decimal::Decimal;
use serde::Serialize;

use crate::book::check;
use crate::book::delivery::{Shown, Tax};
use crate::book::document::{DocumentError, Node};
use crate::book::read::{is_default, reads, reads_word};
use crate::book::record::CurrencyRate;
use crate::book::values::{Amount, Day, Text};
use crate::book::{PriceBook, ShopBook};
use crate::bounded::Bounded;
use crate::brief::{Brief, Destination};
use crate::delivery::{CarriageQuote, Mode};
use crate::money::{Money, total};
use crate::problem::Problem;
use crate::profit::{Costs, Outcome, Rates};
use crate::tax::{rule_for, tax_on};

/// Offers for one piece.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Offers {
    /// The format's version: 1.
    pub scantling_offers: u32,
    /// The piece.
    pub brief: Brief,
    /// What buyers name for it.
    pub offers: Vec<Offer>,
}

reads!(Offers { scantling_offers, brief, offers });

/// What a buyer names for a piece.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Offer {
    /// Who, in the maker's words.
    pub from: Text,
    /// How much.
    pub amount: Amount,
    /// ISO 4217 code, when it is not the book's currency.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub currency: Option<Text>,
    /// Where it goes; without it, it is collected.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub destination: Option<Destination>,
    /// How it gets there; without it, the cheapest way that brings it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub delivery: Option<Mode>,
    /// Who pays for the way.
    #[serde(skip_serializing_if = "is_default")]
    pub carriage: Carriage,
    /// Whether the sum has the tax of the place in it; without it, as prices are shown there.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tax: Option<Shown>,
    /// What a carrier has named for bringing it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub quoted: Option<CarriageQuote>,
}

reads!(Offer { from, amount, currency, destination, delivery, carriage, tax, quoted });

/// Who pays for the way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Carriage {
    /// The sum is all that is paid; the shop brings it.
    #[default]
    Within,
    /// The buyer pays it besides, at what the book charges.
    OnTop,
}

reads_word!(Carriage { "within" => Self::Within, "on-top" => Self::OnTop } or Self::Within);

/// What an offer leaves.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Ranked {
    /// Who.
    pub from: Text,
    /// The sum as it was named, in its own currency.
    pub offered: Decimal,
    /// ISO 4217 code of that.
    pub currency: Text,
    /// What it is worth in the book's currency at the rate of the day, nothing kept back.
    pub worth: Money,
    /// What is kept back of that against the currency's movement.
    pub kept_back: Money,
    /// Carriage that the buyer pays besides.
    pub carriage_paid: Money,
    /// Tax that is in it and passed on.
    pub tax: Money,
    /// What bringing it costs the shop.
    pub carriage_cost: Money,
    /// How it is brought.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mode: Option<Mode>,
    /// What is left: fees, profit over full cost and over what is still to be spent, pay for an hour.
    pub outcome: Outcome,
    /// The day of the rate, where there is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rate_of: Option<Day>,
}

/// An offer that can't be reckoned, and why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unranked {
    /// Who.
    pub from: Text,
    /// Why not.
    pub why: Unreckoned,
}

/// Why an offer can't be reckoned.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Unreckoned {
    /// The book has no rate for its currency.
    NoRate(Text),
    /// The piece can't be built or brought there as asked.
    Problems(Vec<Problem>),
}

/// Offers, the best first.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ranking {
    /// Those that can be reckoned, by what they leave over full cost, the most first.
    pub ranked: Vec<Ranked>,
    /// Those that can't.
    pub unranked: Vec<Unranked>,
}

impl Offers {
    /// Reads offers.
    ///
    /// # Errors
    /// The first place where the text is not a table of offers.
    pub fn read(text: &str) -> Result<Self, DocumentError> {
        let node = Node::read(text)?;
        check::version(&node, "scantling_offers", "a table of offers")?;
        node.read_as()
    }

    /// Ranks the offers by what they leave. Ties keep their order.
    ///
    /// # Errors
    /// When a folded rate is larger than any amount a book may hold.
    pub fn rank(&self, shop: &ShopBook) -> Result<Ranking, DocumentError> {
        let rates = Rates::new(shop)?;
        let (mut ranked, mut unranked) = (Vec::new(), Vec::new());
        for offer in &self.offers {
            match reckon(shop, &rates, &self.brief, offer) {
                Ok(one) => ranked.push(one),
                Err(why) => unranked.push(Unranked { from: offer.from.clone(), why }),
            }
        }
        ranked.sort_by_key(|one| std::cmp::Reverse(one.outcome.profit.amount()));
        Ok(Ranking { ranked, unranked })
    }
}

impl Ranking {
    /// The highest offer, when it is not the best: what a maker would have taken by the sum alone.
    #[must_use]
    pub fn highest_but_not_best(&self) -> Option<&Ranked> {
        let highest = self.ranked.iter().rev().max_by_key(|one| one.worth.amount())?;
        let best = self.ranked.first()?;
        (highest.worth.amount() > best.worth.amount()).then_some(highest)
    }
}

fn reckon(shop: &ShopBook, rates: &Rates, brief: &Brief, offer: &Offer) -> Result<Ranked, Unreckoned> {
    let (worth, arrives, rate) = in_book_currency(shop, &rates.selling, offer)?;
    let asked = Brief { destination: offer.destination.clone(), delivery: offer.delivery, ..brief.clone() };
    let costs = rates.costs_quoted(&asked, offer.quoted.as_ref()).map_err(Unreckoned::Problems)?;
    let zero = Money::zero(rates.selling.currency());
    let sold = costs.selling.delivered();
    let charged = sold.map_or(zero, |sold| total(zero.currency(), sold.lines.iter().map(|line| line.amount)));
    let carriage_paid = if offer.carriage == Carriage::OnTop { charged } else { zero };
    let gross = arrives + carriage_paid;
    let tax = tax_in(&rates.selling, offer, &costs, (gross, charged));
    let cost = costs.cost.delivered();
    Ok(Ranked {
        from: offer.from.clone(),
        offered: offer.amount.value(),
        currency: offer.currency.clone().unwrap_or_else(|| shop.shop.currency.clone()),
        worth,
        kept_back: worth - arrives,
        carriage_paid,
        tax,
        carriage_cost: cost.map_or(zero, |cost| total(zero.currency(), cost.lines.iter().map(|line| line.amount))),
        mode: costs.selling.chosen,
        outcome: costs.sold_for(gross - tax),
        rate_of: rate.map(|rate| rate.day.clone()),
    })
}

/// What an offer is worth today, and what is reckoned to arrive once the spread is kept back: `amount / rate` and
/// `amount / (rate x (1 + spread))`, since rates are units of the other currency for one of the book's.
fn in_book_currency<'s>(
    shop: &'s ShopBook,
    book: &PriceBook,
    offer: &Offer,
) -> Result<(Money, Money, Option<&'s CurrencyRate>), Unreckoned> {
    let own = book.currency();
    let Some(code) = offer.currency.as_ref().filter(|code| **code != shop.shop.currency) else {
        let sum = Money::rounded(offer.amount.value(), own);
        return Ok((sum, sum, None));
    };
    let rate = shop.currencies.iter().find(|rate| rate.currency == *code);
    let rate = rate.ok_or_else(|| Unreckoned::NoRate(code.clone()))?;
    let by = |rate: Decimal| Money::rounded(offer.amount.value().over(rate).unwrap_or(Decimal::ZERO), own);
    let with_spread = rate.rate.value().times(Decimal::ONE + rate.spread.value());
    Ok((by(rate.rate.value()), by(with_spread), Some(rate)))
}

/// The tax that is in a sum: of the place it goes to or, when it is collected, of the workshop's own.
fn tax_in(book: &PriceBook, offer: &Offer, costs: &Costs, (gross, carriage): (Money, Money)) -> Money {
    let rule = rule_for(book, offer.destination.as_ref(), costs.selling.chosen);
    let within = |rule: &Tax| Tax { shown: offer.tax.unwrap_or(rule.shown), ..rule.clone() };
    match rule.map(within) {
        Some(rule) if rule.shown == Shown::Within => tax_on(&rule, gross, carriage),
        Some(_) | None => Money::zero(gross.currency()),
    }
}
