//! Cells copied from a spreadsheet, pasted into a grid from the cell that has the focus on.

use leptos::ev::ClipboardEvent;
use leptos::prelude::*;
use scantling_pricing::book::document::Node;

use super::super::cell::value_of;
use super::cell_of;
use crate::desk::Desk;
use crate::form::{Field, Kind};
use crate::sheet::{Edit, Path};
use crate::tabbed;

/// Fills the rows that are found, in the order they stand there, and adds what goes beyond the last of them at the end of the table.
pub(super) fn pasted(desk: &Desk, place: &Path, columns: &[Field], found: Memo<Vec<usize>>, event: &ClipboardEvent) {
    let text = event.clipboard_data().and_then(|data| data.get_data("text/plain").ok()).unwrap_or_default();
    if !text.contains(['\t', '\n']) {
        return;
    }
    let Some((row, column)) = event.target().and_then(|target| cell_of(&target)) else { return };
    event.prevent_default();
    let rows = desk.rows_at(place);
    let (on, all) = found.with_untracked(|found| {
        let on: Vec<usize> = found.iter().copied().skip_while(|index| *index != row).collect();
        (on, found.len() == rows)
    });
    let edits = cells_of(&text, (&on, column), place, columns, rows);
    let added = edits.iter().filter(|edit| matches!(edit, Edit::Insert(..))).count();
    if desk.edited("Pasting", edits) && added > 0 && !all {
        desk.say(format!("Of what was pasted, {added} went beyond the rows that are found: added at the end."));
    }
}

/// The edits that pasting is into these rows: rows that are not there yet are added, columns beyond the last are left out.
fn cells_of(text: &str, (on, column): (&[usize], usize), place: &Path, columns: &[Field], rows: usize) -> Vec<Edit> {
    let mut edits = Vec::new();
    let indices = on.iter().copied().chain(rows..);
    for (index, line) in indices.zip(tabbed::cells(text)) {
        if index >= rows {
            edits.push(Edit::Insert(place.index(index), Node::Table(Vec::new())));
        }
        for (field, written) in columns.iter().skip(column).zip(line) {
            // A field of a grid has one line.
            let lines = written.split(['\t', '\r', '\n']).map(str::trim).filter(|line| !line.is_empty());
            let written = lines.collect::<Vec<_>>().join(" ");
            let value = if field.kind == Kind::Switch { written.to_lowercase() } else { written };
            if !value.is_empty() {
                edits.push(Edit::set(place.index(index).key(&field.key), value_of(&field.kind, &value)));
            }
        }
    }
    edits
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::Sheet;

    const ROWS: &str =
        r#"{"rows": [{"name": "a", "count": 1}, {"name": "b", "count": 2}, {"name": "c"}, {"name": "d"}]}"#;

    fn after(text: &str, (on, column): (&[usize], usize)) -> String {
        let field =
            |key: &str, kind| Field { key: key.into(), label: key.into(), hint: String::new(), kind, required: true };
        let columns = [field("name", Kind::Words), field("count", Kind::Whole), field("sold", Kind::Switch)];
        let mut sheet = Sheet::open(ROWS).unwrap();
        let before = sheet.text();
        assert!(sheet.edit("pasting", cells_of(text, (on, column), &Path::read("rows"), &columns, 4)));
        let after = sheet.text();
        sheet.undo();
        assert_eq!(sheet.text(), before);
        after
    }

    #[test]
    fn what_is_pasted_from_a_spreadsheet_fills_cells_and_adds_rows() {
        assert_eq!(
            after("7\tTRUE\tbeyond\r\neight\tfalse\r\n9\r\n", (&[2, 3], 1)),
            r#"{"rows":[{"name":"a","count":1},{"name":"b","count":2},{"name":"c","count":7,"sold":true},{"name":"d","count":"eight","sold":false},{"count":9}]}"#
        );
    }

    #[test]
    fn rows_that_are_not_found_are_passed_over() {
        assert_eq!(
            after("x\ny\nz\n", (&[0, 3], 0)),
            r#"{"rows":[{"name":"x","count":1},{"name":"b","count":2},{"name":"c"},{"name":"y"},{"name":"z"}]}"#
        );
    }

    #[test]
    fn a_cell_with_a_line_end_or_a_tab_in_it_is_one_cell() {
        assert_eq!(
            after("\"said \"\"fine\"\",\nthen\tnot\"\t3\n", (&[1, 2, 3], 0)),
            r#"{"rows":[{"name":"a","count":1},{"name":"said \"fine\", then not","count":3},{"name":"c"},{"name":"d"}]}"#
        );
    }
}
