//! The worksheet: what the maker cuts, buys and works for an order, part by part.

use rust_decimal::Decimal;
use serde::Serialize;

use crate::book::PriceBook;
use crate::book::price_book::Stock;
use crate::book::stock::SlabBasis;
use crate::book::values::{Count, Key, Text, ThreePoint};
use crate::delivery::{Crated, shipment};
use crate::design::{Resolved, ResolvedPart};
use crate::labour;
use crate::measure::{Length, ThicknessClass};
use crate::money::half_up;
use crate::takeoff::{Layout, ResinUse, SheetUse, SlabUse, Takeoff, TimberUse, blank, finish_units};

/// Everything an order takes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Worksheet {
    /// The design.
    pub design: Key,
    /// How many pieces.
    pub quantity: u32,
    /// Every part, as it is cut.
    pub cuts: Vec<Cut>,
    /// Timber to buy, by species and thickness class.
    pub timbers: Vec<Boards>,
    /// Slabs cut into.
    pub slabs: Vec<SlabCut>,
    /// Sheets to buy, and how they are cut.
    pub sheets: Vec<Sheets>,
    /// Resin to mix.
    pub resins: Vec<Cast>,
    /// Finish to buy, and its waits.
    pub finish: Coats,
    /// Hardware to buy.
    pub hardware: Vec<Pieces>,
    /// Crates and pallets to build, where it goes by freight or abroad.
    pub crates: Vec<CrateCut>,
    /// Joints of one piece that come apart for the way.
    pub joints_apart: u32,
    /// Pounds one piece weighs.
    pub weight_pounds: Decimal,
}

/// One part, finished and rough.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Cut {
    /// What it is called.
    pub part: Text,
    /// What it is of.
    pub material: String,
    /// How many, all pieces together.
    pub count: u32,
    /// Finished length, width and thickness.
    pub finished: [Length; 3],
    /// What each is cut from, where it is boards.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rough: Option<Rough>,
}

/// The boards of one part.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Rough {
    /// Their class.
    pub class: ThicknessClass,
    /// Layers, glued face to face.
    pub layers: u32,
    /// Staves in each layer, glued edge to edge.
    pub staves: u32,
    /// Length of each board.
    pub length: Length,
    /// Width of each board.
    pub width: Length,
}

/// Boards to buy.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Boards {
    /// The species.
    pub timber: Text,
    /// The grade.
    pub grade: Text,
    /// The thickness class.
    pub class: ThicknessClass,
    /// Board feet in the blanks.
    pub net: Decimal,
    /// Board feet to buy: when the yield is good, as a rule, when it is poor.
    pub board_feet: ThreePoint<Decimal>,
    /// The longest and the widest blank: some of the boards must hold them.
    pub largest: (Length, Length),
}

/// A slab and what is cut from it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SlabCut {
    /// The slab.
    pub slab: Text,
    /// Length cut off.
    pub length: Length,
    /// The share of its face cut out: what is added to its `cut` once the piece is sold.
    pub share: Decimal,
    /// Thickness left once the cut is flat, down to a sixty-fourth of an inch.
    pub thickness: Length,
    /// The share of its face that is left over.
    pub left_share: Decimal,
    /// The length that is left over.
    pub left_length: Length,
    /// What falls on the piece by each way of sharing its price out, at the rates of the book.
    pub charged: Vec<(SlabBasis, Decimal)>,
}

/// Sheets and how they are cut.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Sheets {
    /// The material.
    pub sheet: Text,
    /// Whole sheets.
    pub count: u32,
    /// Whether the strips run along the sheets, else across.
    pub along: bool,
    /// The strips.
    pub strips: Vec<Strips>,
}

/// Strips of one width.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Strips {
    /// How many.
    pub count: u32,
    /// How wide.
    pub width: Length,
    /// What is cut from them, by count, name and length along the strip.
    pub pieces: Vec<(u32, String, Length)>,
}

/// Resin to mix.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Cast {
    /// The resin.
    pub resin: Text,
    /// Cubic inches, mixed.
    pub cubic_inches: Decimal,
    /// Pours, each cured before the next.
    pub pours: u32,
    /// Hours each takes to cure at the reference temperature.
    pub cure_hours: Decimal,
}

/// Finish to buy, and its waits.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Coats {
    /// The finish.
    pub finish: Text,
    /// Square feet.
    pub square_feet: Decimal,
    /// Coats.
    pub coats: Count,
    /// How much to buy.
    pub amount: Decimal,
    /// In which unit.
    pub unit: Text,
    /// Hours between coats.
    pub recoat_hours: Decimal,
    /// Days until it has fully cured.
    pub cure_days: Count,
}

/// Things bought by the piece.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Pieces {
    /// What.
    pub name: Text,
    /// How many.
    pub count: u32,
}

/// A crate or a pallet to build.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CrateCut {
    /// How many, one for each piece.
    pub count: u32,
    /// Whether it is a pallet.
    pub on_pallet: bool,
    /// Its outside: length, width and height.
    pub outside: [Length; 3],
    /// Pounds with what it holds.
    pub gross_pounds: Decimal,
    /// Square feet of panel.
    pub panel_square_feet: Decimal,
    /// Feet of batten.
    pub batten_feet: Decimal,
    /// Feet of runner.
    pub runner_feet: Decimal,
}

/// Minutes an operation takes in an order, as expected.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct WorkTime {
    /// The operation.
    pub operation: Text,
    /// Its stage.
    pub stage: Text,
    /// How long.
    pub minutes: Decimal,
}

/// All ways a slab's price may fall on a piece.
pub const BASES: [SlabBasis; 6] = [
    SlabBasis::Volume,
    SlabBasis::Face,
    SlabBasis::SalesValue,
    SlabBasis::Replacement,
    SlabBasis::Whole,
    SlabBasis::Nothing,
];

