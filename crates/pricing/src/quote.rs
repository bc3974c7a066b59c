//! A firm quote: the lines of an estimate, some brought to another sum with a reason, and everything that follows from that: tax, what is
//! paid when, what is left of it. A revision is a quote as it went out.
//!
//! **Invariant:** the lines and the rounding add up to the price, tax apart; the stages add up to what is paid.

use std::borrow::Cow;

use rust_decimal::Decimal;
use serde::Serialize;

use crate::book::ShopBook;
use crate::book::delivery::{Shown, Tax};
use crate::book::ledger::{Adjustment, Quote, QuotedLine, QuotedStage, QuotedTax, Revision};
use crate::book::shop::Deposit;
use crate::book::values::{Amount, Count, Day, Text};
use crate::brief::Brief;
use crate::estimate::{Line, Payment, TaxLine, payments};
use crate::money::{Money, total};
use crate::problem::Problem;
use crate::profit::{Costs, Outcome, Rates};
use crate::request::Request;
use crate::tax::{Levy, rule_for, tax_on};

/// The terms of a quote where the maker has written none: those of the estimate would take the price back.
const FIRM: &str = "The price is firm for what is written here, for as long as it stands.";

/// What the name of a line starts with that the book knows nothing of.
pub const ONE_MORE: &str = "more:";

/// A line of a quote.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct FirmLine {
    /// What it is for, as `work: Milling`.
    pub line: String,
    /// What the book says it comes to.
    pub estimated: Money,
    /// What it comes to.
    pub amount: Money,
    /// Why, where that is something else.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reason: Option<Text>,
    /// Whether the buyer is shown the line with its reason.
    pub shown: bool,
    /// Whether it is of the way, not of the piece.
    pub of_the_way: bool,
}

/// A quote as it stands, reckoned.
#[derive(Debug, Clone, Serialize)]
pub struct Firm {
    /// Every line, tax apart.
    pub lines: Vec<FirmLine>,
    /// What makes them up to the price.
    pub rounding: Money,
    /// Adjustments of lines the estimate does not have any more.
    pub lost: Vec<Text>,
    /// The piece at the workshop, tax apart.
    pub piece: Money,
    /// Packing and delivery, tax apart.
    pub carriage: Money,
    /// The tax that is charged.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tax: Option<TaxLine>,
    /// What is paid in all.
    pub to_pay: Money,
    /// That in the currency of the place it goes to, where that is another: a guide, not what is owed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub guide: Option<Guide>,
    /// What is paid when.
    pub stages: Vec<Payment>,
    /// What is left of it.
    pub outcome: Outcome,
    /// What the book says without any adjustment, and what it costs.
    pub costs: Costs,
    /// For how many days it stands.
    pub stands_days: u32,
    /// The terms.
    pub terms: Text,
    /// What is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub excluded: Option<Text>,
    /// What is built.
    pub brief: Brief,
}

/// What is paid in another currency, at the rate of a day.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Guide {
    /// What it comes to, in coins that are paid there.
    pub amount: Money,
    /// Units of that currency for one of the book's, with what the maker keeps against movement.
    pub rate: Decimal,
    /// The day the rate is of.
    pub day: Day,
}

/// What a quote calls a line.
#[must_use]
pub fn line_name(line: &Line) -> String {
    let kind = line.kind.word();
    if line.name.is_empty() { kind.to_owned() } else { format!("{kind}: {}", line.name) }
}

/// A name that no line before has: the second of two hinges is `hardware: Hinge (2)`.
fn apart(name: String, taken: &mut Vec<String>) -> String {
    let same = taken.iter().filter(|other| **other == name).count();
    taken.push(name.clone());
    if same == 0 { name } else { format!("{name} ({})", same.saturating_add(1)) }
}

impl Quote {
    /// A quote with nothing of its own yet.
    #[must_use]
    pub fn fresh(key: crate::book::Key, request: crate::book::Key) -> Self {
        Self {
            key,
            request,
            adjusted: Vec::new(),
            deposits: Vec::new(),
            terms: None,
            stands_days: None,
            excluded: None,
            revisions: Vec::new(),
            came_in: Vec::new(),
        }
    }

