//! The page on which all the estimator takes from a page can be tried: `public/embedding.html`, with the README's tables in it.

use std::fs;
use std::path::Path;

use anyhow::{Context, Result, bail};

use crate::papers::{escaped, readme};

/// The page, in `public` and on a host.
pub(crate) const PAGE: &str = "embedding.html";

/// What a place for a table is written like.
const PLACE: (&str, &str) = ("<!-- table: ", " -->");

/// Puts the tables into the page of this folder.
pub(crate) fn fill(folder: &Path) -> Result<()> {
    let page = folder.join(PAGE);
    let html = fs::read_to_string(&page).with_context(|| format!("{PAGE} can't be read"))?;
    Ok(fs::write(&page, filled(&html)?)?)
}

fn filled(html: &str) -> Result<String> {
    let (mut out, mut rest, mut tables) = (String::new(), html, 0);
    while let Some((before, after)) = rest.split_once(PLACE.0) {
        let (word, after) = after.split_once(PLACE.1).context("a place for a table is not closed")?;
        out.push_str(before);
        out.push_str(&table(word, &readme(word)?));
        (rest, tables) = (after, tables + 1);
    }
    if tables == 0 {
        bail!("{PAGE} has no place for a table");
    }
    out.push_str(rest);
    Ok(out)
}

/// A table of the README as HTML: each row has the name it is about, and a cell for what sets it.
fn table(word: &str, markdown: &str) -> String {
    let mut rows = markdown.lines().map(cells);
    let heads = rows.next().unwrap_or_default();
    let mut out = format!("<table class=\"try-out\" data-of=\"{}\">\n<thead><tr>", escaped(word));
    for head in heads.iter().copied().chain(["to try"]) {
        out.push_str(&format!("<th scope=\"col\">{}</th>", inline(head)));
    }
    out.push_str("</tr></thead>\n<tbody>\n");
    for row in rows.skip(1) {
        let [first, others @ ..] = row.as_slice() else { continue };
        let property = heads.iter().zip(&row).find(|(head, _)| **head == "property").map(|(_, cell)| bare(cell));
        let property = property.map_or_else(String::new, |name| format!(" data-property=\"{}\"", escaped(name)));
        out.push_str(&format!(
            "<tr data-name=\"{}\"{property}><th scope=\"row\">{}</th>",
            escaped(bare(first)),
            inline(first)
        ));
        for (head, cell) in heads.iter().skip(1).zip(others) {
            out.push_str(&format!("<td data-head=\"{}\">{}</td>", escaped(head), inline(cell)));
        }
        out.push_str("<td class=\"try\"></td></tr>\n");
    }
    out + "</tbody>\n</table>"
}

fn cells(row: &str) -> Vec<&str> {
    row.trim().trim_matches('|').split('|').map(str::trim).collect()
}

/// A name without the marks of code.
fn bare(cell: &str) -> &str {
    cell.trim_matches('`')
}

/// A cell as HTML; the tables have code in them and no other marks.
fn inline(cell: &str) -> String {
    let part = |(at, text): (usize, &str)| {
        if at % 2 == 1 { format!("<code>{}</code>", escaped(text)) } else { escaped(text) }
    };
    cell.split('`').enumerate().map(part).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shell::root;

    #[test]
    fn a_table_becomes_rows_that_can_be_tried() {
        let html =
            table("attribute", "| attribute | property | what |\n| --- | --- | --- |\n| `a-b` | `aB` | a `<p>` & so |");
        assert!(
            html.contains("<tr data-name=\"a-b\" data-property=\"aB\"><th scope=\"row\"><code>a-b</code></th>"),
            "{html}"
        );
        assert!(
            html.contains("<td data-head=\"what\">a <code>&lt;p&gt;</code> &amp; so</td><td class=\"try\"></td></tr>"),
            "{html}"
        );
        assert_eq!(html.matches("<tr").count(), 2);
    }

    #[test]
    fn the_page_has_every_table_of_the_readme() {
        let html = fs::read_to_string(root().join("public").join(PAGE)).unwrap();
        let page = filled(&html).unwrap();
        for word in ["attribute", "event", "slot", "part", "custom property"] {
            assert!(page.contains(&format!("data-of=\"{word}\"")), "{word}");
            assert!(html.contains(&format!("<!-- table: {word} -->")), "{word}");
        }
        assert!(!page.contains("<!-- table"));
    }
}
