//! One row of a catalogue, or of a list of offers, with canonical headers.

use std::path::Path;

use strum::VariantNames;

use crate::domain::schema::{self, Field};
use crate::domain::{Bounds, CAN_NUMBERS, Can, PART_TEXTS, Part, Status, TRADE_NUMBERS};
use crate::files::canonical::{List, is_column, plain_number, table};
use crate::files::notation::{bare_text, neutral_text, number};
use crate::files::{Rejected, entry};

/// What a column holds.
#[derive(Clone, Copy)]
pub(in crate::files) enum PartColumn {
    /// One of [`PART_TEXTS`].
    Text(usize),
    /// A word or a table of the part's figures.
    Word(&'static Field<Can>),
    Status,
    PriceBreaks,
    Can(usize),
    Trade(usize),
}

impl PartColumn {
    /// What a column with this header holds; `None` where it is none of a part.
    pub(in crate::files) fn of_header(header: &str) -> Option<Self> {
        let is = |name: &str| is_column(name, header);
        let text = PART_TEXTS.iter().position(|name| is(name)).map(Self::Text);
        let can = || CAN_NUMBERS.iter().position(|field| is(field.name)).map(Self::Can);
        let trade = || TRADE_NUMBERS.iter().position(|field| is(field.name)).map(Self::Trade);
        let word = || schema::of_part().find(|field| is(field.path)).map(Self::Word);
        let other = || {
            let all = [("status", Self::Status), ("price_breaks", Self::PriceBreaks)];
            all.into_iter().find(|(name, _)| is(name)).map(|(_, column)| column)
        };
        text.or_else(can).or_else(trade).or_else(word).or_else(other)
    }

    /// What is written in such a column for a part.
    pub(in crate::files) fn cell(self, part: &Part) -> String {
        match self {
            Self::Text(at) => neutral_text(part.texts()[at]),
            Self::Word(field) => entry::show(field, &part.can).unwrap_or_default(),
            Self::Status => part.status.map_or("", <&str>::from).to_owned(),
            Self::PriceBreaks => part.price_breaks.as_ref().map(ToString::to_string).unwrap_or_default(),
            Self::Can(at) => number(part.can.numbers()[at]),
            Self::Trade(at) => number(part.trade.numbers()[at]),
        }
    }
}

/// A cell that cannot be read, or one that is missing.
pub(in crate::files) struct Fault {
    field: &'static str,
    value: String,
    reason: String,
}

impl Fault {
    /// As it is listed.
    pub(in crate::files) fn rejected(self, file: &Path, line: u64) -> Rejected {
        Rejected::new(file, line, self.field, &self.value, self.reason)
    }
}

/// The part in a row; what cannot be read or is missing goes to `faults`.
pub(in crate::files) fn read_row<'a>(
    cells: impl Iterator<Item = &'a str> + Clone,
    columns: &[Option<PartColumn>],
    list: &List,
    faults: &mut Vec<Fault>,
) -> Part<&'a str> {
    let mut part = Part::<&str>::default();
    let mut can = [None; CAN_NUMBERS.len()];
    let mut trade = [None; TRADE_NUMBERS.len()];
    for (cell, column) in cells.clone().zip(columns) {
        let (cell, Some(column)) = (trimmed(cell), column) else { continue };
        if cell.is_empty() {
            continue;
        }
        let mut fault = |field, reason| faults.push(Fault { field, value: cell.to_owned(), reason });
        match *column {
            // The program itself puts an apostrophe before texts that look like a formula.
            PartColumn::Text(at) => match schema::part_text_complaint(PART_TEXTS[at], bare_text(cell)) {
                None => *part.texts_mut()[at] = bare_text(cell),
                Some(reason) => faults.push(Fault {
                    field: PART_TEXTS[at],
                    value: cell.chars().take(80).collect(),
                    reason: reason.to_owned(),
                }),
            },
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
        }
    }
    for (field, value) in part.can.numbers_mut().into_iter().zip(can) {
        *field = value;
    }
    for (field, value) in part.trade.numbers_mut().into_iter().zip(trade) {
        *field = value;
    }
    check_whole(&part, list, faults);
    if let Some(extra) = cells.skip(columns.len()).find(|cell| !cell.trim().is_empty()) {
        let reason = "the row has more cells than the header row; expected one for each column".to_owned();
        faults.push(Fault { field: "(row)", value: extra.to_owned(), reason });
    }
    part
}

/// Like `trim`, which looks for white space of any script; nearly every cell begins and ends with a plain sign.
fn trimmed(cell: &str) -> &str {
    match cell.as_bytes() {
        [first, .., last] if first.is_ascii_graphic() && last.is_ascii_graphic() => cell,
        _ => cell.trim(),
    }
}

/// Lists required fields that are empty.
fn check_whole(part: &Part<&str>, list: &List, faults: &mut Vec<Fault>) {
    let is_absent = |field: &&&str| match **field {
        "part_number" => part.part_number.is_empty(),
        "supplier" => part.supplier.is_empty(),
        "capacitance_uf" => part.can.capacitance_uf.is_none(),
        _ => part.can.rated_v.is_none(),
    };
    for &field in list.required.iter().filter(is_absent) {
        // A cell that could not be read has been listed with its own reason.
        if faults.iter().all(|fault| fault.field != field) {
            let reason = "empty; expected a value, the row cannot be used without it".to_owned();
            faults.push(Fault { field, value: String::new(), reason });
        }
    }
}
