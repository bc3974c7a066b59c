//! The lines a maker puts into a page to show the estimator, and a page with nothing else in it to try them.

/// The lines; the page to start at has them from the same file.
const LINES: &str = include_str!("../page/snippet.html");

/// The page, as it lies in the release folder.
const PAGE: &str = include_str!("../page/blank.html");

/// The lines, with the hash of the element's script as browsers compare it (<https://www.w3.org/TR/SRI/>); without it where none is known.
#[must_use]
pub fn lines(integrity: &str) -> String {
    let told = if integrity.is_empty() { String::new() } else { format!("\n        integrity=\"{integrity}\"") };
    LINES.trim_end().replace("{integrity}", &told)
}

/// A page with the lines and nothing else.
#[must_use]
pub fn page(integrity: &str) -> String {
    PAGE.replace("{snippet}", &lines(integrity))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_lines_are_those_of_the_readme_and_with_a_hash_as_the_standard_writes_it() {
        let readme = include_str!("../../../README.md");
        let in_readme: Vec<&str> = readme
            .lines()
            .skip_while(|line| line.trim() != "```html")
            .skip(1)
            .take_while(|line| line.trim() != "```")
            .collect();
        let own = lines("");
        let own: Vec<String> = own.lines().map(|line| format!("   {line}")).collect();
        assert_eq!(own, in_readme);
        // A script element with its attribute as in section 3.4 of the standard, over two lines.
        let hashed = lines("sha384-H8BRh8j48O9oYatfu5AZzq6A9RINhZO5H16dQZngK7T62em8MUt1FLm52t+eX6xO");
        let script = "<script type=\"module\" src=\"scantling/scantling-quote.js\"\n        integrity=\"sha384-H8BRh8j48O9oYatfu5AZzq6A9RINhZO5H16dQZngK7T62em8MUt1FLm52t+eX6xO\"></script>\n";
        assert!(hashed.starts_with(script), "{hashed}");
    }

    #[test]
    fn the_page_to_try_them_holds_the_lines_and_no_place_that_nothing_fills() {
        for integrity in ["", "sha384-x"] {
            let page = page(integrity);
            assert!(
                page.starts_with("<!doctype html>") && page.contains(&lines(integrity)) && !page.contains('{'),
                "{page}"
            );
        }
    }
}
