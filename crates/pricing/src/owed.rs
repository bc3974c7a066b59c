//! What is still owed of a quote: the payments that came in, stage by stage, against what went out last.
//!
//! **Invariant:** what came in and what is owed add up to what is to be paid, to the coin; so they do at each stage.

use rust_decimal::Decimal;
use serde::Serialize;

use crate::book::ledger::{CameIn, Quote, QuotedStage};
use crate::book::values::{Amount, Count, Day, Text};
use crate::money::{Currency, Money};

/// A stage of payment and what came in of it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct StageOwed {
    /// When it is due, in the maker's words.
    pub when: Text,
    /// How much.
    pub due: Money,
    /// What came in of it.
    pub came_in: Money,
    /// What is owed of it still; less than nothing where more came in.
    pub owed: Money,
    /// The day the last of it came.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub last: Option<Day>,
}

/// What is still owed of a quote that went out.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Owed {
    /// What is paid in all.
    pub to_pay: Money,
    /// What came in.
    pub came_in: Money,
    /// What is owed still; less than nothing where more came in than is to be paid.
    pub owed: Money,
    /// Stage by stage.
    pub stages: Vec<StageOwed>,
    /// What came in for stages that the last revision has no more.
    pub besides: Money,
}

/// Why the day of a payment may be a slip of the pen. It is told, and counts all the same: only the maker knows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum DayDoubt {
    /// It is after today.
    YetToCome,
    /// It is before the first revision went out, on this day.
    BeforeItWentOut(Day),
}

impl DayDoubt {
    /// In words for the maker.
    #[must_use]
    pub fn explain(&self) -> String {
        match self {
            Self::YetToCome => "this day is yet to come; correct it, or take the payment out until it is there".into(),
            Self::BeforeItWentOut(day) => {
                format!(
                    "the quote first went out on {}, later than this; correct the day if that is a slip",
                    day.as_str()
                )
            }
        }
    }
}

impl CameIn {
    /// What may be wrong with its day, seen from today.
    #[must_use]
    pub fn doubt(&self, quote: &Quote, today: &Day) -> Option<DayDoubt> {
        if self.day > *today {
            return Some(DayDoubt::YetToCome);
        }
        let first = quote.revisions.iter().map(|revision| &revision.written).min()?;
        (self.day < *first).then(|| DayDoubt::BeforeItWentOut(first.clone()))
    }
}

impl Quote {
    /// What is still owed of what went out last; nothing while nothing has gone out.
    #[must_use]
    pub fn owed(&self, currency: Currency) -> Option<Owed> {
        let last = self.revisions.last()?;
        let money = |amount: Amount| Money::rounded(amount.value(), currency);
        let sum = |of: &dyn Fn(&CameIn) -> bool| {
            let nothing = Money::rounded(Decimal::ZERO, currency);
            self.came_in.iter().filter(|one| of(one)).fold(nothing, |sum, one| sum + money(one.amount))
        };
        let stage = |(at, stage): (usize, &QuotedStage)| {
            let own = |one: &CameIn| at_stage(one.stage) == Some(at);
            let (due, came_in) = (money(stage.amount), sum(&own));
            let last = self.came_in.iter().filter(|one| own(one)).map(|one| one.day.clone()).max();
            StageOwed { when: stage.when.clone(), due, came_in, owed: due - came_in, last }
        };
        let (to_pay, came_in) = (money(last.to_pay), sum(&|_| true));
        let gone = |one: &CameIn| at_stage(one.stage).is_none_or(|at| at >= last.stages.len());
        Some(Owed {
            to_pay,
            came_in,
            owed: to_pay - came_in,
            stages: last.stages.iter().enumerate().map(stage).collect(),
            besides: sum(&gone),
        })
    }
}

/// The index of a stage, which people count from one.
fn at_stage(number: Count) -> Option<usize> {
    usize::try_from(number.value()).ok()?.checked_sub(1)
}
