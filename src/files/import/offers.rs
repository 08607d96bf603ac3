//! A supplier's list of prices and stock becomes offers: part numbers with terms of sale, and no figures of the parts.

use std::path::Path;

use super::answer::Answer;
use super::belonging::FileSays;
use super::columns::Columns;
use super::every_row::complete;
use super::field::Field;
use super::mapping::Mapping;
use super::parts::{PartsImport, texts};
use super::report::Choice;
use super::rows::{self, REMARK, Rows, shown};
use super::settle::Trouble;
use super::shape;
use super::trade;
use crate::domain::schema::part_text_complaint;
use crate::domain::{PART_TEXTS, Part, TRADE_NUMBERS};
use crate::files::table::{Row, Table};

/// Reads a table as offers: each part has its number, its supplier and the terms of sale, nothing else.
/// `goes_on` is told now and then how many rows are read, and ends the reading by saying no: then there is no result.
pub fn offers(table: &Table, mapping: &Mapping, file: &Path, goes_on: &dyn Fn(usize) -> bool) -> Option<PartsImport> {
    let columns = Columns::of(table, mapping);
    let mut rows = Rows::new(table, mapping, &columns, file, FileSays::default());
    let mut offers = Vec::new();
    rows::each(table, mapping, goes_on, |row| {
        offers.extend(offer(&mut rows, row, file).map(|offer| (row.line as u64, offer)));
    })?;
    trade::ask_quantity(&mut rows.questions, &columns, table);
    Some(PartsImport { report: rows.finish(offers.len()), parts: offers })
}

fn offer(rows: &mut Rows, row: &Row, file: &Path) -> Option<Part> {
    let settled = rows.mapping.settled(rows.header, &row.cells);
    let (cells, line) = (settled.as_deref().unwrap_or(row.cells.as_slice()), row.line);
    if !rows.says_something(cells, line, shape::is_total(cells)) {
        return None;
    }
    let mut part = texts(rows.columns, cells);
    if part.part_number.is_empty() && part.supplier_part_number.is_empty() {
        rows.report.put_aside(line, &shown(cells), REMARK, "no part number: a total or a remark");
        return None;
    }
    let mut trouble = Trouble::default();
    trade::read(&rows.reader(), cells, &mut part, &mut trouble);
    complete(&mut part, &rows.mapping.every_row);
    trouble.drop_impossible(TRADE_NUMBERS, part.trade.numbers_mut());
    let refused = if part.part_number.is_empty() {
        Some((Field::PartNumber.label(), "only the supplier's number: nothing says of which part this is an offer"))
    } else if part.supplier.is_empty() {
        let name = file.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().into_owned());
        let answer = Answer::at(["every_row", "supplier"], name.as_str());
        let choice = Choice::new(format!("{name}, as the file is called"), answer);
        let what = "whose offers are these? No column names the supplier";
        rows.questions.ask("", what, &part.part_number, line, || vec![choice]);
        Some((Field::Supplier.label(), "open question: nothing says whose offer it is"))
    } else {
        let mut texts = PART_TEXTS.iter().zip(part.texts());
        texts.find_map(|(name, text)| Some((*name, part_text_complaint(name, text)?)))
    };
    rows.list(trouble, line, refused.is_none());
    match refused {
        Some((field, why)) => {
            rows.report.refuse(line, field, &shown(cells), why);
            None
        }
        None => Some(part),
    }
}
