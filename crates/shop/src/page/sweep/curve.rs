//! One rate over a range: the curves of price and cost, that of pay an hour, and the same as a table.

use std::sync::Arc;

use leptos::prelude::*;
use rust_decimal::Decimal;
use scantling_pricing::book::values::read_digits;

use super::Bench;
use crate::comma::{plain, unclear};
use crate::page::progress::progress;
use crate::page::scrolled::scrolled;
use crate::plot::{Curve, Plot, steps};
use crate::rates::Rate;
use crate::slices::{Far, Slices};
use crate::trial::{Point, Trial};

/// Values tried between both ends of a range, the ends among them.
const POINTS: u32 = 25;

/// The sizes of the pictures, in pixels: as narrow as the narrowest screen, so that their figures can be read there.
const WIDE_PLOT: (i64, i64) = (360, 240);
const LOW_PLOT: (i64, i64) = (360, 160);

/// A sweep that was reckoned.
#[derive(Debug, Clone)]
struct Swept {
    rate: Rate,
    points: Vec<Point>,
}

/// What is swept: the rate by its place, and the range as it was typed.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
struct Asked {
    rate: Option<String>,
    from: Option<String>,
    to: Option<String>,
}

/// The panel.
pub(super) fn panel(bench: &Bench) -> impl IntoView + use<> {
    let asked = RwSignal::new(Asked::default());
    let swept: RwSignal<Option<Arc<Swept>>> = RwSignal::new(None);
    let rates = {
        let bench = bench.clone();
        Memo::new(move |_| bench.trial.get().map_or_else(Vec::new, |trial| trial.rates(&bench.desk.kind)))
    };
    let rate = Memo::new(move |_| {
        let wanted = asked.with(|asked| asked.rate.clone());
        rates.with(|rates| {
            let first =
                || rates.iter().find(|rate| rate.place.to_string() == "pricing.margin").or_else(|| rates.first());
            let named = wanted.and_then(|wanted| rates.iter().find(|rate| rate.place.to_string() == wanted));
            named.or_else(first).cloned()
        })
    });
    let range = move || {
        let rate = rate.get()?;
        let (from, to) = ends(&rate);
        asked.with(|asked| {
            Some((
                asked.from.clone().unwrap_or_else(|| from.to_string()),
                asked.to.clone().unwrap_or_else(|| to.to_string()),
            ))
        })
    };
    let wrong = Memo::new(move |_| range().and_then(|(from, to)| read(&from, &to).err()));
    let slices = Slices::default();
    let ending = slices.clone();
    on_cleanup(move || ending.end());
    let bar = progress(&slices, "The rate is being swept");
    let trial = bench.trial;
    Effect::new(move |_| {
        let (Some(trial), Some(rate), Some((from, to))) = (trial.get(), rate.get(), range()) else { return };
        if let Ok((from, to)) = read(&from, &to) {
            sweep(&slices, trial, rate, steps(from, to, POINTS), swept);
        }
    });
    let told = move || swept.get().map(|swept| told(&swept));
    view! {
        <h3>{"Sweep one rate"}</h3>
        <div class="above">
            {choose(rates, rate, asked)}
            {end("sweep-from", "from", move || range().map(|range| range.0), move |text| asked.update(|asked| asked.from = Some(text)))}
            {end("sweep-to", "to", move || range().map(|range| range.1), move |text| asked.update(|asked| asked.to = Some(text)))}
        </div>
        <p id="sweep-fault" class="fault" role="status">{move || wrong.get()}</p>
        {bar}
        {told}
    }
}

/// Half of a rate and half as much again; of nothing, from nothing to one.
fn ends(rate: &Rate) -> (Decimal, Decimal) {
    if rate.value.is_zero() {
        return (Decimal::ZERO, Decimal::ONE);
    }
    let half = rate.value.checked_div(Decimal::TWO).unwrap_or_default();
    (half.normalize(), rate.value.checked_add(half).unwrap_or_default().normalize())
}

fn read(from: &str, to: &str) -> Result<(Decimal, Decimal), String> {
    let number = |text: &str| {
        let why = || unclear(text).unwrap_or_else(|| format!("“{text}” is not a number; write it as 12.50"));
        read_digits(&plain(text.trim())).ok_or_else(why)
    };
    let (from, to) = (number(from)?, number(to)?);
    if from < to { Ok((from, to)) } else { Err(format!("{from} is not below {to}: a range runs upwards")) }
}

fn sweep(slices: &Slices, trial: Arc<Trial>, rate: Rate, values: Vec<Decimal>, swept: RwSignal<Option<Arc<Swept>>>) {
    let all = values.len();
    let (mut left, mut points) = (values.into_iter(), Vec::new());
    slices.run(move || {
        if let Some(value) = left.next() {
            points.push(trial.at(&rate, value));
            return Some(Far { done: points.len(), all, of: "points" });
        }
        let rate = trial.in_whole(&rate);
        swept.set(Some(Arc::new(Swept { rate, points: std::mem::take(&mut points) })));
        None
    });
}

