//! An estimate as text for a terminal.

use std::fmt::Write;

use rust_decimal::Decimal;
use scantling_pricing::alternatives::{Alternative, Change};
use scantling_pricing::book::PriceBook;
use scantling_pricing::book::delivery::Shown;
use scantling_pricing::book::values::Day;
use scantling_pricing::budget::{Budget, Plan};
use scantling_pricing::checks::Level;
use scantling_pricing::cost::{LineKind, QuantityUnit};
use scantling_pricing::estimate::{Delivered, Estimate, Line, PriceRange, TaxLine};
use scantling_pricing::lead_time::Wait;
use scantling_pricing::measure::{LengthUnit, Quantity};
use scantling_pricing::profit::Costs;
use scantling_pricing::request::Told;

/// The whole estimate, in the units the shop works in; with what it costs the shop beside each line where that is known.
pub(crate) fn estimate(
    book: &PriceBook,
    estimate: &Estimate,
    cost: Option<&Estimate>,
    earliest: Option<&Day>,
) -> String {
    let mut out = String::new();
    let name = book.design(&estimate.design).map_or("", |design| design.name.as_str());
    let _ = writeln!(out, "{} x {name}, priced from the book of {}", estimate.quantity, estimate.edition.as_str());
    if let Some(notice) = &estimate.notice {
        let _ = writeln!(out, "{notice}");
    }
    let unit = book.shop.units.length_unit();
    let _ = writeln!(
        out,
        "{} to buy ({} in the blanks), {} finished, {} each\n",
        Quantity::Timber.show(estimate.board_feet, unit),
        Quantity::Timber.shown(estimate.net_board_feet, unit),
        Quantity::Surface.show(estimate.finished_square_feet, unit),
        Quantity::Weight.show(estimate.weight_pounds, unit)
    );
    lines(&mut out, &estimate.lines, cost.map(|cost| cost.lines.as_slice()), unit);
    row(&mut out, "Rounding up", &estimate.rounding.to_string(), "");
    let at_works = range(&estimate.works);
    let cost_at_works = cost.map_or(String::new(), |cost| format!("costs the shop {}", cost.works.likely));
    row(&mut out, "At the workshop", &at_works, &cost_at_works);
    tax(&mut out, estimate.works_tax.as_ref());
    for way in estimate.ways_by_price() {
        match &way.outcome {
            Ok(delivered) => {
                let mark = if estimate.chosen == Some(way.mode) { " (chosen)" } else { "" };
                self::delivered(&mut out, &format!("By {}{mark}", way.mode.word()), delivered, unit);
            }
            Err(reason) => {
                row(
                    &mut out,
                    &format!("By {}", way.mode.word()),
                    &format!("not possible: {}", reason.explain(unit)),
                    "",
                );
            }
        }
    }
    if let Some(note) = estimate.region.as_ref().and_then(|region| region.note.as_ref()) {
        let _ = writeln!(out, "\n{note}");
    }
    conversion(&mut out, estimate);
    payments(&mut out, estimate);
    lead_time(&mut out, estimate, earliest);
    let _ = writeln!(out, "\nChecks:");
    for finding in &estimate.findings {
        let _ = match finding.level {
            Level::Note => writeln!(out, "  noted    {}", finding.note(unit)),
            Level::Warn | Level::Refuse => writeln!(out, "  look at  {}", finding.explain(unit)),
        };
    }
    let _ = write!(out, "\n{}\nStands for {} days.", book.shop.terms, estimate.stands_days);
    out
}

fn payments(out: &mut String, estimate: &Estimate) {
    let stages: Vec<String> =
        estimate.payments.iter().map(|payment| format!("{} {}", payment.amount, payment.when)).collect();
    let _ = writeln!(out, "\nTo pay: {}", stages.join(", "));
}

/// What a request says its buyer was told, and whether that is what it comes to now.
pub(crate) fn told(told: &Told, estimate: &Estimate) -> String {
    let now = estimate.price().likely;
    let was = format!("The buyer was told {} {}", told.likely.value(), told.currency);
    let from = format!("from the book of {}", told.edition.as_str());
    if told.currency.as_str() == now.currency().code() && told.likely.value() == now.amount() {
        format!("{was} {from}, as above.")
    } else if told.edition == estimate.edition {
        format!(
            "{was} {from}; it comes to {now} by this one of the same day: a quote of a carrier's, a change of the book, or an altered request."
        )
    } else {
        format!("{was} {from}; by this one, of {}, it comes to {now}.", estimate.edition.as_str())
    }
}

