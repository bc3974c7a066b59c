//! The places of a paper that are filled as it is built, and the rule that no figure is written by hand.
//!
//! | place | what comes there |
//! | --- | --- |
//! | `scene:/way/in/the/json` | what the command prints of that scene; `[name=Milling]` picks a row of a list |
//! | `scene.book:/way`, `scene.brief:/way` | what the book or the brief of that scene says; `[8/4]` is a key with a slash in it |
//! | `money V`, `percent V`, `round N V`, `day V` | the same as an amount, a share in per cent, rounded, a date |
//! | `plus V V`, `minus V V`, `times V V`, `over V V` | reckoned in exact decimals |
//! | `same V V`, `near V V` | the first, which must be the second, or within a cent of it: what the engine says, against a sum |
//! | `files FOLDER ENDING` | how many files of that ending a folder holds |
//! | `count V` | how many rows a list has |
//! | `asked SCENE WORD` | what stands after that word in the scene's command: `asked budget --budget` |
//! | `const FILE NAME`, `first-in FILE` | a constant of the code, the first number in a file |
//! | `said SCENE [: first words]` | what the command prints for people, or one paragraph of it |
//! | `command SCENE` | the command itself |
//! | `readme WORD` | the README's table whose first column is that word |
//! | `test FILE NAME` | a test, which must be there |
//! | `cited WORDS` | a name or a source that has figures in it, and is none of ours to work out |

use std::fs;

use anyhow::{Context, Result, bail};
use rust_decimal::{Decimal, RoundingStrategy};
use serde_json::Value;

use super::by_hand::by_hand;
use super::scenes::Scenes;
use crate::shell::root;

/// What fills them, and how many there were.
#[derive(Debug)]
pub(super) struct Figures {
    scenes: Scenes,
    pub(super) filled: usize,
    pub(super) tests: usize,
}

impl Figures {
    pub(super) fn new(scenes: Scenes) -> Self {
        Self { scenes, filled: 0, tests: 0 }
    }

    /// A paper with all its places filled.
    ///
    /// # Errors
    /// Every place that can't be, and every figure written by hand, each after its line's number.
    pub(super) fn fill(&mut self, text: &str) -> Result<String, Vec<String>> {
        let (mut out, mut faults) = (String::new(), Vec::new());
        for (number, line) in text.lines().enumerate().map(|(at, line)| (at + 1, line)) {
            if let Some(figure) = by_hand(line) {
                faults.push(format!("{number}: “{figure}” is written by hand; work it out, or say {{{{cited ...}}}}"));
            }
            match self.line(line) {
                Ok(filled) => out.push_str(&filled),
                Err(error) => faults.push(format!("{number}: {error:#}")),
            }
            out.push('\n');
        }
        if faults.is_empty() { Ok(out) } else { Err(faults) }
    }

    /// A scene that no paper shows is one that nobody keeps true.
    pub(super) fn unused(&self) -> Vec<String> {
        self.scenes.unused().map(|name| format!("scenes.json: the scene “{name}” is used nowhere")).collect()
    }

    fn line(&mut self, line: &str) -> Result<String> {
        let (mut out, mut rest) = (String::new(), line);
        while let Some((before, after)) = rest.split_once("{{") {
            let (place, after) = after.split_once("}}").context("a place is opened by {{ and not closed")?;
            out.push_str(before);
            out.push_str(&self.place(place.trim()).with_context(|| format!("{{{{{place}}}}}"))?);
            rest = after;
        }
        out.push_str(rest);
        Ok(out)
    }

    fn place(&mut self, place: &str) -> Result<String> {
        self.filled += 1;
        let (word, rest) = place.split_once(' ').unwrap_or((place, ""));
        match word {
            "cited" => Ok(rest.to_owned()),
            "test" => self.test(rest),
            "readme" => readme(rest),
            "said" => {
                let (scene, first) = rest.split_once(" : ").unwrap_or((rest, ""));
                let text = self.scenes.text(scene)?;
                let part = text.split("\n\n").find(|part| part.starts_with(first)).map(str::to_owned);
                let part = if first.is_empty() { Some(text) } else { part };
                let part = part.with_context(|| format!("no paragraph begins with “{first}”"))?;
                Ok(format!("```text\n{}\n```", part.trim_end()))
            }
            "command" => Ok(format!("```sh\n{}\n```", self.scenes.command(rest)?)),
            _ => {
                let words = words(place);
                let mut rest = words.as_slice();
                let value = self.value(&mut rest)?;
                if !rest.is_empty() {
                    bail!("“{}” is left over", rest.join(" "));
                }
                Ok(value)
            }
        }
    }

