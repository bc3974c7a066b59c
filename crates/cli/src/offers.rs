//! `scantling offers`: what buyers offer for a piece, ranked by what each offer leaves.

use std::fmt::Write;
use std::path::Path;

use scantling_pricing::offers::{Offers, Ranked, Ranking, Unranked, Unreckoned};

use crate::report::{Failure, in_brief};
use crate::{read_file, read_shop};

/// Ranks a file of offers.
pub(crate) fn offers(book_path: &Path, path: &Path, json: bool) -> Result<String, Failure> {
    let shop = read_shop(book_path)?;
    let offers = Offers::read(&read_file(path)?).map_err(|fault| Failure::in_file(path, &[fault]))?;
    let ranking = offers.rank(&shop).map_err(|fault| Failure::in_file(book_path, &[fault]))?;
    if !json {
        return Ok(text(&ranking));
    }
    let all = serde_json::json!({
        "ranked": ranking.ranked,
        "unranked": ranking.unranked.iter().map(|one| {
            serde_json::json!({ "from": one.from, "why": why(one) })
        }).collect::<Vec<_>>(),
        "highest_but_not_best": ranking.highest_but_not_best().map(|one| &one.from),
    });
    serde_json::to_string_pretty(&all).map_err(|error| Failure::Unreadable(error.to_string()))
}

fn text(ranking: &Ranking) -> String {
    let mut out = String::from("For the maker alone. Best first, by what is left over full cost:\n");
    for (place, one) in ranking.ranked.iter().enumerate() {
        let _ = write!(out, "\n{}. {}", place.saturating_add(1), reckoned(one));
    }
    for one in &ranking.unranked {
        let _ = writeln!(out, "\nNot ranked: {}: {}", one.from, why(one));
    }
    if let (Some(highest), Some(best)) = (ranking.highest_but_not_best(), ranking.ranked.first()) {
        let _ = writeln!(
            out,
            "\n{} offers most, {}, and leaves {}; {} leaves {}.",
            highest.from, highest.worth, highest.outcome.profit, best.from, best.outcome.profit
        );
    }
    out.trim_end().to_owned()
}

/// One offer, and where it goes.
fn reckoned(one: &Ranked) -> String {
    let mut out = format!("{} offers {} {}\n", one.from, one.offered, one.currency);
    let rate = one.rate_of.as_ref().map_or(String::new(), |day| format!("at the rate of {}", day.as_str()));
    let by = one.mode.map_or(String::new(), |mode| format!("by {}", mode.word()));
    let pay = one.outcome.pay_per_hour.map_or(String::new(), |pay| format!("{pay} an hour"));
    for (what, amount, aside) in [
        ("Worth", one.worth, rate),
        ("Kept back against its currency", one.kept_back, String::new()),
        ("Carriage paid besides", one.carriage_paid, String::new()),
        ("Tax in it", one.tax, String::new()),
        ("Fees", one.outcome.fees, String::new()),
        ("Carriage costs", one.carriage_cost, by),
        ("Left over full cost", one.outcome.profit, pay),
        ("Left over what is still to be spent", one.outcome.over_outlay, String::new()),
    ] {
        let always = what.starts_with("Left") || what == "Worth";
        if always || !amount.amount().is_zero() {
            let _ = writeln!(out, "{}", format!("   {what:<38} {:>16}  {aside}", amount.to_string()).trim_end());
        }
    }
    out
}

fn why(one: &Unranked) -> String {
    match &one.why {
        Unreckoned::NoRate(code) => format!("the book has no rate of {code}; add one to currencies"),
        Unreckoned::Problems(problems) => {
            let told = in_brief(problems);
            told.iter().map(|fault| format!("{}: {}", fault.path, fault.what)).collect::<Vec<_>>().join("; ")
        }
    }
}