/// What the order costs the shop and what the price leaves it.
pub(crate) fn costs(costs: &Costs) -> String {
    let mut out = String::from("For the maker alone:\n");
    let outcome = costs.as_estimated();
    let pay = outcome
        .pay_per_hour
        .map_or("no hour is worked".to_owned(), |pay| format!("{pay} an hour for {} hours", costs.hours));
    for (label, amount, aside) in [
        ("Full cost", costs.full, String::new()),
        ("Floor", costs.floor, "cost, contingency and fees: below it someone works for nothing".to_owned()),
        ("Floor of what is still to be spent", costs.outlay_floor, "below it the order costs money".to_owned()),
        ("Fees at the price", outcome.fees, String::new()),
        ("Profit at the price", outcome.profit, pay),
        ("Left over what is still to be spent", outcome.over_outlay, String::new()),
    ] {
        row(&mut out, label, &amount.to_string(), &aside);
    }
    out.trim_end().to_owned()
}

/// What is waited for, and the first day it can be there.
fn lead_time(out: &mut String, estimate: &Estimate, earliest: Option<&Day>) {
    let (Some(lead), Some((fewest, most))) = (&estimate.lead_time, estimate.days()) else { return };
    let span =
        |(fewest, most): (u32, u32)| if fewest == most { format!("{most}") } else { format!("{fewest} to {most}") };
    let steps: Vec<String> = lead.steps.iter().map(|step| format!("{} {}", wait(step.wait), span(step.days))).collect();
    let _ = writeln!(out, "\nDays: {} in all ({})", span((fewest, most)), steps.join(", "));
    if let Some(day) = earliest {
        let _ = writeln!(out, "There on {} at the earliest", day.as_str());
    }
}

const fn wait(wait: Wait) -> &'static str {
    match wait {
        Wait::Queue => "work already sold",
        Wait::Timber => "timber",
        Wait::Bench => "bench",
        Wait::Resin => "resin",
        Wait::Finish => "finish",
        Wait::Packing => "packing",
    }
}

/// Every brief one choice away.
pub(crate) fn moves(moves: &[Alternative]) -> String {
    let mut out = String::from("What moves the price, one choice at a time:\n");
    for alternative in moves {
        let sign = if alternative.difference.amount().is_sign_negative() { "" } else { "+" };
        row(
            &mut out,
            &change(&alternative.change),
            &alternative.price.to_string(),
            &format!("{sign}{}", alternative.difference),
        );
    }
    out.trim_end().to_owned()
}

/// The answer to a budget.
pub(crate) fn budget(budget: &Budget) -> String {
    let mut out = String::new();
    let plan = |out: &mut String, plan: &Plan| {
        let changes: Vec<String> = plan.changes.iter().map(change).collect();
        let _ = writeln!(out, "  {} with {}", plan.price, changes.join(", "));
    };
    match budget {
        Budget::Within => out.push_str("The budget: it fits as it stands."),
        Budget::Plans(plans) => {
            out.push_str("The budget: it fits with the fewest changes in any of these ways.\n");
            plans.iter().for_each(|found| plan(&mut out, found));
        }
        Budget::OutOfReach { cheapest } => {
            out.push_str("The budget: nothing on offer fits. The least it can be had for:\n");
            plan(&mut out, cheapest);
        }
    }
    out.trim_end().to_owned()
}

fn change(change: &Change) -> String {
    match change {
        Change::Material { role, to } => format!("{role} in {to}"),
        Change::Finish { to } => format!("finish {to}"),
        Change::Choice { option, to } => format!("{option} {to}"),
        Change::Size { dimension, to } => format!("{dimension} {to}"),
        Change::Delivery { to } => format!("by {}", to.word()),
    }
}

