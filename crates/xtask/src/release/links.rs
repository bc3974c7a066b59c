//! Whether each link of the release folder's pages leads somewhere in that folder: pages, pictures, scripts, the price book of an element,
//! and the places within a page.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use anyhow::{Context, Result, bail};

/// The maker's page is a program in one file: its links are made as it runs.
const PROGRAM: &str = "shop.html";

/// Attributes that lead to a file, or to a place in one.
const LEADS: [&str; 3] = ["href", "src", "book"];

/// What a page leads to, and what can be linked to in it.
#[derive(Debug, Default, PartialEq, Eq)]
struct Found {
    leads: Vec<String>,
    places: BTreeSet<String>,
}

/// Follows every link of every page among these files of a folder; how many there are.
pub(super) fn followed(folder: &Path, files: &[String]) -> Result<usize> {
    let pages = files.iter().filter(|file| file.ends_with(".html") && *file != PROGRAM);
    let read = |file: &String| -> Result<(String, Found)> {
        let html = fs::read_to_string(folder.join(file)).with_context(|| format!("{file} can't be read"))?;
        Ok((file.clone(), found(&html)))
    };
    let pages: BTreeMap<String, Found> = pages.map(read).collect::<Result<_>>()?;
    let (mut faults, mut count) = (Vec::new(), 0);
    for (page, found) in &pages {
        for link in found.leads.iter().filter(|link| is_ours(link)) {
            count += 1;
            if let Some(fault) = wrong(page, link, &pages, files) {
                faults.push(format!("{page}: {link} {fault}"));
            }
        }
    }
    if faults.is_empty() { Ok(count) } else { bail!("links of the release folder:\n{}", faults.join("\n")) }
}

/// Whether a link leads to a file beside the page; other hosts are not asked, and mail goes nowhere here.
fn is_ours(link: &str) -> bool {
    !["https:", "http:", "mailto:", "data:"].iter().any(|start| link.starts_with(start))
}

fn wrong(page: &str, link: &str, pages: &BTreeMap<String, Found>, files: &[String]) -> Option<&'static str> {
    let (file, place) = link.split_once('#').unwrap_or((link, ""));
    let there = if file.is_empty() { page.to_owned() } else { from(page, file) };
    if files.binary_search(&there).is_err() {
        return Some("leads to no file");
    }
    let lacks = |found: &Found| !place.is_empty() && !found.places.contains(place);
    pages.get(&there).is_some_and(lacks).then_some("leads to no place there")
}

/// The way from the top to a file, as it is written on a page.
fn from(page: &str, file: &str) -> String {
    let mut way: Vec<&str> = page.split('/').collect();
    way.pop();
    for step in file.split('/') {
        match step {
            ".." => drop(way.pop()),
            "." | "" => {}
            step => way.push(step),
        }
    }
    way.join("/")
}

/// Reads the tags of a page; words that only look like attributes, as in an example of code, are none.
fn found(html: &str) -> Found {
    let mut all = Found::default();
    for tag in html.split('<').skip(1).filter_map(|part| part.split_once('>')).map(|(tag, _)| tag) {
        let mut rest = tag;
        while let Some((before, after)) = rest.split_once("=\"") {
            let Some((value, after)) = after.split_once('"') else { break };
            match before.rsplit(char::is_whitespace).next() {
                Some("id") => drop(all.places.insert(value.to_owned())),
                Some(name) if LEADS.contains(&name) => all.leads.push(value.to_owned()),
                _ => {}
            }
            rest = after;
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    const PAGE: &str = "<!doctype html>\n<h2 id=\"top\">A</h2> <a\n class=\"x\" href=\"other.html#there\">b</a> <pre>&lt;a href=\"no\"&gt;</pre>\
        <img src=\"pictures/a.svg\" alt=\"c\"><scantling-quote book=\"../price-book.json\" data-book=\"no\"></scantling-quote>";

    #[test]
    fn links_and_places_are_found_in_tags_alone() {
        let found = found(PAGE);
        assert_eq!(found.leads, ["other.html#there", "pictures/a.svg", "../price-book.json"]);
        assert_eq!(found.places, BTreeSet::from(["top".to_owned()]));
    }

    #[test]
    fn a_link_that_leads_nowhere_is_told() {
        let files = ["demo/index.html", "demo/other.html", "price-book.json"].map(String::from);
        let pages = [("demo/index.html", PAGE), ("demo/other.html", "<p id=\"there\">")]
            .map(|(name, html)| (name.to_owned(), found(html)));
        let pages = BTreeMap::from(pages);
        let wrong = |link| wrong("demo/index.html", link, &pages, &files);
        for good in ["#top", "other.html", "other.html#there", "../price-book.json", "./other.html"] {
            assert_eq!(wrong(good), None, "{good}");
        }
        for (bad, fault) in [
            ("#bottom", "leads to no place there"),
            ("other.html#top", "leads to no place there"),
            ("price-book.json", "leads to no file"),
            ("pictures/a.svg", "leads to no file"),
        ] {
            assert_eq!(wrong(bad), Some(fault), "{bad}");
        }
    }

    #[test]
    fn other_hosts_are_not_asked() {
        assert!(is_ours("a.html") && is_ours("#a"));
        for link in ["https://a.example/", "mailto:a@b.example", "data:,"] {
            assert!(!is_ours(link), "{link}");
        }
    }
}