impl Worksheet {
    /// The worksheet of a takeoff.
    #[must_use]
    pub fn new(book: &PriceBook, resolved: &Resolved<'_>, takeoff: &Takeoff<'_>) -> Self {
        let hardware = resolved.hardware.iter().filter_map(|used| {
            let item = book.hardware_item(&used.item)?;
            Some(Pieces { name: item.name.clone(), count: used.count.value().saturating_mul(resolved.quantity) })
        });
        Self {
            design: resolved.design.key.clone(),
            quantity: resolved.quantity,
            cuts: resolved.parts.iter().map(|part| cut(book, resolved.quantity, part)).collect(),
            timbers: takeoff.timbers.iter().map(boards).collect(),
            slabs: takeoff.slabs.iter().map(slab_cut).collect(),
            sheets: takeoff.sheets.iter().map(sheets).collect(),
            resins: takeoff.resins.iter().map(cast).collect(),
            finish: coats(resolved, takeoff),
            hardware: hardware.collect(),
            crates: shipment(book, resolved, takeoff)
                .crates
                .iter()
                .map(|one| crate_cut(one, resolved.quantity))
                .collect(),
            joints_apart: resolved.parts.iter().map(joints_apart).sum(),
            weight_pounds: half_up(takeoff.weight.in_pounds(), 0),
        }
    }
}

/// How long each operation takes, from a book folded to minutes.
#[must_use]
pub fn hours(timed: &PriceBook, takeoff: &Takeoff<'_>, pieces: u32) -> Vec<WorkTime> {
    let time = |operation| {
        let guess = labour::priced(operation, &takeoff.drivers, pieces)?;
        Some(WorkTime {
            operation: operation.name.clone(),
            stage: operation.stage.clone(),
            minutes: half_up(guess.mean, 1),
        })
    };
    timed.operations.iter().filter_map(time).collect()
}

fn cut(book: &PriceBook, quantity: u32, part: &ResolvedPart<'_>) -> Cut {
    let rough = match part.material.stock {
        Stock::Timber(timber) => blank(timber, part, &book.allowances).ok(),
        Stock::Slab(..) | Stock::Sheet(_) | Stock::Resin(_) => None,
    };
    Cut {
        part: part.part.name.clone(),
        material: part.material.stock.name().to_owned(),
        count: part.count().saturating_mul(quantity),
        finished: part.sizes(),
        rough: rough.map(|blank| Rough {
            class: blank.class,
            layers: blank.layers,
            staves: blank.staves,
            length: blank.length,
            width: blank.stave_width,
        }),
    }
}

fn crate_cut(one: &Crated, quantity: u32) -> CrateCut {
    CrateCut {
        count: quantity,
        on_pallet: one.on_pallet,
        outside: one.sides,
        gross_pounds: half_up(one.gross.in_pounds(), 0),
        panel_square_feet: half_up(one.panel.in_square_feet(), 1),
        batten_feet: half_up(one.batten.in_feet(), 1),
        runner_feet: half_up(one.runner.in_feet(), 1),
    }
}

fn joints_apart(part: &ResolvedPart<'_>) -> u32 {
    let apart = part.joints().iter().filter(|joint| joint.apart);
    apart.map(|joint| joint.count.value()).sum::<u32>().saturating_mul(part.count())
}

fn boards(used: &TimberUse<'_>) -> Boards {
    Boards {
        timber: used.timber.name.clone(),
        grade: used.timber.grade.clone(),
        class: used.class,
        net: half_up(used.net.value(), 2),
        board_feet: used.bought.map(|bought| half_up(bought.value(), 2)),
        largest: used.largest,
    }
}

fn slab_cut(used: &SlabUse<'_>) -> SlabCut {
    let (left_share, left_length) = used.left_over();
    SlabCut {
        slab: used.slab.name.clone(),
        length: used.length,
        share: half_up(used.share, 4),
        thickness: used.left.to_sixty_fourth_down(),
        left_share: half_up(left_share, 4),
        left_length,
        charged: BASES.map(|basis| (basis, half_up(used.charged(basis), 2))).to_vec(),
    }
}

fn sheets(used: &SheetUse<'_>) -> Sheets {
    let Layout { sheets, along, turned, runs } = &used.layout;
    let strips = runs.iter().map(|run| {
        let pieces = used.pieces.get(run.pieces.clone()).unwrap_or_default().iter();
        let along_the_strip = |piece: &crate::takeoff::Piece| if along == turned { piece.width } else { piece.length };
        Strips {
            count: run.strips,
            width: run.width,
            pieces: pieces.map(|piece| (piece.count, piece.name.clone(), along_the_strip(piece))).collect(),
        }
    });
    Sheets { sheet: used.sheet.name.clone(), count: *sheets, along: *along, strips: strips.collect() }
}

fn cast(used: &ResinUse<'_>) -> Cast {
    Cast {
        resin: used.resin.name.clone(),
        cubic_inches: half_up(used.mixed.in_cubic_inches(), 0),
        pours: used.pours,
        cure_hours: used.resin.cure_hours.value(),
    }
}

fn coats(resolved: &Resolved<'_>, takeoff: &Takeoff<'_>) -> Coats {
    let finish = resolved.finish;
    Coats {
        finish: finish.name.clone(),
        square_feet: half_up(takeoff.finished.in_square_feet(), 1),
        coats: finish.coats,
        amount: half_up(finish_units(finish, takeoff.finished), 2),
        unit: finish.unit.clone(),
        recoat_hours: finish.recoat_hours.value(),
        cure_days: finish.cure_days,
    }
}