fn delivered(out: &mut String, way: &str, delivered: &Delivered, unit: LengthUnit) {
    let _ = writeln!(out);
    lines(out, &delivered.lines, None, unit);
    row(out, "Rounding up, in all", &delivered.rounding.to_string(), "");
    row(out, way, &range(&delivered.price), "");
    tax(out, delivered.tax.as_ref());
}

/// The tax of a price, on top of it or within.
fn tax(out: &mut String, tax: Option<&TaxLine>) {
    let Some(tax) = tax else { return };
    let how = match tax.shown {
        Shown::Apart => "Plus",
        Shown::Within => "Of that",
    };
    row(out, &format!("{how} {}", tax.name), &tax.amount.to_string(), "");
}

/// What the price comes to where the buyer is.
fn conversion(out: &mut String, estimate: &Estimate) {
    let Some(other) = &estimate.conversion else { return };
    let rate = format!("at {} {} for 1 {} of {}", other.rate, other.currency, estimate.currency, other.day.as_str());
    let _ = writeln!(out);
    row(out, "As a guide", &range(&other.price), &rate);
}

fn lines(out: &mut String, lines: &[Line], costs: Option<&[Line]>, unit: LengthUnit) {
    for (i, line) in lines.iter().enumerate() {
        let cost = costs.and_then(|costs| costs.get(i)).map_or(String::new(), |cost| format!("costs {}", cost.amount));
        row(out, &label(line, unit), &line.amount.to_string(), &cost);
    }
}

fn row(out: &mut String, label: &str, amount: &str, aside: &str) {
    let _ = writeln!(out, "{}", format!("{label:<46} {amount:>18}  {aside}").trim_end());
}

fn range(price: &PriceRange) -> String {
    format!("{} ({} to {})", price.likely, price.low.amount(), price.high.amount())
}

fn label(line: &Line, unit: LengthUnit) -> String {
    let what = match line.kind {
        LineKind::Timber
        | LineKind::Slab
        | LineKind::Sheet
        | LineKind::Resin
        | LineKind::Finish
        | LineKind::Hardware => "",
        LineKind::Sundries => "Abrasives, glue and sundries",
        LineKind::Work => "Work: ",
        LineKind::LeastJob => "Up to the smallest job taken",
        LineKind::Crating => "Crates",
        LineKind::Pallets => "Pallets",
        LineKind::Van => "The maker's van",
        LineKind::Helper => "A helper on the way",
        LineKind::Nights => "Nights away",
        LineKind::Tolls => "Tolls and ferries",
        LineKind::Cartons => "Cartons",
        LineKind::Parcel => "Parcels",
        LineKind::Freight => "Freight to the door, fuel included",
        LineKind::Liftgate => "A lift at the tail of the truck",
        LineKind::Residential => "A home address, by appointment",
        LineKind::LimitedAccess => "Where a truck gets badly",
        LineKind::OverLength => "A long crate",
        LineKind::Inside => "Carried past the threshold",
        LineKind::Quoted => "Carriage as quoted: ",
        LineKind::WhiteGlove => "Carrying in and placing",
        LineKind::Abroad => "Carriage abroad, duty and import tax apart",
        LineKind::Papers => "Papers and customs agent",
        LineKind::Insurance => "Insured for its price on the way",
    };
    let quantity = match (line.quantity, line.unit) {
        (Some(quantity), Some(of)) => format!(", {}", counted(quantity, of, unit)),
        _ => String::new(),
    };
    format!("{what}{}{quantity}", line.name)
}

/// So much of it, as it is counted in the system of this unit.
fn counted(quantity: Decimal, of: QuantityUnit, unit: LengthUnit) -> String {
    let show = |kind: Quantity| kind.show(quantity, unit);
    match of {
        QuantityUnit::BoardFeet => show(Quantity::Timber),
        QuantityUnit::SquareFeet => show(Quantity::Surface),
        QuantityUnit::Sheets => format!("{quantity} sheets"),
        QuantityUnit::CubicInches => show(Quantity::Resin),
        QuantityUnit::Pieces => format!("{quantity} pieces"),
        QuantityUnit::Miles => show(Quantity::Distance),
        QuantityUnit::Pounds => show(Quantity::Weight),
        QuantityUnit::Nights => format!("{quantity} nights"),
    }
}
