//! What was said beside what it took, as bars, with the same in a table under it.

use leptos::prelude::*;
use rust_decimal::{Decimal, RoundingStrategy};

use super::scrolled::scrolled;

/// A row of the picture.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Row {
    /// What it is for.
    pub(crate) what: String,
    /// What was said.
    pub(crate) said: Decimal,
    /// What it took.
    pub(crate) took: Decimal,
    /// More of it, such as board feet, for the table alone.
    pub(crate) aside: String,
}

/// What a picture is called, and what it counts.
#[derive(Debug, Clone)]
pub(crate) struct Caption {
    /// What it is called.
    pub(crate) title: String,
    /// Money or hours.
    pub(crate) unit: String,
}

/// The picture and the table.
pub(crate) fn said_and_took(caption: &Caption, rows: &[Row]) -> AnyView {
    let most = rows.iter().map(|row| row.said.max(row.took)).max().unwrap_or_default();
    let bars = rows.iter().map(|row| bars(row, most)).collect_view();
    let over = |row: &Row| signed(row.took.saturating_sub(row.said));
    let figures = rows.iter().map(|row| {
        view! {
            <tr>
                <th scope="row">{row.what.clone()}</th>
                <td class="figure">{row.said.to_string()}</td>
                <td class="figure">{row.took.to_string()}</td>
                <td class="figure">{over(row)}</td>
                <td>{row.aside.clone()}</td>
            </tr>
        }
    });
    let figures = figures.collect_view();
    let summary = format!(
        "{}: a pair of bars a line, what was said above what it took, striped where it ran over; the same figures stand in the table.",
        caption.title
    );
    let table = view! {
            <table class="grid">
                <caption>{format!("{}, in {}", caption.title, caption.unit)}</caption>
                <thead>
                    <tr>
                        <th scope="col">{"Line"}</th>
                        <th scope="col">{"Said"}</th>
                        <th scope="col">{"Took"}</th>
                        <th scope="col">{"Over"}</th>
                        <th scope="col">{"Of that"}</th>
                    </tr>
                </thead>
                <tbody>{figures}</tbody>
            </table>
    };
    view! {
        <figure class="pairs">
            <div role="img" aria-label=summary>{bars}</div>
            <figcaption class="note">{"Outlined: what was said. Filled: what it took. Striped: what ran over."}</figcaption>
        </figure>
        {scrolled(format!("{}, in figures", caption.title), table)}
    }
    .into_any()
}

/// A pair of bars: 200 wide at the most.
fn bars(row: &Row, most: Decimal) -> impl IntoView + use<> {
    let long = |much: Decimal| length(much, most);
    let within = row.took.min(row.said);
    let over = row.took.saturating_sub(row.said).max(Decimal::ZERO);
    view! {
        <div class="pair">
            <span>{row.what.clone()}</span>
            <svg viewBox="0 0 200 16" preserveAspectRatio="none" focusable="false">
                <rect class="said-bar" x="0.5" y="1" width=long(row.said) height="6" />
                <rect class="took-bar" x="0.5" y="9" width=long(within) height="6" />
                {(!over.is_zero()).then(|| view! { <line class="over-bar" x1=long(within) x2=long(within.saturating_add(over)) y1="12" y2="12" /> })}
            </svg>
        </div>
    }
}

/// How long a bar is, of 199 at the most.
fn length(much: Decimal, most: Decimal) -> String {
    let share = much.checked_div(most).unwrap_or_default().max(Decimal::ZERO);
    share
        .saturating_mul(Decimal::from(199))
        .round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero)
        .to_string()
}

/// With a plus where it is more.
pub(crate) fn signed(much: Decimal) -> String {
    if much > Decimal::ZERO { format!("+{much}") } else { much.to_string() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bars_are_as_long_as_their_share_and_never_below_nothing() {
        let length = |much: &str, most: &str| length(much.parse().unwrap(), most.parse().unwrap());
        assert_eq!(
            [length("50", "100"), length("0", "0"), length("-3", "100"), length("1", "3")],
            ["99.50", "0", "0", "66.33"]
        );
    }
}
