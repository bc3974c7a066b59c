//! What the maker cuts, buys and works for a brief, with what to mind: out of the engine's worksheet.

use leptos::prelude::*;
use rust_decimal::Decimal;
use scantling_pricing::brief::Brief;
use scantling_pricing::checks::Caution;
use scantling_pricing::design::resolve;
use scantling_pricing::measure::{Length, LengthUnit, Quantity};
use scantling_pricing::problem::Problem;
use scantling_pricing::profit::{Costs, Rates};
use scantling_pricing::takeoff::take_off;
use scantling_pricing::worksheet::{Boards, Cut, WorkTime, Worksheet, hours};

use super::scrolled::scrolled;

/// Cutting list, what to buy, hours by operation, cautions.
pub(crate) fn cutting(rates: &Rates, brief: &Brief, costs: &Costs, unit: LengthUnit) -> AnyView {
    match reckoned(rates, brief) {
        Ok((sheet, times)) => view! {
            {cuts(&sheet, unit)}
            {to_buy(&sheet, unit)}
            {to_work(&times, costs)}
            {to_mind(costs, unit)}
        }
        .into_any(),
        Err(problems) => view! { <p class="fault">{crate::basket::why_not(&problems, unit)}</p> }.into_any(),
    }
}

fn reckoned(rates: &Rates, brief: &Brief) -> Result<(Worksheet, Vec<WorkTime>), Vec<Problem>> {
    let resolved = resolve(&rates.cost, brief)?;
    let takeoff = take_off(&rates.cost, &resolved)?;
    let times = hours(&rates.minutes, &takeoff, resolved.quantity);
    Ok((Worksheet::new(&rates.cost, &resolved, &takeoff), times))
}

fn size(sides: &[Length], unit: LengthUnit) -> String {
    sides.iter().map(|side| side.show(unit)).collect::<Vec<_>>().join(" × ")
}

