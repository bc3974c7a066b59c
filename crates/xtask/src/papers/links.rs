//! Whether links lead somewhere: those of the papers, and those of the project's own documents. What lies on other hosts is not asked
//! for: a test must not depend on them.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use anyhow::{Context, Result, bail};

use super::page::Page;
use crate::shell::root;

/// Documents outside the papers that have links.
const DOCUMENTS: [&str; 5] =
    ["README.md", "DEVELOPERS.md", "CHANGELOG.md", "docs/gallery.md", "shared/reference/README.md"];

/// What is wrong with the links between the papers.
pub(super) fn of_papers(pages: &BTreeMap<&str, Page>) -> Vec<String> {
    let mut faults = Vec::new();
    for (name, page) in pages {
        for link in &page.links {
            let (file, anchor) = link.split_once('#').unwrap_or((link, ""));
            let there = match file.strip_suffix(".md") {
                _ if link.starts_with("https://") => continue,
                _ if file.is_empty() => Some(page),
                Some(other) => pages.get(other),
                None => None,
            };
            match there {
                None => faults.push(format!("{name}.md: the link {link} leads to no paper")),
                Some(there) if !anchor.is_empty() && !there.anchors.contains(anchor) => {
                    faults.push(format!("{name}.md: the link {link} leads to no heading there"));
                }
                Some(_) => {}
            }
        }
        for picture in page.pictures.iter().filter(|picture| !root().join("public").join(picture).is_file()) {
            faults.push(format!("{name}.md: there is no picture {picture} in public"));
        }
    }
    faults
}

/// Follows the links of the project's documents; how many there are.
pub(super) fn of_the_project() -> Result<usize> {
    let (mut faults, mut followed) = (Vec::new(), 0);
    for document in DOCUMENTS {
        let path = root().join(document);
        let page = Page::read(&fs::read_to_string(&path).with_context(|| format!("{document} can't be read"))?);
        for link in page.links.iter().chain(&page.pictures) {
            followed += 1;
            if let Some(fault) = wrong(&path, &page, link) {
                faults.push(format!("{document}: the link {link} {fault}"));
            }
        }
    }
    if !faults.is_empty() {
        bail!("{}", faults.join("\n"));
    }
    Ok(followed)
}

fn wrong(document: &Path, page: &Page, link: &str) -> Option<&'static str> {
    if link.starts_with("https://") {
        return None;
    }
    let (file, anchor) = link.split_once('#').unwrap_or((link, ""));
    if file.is_empty() {
        return (!page.anchors.contains(anchor)).then_some("leads to no heading there");
    }
    let there = document.parent()?.join(file);
    if !there.exists() {
        return Some("leads to no file");
    }
    if anchor.is_empty() {
        return None;
    }
    let other = Page::read(&fs::read_to_string(there).ok()?);
    (!other.anchors.contains(anchor)).then_some("leads to no heading there")
}
