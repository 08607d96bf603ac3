//! One row of a catalogue, or of a list of offers, with canonical headers.

use std::path::Path;

use strum::VariantNames;

use crate::domain::schema::{self, Field};
use crate::domain::{Bounds, CAN_NUMBERS, Can, Known, NumberField, PART_TEXTS, Part, Status, TRADE_NUMBERS};
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

/// What a cell says; nothing where it is empty.
pub(in crate::files) fn read_cell(column: PartColumn, cell: &str) -> Result<Option<Known<'_>>, Fault> {
    let cell = trimmed(cell);
    if cell.is_empty() {
        return Ok(None);
    }
    let fault = |field, reason| Fault { field, value: cell.to_owned(), reason };
    let number =
        |field: &NumberField| plain_number(cell, field.bounds).map_err(|reason| fault(field.name, reason.to_owned()));
    Ok(Some(match column {
        PartColumn::Text(at) => {
            // The program itself puts an apostrophe before texts that look like a formula.
            let text = bare_text(cell);
            if let Some(reason) = schema::part_text_complaint(PART_TEXTS[at], text) {
                let value = cell.chars().take(80).collect();
                return Err(Fault { field: PART_TEXTS[at], value, reason: reason.to_owned() });
            }
            Known::Text(at, text)
        }
        PartColumn::Word(field) => {
            let mut can = Can::default();
            entry::enter(field, &mut can, cell).map_err(|reason| fault(field.path, reason))?;
            return Ok(can.known_words().next());
        }
        PartColumn::Status => {
            let unknown = |_| fault("status", format!("expected {}", entry::one_of(Status::VARIANTS)));
            Known::Status(cell.parse().map_err(unknown)?)
        }
        PartColumn::PriceBreaks => {
            let breaks = table(cell, Bounds::Positive, Bounds::NotNegative);
            Known::PriceBreaks(breaks.map_err(|reason| fault("price_breaks", reason.to_owned()))?)
        }
        PartColumn::Can(at) => Known::Can(at, number(&CAN_NUMBERS[at])?),
        PartColumn::Trade(at) => Known::Trade(at, number(&TRADE_NUMBERS[at])?),
    }))
}

/// The part in a row; what cannot be read or is missing goes to `faults`.
pub(in crate::files) fn read_row<'a>(
    cells: impl Iterator<Item = &'a str> + Clone,
    columns: &[Option<PartColumn>],
    list: &List,
    faults: &mut Vec<Fault>,
) -> Part<&'a str> {
    let mut part = Part::<&str>::default();
    for (cell, column) in cells.clone().zip(columns) {
        match column.map(|column| read_cell(column, cell)) {
            Some(Ok(Some(known))) => part.learn(known),
            Some(Err(fault)) => faults.push(fault),
            _ => {}
        }
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
