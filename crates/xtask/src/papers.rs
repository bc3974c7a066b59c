//! The papers: a small static site out of `docs/papers`, whose every figure is worked out as it is built.
//!
//! A page is Markdown with places to fill, `{{...}}` (see [`figures`]). A place that can't be filled, a figure written by hand, a link that
//! leads nowhere, a scene that no paper shows and a test that is named and does not exist each stop the build, with file and line.

mod by_hand;
mod figures;
mod links;
mod page;
mod scenes;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use anyhow::{Context, Result, bail};

use crate::shell::root;
use figures::Figures;
pub(crate) use figures::readme;
use page::Page;
pub(crate) use page::escaped;

/// Where they are written by people.
const SOURCE: &str = "docs/papers";

/// The pages in the order they are read, by who reads them.
const ORDER: [(&str, &[&str]); 5] = [
    ("", &["index"]),
    ("For buyers", &["buyers"]),
    ("For makers", &["rates", "designs", "slabs", "delivery", "offers", "learning", "publishing"]),
    ("For whoever keeps the page", &["embedding", "hosts"]),
    ("For engineers", &["engineers", "threats"]),
];

/// What was filled in and followed.
#[derive(Default)]
pub(crate) struct Count {
    pages: usize,
    figures: usize,
    tests: usize,
    links: usize,
}

/// `cargo xtask papers`: writes them into `target/papers`, and says what was worked out and followed.
pub(crate) fn papers() -> Result<()> {
    let count = build(&root().join("target/papers"))?;
    let elsewhere = links::of_the_project()?;
    println!(
        "wrote target/papers: {} pages, {} figures worked out, {} tests named that are there, {} links that lead somewhere; and {elsewhere} links of the project's own documents",
        count.pages, count.figures, count.tests, count.links
    );
    Ok(())
}

/// Writes the site into a folder.
pub(crate) fn build(folder: &Path) -> Result<Count> {
    let source = root().join(SOURCE);
    let mut figures = Figures::new(scenes::read(&source.join("scenes.json"))?);
    let mut faults = Vec::new();
    let mut pages = BTreeMap::new();
    for name in ORDER.iter().flat_map(|(_, names)| names.iter().copied()) {
        let file = format!("{name}.md");
        let text = fs::read_to_string(source.join(&file)).with_context(|| format!("{SOURCE}/{file} can't be read"))?;
        match figures.fill(&text) {
            Ok(filled) => drop(pages.insert(name, Page::read(&filled))),
            Err(wrong) => faults.extend(wrong.into_iter().map(|fault| format!("{SOURCE}/{file}:{fault}"))),
        }
    }
    faults.extend(left_over(&source)?);
    faults.extend(figures.unused().into_iter().map(|fault| format!("{SOURCE}/{fault}")));
    if faults.is_empty() {
        faults = links::of_papers(&pages);
    }
    if !faults.is_empty() {
        bail!("the papers can't be built:\n{}", faults.join("\n"));
    }
    write(folder, &pages)?;
    let links = pages.values().map(|page| page.links.len()).sum();
    Ok(Count { pages: pages.len(), figures: figures.filled, tests: figures.tests, links })
}

/// Pages that stand in the folder and in no order.
fn left_over(source: &Path) -> Result<Vec<String>> {
    let known: BTreeSet<String> =
        ORDER.iter().flat_map(|(_, names)| names.iter().map(|name| format!("{name}.md"))).collect();
    let mut faults = Vec::new();
    for entry in fs::read_dir(source)? {
        let name = entry?.file_name().to_string_lossy().into_owned();
        if name.ends_with(".md") && !known.contains(&name) {
            faults.push(format!("{SOURCE}/{name}: it stands in no order; put it into ORDER in papers.rs"));
        }
    }
    Ok(faults)
}

fn write(folder: &Path, pages: &BTreeMap<&str, Page>) -> Result<()> {
    if folder.exists() {
        fs::remove_dir_all(folder).with_context(|| format!("{} can't be emptied", folder.display()))?;
    }
    fs::create_dir_all(folder.join("pictures"))?;
    for (name, page) in pages {
        fs::write(folder.join(format!("{name}.html")), page.html(&contents(name, pages)))?;
        for picture in &page.pictures {
            fs::copy(root().join("public").join(picture), folder.join(picture))
                .with_context(|| format!("{picture} is not among the project's pictures"))?;
        }
    }
    fs::copy(root().join(SOURCE).join("papers.css"), folder.join("papers.css"))?;
    Ok(())
}

/// The list of pages that stands on each, with the one that is open marked.
fn contents(open: &str, pages: &BTreeMap<&str, Page>) -> String {
    let mut out = String::new();
    for (who, names) in ORDER {
        if !who.is_empty() {
            out.push_str(&format!("<h2>{who}</h2>\n"));
        }
        out.push_str("<ul>\n");
        for name in names {
            // "Rates: from what it costs you ..." is "Rates" there.
            let title = pages.get(name).and_then(|page| page.title.split(':').next()).unwrap_or_default();
            let current = if *name == open { " aria-current=\"page\"" } else { "" };
            out.push_str(&format!("<li><a href=\"{name}.html\"{current}>{}</a></li>\n", escaped(title)));
        }
        out.push_str("</ul>\n");
    }
    out
}
