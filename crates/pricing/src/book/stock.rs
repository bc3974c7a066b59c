//! What is bought: timber, slabs, sheets, resin, finish, hardware, consumables.
//!
//! Each amount here is what the maker pays in a shop book, and what the buyer pays in a price book.

use crate::map::Map;
use rust_decimal::Decimal;
use serde::Serialize;

use super::read::{is_default, reads, reads_word};
use super::values::{
    Addition, Amount, Count, Factor, Gravity, Key, Measured, Percent, Share, Swatch, Text, ThreePoint, Yield,
};
use super::work::Driver;
use crate::checks::Caution;
use crate::measure::{Length, ThicknessClass};

/// A species as the maker buys it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Timber {
    /// How designs and briefs refer to it.
    pub key: Key,
    /// The trade name.
    pub name: Text,
    /// The botanical name.
    pub botanical: Text,
    /// Money per board foot, by thickness class.
    pub rates: Map<ThicknessClass, Amount>,
    /// The grade bought.
    pub grade: Text,
    /// How the seller counts board feet.
    #[serde(skip_serializing_if = "is_default")]
    pub tally: Tally,
    /// How much of that grade ends in the piece.
    pub yields: ThreePoint<Yield>,
    /// The widest board to count on.
    pub widest: Length,
    /// The longest board to count on.
    pub longest: Length,
    /// Added to the rate for parts that need long boards.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub length_premium: Option<Premium>,
    /// Added to the rate for parts that need wide boards.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub width_premium: Option<Premium>,
    /// Basic specific gravity: oven-dry mass on green volume.
    pub specific_gravity: Gravity,
    /// Shrinkage and stiffness, for the checks.
    pub properties: Properties,
    /// How much longer it takes to work than the shop's usual timber.
    pub work_factor: Factor,
    /// Its colour on the drawing, as `#6b4a33`.
    pub swatch: Swatch,
    /// What a buyer should know about it.
    pub character: Text,
    /// Cautions that go with the species, such as restricted trade.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<Caution>,
}

reads!(Timber {
    key,
    name,
    botanical,
    rates,
    grade,
    tally,
    yields,
    widest,
    longest,
    length_premium,
    width_premium,
    specific_gravity,
    properties,
    work_factor,
    swatch,
    character,
    cautions
});

/// How a seller counts the board feet of what is bought.
///
/// Source: `shared/reference/trade/board_measure.md` section 2.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Tally {
    /// To the last fraction.
    #[default]
    Exact,
    /// By whole square feet of surface measure, times the thickness.
    SurfaceMeasure,
    /// Up to the next quarter board foot.
    RoundUpQuarter,
}

reads_word!(Tally {
    "exact" => Self::Exact,
    "surface-measure" => Self::SurfaceMeasure,
    "round-up-quarter" => Self::RoundUpQuarter,
} or Self::Exact);

/// An addition to the rate once a part needs boards over a size.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Premium {
    /// Boards over this size cost more.
    pub over: Length,
    /// By this share.
    pub adds: Addition,
}

reads!(Premium { over, adds });

/// Published properties of a species.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Properties {
    /// Radial shrinkage, green to oven-dry, percent.
    pub radial_shrinkage: Percent,
    /// Tangential shrinkage, green to oven-dry, percent.
    pub tangential_shrinkage: Percent,
    /// Radial change per point of moisture, parts in one, between 6 and 14 %.
    pub radial_movement: Share,
    /// Tangential change per point of moisture, parts in one, between 6 and 14 %.
    pub tangential_movement: Share,
    /// Modulus of elasticity at 12 %, million psi.
    pub stiffness: Measured,
}

reads!(Properties { radial_shrinkage, tangential_shrinkage, radial_movement, tangential_movement, stiffness });

/// A slab: one of a kind.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Slab {
    /// How designs and briefs refer to it.
    pub key: Key,
    /// What it is called on the page.
    pub name: Text,
    /// The timber it is of; its work factor and weight apply.
    pub timber: Key,
    /// Its length.
    pub length: Length,
    /// Widths at evenly spaced stations from end to end, three or more.
    pub widths: Vec<Length>,
    /// Its thickness as it lies.
    pub thickness: Length,
    /// Rise of the middle above a straight edge along the whole length.
    pub bow: Length,
    /// Rise across the whole width.
    pub cup: Length,
    /// Height of the fourth corner when three touch.
    pub twist: Length,
    /// Moisture content as measured, percent.
    pub moisture: Percent,
    /// The whole slab's price.
    pub price: Amount,
    /// How a piece cut from it is charged.
    pub basis: SlabBasis,
    /// Worth of its good part, per board foot: what equal stock costs today.
    pub worth: Amount,
    /// Worth of what is left over, per board foot.
    pub leftover_worth: Amount,
    /// Whether it may still be sold.
    pub saleable: bool,
    /// A picture of it, relative to the book.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub picture: Option<Text>,
    /// Shares already cut from it and sold.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub cut: Vec<Share>,
    /// What a buyer should know about it.
    pub character: Text,
}

impl Slab {
    /// How much of its face has been sold, as a share; more than one where more was sold than there was.
    #[must_use]
    pub fn sold(&self) -> Decimal {
        self.cut.iter().map(|share| share.value()).sum()
    }
}