    /// Reckons the quote as it stands.
    ///
    /// # Errors
    /// Everything in the brief of its request that the book can't fill.
    pub fn firm(&self, shop: &ShopBook, rates: &Rates, request: &Request) -> Result<Firm, Vec<Problem>> {
        let costs = self.own_rates(shop, rates).costs_quoted(&request.brief, request.quoted.as_ref())?;
        let lines = self.lines(&costs);
        let currency = costs.full.currency();
        let of = |way: bool| move |line: &&FirmLine| line.of_the_way == way;
        let sum = |way: bool| total(currency, lines.iter().filter(of(way)).map(|line| line.amount));
        let before = |way: bool| total(currency, lines.iter().filter(of(way)).map(|line| line.estimated));
        let piece = costs.selling.works_net() + (sum(false) - before(false));
        let rule = rule_for(&rates.selling, request.brief.destination.as_ref(), costs.selling.chosen);
        let (price, tax) = self.taxed(&costs, rule, (sum(false) - before(false), sum(true), before(true)));
        let net = tax.as_ref().filter(|tax| tax.shown == Shown::Within).map_or(price, |tax| price - tax.amount);
        let to_pay = tax.as_ref().filter(|tax| tax.shown == Shown::Apart).map_or(price, |tax| price + tax.amount);
        let deposits: &[Deposit] = if self.deposits.is_empty() { &shop.shop.deposits } else { &self.deposits };
        let known = |one: &&Adjustment| !lines.iter().any(|line| line.line == one.line.as_str());
        Ok(Firm {
            rounding: net - sum(false) - sum(true),
            lost: self.adjusted.iter().filter(known).map(|one| one.line.clone()).collect(),
            piece,
            carriage: net - piece,
            tax,
            to_pay,
            guide: costs.selling.conversion.as_ref().map(|one| Guide {
                amount: one.of(to_pay),
                rate: one.rate,
                day: one.day.clone(),
            }),
            stages: payments(deposits, to_pay),
            outcome: costs.sold_for(net),
            stands_days: self.stands_days.map_or(costs.selling.stands_days, Count::value),
            terms: {
                let own = self.terms.as_ref().or(shop.shop.quote_terms.as_ref()).cloned();
                own.or_else(|| Text::new(FIRM).ok()).unwrap_or_else(|| shop.shop.terms.clone())
            },
            excluded: self.excluded.clone(),
            brief: request.brief.clone(),
            lines,
            costs,
        })
    }

    /// Rates by which a cut that was taken out of a slab for this quote's own job is still there: the piece is built of it.
    fn own_rates<'r>(&self, shop: &ShopBook, rates: &'r Rates) -> Cow<'r, Rates> {
        let own = shop.jobs.iter().filter(|job| job.quote.as_ref() == Some(&self.key));
        let mut cuts = own.flat_map(|job| job.cut_out.iter()).peekable();
        if cuts.peek().is_none() { Cow::Borrowed(rates) } else { Cow::Owned(rates.with_cuts_put_back(cuts)) }
    }

    fn lines(&self, costs: &Costs) -> Vec<FirmLine> {
        let way = costs.selling.delivered().map_or(&[][..], |way| way.lines.as_slice());
        let own = costs.selling.lines.iter().map(|line| (line, false)).chain(way.iter().map(|line| (line, true)));
        let mut names: Vec<String> = Vec::new();
        let of_book = own.map(|(line, of_the_way)| (apart(line_name(line), &mut names), line.amount, of_the_way));
        let of_book: Vec<(String, Money, bool)> = of_book.collect();
        let zero = Money::zero(costs.full.currency());
        let more = self.adjusted.iter().filter(|one| one.line.as_str().starts_with(ONE_MORE));
        let more = more.map(|one| (one.line.to_string(), zero, false));
        let firm = |(line, estimated, of_the_way): (String, Money, bool)| {
            let adjusted = self.adjusted.iter().find(|one| one.line.as_str() == line);
            FirmLine {
                estimated,
                amount: adjusted.map_or(estimated, |one| Money::rounded(one.amount.value(), estimated.currency())),
                reason: adjusted.map(|one| one.reason.clone()),
                shown: adjusted.is_some_and(|one| one.shown),
                of_the_way,
                line,
            }
        };
        of_book.into_iter().chain(more).map(firm).collect()
    }

    /// The price as it is shown there and its tax: the estimate's own, moved by what the lines were, with the tax on that in it where it is
    /// shown within.
    fn taxed(
        &self,
        costs: &Costs,
        rule: Option<&Tax>,
        (piece, carriage, carriage_before): (Money, Money, Money),
    ) -> (Money, Option<TaxLine>) {
        let told = costs.selling.price().likely;
        let by = (piece + (carriage - carriage_before)).amount();
        if by.is_zero() && carriage == carriage_before {
            return (told, costs.selling.tax().cloned());
        }
        let moved = Levy::within(rule, (carriage - carriage_before).amount()).added_to(by);
        let price = Money::rounded(told.amount() + moved, told.currency());
        let tax = rule.map(|rule| TaxLine {
            name: rule.name.clone(),
            amount: tax_on(rule, price, carriage),
            shown: rule.shown,
        });
        (price, tax)
    }
}