fn choose(rates: Memo<Vec<Rate>>, rate: Memo<Option<Rate>>, asked: RwSignal<Asked>) -> impl IntoView {
    let options = move || {
        let one = |each: Rate| {
            let (place, own) = (each.place.to_string(), each.place);
            let chosen = move || rate.with(|rate| rate.as_ref().is_some_and(|rate| rate.place == own));
            view! { <option value=place prop:selected=chosen>{each.name}</option> }
        };
        rates.get().into_iter().map(one).collect_view()
    };
    let take = move |event| asked.set(Asked { rate: Some(event_target_value(&event)), from: None, to: None });
    view! { <label class="wide">{"Rate "}<select id="sweep-rate" on:change=take>{options}</select></label> }
}

fn end(
    id: &'static str,
    label: &'static str,
    value: impl Fn() -> Option<String> + Send + 'static,
    take: impl Fn(String) + Send + 'static,
) -> impl IntoView {
    view! {
        <label for=id>
            {label} {" "}
            <input id=id type="text" class="figure" autocomplete="off" aria-describedby="sweep-fault" prop:value=move || value().unwrap_or_default() on:input=move |event| take(event_target_value(&event)) />
        </label>
    }
}

fn told(swept: &Swept) -> AnyView {
    let curve = |name, of: fn(&crate::trial::At) -> Option<Decimal>| Curve {
        name,
        points: swept.points.iter().map(|point| (point.value, point.figures.as_ref().ok().and_then(of))).collect(),
    };
    let price = curve("price", |at| Some(at.price.amount()));
    let cost = curve("cost", |at| Some(at.cost.amount()));
    let pay = curve("pay an hour", |at| Some(at.pay?.amount()));
    let now = Some(swept.rate.value);
    let money = Plot::of(&[price, cost], now, WIDE_PLOT)
        .map(|plot| picture(&plot, "Price, drawn through, and cost, dashed, at the workshop"));
    let pay = Plot::of(&[pay], now, LOW_PLOT).map(|plot| picture(&plot, "Pay an hour"));
    let rows = swept.points.iter().map(row).collect_view();
    view! {
        <p class="note">{format!("{}, {} in the book, marked by the upright line.", swept.rate.name, swept.rate.value.normalize())}</p>
        <div class="plots">{money} {pay}</div>
        <details class="inner">
            <summary>{"The same as a table"}</summary>
            {scrolled("Price, cost and pay an hour at each value", view! {
                <table class="grid">
                    <thead>
                        <tr>
                            <th scope="col">{swept.rate.name.clone()}</th><th scope="col">{"Price"}</th><th scope="col">{"Cost"}</th>
                            <th scope="col">{"Pay an hour"}</th>
                        </tr>
                    </thead>
                    <tbody>{rows}</tbody>
                </table>
            })}
        </details>
    }
    .into_any()
}

fn row(point: &Point) -> AnyView {
    let value = point.value.to_string();
    match &point.figures {
        Ok(at) => view! {
            <tr>
                <th scope="row">{value}</th>
                <td class="figure">{at.price.to_string()}</td>
                <td class="figure">{at.cost.to_string()}</td>
                <td class="figure">{at.pay.map(|pay| pay.to_string())}</td>
            </tr>
        }
        .into_any(),
        Err(why) => {
            view! { <tr><th scope="row">{value}</th><td colspan="3" class="fault">{why.clone()}</td></tr> }.into_any()
        }
    }
}

/// A plot as SVG; the table says the same.
fn picture(plot: &Plot, name: &'static str) -> AnyView {
    let [left, top, right, bottom] = plot.frame;
    let along = plot.along.iter().map(|(x, text)| {
        let foot = bottom.saturating_add(18);
        view! { <text x=x.to_string() y=foot.to_string() text-anchor="middle">{text.clone()}</text> }
    });
    let up = plot.up.iter().map(|(y, text)| {
        let (end, base) = (left.saturating_sub(6), y.saturating_add(4));
        view! {
            <path class="rule" d=format!("M{left} {y}L{right} {y}") />
            <text x=end.to_string() y=base.to_string() text-anchor="end">{text.clone()}</text>
        }
    });
    let curves = plot.curves.iter().enumerate();
    let curves = curves.map(|(i, (_, path))| view! { <path class=format!("curve c{i}") d=path.clone() /> });
    let now = plot.now.map(|x| view! { <path class="now" d=format!("M{x} {top}L{x} {bottom}") /> });
    view! {
        <figure class="plot">
            <figcaption>{name}</figcaption>
            <svg viewBox=format!("0 0 {} {}", plot.size.0, plot.size.1) role="img" aria-label=format!("{name}; the table below says the same")>
                {along.collect_view()}
                {up.collect_view()}
                {now}
                {curves.collect_view()}
            </svg>
        </figure>
    }
    .into_any()
}
