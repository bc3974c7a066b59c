//! Work: operations and what drives them, the shop rate, and how a cost becomes a price.

use crate::map::Map;
use serde::Serialize;

use super::read::{reads, reads_word};
use super::values::{
    Addition, Amount, Count, Factor, Hours, KeptShare, Key, Minutes, RepeatRate, Share, Text, ThreePoint,
};

/// What the time of an operation, or the use of a consumable, grows with.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Driver {
    /// Once per order.
    Job,
    /// Each piece of the order.
    Piece,
    /// Each part that is cut.
    Part,
    /// Each board foot of blanks milled.
    BoardFoot,
    /// Each foot of glue line between staves and layers.
    GlueFoot,
    /// Each square foot of slab flattened, both faces counted.
    SlabSquareFoot,
    /// Each joint of a kind.
    Joint(Key),
    /// Each foot of edge shaped.
    EdgeFoot,
    /// Each square foot sanded.
    SandedSquareFoot,
    /// Each square foot of each coat put on by a method.
    Coated(Key),
    /// Each pour of resin.
    Pour,
    /// Each piece of hardware fitted.
    Hardware,
    /// Each pound of the finished piece, handled and packed.
    Pound,
    /// Each unit of work a design or an option names itself, such as a drawer.
    Named(Key),
}

reads_word!(Driver {
    "job" => Self::Job,
    "piece" => Self::Piece,
    "part" => Self::Part,
    "board-foot" => Self::BoardFoot,
    "glue-foot" => Self::GlueFoot,
    "slab-square-foot" => Self::SlabSquareFoot,
    "edge-foot" => Self::EdgeFoot,
    "sanded-square-foot" => Self::SandedSquareFoot,
    "pour" => Self::Pour,
    "hardware" => Self::Hardware,
    "pound" => Self::Pound,
} with {
    "joint" => Self::Joint,
    "coated" => Self::Coated,
    "named" => Self::Named,
});

/// An operation: how much of `T` it takes, by what drives it.
///
/// In a shop book `T` is [`Minutes`]; in a price book it is [`Amount`], minutes times everything above them.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Operation<T> {
    /// The trade's name for it.
    pub name: Text,
    /// The stage of work it is shown under.
    pub stage: Text,
    /// What it grows with.
    pub driver: Driver,
    /// Per unit of the driver.
    pub each: ThreePoint<T>,
    /// Once per order, when there is any of the driver at all.
    pub set_up: ThreePoint<T>,
    /// Whether a timber's work factor applies.
    pub by_timber: bool,
    /// What the second piece of an order takes of the first, and the fourth of the second; without it, all take the same.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub repeat: Option<RepeatRate>,
}

reads!(Operation<T> { name, stage, driver, each, set_up, by_timber, repeat });

/// What an hour in the shop costs.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum ShopRate {
    /// Stated by the hour.
    Hourly(HourlyRate),
    /// From a year's figures.
    Yearly(YearlyRate),
}

reads_word!(ShopRate {} with { "hourly" => Self::Hourly, "yearly" => Self::Yearly });

/// An hour as the maker states it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct HourlyRate {
    /// What the maker is paid.
    pub wage: Amount,
    /// Rent, machines, insurance, power, for that hour.
    pub overhead: Amount,
}

reads!(HourlyRate { wage, overhead });

/// A year's figures, from which an hour follows.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct YearlyRate {
    /// What the maker is paid in a year.
    pub wages: Amount,
    /// A year's rent, machines, insurance, power.
    pub overheads: Amount,
    /// Hours of the year that pieces are charged for; not the hours worked.
    pub billable_hours: Hours,
}

reads!(YearlyRate { wages, overheads, billable_hours });

/// How a cost becomes a price.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Pricing {
    /// What an hour costs.
    pub shop_rate: ShopRate,
    /// Added to bought-in materials.
    pub material_markup: Addition,
    /// Added to everything made in the shop, against surprises.
    pub contingency: Addition,
    /// Profit, as a share of the selling price.
    pub margin: KeptShare,
    /// What the payment takes, as a share of what is paid.
    pub fee_share: KeptShare,
    /// What each payment costs besides.
    pub fee_fixed: Amount,
    /// Added to what carriers charge, for arranging it.
    pub freight_handling: Addition,
}

reads!(Pricing { shop_rate, material_markup, contingency, margin, fee_share, fee_fixed, freight_handling });

/// How sure the shop is.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Uncertainty {
    /// How far the hours of one job run late together: 0 not at all, 1 all of them.
    pub correlation: Share,
    /// How far a carriage charge may end from its table, either way.
    pub carriage: Share,
}

reads!(Uncertainty { correlation, carriage });

/// What past jobs teach about the hours of the next, in whole percents: it shifts and widens ranges, and tells of no single job.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PastJobs {
    /// How many times the hours estimated a job takes, as a rule.
    pub hours_take: Factor,
    /// How far a job may end from that, as a share of its hours: one standard deviation.
    pub miss_by: Share,
}

reads!(PastJobs { hours_take, miss_by });

/// Time the shop has. Its hours are never public; the weeks sold are, as the queue of a [`Bench`].
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Workload {
    /// Hours at the bench in a week.
    pub weekly_hours: Hours,
    /// Weeks already sold.
    pub weeks_sold: Count,
}

reads!(Workload { weekly_hours, weeks_sold });

/// What is waited for besides the bench: public, as it goes into every date a buyer is told.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Waits {
    /// Days from ordering timber until it may be cut: delivery and settling to the air of the shop.
    pub timber_days: Count,
    /// Days to wrap or crate a piece and to find it a carrier.
    pub packing_days: Count,
    /// How warm the shop is, degrees Celsius: resin cures by it.
    pub celsius: Count,
}

reads!(Waits { timber_days, packing_days, celsius });

/// How long the bench is taken, in whole weeks: as much of the shop's hours as a buyer may know.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Bench {
    /// Weeks already sold.
    pub queue_weeks: Count,
    /// Weeks one piece of a design takes at its defaults, fewest and most; none for one that can't be built as it stands.
    pub design_weeks: Map<Key, [Count; 2]>,
}

reads!(Bench { queue_weeks, design_weeks });

/// Minutes in both places: what a shop book holds.
pub type TimedOperation = Operation<Minutes>;
/// Money in both places: what a price book holds.
pub type PricedOperation = Operation<Amount>;
