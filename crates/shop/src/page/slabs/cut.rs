//! One cut of a slab: what flattening leaves of it, what it takes of the slab's face, and what falls on it by each basis.

use leptos::prelude::*;
use rust_decimal::Decimal;
use scantling_pricing::book::stock::{Slab, SlabBasis};
use scantling_pricing::measure::{DecimalMark, Length, LengthUnit, read_length};
use scantling_pricing::money::{Currency, Money};
use scantling_pricing::takeoff::{Flattening, SlabUse, flattening};
use scantling_pricing::worksheet::BASES;

use super::Lying;
use crate::comma::plain;
use crate::cuts::{self, percent};
use crate::desk::Desk;
use crate::page::scrolled::scrolled;
use crate::plot::bar;

/// The widest a bar is, in hundredths of its room.
const FULL: i64 = 100;

/// The cut as it was typed: its length and its width; nothing typed is the usual cut.
#[derive(Debug, Clone, Default)]
pub(super) struct Typed {
    length: Option<String>,
    width: Option<String>,
}

/// The panel.
pub(super) fn panel(desk: &Desk, lying: &Lying, typed: RwSignal<Typed>) -> AnyView {
    let unit = desk.length_unit();
    let (length, width) = usual(&lying.slab, unit);
    let shown_length = move || typed.with(|typed| typed.length.clone()).unwrap_or_else(|| length.clone());
    let shown_width = move || typed.with(|typed| typed.width.clone()).unwrap_or_else(|| width.clone());
    let (lying, desk) = (lying.clone(), desk.clone());
    let told = move || match typed.with(|typed| read(typed, &lying.slab, unit)) {
        Err(why) => view! { <p class="fault" role="status">{why}</p> }.into_any(),
        Ok(cut) => reckoned(&desk, &lying, cut, unit),
    };
    view! {
        <div class="above">
            {field("cut-length", "A cut so long", shown_length, move |text| typed.update(|typed| typed.length = Some(text)))}
            {field("cut-width", "and so wide", shown_width, move |text| typed.update(|typed| typed.width = Some(text)))}
        </div>
        {told}
    }
    .into_any()
}

/// The usual cut as it would be typed.
fn usual(slab: &Slab, unit: LengthUnit) -> (String, String) {
    let (length, width) = cuts::usual(slab);
    (cuts::show_down(length, unit), cuts::show_down(width, unit))
}

/// The cut that is typed, or what of it can't be read.
pub(super) fn read(typed: &Typed, slab: &Slab, unit: LengthUnit) -> Result<(Length, Length), String> {
    let (length, width) = usual(slab, unit);
    let one = |typed: &Option<String>, usual: String| {
        let text = typed.clone().unwrap_or(usual);
        read_length(&plain(&text), unit, DecimalMark::Point).map_err(|why| why.to_string())
    };
    Ok((one(&typed.length, length)?, one(&typed.width, width)?))
}

fn field(
    id: &'static str,
    label: &'static str,
    value: impl Fn() -> String + Send + 'static,
    take: impl Fn(String) + Send + 'static,
) -> impl IntoView {
    view! {
        <label for=id>
            {label} {" "}
            <input id=id type="text" class="figure" autocomplete="off" prop:value=value on:input=move |event| take(event_target_value(&event)) />
        </label>
    }
}

fn reckoned(desk: &Desk, lying: &Lying, (length, width): (Length, Length), unit: LengthUnit) -> AnyView {
    let used = SlabUse::of_cut(&lying.slab, length, width, &lying.allowances);
    let warn =
        cuts::too_much(&used, (length, width), unit).map(|why| view! { <p class="fault" role="status">{why}</p> });
    view! {
        {warn}
        {flattened(lying, (length, width), unit)}
        {shares(&used)}
        {bases(desk, &used)}
    }
    .into_any()
}

/// What each cut loses: the one that was typed, then the whole slab and parts of its length.
fn flattened(lying: &Lying, (length, width): (Length, Length), unit: LengthUnit) -> impl IntoView + use<> {
    let slab = &lying.slab;
    let skim = lying.allowances.slab_skim;
    let row = |(name, length): (String, Length)| {
        let flat = flattening(slab, length, width, skim);
        loss(&name, &flat, slab, unit)
    };
    let own = std::iter::once(("The cut above".to_owned(), length));
    let rows = own.chain(cuts::by_length(slab, unit)).map(row).collect_view();
    view! {
        <h3>{"What flattening takes off"}</h3>
        <p class="note">{format!("Each cut {} wide. A shorter cut keeps less of the bow, a narrower one less of the cup; of the twist half is shimmed away.", width.show(unit))}</p>
        {scrolled("What flattening takes off", view! {
            <table class="grid">
                <thead>
                    <tr>
                        <th scope="col">{"Cut"}</th><th scope="col">{"Bow"}</th><th scope="col">{"Cup"}</th><th scope="col">{"Twist"}</th>
                        <th scope="col">{"Both faces clean"}</th><th scope="col">{"Lost in all"}</th><th scope="col">{"Left"}</th>
                        <th scope="col">{"Lost and left"}</th>
                    </tr>
                </thead>
                <tbody>{rows}</tbody>
            </table>
        })}
    }
}