    /// A value written in front of what it is made of, as in `minus a b`.
    fn value(&mut self, rest: &mut &[String]) -> Result<String> {
        let [word, after @ ..] = *rest else { bail!("something is missing at its end") };
        *rest = after;
        Ok(match word.as_str() {
            "money" => {
                let amount = self.number(rest)?.round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero);
                format!("{amount:.2} USD")
            }
            "percent" => format!("{} %", (self.number(rest)? * Decimal::ONE_HUNDRED).normalize()),
            "round" => {
                let places = self.number(rest)?.try_into()?;
                self.number(rest)?.round_dp_with_strategy(places, RoundingStrategy::MidpointAwayFromZero).to_string()
            }
            "plus" => (self.number(rest)? + self.number(rest)?).to_string(),
            "minus" => (self.number(rest)? - self.number(rest)?).to_string(),
            "times" => (self.number(rest)? * self.number(rest)?).normalize().to_string(),
            "over" => {
                let (above, below) = (self.number(rest)?, self.number(rest)?);
                above.checked_div(below).context("it is divided by nothing")?.normalize().to_string()
            }
            "same" => {
                let (one, other) = (self.number(rest)?, self.number(rest)?);
                if one != other {
                    bail!("the two are not the same: {one} and {other}");
                }
                one.to_string()
            }
            "near" => {
                let (one, other) = (self.number(rest)?, self.number(rest)?);
                if (one - other).abs() > Decimal::new(1, 2) {
                    bail!("the two are more than a cent apart: {one} and {other}");
                }
                one.to_string()
            }
            "day" => day(&self.value(rest)?)?,
            "count" => {
                let [place, after @ ..] = *rest else { bail!("count needs a list") };
                *rest = after;
                self.found(place)?.as_array().context("that is no list")?.len().to_string()
            }
            "asked" => {
                let [scene, option, after @ ..] = *rest else { bail!("asked needs a scene and a word of its command") };
                *rest = after;
                self.scenes.asked(scene, option)?
            }
            "files" => {
                let [folder, ending, after @ ..] = *rest else { bail!("files needs a folder and an ending") };
                *rest = after;
                let all = fs::read_dir(root().join(folder)).with_context(|| format!("{folder} can't be read"))?;
                let of = |name: std::ffi::OsString| name.to_string_lossy().ends_with(ending.as_str());
                all.flatten().filter(|entry| of(entry.file_name())).count().to_string()
            }
            "const" => {
                let [file, name, after @ ..] = *rest else { bail!("const needs a file and a name") };
                *rest = after;
                constant(file, name)?
            }
            "first-in" => {
                let [file, after @ ..] = *rest else { bail!("first-in needs a file") };
                *rest = after;
                let text = fs::read_to_string(root().join(file)).with_context(|| format!("{file} can't be read"))?;
                let number = text.split_whitespace().find(|word| word.parse::<Decimal>().is_ok());
                number.with_context(|| format!("{file} has no number in it"))?.to_owned()
            }
            word if word.contains(":/") => shown(self.found(word)?)?,
            // A factor in a sum, such as the hundred of a hundredweight; alone in a place it would be a figure written by hand.
            word if word.parse::<Decimal>().is_ok() => word.to_owned(),
            _ => bail!("“{word}” is none of the words in figures.rs"),
        })
    }

    fn number(&mut self, rest: &mut &[String]) -> Result<Decimal> {
        let value = self.value(rest)?;
        let digits: String = value.chars().filter(|letter| *letter != '_').collect();
        digits.parse().with_context(|| format!("“{value}” is no number"))
    }

    /// What stands at a place such as `table:/estimate/lines/[kind=timber]/amount`.
    fn found(&mut self, place: &str) -> Result<&Value> {
        let (scene, way) = place.split_once(":/").context("it is no place in a scene")?;
        let mut at = self.scenes.json(scene)?;
        for step in steps(way) {
            at = match step.strip_prefix('[').and_then(|step| step.strip_suffix(']')) {
                Some(key) if !key.contains('=') => at.get(key),
                Some(row) => {
                    let (key, value) = row.split_once('=').context("a row is picked as [key=value]")?;
                    let rows = at.as_array().with_context(|| format!("before [{row}] there is no list"))?;
                    rows.iter().find(|row| row.get(key).is_some_and(|found| shown(found).is_ok_and(|it| it == value)))
                }
                None => at.get(&step).or_else(|| at.get(step.parse::<usize>().ok()?)),
            }
            .with_context(|| format!("there is no {step} on the way to {place}"))?;
        }
        Ok(at)
    }

    fn test(&mut self, named: &str) -> Result<String> {
        let (file, name) = named.split_once(' ').context("test needs a file and a name")?;
        let code = fs::read_to_string(root().join(file)).with_context(|| format!("{file} can't be read"))?;
        if !code.contains(&format!("fn {name}(")) {
            bail!("{file} has no test {name}");
        }
        self.tests += 1;
        Ok(format!("`{name}`"))
    }
}

