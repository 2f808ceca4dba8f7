//! Reference tables: the first line names source and status, the second the columns.

use std::collections::BTreeMap;

/// One row by column name.
pub(crate) type Row = BTreeMap<String, String>;

/// All rows of a table in this folder.
pub(crate) fn rows(table: &str) -> Vec<Row> {
    let mut lines = table.lines().filter(|line| !line.starts_with('#'));
    let columns = cells(lines.next().expect("a line of columns"));
    let rows: Vec<Row> = lines
        .map(|line| columns.iter().cloned().zip(cells(line)).collect())
        .collect();
    assert!(!rows.is_empty(), "an empty table checks nothing");
    rows
}

/// A figure; `None` where the cell is empty.
pub(crate) fn figure(row: &Row, column: &str) -> Option<f64> {
    let text = row
        .get(column)
        .unwrap_or_else(|| panic!("no column {column} in {row:?}"));
    (!text.is_empty()).then(|| text.parse().unwrap_or_else(|e| panic!("{row:?}: {e}")))
}

fn cells(line: &str) -> Vec<String> {
    let mut cells = vec![String::new()];
    let mut quoted = false;
    for c in line.chars() {
        match c {
            '"' => quoted = !quoted,
            ',' if !quoted => cells.push(String::new()),
            c => cells.last_mut().expect("one at least").push(c),
        }
    }
    cells
}