fn loss(name: &str, flat: &Flattening, slab: &Slab, unit: LengthUnit) -> AnyView {
    let whole = slab.thickness;
    let lost = whole - flat.left;
    let figures = [flat.bow, flat.cup, flat.twist].map(|part| cuts::show_part(part, unit));
    let cells = figures.map(|figure| view! { <td class="figure">{figure}</td> });
    let left = if flat.left.is_positive() { cuts::show_down(flat.left, unit) } else { "nothing".to_owned() };
    let part = |length: Length| bar(length.in_millimetres(), whole.in_millimetres(), FULL).min(FULL);
    view! {
        <tr>
            <th scope="row">{name.to_owned()}</th>
            {cells.into_iter().collect_view()}
            <td class="figure">{flat.skim.show(unit)}</td>
            <td class="figure">{cuts::show_up(lost, unit)}</td>
            <td class="figure">{left}</td>
            <td class="bars" aria-hidden="true">
                <span class="was" style:inline-size=format!("{}%", part(lost))></span>
                <span class="is" style:inline-size=format!("{}%", part(flat.left))></span>
            </td>
        </tr>
    }
    .into_any()
}

/// What was sold of the slab, what this cut takes, and what is left.
fn shares(used: &SlabUse<'_>) -> impl IntoView + use<> {
    let (left, left_length) = used.left_over();
    let row = |name: String, share: Decimal, class: &'static str| {
        let wide = bar(share, Decimal::ONE, FULL).min(FULL);
        let wide = if share.is_sign_negative() { 0 } else { wide };
        view! {
            <tr>
                <th scope="row">{name}</th>
                <td class="figure">{format!("{} %", percent(share))}</td>
                <td class="bars" aria-hidden="true"><span class=class hidden=wide == 0 style:inline-size=format!("{wide}%")></span></td>
            </tr>
        }
    };
    let sold = used.slab.cut.iter().enumerate();
    let sold =
        sold.map(|(i, share)| row(format!("Sold, cut {}", i.saturating_add(1)), share.value(), "was")).collect_view();
    let none = used.slab.cut.is_empty().then(|| row("Sold so far".to_owned(), Decimal::ZERO, "was"));
    let length = left_length.is_positive();
    view! {
        <h3>{"Sold and left"}</h3>
        {scrolled("Sold and left", view! {
        <table class="grid">
            <thead><tr><th scope="col">{"Of the slab's face"}</th><th scope="col">{"Share"}</th><th scope="col">{"Side by side"}</th></tr></thead>
            <tbody>
                {sold}
                {none}
                {row("This cut".to_owned(), used.share, "is")}
                {row("Left".to_owned(), left, "is")}
            </tbody>
        </table>
        })}
        <p class="note">{if length { "The share is of the face by its measured widths, with what the saw needs at the ends." } else { "Nothing of its length is left." }}</p>
    }
}

/// What falls on the cut by each basis.
fn bases(desk: &Desk, used: &SlabUse<'_>) -> impl IntoView + use<> {
    let code = desk.words_untracked("shop.currency");
    let currency = Currency::from_code(&code);
    let money = |amount: Decimal| match currency {
        Some(currency) => Money::rounded(amount, currency).to_string(),
        None => amount.normalize().to_string(),
    };
    let most = BASES.iter().map(|basis| used.charged(*basis)).max().unwrap_or_default();
    let price = used.slab.price.value();
    let row = |basis: &SlabBasis| {
        let charged = used.charged(*basis);
        let own = if *basis == used.slab.basis { ", this slab's own" } else { "" };
        let wide = bar(charged, most, FULL);
        view! {
            <tr>
                <th scope="row">{format!("{}{own}", cuts::basis_in_words(*basis))}</th>
                <td class="figure">{money(charged)}</td>
                <td class="figure">{money(price - charged)}</td>
                <td class="bars" aria-hidden="true"><span class="is" hidden=wide == 0 style:inline-size=format!("{wide}%")></span></td>
            </tr>
        }
    };
    let rows = BASES.iter().map(row).collect_view();
    view! {
        <h3>{"What falls on the cut"}</h3>
        <p class="note">{format!("Of the {} paid for the slab, before anything is added on top.", money(price))}</p>
        {scrolled("What falls on the cut", view! {
            <table class="grid">
                <thead>
                    <tr>
                        <th scope="col">{"By"}</th><th scope="col">{"On this cut"}</th><th scope="col">{"Left on the rest"}</th>
                        <th scope="col">{"Side by side"}</th>
                    </tr>
                </thead>
                <tbody>{rows}</tbody>
            </table>
        })}
    }
}
