//! `scantling learn`: what the jobs done would correct in the book, with how much evidence, and what that would do to the prices.

use std::path::Path;

use scantling_pricing::book::ShopBook;
use scantling_pricing::brief::Brief;
use scantling_pricing::learning::from_jobs;
use scantling_pricing::suggestions::{Effect, Subject, Suggestion, effects, suggestions};

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
    if !json {
        return Ok(text(&shop, &found));
    }
    let all: Vec<_> = found
        .iter()
        .map(|(suggestion, effects)| serde_json::json!({ "suggestion": suggestion, "effects": effects }))
        .collect();
    let all = serde_json::json!({ "jobs": shop.jobs.len(), "past_jobs": from_jobs(&shop.jobs), "suggestions": all });
    serde_json::to_string_pretty(&all).map_err(|error| Failure::Unreadable(error.to_string()))
}

fn text(shop: &ShopBook, found: &[(Suggestion, Vec<Effect>)]) -> String {
    let mut out = format!("For the maker alone. From {} jobs; nothing is changed by this list.\n", shop.jobs.len());
    if let Some(past) = from_jobs(&shop.jobs) {
        out.push_str(&format!(
            "Hours take {} times the estimate as a rule, and miss by {}: the ranges reckon with that already.\n",
            past.hours_take.value(),
            past.miss_by.value()
        ));
    }
    for (one, effects) in found {
        let what = match &one.subject {
            Subject::Stage(stage) => format!("Minutes of “{stage}”"),
            Subject::Timber(key) => {
                let name = shop
                    .timbers
                    .iter()
                    .find(|timber| timber.key == *key)
                    .map_or(key.as_str(), |timber| timber.name.as_str());
                format!("Yield of {name}")
            }
        };
        let jobs = if one.jobs == 1 { "1 job".to_owned() } else { format!("{} jobs", one.jobs) };
        out.push_str(&format!(
            "\n{what}: {jobs}, {} times what the book says; suggested {} (8 of 10 to come: {} to {})\n",
            one.seen, one.factor, one.next.0, one.next.1
        ));
        let moved = effects.iter().filter(|effect| effect.before != effect.after);
        for effect in moved {
            out.push_str(&format!("  {:<28} {} to {}\n", effect.design.to_string(), effect.before, effect.after));
        }
    }
    if found.is_empty() {
        out.push_str("No job names what was built; write its “brief”, the hours by stage and the board feet bought.\n");
    }
    out.trim_end().to_owned()
}