reads!(Slab {
    key,
    name,
    timber,
    length,
    widths,
    thickness,
    bow,
    cup,
    twist,
    moisture,
    price,
    basis,
    worth,
    leftover_worth,
    saleable,
    picture,
    cut,
    character
});

/// How the price of a slab falls on the piece cut from it.
///
/// Source: cost accounting of joint products, `shared/reference/trade/slab.md` section 4.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum SlabBasis {
    /// By the share of the volume used.
    Volume,
    /// By the share of the face used.
    Face,
    /// By what the piece and the leftover would each sell for.
    SalesValue,
    /// What equal stock would cost today.
    Replacement,
    /// The whole slab is charged to the job.
    Whole,
    /// The slab is charged nowhere.
    Nothing,
}

reads_word!(SlabBasis {
    "volume" => Self::Volume,
    "face" => Self::Face,
    "sales-value" => Self::SalesValue,
    "replacement" => Self::Replacement,
    "whole" => Self::Whole,
    "nothing" => Self::Nothing,
});

/// A sheet material, bought by the whole sheet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Sheet {
    /// How designs and briefs refer to it.
    pub key: Key,
    /// The trade name.
    pub name: Text,
    /// Length of a sheet.
    pub length: Length,
    /// Width of a sheet.
    pub width: Length,
    /// Thickness of a sheet.
    pub thickness: Length,
    /// The price of a sheet.
    pub price: Amount,
    /// What the saw takes at each cut.
    pub kerf: Length,
    /// Cut off each edge of a sheet to square it.
    pub trim: Length,
    /// Whether its face has a grain, which every part's length then follows; without one, parts may be turned.
    pub grain: bool,
    /// Modulus of elasticity along the sheet, million psi.
    pub stiffness: Measured,
    /// Weight in pounds per square foot.
    pub weight: Measured,
    /// How much longer it takes to work than the shop's usual timber.
    pub work_factor: Factor,
    /// Its colour on the drawing.
    pub swatch: Swatch,
    /// What a buyer should know about it.
    pub character: Text,
}

reads!(Sheet {
    key,
    name,
    length,
    width,
    thickness,
    price,
    kerf,
    trim,
    grain,
    stiffness,
    weight,
    work_factor,
    swatch,
    character
});

/// A casting resin.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Resin {
    /// How designs and briefs refer to it.
    pub key: Key,
    /// What it is called on the page.
    pub name: Text,
    /// Money per cubic inch, mixed.
    pub rate: Amount,
    /// Grams per cubic centimetre, cured.
    pub density: Gravity,
    /// Poured above the finished level and planed off with the wood around it; without it, none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub proud: Option<Length>,
    /// The deepest single pour.
    pub deepest_pour: Length,
    /// Hours to cure before it is worked, at the reference temperature.
    pub cure_hours: Measured,
    /// The reference temperature, degrees Celsius.
    pub cure_celsius: Count,
    /// Mixed beyond the void: seal coat, leaks, cups.
    pub overage: Addition,
    /// Its colour on the drawing.
    pub swatch: Swatch,
    /// What a buyer should know about it.
    pub character: Text,
    /// Cautions that go with it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<Caution>,
}

reads!(Resin {
    key,
    name,
    rate,
    density,
    proud,
    deepest_pour,
    cure_hours,
    cure_celsius,
    overage,
    swatch,
    character,
    cautions
});

/// A finish.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Finish {
    /// How briefs refer to it.
    pub key: Key,
    /// What it is called on the page.
    pub name: Text,
    /// How it is put on: operations with the driver `coated` and this word apply.
    pub method: Key,
    /// Coats.
    pub coats: Count,
    /// Square feet one unit covers, per coat.
    pub coverage: Measured,
    /// The unit it is bought in, in words: `gallon`.
    pub unit: Text,
    /// Money per unit.
    pub rate: Amount,
    /// Added for what stays in the gun, rag and cup.
    pub loss: Addition,
    /// Hours between coats.
    pub recoat_hours: Measured,
    /// Days until it has fully cured.
    pub cure_days: Count,
    /// How it looks.
    pub sheen: Text,
    /// Whether it suits surfaces that touch food, in words.
    pub food_contact: Text,
    /// What a buyer should know besides: how it shows the wood, how it feels.
    pub character: Text,
    /// What it stands and what it does not: water, heat, wear.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub durability: Option<Text>,
    /// What the buyer does for it: how it is cleaned, how often it is renewed and by whom.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub care: Option<Text>,
    /// Cautions that go with it, such as oily rags.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<Caution>,
}

reads!(Finish {
    key,
    name,
    method,
    coats,
    coverage,
    unit,
    rate,
    loss,
    recoat_hours,
    cure_days,
    sheen,
    food_contact,
    character,
    durability,
    care,
    cautions
});

/// A thing bought by the piece.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Hardware {
    /// How designs refer to it.
    pub key: Key,
    /// The trade name.
    pub name: Text,
    /// Money apiece.
    pub price: Amount,
    /// Pounds apiece.
    pub weight: Measured,
}

reads!(Hardware { key, name, price, weight });

/// What is used up without being in the piece, charged by what is done: abrasive by the square foot, glue by the foot.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Consumable {
    /// The trade name.
    pub name: Text,
    /// What it goes by.
    pub driver: Driver,
    /// Money per unit of the driver.
    pub rate: Amount,
}

reads!(Consumable { name, driver, rate });
