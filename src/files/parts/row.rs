//! One row of a catalogue with canonical headers.

use csv::StringRecord;
use strum::VariantNames;

use crate::domain::schema::{self, Field};
use crate::domain::{Bounds, CAN_NUMBERS, Can, Part, Status, TRADE_NUMBERS};
use crate::files::canonical::{plain_number, table};
use crate::files::entry;
use crate::files::notation::bare_text;

/// What a part cannot do without.
pub(super) const REQUIRED: [&str; 3] = ["part_number", "capacitance_uf", "rated_v"];

/// Where the text of a column goes.
type TextField = for<'p, 't> fn(&'p mut Part<&'t str>) -> &'p mut &'t str;

const TEXT_COLUMNS: [(&str, TextField); 8] = [
    ("part_number", |part| &mut part.part_number),
    ("maker", |part| &mut part.maker),
    ("series", |part| &mut part.series),
    ("supplier", |part| &mut part.supplier),
    ("supplier_part_number", |part| &mut part.supplier_part_number),
    ("datasheet", |part| &mut part.datasheet),
    ("currency", |part| &mut part.currency),
    ("read_from", |part| &mut part.read_from),
];

/// What a column holds.
#[derive(Clone, Copy)]
pub(super) enum PartColumn {
    Text(TextField),
    /// A word or a table of the part's figures.
    Word(&'static Field<Can>),
    Status,
    PriceBreaks,
    Can(usize),
    Trade(usize),
    Unused,
}

impl PartColumn {
    /// What a column with this header holds.
    pub(super) fn of_header(header: &str) -> Self {
        let header = header.trim();
        let is = |name: &str| name.eq_ignore_ascii_case(header);
        let text = TEXT_COLUMNS.iter().find(|(name, _)| is(name)).map(|&(_, field)| Self::Text(field));
        let can = || CAN_NUMBERS.iter().position(|field| is(field.name)).map(Self::Can);
        let trade = || TRADE_NUMBERS.iter().position(|field| is(field.name)).map(Self::Trade);
        let word = || schema::of_part().find(|field| is(field.path)).map(Self::Word);
        let other = || match header.to_ascii_lowercase().as_str() {
            "status" => Self::Status,
            "price_breaks" => Self::PriceBreaks,
            _ => Self::Unused,
        };
        text.or_else(can).or_else(trade).or_else(word).unwrap_or_else(other)
    }
}

/// A cell that cannot be read, or one that is missing.
pub(super) struct Fault {
    pub(super) field: &'static str,
    pub(super) value: String,
    pub(super) reason: String,
}

/// The part in a row; what cannot be read or is missing goes to `faults`.
pub(super) fn read_row<'a>(record: &'a StringRecord, columns: &[PartColumn], faults: &mut Vec<Fault>) -> Part<&'a str> {
    let mut part = Part::<&str>::default();
    let mut can = [None; CAN_NUMBERS.len()];
    let mut trade = [None; TRADE_NUMBERS.len()];
    for (cell, column) in record.iter().zip(columns) {
        let cell = trimmed(cell);
        if cell.is_empty() {
            continue;
        }
        let mut fault = |field, reason| faults.push(Fault { field, value: cell.to_owned(), reason });
        match *column {
            // The program itself puts an apostrophe before texts that look like a formula.
            PartColumn::Text(field) => *field(&mut part) = bare_text(cell),
            PartColumn::Word(field) => {
                if let Err(reason) = entry::enter(field, &mut part.can, cell) {
                    fault(field.path, reason);
                }
            }
            PartColumn::Status => match cell.parse() {
                Ok(known) => part.status = Some(known),
                Err(_) => fault("status", format!("expected {}", entry::one_of(Status::VARIANTS))),
            },
            PartColumn::PriceBreaks => match table(cell, Bounds::Positive, Bounds::NotNegative) {
                Ok(breaks) => part.price_breaks = Some(breaks),
                Err(reason) => fault("price_breaks", reason.to_owned()),
            },
            PartColumn::Can(at) => match plain_number(cell, CAN_NUMBERS[at].bounds) {
                Ok(value) => can[at] = Some(value),
                Err(reason) => fault(CAN_NUMBERS[at].name, reason.to_owned()),
            },
            PartColumn::Trade(at) => match plain_number(cell, TRADE_NUMBERS[at].bounds) {
                Ok(value) => trade[at] = Some(value),
                Err(reason) => fault(TRADE_NUMBERS[at].name, reason.to_owned()),
            },
            PartColumn::Unused => {}
        }
    }
    for (field, value) in part.can.numbers_mut().into_iter().zip(can) {
        *field = value;
    }
    for (field, value) in part.trade.numbers_mut().into_iter().zip(trade) {
        *field = value;
    }
    check_whole(&part, record, columns.len(), faults);
    part
}

/// Like `trim`, which looks for white space of any script; nearly every cell begins and ends with a plain sign.
fn trimmed(cell: &str) -> &str {
    match cell.as_bytes() {
        [first, .., last] if first.is_ascii_graphic() && last.is_ascii_graphic() => cell,
        _ => cell.trim(),
    }
}

/// Lists required fields that are empty and cells beyond the last column.
fn check_whole(part: &Part<&str>, record: &StringRecord, columns: usize, faults: &mut Vec<Fault>) {
    let absent = [part.part_number.is_empty(), part.can.capacitance_uf.is_none(), part.can.rated_v.is_none()];
    for (field, _) in REQUIRED.into_iter().zip(absent).filter(|&(_, absent)| absent) {
        // A cell that could not be read has been listed with its own reason.
        if faults.iter().all(|fault| fault.field != field) {
            let reason = "empty; expected a value, the row cannot be used without it".to_owned();
            faults.push(Fault { field, value: String::new(), reason });
        }
    }
    if let Some(extra) = record.iter().skip(columns).find(|cell| !cell.trim().is_empty()) {
        let reason = "the row has more cells than the header row; expected one for each column".to_owned();
        faults.push(Fault { field: "(row)", value: extra.to_owned(), reason });
    }
}
