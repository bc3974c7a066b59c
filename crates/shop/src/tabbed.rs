//! Cells as spreadsheets copy them: a tab between two, a line end after each row, quotation marks around one that holds either.
//!
//! Source of the marks: RFC 4180, "Common Format and MIME Type for Comma-Separated Values (CSV) Files", October 2005, section 2, rules 5 to 7,
//! with a tab in place of its comma.

/// The rows of a text and the cells of each. Marks that do not close just before the next cell are part of what is written: `5" or 6"`.
#[must_use]
pub fn cells(text: &str) -> Vec<Vec<String>> {
    let mut rows = Vec::new();
    let mut row = Vec::new();
    let mut rest = text.trim_end_matches(['\r', '\n']);
    if rest.is_empty() {
        return rows;
    }
    loop {
        let (cell, after) = marked(rest).unwrap_or_else(|| plain(rest));
        row.push(cell);
        if let Some(next) = after.strip_prefix('\t') {
            rest = next;
        } else {
            rows.push(std::mem::take(&mut row));
            match line_end(after) {
                Some(next) => rest = next,
                None => return rows,
            }
        }
    }
}

/// A cell in quotation marks, each mark within it written twice, and what comes after it.
fn marked(text: &str) -> Option<(String, &str)> {
    let mut cell = String::new();
    let mut rest = text.strip_prefix('"')?;
    loop {
        let (inside, after) = rest.split_once('"')?;
        cell.push_str(inside);
        if let Some(more) = after.strip_prefix('"') {
            cell.push('"');
            rest = more;
        } else {
            let ends = after.is_empty() || after.starts_with('\t') || line_end(after).is_some();
            return ends.then_some((cell, after));
        }
    }
}

/// A cell as it stands, and what comes after it.
fn plain(text: &str) -> (String, &str) {
    let (cell, after) = text.split_at(text.find(['\t', '\n']).unwrap_or(text.len()));
    // The line end may be of two letters.
    match cell.strip_suffix('\r').filter(|_| after.starts_with('\n')) {
        Some(cell) => (cell.to_owned(), after),
        None => (cell.to_owned(), after),
    }
}

/// What comes after the line end that a text starts with.
fn line_end(text: &str) -> Option<&str> {
    text.strip_prefix("\r\n").or_else(|| text.strip_prefix('\n'))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_are_told_apart_as_the_rules_say() {
        // Source: RFC 4180, section 2; the examples of its rules 1, 2, 5, 6 and 7, in that order, their commas and CRLFs as tabs and line ends here.
        let of_the_rules: [(&str, &[&[&str]]); 6] = [
            ("aaa\tbbb\tccc\r\nzzz\tyyy\txxx\r\n", &[&["aaa", "bbb", "ccc"], &["zzz", "yyy", "xxx"]]),
            ("aaa\tbbb\tccc\r\nzzz\tyyy\txxx", &[&["aaa", "bbb", "ccc"], &["zzz", "yyy", "xxx"]]),
            ("\"aaa\"\t\"bbb\"\t\"ccc\"\r\nzzz\tyyy\txxx", &[&["aaa", "bbb", "ccc"], &["zzz", "yyy", "xxx"]]),
            ("\"aaa\"\t\"b\r\nbb\"\t\"ccc\"\r\nzzz\tyyy\txxx", &[&["aaa", "b\r\nbb", "ccc"], &["zzz", "yyy", "xxx"]]),
            ("\"aaa\"\t\"b\tbb\"\t\"ccc\"", &[&["aaa", "b\tbb", "ccc"]]),
            ("\"aaa\"\t\"b\"\"bb\"\t\"ccc\"", &[&["aaa", "b\"bb", "ccc"]]),
        ];
        for (text, expected) in of_the_rules {
            assert_eq!(cells(text), expected, "{text:?}");
        }
    }

    #[test]
    fn marks_that_enclose_no_cell_are_written_as_they_stand() {
        let cases: [(&str, &[&[&str]]); 6] = [
            ("2\"\t\"wide\" board\tx", &[&["2\"", "\"wide\" board", "x"]]),
            ("\"open\tand\nnever closed", &[&["\"open", "and"], &["never closed"]]),
            ("\t\na\t", &[&["", ""], &["a", ""]]),
            ("a\n\nb\n", &[&["a"], &[""], &["b"]]),
            ("\"\"\t\"\"\"\"", &[&["", "\""]]),
            ("\r\n", &[]),
        ];
        for (text, expected) in cases {
            assert_eq!(cells(text), expected, "{text:?}");
        }
    }
}
