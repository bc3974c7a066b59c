//! `scantling takeoff`: what a brief takes, part by part, for the maker to cut, buy and work by.

use std::fmt::Write;
use std::path::Path;

use rust_decimal::Decimal;
use scantling_pricing::book::PriceBook;
use scantling_pricing::book::stock::SlabBasis;
use scantling_pricing::brief::Brief;
use scantling_pricing::design::resolve;
use scantling_pricing::measure::{Length, LengthUnit, Quantity};
use scantling_pricing::problem::Problem;
use scantling_pricing::profit::{Costs, Rates};
use scantling_pricing::takeoff::take_off;
use scantling_pricing::worksheet::{Boards, CrateCut, Cut, Sheets, SlabCut, WorkTime, Worksheet, hours};
use serde::Serialize;

use crate::report::Failure;
use crate::{AnyBook, read_book, read_brief};

/// The worksheet and, from a shop book, the hours and what each way of charging a slab leaves.
#[derive(Serialize)]
struct Takeoff {
    worksheet: Worksheet,
    #[serde(skip_serializing_if = "Option::is_none")]
    hours: Option<Vec<WorkTime>>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    slab_profits: Vec<SlabProfit>,
    /// The unit the shop works in.
    #[serde(skip)]
    unit: LengthUnit,
}

/// What is left of the price when a slab is charged by one of the six ways.
#[derive(Serialize)]
struct SlabProfit {
    slab: String,
    basis: SlabBasis,
    charged: Decimal,
    profit: Decimal,
    in_force: bool,
}

/// Takes a brief off.
pub(crate) fn takeoff(book_path: &Path, brief_path: &Path, json: bool) -> Result<String, Failure> {
    let book = read_book(book_path)?;
    let brief = read_brief(brief_path)?;
    let refused = |problems: Vec<Problem>| Failure::in_brief(brief_path, &problems);
    let done = match &book {
        AnyBook::Price(book) => {
            let worksheet = worksheet(book, &brief).map_err(refused)?;
            Takeoff { worksheet, hours: None, slab_profits: Vec::new(), unit: book.shop.units.length_unit() }
        }
        AnyBook::Shop(shop) => {
            let rates = Rates::new(shop).map_err(|fault| Failure::in_file(book_path, &[fault]))?;
            with_costs(&rates, &brief).map_err(refused)?
        }
    };
    if json {
        return serde_json::to_string_pretty(&done).map_err(|error| Failure::Unreadable(error.to_string()));
    }
    Ok(done.text())
}

fn worksheet(book: &PriceBook, brief: &Brief) -> Result<Worksheet, Vec<Problem>> {
    let resolved = resolve(book, brief)?;
    let takeoff = take_off(book, &resolved)?;
    Ok(Worksheet::new(book, &resolved, &takeoff))
}

fn with_costs(rates: &Rates, brief: &Brief) -> Result<Takeoff, Vec<Problem>> {
    let resolved = resolve(&rates.cost, brief)?;
    let takeoff = take_off(&rates.cost, &resolved)?;
    let timed = hours(&rates.minutes, &takeoff, resolved.quantity);
    let worksheet = Worksheet::new(&rates.cost, &resolved, &takeoff);
    let costs = rates.costs(brief)?;
    let slab_profits = takeoff.slabs.iter().zip(&worksheet.slabs);
    let slab_profits = slab_profits.flat_map(|(used, cut)| slab_profits_of(cut, used.slab.basis, &costs)).collect();
    Ok(Takeoff { worksheet, hours: Some(timed), slab_profits, unit: rates.selling.shop.units.length_unit() })
}

fn slab_profits_of(cut: &SlabCut, in_force: SlabBasis, costs: &Costs) -> Vec<SlabProfit> {
    let profit = costs.as_estimated().profit.amount();
    let now = cut.charged.iter().find(|(basis, _)| *basis == in_force).map_or(Decimal::ZERO, |(_, charged)| *charged);
    let each = |(basis, charged): &(SlabBasis, Decimal)| SlabProfit {
        slab: cut.slab.to_string(),
        basis: *basis,
        charged: *charged,
        profit: profit + now - *charged,
        in_force: *basis == in_force,
    };
    cut.charged.iter().map(each).collect()
}