/// The steps of a way; a slash inside brackets parts nothing.
fn steps(way: &str) -> Vec<String> {
    parted(way, '/')
}

/// The words of a place; a space inside brackets parts nothing.
fn words(place: &str) -> Vec<String> {
    parted(place, ' ').into_iter().filter(|word| !word.is_empty()).collect()
}

fn parted(text: &str, by: char) -> Vec<String> {
    let (mut all, mut inside) = (vec![String::new()], false);
    for letter in text.chars() {
        inside = (inside || letter == '[') && letter != ']';
        if letter == by && !inside {
            all.push(String::new());
        } else if let Some(last) = all.last_mut() {
            last.push(letter);
        }
    }
    all
}

fn shown(value: &Value) -> Result<String> {
    match value {
        Value::String(text) => Ok(text.clone()),
        Value::Number(number) => Ok(number.to_string()),
        _ => bail!("what stands there is a table, a list or nothing, and can't be shown"),
    }
}

/// A constant as the code says it, without underscores in its digits and with the lines of a text joined.
fn constant(file: &str, name: &str) -> Result<String> {
    let code = fs::read_to_string(root().join(file)).with_context(|| format!("{file} can't be read"))?;
    let after =
        code.split(&format!("const {name}: ")).nth(1).with_context(|| format!("{file} has no constant {name}"))?;
    let (_, value) = after.split_once(" = ").context("a constant has a value")?;
    let (value, _) = if value.starts_with('"') {
        value.split_once("\";").context("a text has an end")?
    } else {
        value.split_once(';').context("a constant has an end")?
    };
    let joined: String = value.trim_matches('"').split("\\\n").map(|line| line.trim_start()).collect();
    if let Some((one, other)) =
        joined.split_once(" * ").filter(|_| joined.chars().all(|it| "0123456789_ *".contains(it)))
    {
        let of = |text: &str| {
            text.replace('_', "").split(" * ").map(|it| it.trim().parse::<u64>().unwrap_or(0)).product::<u64>()
        };
        return Ok((of(one) * of(other)).to_string());
    }
    if joined.starts_with(|letter: char| letter.is_ascii_digit()) { Ok(joined.replace('_', "")) } else { Ok(joined) }
}

/// `2026-11-25` as people write it.
fn day(iso: &str) -> Result<String> {
    const MONTHS: [&str; 12] = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ];
    let mut parts = iso.split('-').map(str::parse::<usize>);
    let (Some(Ok(year)), Some(Ok(month)), Some(Ok(day))) = (parts.next(), parts.next(), parts.next()) else {
        bail!("“{iso}” is no day")
    };
    let month = month.checked_sub(1).and_then(|month| MONTHS.get(month)).context("there is no such month")?;
    Ok(format!("{day} {month} {year}"))
}

/// The table of the README whose first column has this head.
pub(crate) fn readme(word: &str) -> Result<String> {
    let readme = fs::read_to_string(root().join("README.md")).context("README.md can't be read")?;
    let head = format!("| {word}");
    let rows = readme.lines().skip_while(|line| !line.starts_with(&head)).take_while(|line| line.starts_with('|'));
    let rows: Vec<&str> = rows.collect();
    if rows.len() < 3 {
        bail!("the README has no table of each {word}");
    }
    Ok(rows.join("\n"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ways_and_words_part_outside_brackets_only() {
        assert_eq!(steps("lines/[name=4/4 oak]/amount"), ["lines", "[name=4/4 oak]", "amount"]);
        assert_eq!(words("minus  a:/[name=Hall bench] b:/c"), ["minus", "a:/[name=Hall bench]", "b:/c"]);
    }

    #[test]
    fn a_day_is_written_out() {
        assert_eq!(day("2026-11-05").unwrap(), "5 November 2026");
        assert!(day("2026-13-05").is_err());
        assert!(day("soon").is_err());
    }
}
