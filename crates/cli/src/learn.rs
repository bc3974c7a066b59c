//! `scantling learn`: what the jobs done would correct in the book, with how much evidence, and what that would do to the prices.

use std::path::Path;

use scantling_pricing::book::ShopBook;
use scantling_pricing::brief::Brief;
use scantling_pricing::suggestions::{Effect, LearnedRange, Subject, Suggestion, effects, learned_range, suggestions};

use crate::read_shop;
use crate::report::Failure;

/// Everything the jobs of a book suggest, and what each makes of every design at its defaults.
pub(crate) fn learn(path: &Path, json: bool) -> Result<String, Failure> {
    let shop = read_shop(path)?;
    let faulty = |fault| Failure::in_file(path, &[fault]);
    let basket: Vec<Brief> = shop.designs.iter().map(|design| Brief::new(design.key.clone())).collect();
    let found = suggestions(&shop).map_err(faulty)?;
    let effects = effects(&found, &shop, &basket).map_err(faulty)?;
    let found: Vec<(Suggestion, Vec<Effect>)> = found.into_iter().zip(effects).collect();
    let range = learned_range(&shop, &basket).map_err(faulty)?;
    if !json {
        return Ok(text(&shop, range.as_ref(), &found));
    }
    let all: Vec<_> = found
        .iter()
        .map(|(suggestion, effects)| {
            let left = suggestion.is_left(&shop.refused);
            serde_json::json!({ "suggestion": suggestion, "left": left, "effects": effects })
        })
        .collect();
    let past_jobs = range.as_ref().map(|range| &range.past_jobs);
    let ranges = range.as_ref().map(|range| &range.pieces);
    let all =
        serde_json::json!({ "jobs": shop.jobs.len(), "past_jobs": past_jobs, "ranges": ranges, "suggestions": all });
    serde_json::to_string_pretty(&all).map_err(|error| Failure::Unreadable(error.to_string()))
}

fn text(shop: &ShopBook, range: Option<&LearnedRange>, found: &[(Suggestion, Vec<Effect>)]) -> String {
    let mut out = format!("For the maker alone. From {} jobs; nothing is changed by this list.\n", shop.jobs.len());
    if let Some(range) = range {
        out.push_str(&format!(
            "Hours take {} times the estimate as a rule, and miss by {}: the ranges reckon with that already.\n",
            range.past_jobs.hours_take.value(),
            range.past_jobs.miss_by.value()
        ));
        for piece in &range.pieces {
            let (with, without) = (&piece.with, &piece.without);
            let design = piece.design.to_string();
            out.push_str(&format!(
                "  {design:<28} from {} to {}; without the jobs from {} to {}\n",
                with.low, with.high, without.low, without.high
            ));
        }
    }
    let (left, open): (Vec<_>, Vec<_>) = found.iter().partition(|(one, _)| one.is_left(&shop.refused));
    for (one, effects) in open {
        out.push_str(&format!(
            "\n{}: {}, {} times what the book says; suggested {} (8 of 10 to come: {} to {})\n",
            named(shop, &one.subject),
            jobs(one.jobs),
            one.seen,
            one.factor,
            one.next.0,
            one.next.1
        ));
        let moved = effects.iter().filter(|effect| effect.before != effect.after);
        for effect in moved {
            out.push_str(&format!("  {:<28} {} to {}\n", effect.design.to_string(), effect.before, effect.after));
        }
    }
    for (one, _) in left {
        out.push_str(&format!(
            "\n{}: left as it is at {}, which suggest {}; the next job that speaks of it brings it back\n",
            named(shop, &one.subject),
            jobs(one.jobs),
            one.factor
        ));
    }
    if found.is_empty() {
        out.push_str("No job names what was built; write its “brief”, the hours by stage and the board feet bought.\n");
    }
    out.trim_end().to_owned()
}

/// What is learned about, by the name the maker gave it.
fn named(shop: &ShopBook, subject: &Subject) -> String {
    match subject {
        Subject::Stage(stage) => format!("Minutes of “{stage}”"),
        Subject::Timber(key) => {
            let timber = shop.timbers.iter().find(|timber| timber.key == *key);
            format!("Yield of {}", timber.map_or(key.as_str(), |timber| timber.name.as_str()))
        }
    }
}

fn jobs(count: usize) -> String {
    if count == 1 { "1 job".to_owned() } else { format!("{count} jobs") }
}
