//! Rows as a table for the clipboard: tab-separated, as spreadsheets take them.

use super::{columns::Subject, columns::TableColumn, entry::Entry};
use crate::domain::Unit;
use crate::files::{notation::neutral_text, notation::number};

/// Most rows that are copied at a time.
pub(crate) const ROWS_MAX: usize = 10_000;

/// The headings of these columns, units included.
pub(crate) fn headings(columns: &[&TableColumn]) -> String {
    let heading = |column: &&TableColumn| match column.subject {
        Subject::Check(_) | Subject::Verdict | Subject::Text(_) => column.name.to_lowercase(),
        Subject::Number(..) if column.unit().is_empty() => column.name.to_owned(),
        Subject::Number(..) => format!("{} ({})", column.name, column.unit()),
    };
    columns.iter().map(heading).collect::<Vec<_>>().join("\t")
}

/// One row under these columns. Numbers keep all their digits; what is not known stays empty.
pub(crate) fn row(columns: &[&TableColumn], entry: &Entry) -> String {
    let cell = |column: &&TableColumn| match column.subject {
        Subject::Number(_, unit) => {
            let size = if unit == Unit::Share { 100.0 } else { 1.0 };
            number(entry.number(column).map(|value| value * size))
        }
        _ => neutral_text(&entry.words(column).unwrap_or_default()),
    };
    columns.iter().map(cell).collect::<Vec<_>>().join("\t")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::views::candidates::columns::COLUMNS;

    #[test]
    fn headings_say_the_unit_and_none_twice() {
        let all: Vec<&TableColumn> = COLUMNS.iter().collect();
        let line = headings(&all);
        let headings: Vec<&str> = line.split('\t').collect();
        assert_eq!(headings.len(), COLUMNS.len());
        assert!(headings.contains(&"height (mm)") && headings.contains(&"margin (%)"));
    }
}
