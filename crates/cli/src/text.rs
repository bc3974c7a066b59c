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
use scantling_pricing::delivery::Mode;
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
    side_by_side(&mut out, estimate, unit);
    for way in estimate.ways_by_price() {
        if let Ok(delivered) = &way.outcome {
            let mark = if estimate.chosen == Some(way.mode) { " (chosen)" } else { "" };
            self::delivered(&mut out, &format!("By {}{mark}", way.mode.word()), delivered, unit);
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
pub(crate) fn costs(costs: &Costs, kept_percent: Option<Decimal>) -> String {
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
    if let Some(percent) = kept_percent {
        row(
            &mut out,
            "Kept against movement",
            &format!("{percent} %"),
            "in the rate of the guide, which is all a buyer is told",
        );
    }
    out.trim_end().to_owned()
}

/// What is waited for, and the first day it can be there.
fn lead_time(out: &mut String, estimate: &Estimate, earliest: Option<&Day>) {
    let (Some(lead), Some((fewest, most))) = (&estimate.lead_time, estimate.days()) else { return };
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

/// Every way beside the others, the cheapest first: price, range, days on the way and what it includes, or why it is not to be had.
fn side_by_side(out: &mut String, estimate: &Estimate, unit: LengthUnit) {
    if estimate.ways.is_empty() {
        return;
    }
    let _ = writeln!(out, "\nEvery way, the cheapest first:");
    for way in estimate.ways_by_price() {
        let told = match &way.outcome {
            Ok(delivered) => {
                let terms = delivered.terms.as_ref().map_or_else(String::new, |terms| format!("; {terms}"));
                let (price, days) = (range(&delivered.price), days(delivered.days));
                format!("{price:>36}  {days:<14}  {}{terms}", includes(way.mode))
            }
            Err(reason) => format!("not possible: {}", reason.explain(unit)),
        };
        let _ = writeln!(out, "  {:<12} {told}", way.mode.word());
    }
}

/// Days on the way.
fn days((fewest, most): (u32, u32)) -> String {
    match (fewest, most) {
        (_, 0) => "no days".to_owned(),
        (1, 1) => "1 day".to_owned(),
        _ => format!("{} days", span((fewest, most))),
    }
}

/// A span of whole numbers, or the one.
fn span((fewest, most): (u32, u32)) -> String {
    if fewest == most { most.to_string() } else { format!("{fewest} to {most}") }
}

/// What a way includes.
const fn includes(mode: Mode) -> &'static str {
    match mode {
        Mode::Collect => "wrapped, at the workshop",
        Mode::Van => "carried in and set up; the maker answers for it on the way, no cover is charged",
        Mode::Parcel => "in cartons to the door",
        Mode::Freight => "packed for the carrier, to the door",
        Mode::WhiteGlove => "carried in, unpacked and placed, the packing taken away",
        Mode::Abroad => "crated, to the address, ready to unload, papers included",
    }
}

fn delivered(out: &mut String, way: &str, delivered: &Delivered, unit: LengthUnit) {
    let _ = writeln!(out);
    lines(out, &delivered.lines, None, unit);
    row(out, "Rounding up, in all", &delivered.rounding.to_string(), "");
    row(out, way, &range(&delivered.price), "");
    tax(out, delivered.tax.as_ref());
    if let Some(terms) = &delivered.terms {
        let _ = writeln!(out, "{}", terms.explain());
    }
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
    let rate = format!(
        "at the maker's own rate of {}, {} {} for 1 {}, with something kept against movement",
        other.day.as_str(),
        other.rate,
        other.currency,
        estimate.currency
    );
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
        LineKind::MarkedTimber => "Timber of the packing treated and marked for the border",
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
        LineKind::Abroad => "Carriage abroad",
        LineKind::Papers => "Papers and customs agent",
        LineKind::Insurance => "Insured for its price on the way",
        LineKind::Duty => "Duty and import tax, estimated: ",
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