impl Takeoff {
    fn text(&self) -> String {
        let (sheet, unit) = (&self.worksheet, self.unit);
        let weight = Quantity::Weight.show(sheet.weight_pounds, unit);
        let mut out = format!("{} x {}, {weight} each\n\nTo cut:\n", sheet.quantity, sheet.design);
        let mut line = |text: String| {
            let _ = writeln!(out, "{text}");
        };
        sheet.cuts.iter().for_each(|part| line(cut(part, unit)));
        line("\nTo buy:".into());
        sheet.timbers.iter().for_each(|timber| line(boards(timber, unit)));
        sheet.sheets.iter().for_each(|used| line(sheets(used, unit)));
        for resin in &sheet.resins {
            line(format!(
                "  {}: {} mixed, {}, {} h each to cure",
                resin.resin,
                Quantity::Resin.show(resin.cubic_inches, unit),
                counted(resin.pours, "pour"),
                resin.cure_hours
            ));
        }
        let finish = &sheet.finish;
        line(format!(
            "  {}: {} {}, {} on {}, {} h between coats, {} days to cure",
            finish.finish,
            finish.amount,
            finish.unit,
            counted(finish.coats.value(), "coat"),
            Quantity::Surface.show(finish.square_feet, unit),
            finish.recoat_hours,
            finish.cure_days.value()
        ));
        sheet.hardware.iter().for_each(|item| line(format!("  {} x {}", item.count, item.name)));
        sheet.slabs.iter().for_each(|slab| line(slab_cut(slab, unit)));
        line("\nTo crate, where a carrier takes it:".into());
        sheet.crates.iter().for_each(|one| line(crate_cut(one, unit)));
        if sheet.joints_apart > 0 {
            line(format!("  {} of each piece left dry, to come apart", counted(sheet.joints_apart, "joint")));
        }
        if !self.slab_profits.is_empty() {
            line("\nWhat the slab is charged at, and the profit that leaves at the price estimated:".into());
            self.slab_profits.iter().for_each(|profit| line(profit.text()));
        }
        if let Some(hours) = &self.hours {
            line("\nTo work:".into());
            hours.iter().for_each(|work| line(format!("  {:<34} {:>8} min", work.operation.as_str(), work.minutes)));
            let minutes: Decimal = hours.iter().map(|work| work.minutes).sum();
            line(format!("  {:<34} {:>8} min", "Together", minutes));
        }
        out.trim_end().to_owned()
    }
}

fn counted(count: u32, what: &str) -> String {
    format!("{count} {what}{}", if count == 1 { "" } else { "s" })
}

fn size(sides: &[Length], unit: LengthUnit) -> String {
    sides.iter().map(|side| side.show(unit)).collect::<Vec<_>>().join(" x ")
}

fn cut(cut: &Cut, unit: LengthUnit) -> String {
    let rough = cut.rough.as_ref().map_or(String::new(), |rough| {
        let boards = rough.layers.saturating_mul(rough.staves);
        let layers = if rough.layers > 1 { format!(" in {} layers", rough.layers) } else { String::new() };
        format!(", each from {boards} of {} {}{layers}", rough.class, size(&[rough.length, rough.width], unit))
    });
    format!("  {} x {}, {}: {}{rough}", cut.count, cut.part, cut.material, size(&cut.finished, unit))
}

fn boards(boards: &Boards, unit: LengthUnit) -> String {
    let timber = |much| Quantity::Timber.shown(much, unit);
    format!(
        "  {} {} {}: {} ({} to {} by the yield), {} in the blanks; the longest {}, the widest {}",
        boards.timber,
        boards.class,
        boards.grade,
        Quantity::Timber.show(boards.board_feet.likely, unit),
        timber(boards.board_feet.low),
        timber(boards.board_feet.high),
        timber(boards.net),
        boards.largest.0.show(unit),
        boards.largest.1.show(unit)
    )
}

fn sheets(sheets: &Sheets, unit: LengthUnit) -> String {
    let direction = if sheets.along { "along" } else { "across" };
    let strip = |strip: &scantling_pricing::worksheet::Strips| {
        let piece = |(count, name, length): &(u32, String, Length)| format!("{count} x {name} {}", length.show(unit));
        let pieces: Vec<String> = strip.pieces.iter().map(piece).collect();
        let strips = counted(strip.count, "strip");
        format!("\n    {strips} {} wide, {direction} the sheet: {}", strip.width.show(unit), pieces.join(", "))
    };
    format!(
        "  {}: {}{}",
        sheets.sheet,
        counted(sheets.count, "sheet"),
        sheets.strips.iter().map(strip).collect::<String>()
    )
}

fn crate_cut(one: &CrateCut, unit: LengthUnit) -> String {
    let what = if one.on_pallet { "pallet" } else { "crate" };
    let of = [
        (one.panel_square_feet, Quantity::Surface, "panel"),
        (one.batten_feet, Quantity::Run, "batten"),
        (one.runner_feet, Quantity::Run, "runner"),
    ];
    let of = of.into_iter().filter(|(much, ..)| !much.is_zero());
    let of: Vec<String> = of.map(|(much, kind, what)| format!("{} of {what}", kind.show(much, unit))).collect();
    format!(
        "  {}: {} outside, {} with what it holds, of {}",
        counted(one.count, what),
        size(&one.outside, unit),
        Quantity::Weight.show(one.gross_pounds, unit),
        of.join(", ")
    )
}

fn slab_cut(slab: &SlabCut, unit: LengthUnit) -> String {
    format!(
        "  {}: {} cut off, {} thick once flat; share {} of its face, {} and {} of its length left over",
        slab.slab,
        slab.length.show(unit),
        slab.thickness.show(unit),
        slab.share,
        slab.left_share,
        slab.left_length.show(unit)
    )
}

impl SlabProfit {
    fn text(&self) -> String {
        let basis = match self.basis {
            SlabBasis::Volume => "by share of volume",
            SlabBasis::Face => "by share of face",
            SlabBasis::SalesValue => "by what each part would sell for",
            SlabBasis::Replacement => "at what equal stock costs today",
            SlabBasis::Whole => "the whole slab",
            SlabBasis::Nothing => "nothing",
        };
        let mark = if self.in_force { " (the book's way)" } else { "" };
        format!("  {} {basis}: {}, leaves {}{mark}", self.slab, self.charged, self.profit)
    }
}
