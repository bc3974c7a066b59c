//! What the price is made of, as a picture: a bar each for materials, work, delivery and tax. The table below it has the figures.

use leptos::prelude::*;
use rust_decimal::Decimal;
use scantling_pricing::book::delivery::Shown;
use scantling_pricing::cost::LineKind;
use scantling_pricing::estimate::{Estimate, Line};
use scantling_pricing::money::{Money, total};

use crate::ui::{Ui, percent};
use crate::wording;
use crate::words::Word;

/// Where a line belongs.
const fn group(kind: LineKind) -> Word {
    match kind {
        LineKind::Timber
        | LineKind::Slab
        | LineKind::Sheet
        | LineKind::Resin
        | LineKind::Finish
        | LineKind::Hardware
        | LineKind::Sundries => wording::SHARE_MATERIALS,
        LineKind::Work | LineKind::LeastJob => wording::SHARE_WORK,
        LineKind::Crating
        | LineKind::Pallets
        | LineKind::MarkedTimber
        | LineKind::Cartons
        | LineKind::Van
        | LineKind::Helper
        | LineKind::Nights
        | LineKind::Tolls
        | LineKind::Parcel
        | LineKind::Freight
        | LineKind::Liftgate
        | LineKind::Residential
        | LineKind::LimitedAccess
        | LineKind::OverLength
        | LineKind::Inside
        | LineKind::WhiteGlove
        | LineKind::Abroad
        | LineKind::Papers
        | LineKind::Insurance
        | LineKind::Duty
        | LineKind::Quoted => wording::SHARE_DELIVERY,
    }
}

/// What each group comes to, in the order of the estimate; none that comes to nothing.
fn shares(estimate: &Estimate) -> Vec<(Word, Money)> {
    let carried = estimate.delivered().map(|delivered| delivered.lines.as_slice()).unwrap_or_default();
    let sum = |of: Word| {
        let lines = estimate.lines.iter().chain(carried).filter(|line: &&Line| group(line.kind) == of);
        (of, total(estimate.currency, lines.map(|line| line.amount)))
    };
    let within = estimate.tax().filter(|tax| tax.shown == Shown::Within).map(|tax| (wording::SHARE_TAX, tax.amount));
    let groups = [wording::SHARE_MATERIALS, wording::SHARE_WORK, wording::SHARE_DELIVERY].map(sum);
    groups.into_iter().chain(within).filter(|(_, amount)| amount.amount() > Decimal::ZERO).collect()
}

/// The picture.
pub(crate) fn picture(ui: &Ui, estimate: &Estimate) -> impl IntoView + use<> {
    let whole = estimate.price().likely.amount();
    let row = |(name, amount): (Word, Money)| {
        let share = percent(amount.amount(), whole);
        view! {
            <li>
                <span>{ui.say(name)}</span>
                <span class="bar" aria-hidden="true"><span style:inline-size=share></span></span>
                <span class="figure">{ui.money(amount)}</span>
            </li>
        }
        .into_any()
    };
    let rows = shares(estimate).into_iter().map(row).collect::<Vec<_>>();
    view! { <ul class="moves shares">{rows}</ul> }
}