impl Firm {
    /// The quote as it goes out on a day; nothing when a sum is below nothing, or more than an amount may be.
    #[must_use]
    pub fn revision(&self, today: &Day) -> Option<Revision> {
        let amount = |money: Money| Amount::new(money.amount());
        let line = |line: &FirmLine| {
            Some(QuotedLine {
                line: Text::new(&line.line).ok()?,
                estimated: amount(line.estimated)?,
                amount: amount(line.amount)?,
                reason: line.reason.clone(),
                shown: line.shown,
            })
        };
        let tax =
            |tax: &TaxLine| Some(QuotedTax { name: tax.name.clone(), amount: amount(tax.amount)?, shown: tax.shown });
        let stage = |stage: &Payment| Some(QuotedStage { when: stage.when.clone(), amount: amount(stage.amount)? });
        let selling = &self.costs.selling;
        Some(Revision {
            written: today.clone(),
            until: today.after(self.stands_days)?,
            edition: selling.edition.clone(),
            brief: self.brief.clone(),
            lines: self.lines.iter().map(line).collect::<Option<_>>()?,
            piece: amount(self.piece)?,
            carriage: amount(self.carriage)?,
            delivery: selling.chosen,
            tax: match &self.tax {
                Some(one) => Some(tax(one)?),
                None => None,
            },
            to_pay: amount(self.to_pay)?,
            stages: self.stages.iter().map(stage).collect::<Option<_>>()?,
            days: selling.days().and_then(|(fewest, most)| Some([Count::new(fewest)?, Count::new(most)?])),
            note: selling.region.as_ref().and_then(|region| region.note.clone()),
            terms: self.terms.clone(),
            excluded: self.excluded.clone(),
            full_cost: amount(self.costs.full)?,
        })
    }
}

/// What is another in one revision than in the one before.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Difference {
    /// A line comes to another sum, was put in (from nothing) or taken out (to nothing).
    Line(Text, Decimal, Decimal),
    /// The price in all.
    ToPay(Decimal, Decimal),
    /// What is built.
    Brief,
    /// The last day it stands.
    Until(Day, Day),
    /// What is paid when.
    Stages,
    /// The terms.
    Terms,
    /// What is left out.
    Excluded,
}

/// What is another in one revision than in the one before.
#[must_use]
pub fn differences(before: &Revision, now: &Revision) -> Vec<Difference> {
    let of = |revision: &Revision, name: &Text| {
        let line = revision.lines.iter().find(|line| line.line == *name);
        line.map_or(Decimal::ZERO, |line| line.amount.value())
    };
    let names =
        now.lines.iter().chain(before.lines.iter().filter(|line| !now.lines.iter().any(|one| one.line == line.line)));
    let lines = names.filter_map(|line| {
        let (was, is) = (of(before, &line.line), of(now, &line.line));
        (was != is).then(|| Difference::Line(line.line.clone(), was, is))
    });
    let mut all: Vec<Difference> = lines.collect();
    let (was, is) = (before.to_pay.value(), now.to_pay.value());
    if was != is {
        all.push(Difference::ToPay(was, is));
    }
    if before.until != now.until {
        all.push(Difference::Until(before.until.clone(), now.until.clone()));
    }
    for (differs, what) in [
        (before.brief != now.brief || before.delivery != now.delivery, Difference::Brief),
        (before.stages != now.stages && was == is, Difference::Stages),
        (before.terms != now.terms, Difference::Terms),
        (before.excluded != now.excluded, Difference::Excluded),
    ] {
        if differs {
            all.push(what);
        }
    }
    all
}