/// A table that scrolls by itself where it is too wide, and says what it is.
fn wide(title: &'static str, heads: &'static [&'static str], rows: Vec<AnyView>) -> AnyView {
    let table = view! {
            <table class="grid">
                <caption>{title}</caption>
                <thead><tr>{heads.iter().map(|head| view! { <th scope="col">{*head}</th> }).collect_view()}</tr></thead>
                <tbody>{rows}</tbody>
            </table>
    };
    scrolled(title, table)
}

fn cuts(sheet: &Worksheet, unit: LengthUnit) -> AnyView {
    let rough = |cut: &Cut| {
        cut.rough.as_ref().map_or_else(String::new, |rough| {
            let boards = rough.layers.saturating_mul(rough.staves);
            format!("{boards} of {} at {}", rough.class, size(&[rough.length, rough.width], unit))
        })
    };
    let row = |cut: &Cut| {
        view! {
            <tr>
                <td class="figure">{cut.count}</td>
                <th scope="row">{cut.part.to_string()}</th>
                <td>{cut.material.clone()}</td>
                <td>{size(&cut.finished, unit)}</td>
                <td>{rough(cut)}</td>
            </tr>
        }
        .into_any()
    };
    let rows = sheet.cuts.iter().map(row).collect();
    wide("Cutting list", &["Count", "Part", "Of", "Finished", "Each cut from"], rows)
}

fn to_buy(sheet: &Worksheet, unit: LengthUnit) -> AnyView {
    let row = |what: String, much: String, more: String| {
        view! { <tr><th scope="row">{what}</th><td class="figure">{much}</td><td>{more}</td></tr> }.into_any()
    };
    let timber = |boards: &Boards| {
        let much = |board_feet| Quantity::Timber.shown(board_feet, unit);
        let more = format!(
            "{} to {} by the yield; {} in the blanks; the longest {}, the widest {}",
            much(boards.board_feet.low),
            much(boards.board_feet.high),
            much(boards.net),
            boards.largest.0.show(unit),
            boards.largest.1.show(unit)
        );
        let what = format!("{} {}, {}", boards.timber, boards.class, boards.grade);
        row(what, Quantity::Timber.show(boards.board_feet.likely, unit), more)
    };
    let mut rows: Vec<AnyView> = sheet.timbers.iter().map(timber).collect();
    rows.extend(sheet.slabs.iter().map(|slab| {
        let more = format!("{} cut off, {} thick once flat", slab.length.show(unit), slab.thickness.show(unit));
        row(slab.slab.to_string(), format!("{} of its face", slab.share), more)
    }));
    rows.extend(sheet.sheets.iter().map(|one| row(one.sheet.to_string(), counted(one.count, "sheet"), String::new())));
    rows.extend(sheet.resins.iter().map(|resin| {
        let more = format!("{}, {} h each to cure", counted(resin.pours, "pour"), resin.cure_hours);
        row(resin.resin.to_string(), Quantity::Resin.show(resin.cubic_inches, unit), more)
    }));
    let finish = &sheet.finish;
    let more =
        format!("{} on {}", counted(finish.coats.value(), "coat"), Quantity::Surface.show(finish.square_feet, unit));
    rows.push(row(finish.finish.to_string(), format!("{} {}", finish.amount, finish.unit), more));
    rows.extend(sheet.hardware.iter().map(|item| row(item.name.to_string(), item.count.to_string(), String::new())));
    rows.extend(sheet.crates.iter().map(|one| {
        let gross = Quantity::Weight.show(one.gross_pounds, unit);
        let more = format!("{} outside, {gross} with what it holds", size(&one.outside, unit));
        let what = if one.on_pallet { "Pallet, where a carrier takes it" } else { "Crate, where a carrier takes it" };
        row(what.to_owned(), one.count.to_string(), more)
    }));
    wide("To buy and to build", &["What", "How much", "Of that"], rows)
}

fn counted(count: u32, what: &str) -> String {
    format!("{count} {what}{}", if count == 1 { "" } else { "s" })
}

fn to_work(times: &[WorkTime], costs: &Costs) -> AnyView {
    let row = |work: &WorkTime| {
        view! {
            <tr>
                <th scope="row">{work.operation.to_string()}</th>
                <td>{work.stage.to_string()}</td>
                <td class="figure">{work.minutes.to_string()}</td>
            </tr>
        }
        .into_any()
    };
    let mut rows: Vec<AnyView> = times.iter().map(row).collect();
    let bench: Decimal = times.iter().map(|work| work.minutes).sum();
    let all = format!("{bench} minutes at the bench; {} hours with packing and the way", costs.hours);
    rows.push(view! { <tr><th scope="row">{"Together"}</th><td colspan="2">{all}</td></tr> }.into_any());
    wide("Hours by operation", &["Operation", "Stage", "Minutes"], rows)
}

/// What the checks found, and the cautions that no arithmetic settles.
fn to_mind(costs: &Costs, unit: LengthUnit) -> AnyView {
    let found = costs.selling.findings.iter().map(|finding| view! { <li>{finding.note(unit)}</li> }).collect_view();
    let cautions = costs.selling.cautions.iter().map(|caution| view! { <li>{words(*caution)}</li> }).collect_view();
    view! {
        <h3>{"What the checks note"}</h3>
        <ul>{found}</ul>
        <h3>{"Cautions"}</h3>
        <ul>{cautions}</ul>
        <p class="note">{"The checks are arithmetic on straight, sound timber. What it can bear and how it is fixed is for competent people on the spot to judge, by local codes and licensed practice."}</p>
    }
    .into_any()
}

const fn words(caution: Caution) -> &'static str {
    match caution {
        Caution::WallFixing => {
            "Hung on a wall: the wall, the fixings and the load are for a competent person on the spot, by local codes."
        }
        Caution::Tipping => {
            "Narrow for its height: send it with a wall fixing and the notice that goes with it, and say so to the buyer."
        }
        Caution::Seating => {
            "People sit on it: build it for grown people, and take other loads only after asking someone licensed to judge them."
        }
        Caution::OilyRags => {
            "Rags wet with this oil can catch fire by themselves: spread them flat outdoors or keep them in a closed metal can."
        }
        Caution::Resin => {
            "Uncured resin harms skin and lungs, and a deep pour gets hot: gloves, air, and no deeper than its data sheet says."
        }
        Caution::NutOil => "A nut oil is in this finish: tell the buyer, for allergies in the house.",
        Caution::DustSensitiser => {
            "The dust of this wood is a known sensitiser: extraction and a mask, by its data sheet and local rules."
        }
        Caution::RestrictedTrade => {
            "Trade in this wood is restricted: papers may be wanted before it crosses a border."
        }
        Caution::TwoPersonLift => "Too heavy or too long for one: two or more people lift it.",
    }
}
