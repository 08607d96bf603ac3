//! Tables the program writes, each from one description of its columns, for CSV files and workbooks alike.

use std::io;

use super::notation::{computed, neutral_text, number};

/// What a cell holds.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Cell {
    /// A text; in a CSV file none that a spreadsheet runs.
    Text(String),
    /// A number as it was given; empty when unknown.
    Number(Option<f64>),
    /// A number without the dust of the arithmetic; empty when unknown.
    Computed(Option<f64>),
}

/// A text.
pub(super) fn text(text: impl AsRef<str>) -> Cell {
    Cell::Text(text.as_ref().to_owned())
}

/// A name and what stands below it in a row.
pub(super) type Column<Row> = (&'static str, fn(&Row) -> Cell);

/// Writes a table as CSV.
///
/// # Errors
/// When `out` cannot be written.
pub(super) fn csv<Row>(
    out: impl io::Write,
    columns: &[Column<Row>],
    rows: impl IntoIterator<Item = Row>,
) -> csv::Result<()> {
    separated(csv::Writer::from_writer(out), columns, rows)
}

/// The same with a writer that separates as it likes.
pub(super) fn separated<Row>(
    mut writer: csv::Writer<impl io::Write>,
    columns: &[Column<Row>],
    rows: impl IntoIterator<Item = Row>,
) -> csv::Result<()> {
    begin(&mut writer, columns)?;
    add(&mut writer, columns, rows)?;
    Ok(writer.flush()?)
}

/// Writes the header of a table whose rows come in portions.
pub(super) fn begin<Row>(writer: &mut csv::Writer<impl io::Write>, columns: &[Column<Row>]) -> csv::Result<()> {
    writer.write_record(columns.iter().map(|(name, _)| name))
}

/// Writes some rows of a table.
pub(super) fn add<Row>(
    writer: &mut csv::Writer<impl io::Write>,
    columns: &[Column<Row>],
    rows: impl IntoIterator<Item = Row>,
) -> csv::Result<()> {
    for row in rows {
        writer.write_record(columns.iter().map(|(_, cell)| match cell(&row) {
            Cell::Text(text) => neutral_text(&text),
            Cell::Number(value) => number(value),
            Cell::Computed(value) => computed(value),
        }))?;
    }
    Ok(())
}
