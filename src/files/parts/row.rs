//! One row of a catalogue with canonical headers.

use csv::StringRecord;

use super::REQUIRED;
use crate::domain::{
    Bounds, CAN_NUMBERS, EnduranceBasis, LifeBasis, Mounting, Part, Status, TRADE_NUMBERS, Technology,
};
use crate::files::canonical::{plain_number, table};
use crate::files::notation::bare_text;

/// Where the text of a column goes.
type TextField = for<'p, 't> fn(&'p mut Part<&'t str>) -> &'p mut &'t str;

const TEXT_COLUMNS: [(&str, TextField); 7] = [
    ("part_number", |part| &mut part.part_number),
    ("maker", |part| &mut part.maker),
    ("series", |part| &mut part.series),
    ("supplier", |part| &mut part.supplier),
    ("supplier_part_number", |part| &mut part.supplier_part_number),
    ("datasheet", |part| &mut part.datasheet),
    ("currency", |part| &mut part.currency),
];

/// What a column holds.
#[derive(Debug, Clone, Copy)]
pub(super) enum PartColumn {
    Text(TextField),
    Technology,
    Mounting,
    EnduranceBasis,
    LifeBasis,
    Status,
    FreqFactors,
    TempFactors,
    PriceBreaks,
    Can(usize),
    Trade(usize),
    Unused,
}

impl PartColumn {
    /// What a column with this header holds.
    pub(super) fn of_header(header: &str) -> Self {
        let header = header.trim();
        let is = |name: &&str| name.eq_ignore_ascii_case(header);
        let other = || match header.to_ascii_lowercase().as_str() {
            "technology" => Self::Technology,
            "mounting" => Self::Mounting,
            "endurance_basis" => Self::EnduranceBasis,
            "life_basis" => Self::LifeBasis,
            "status" => Self::Status,
            "ripple_freq_factors" => Self::FreqFactors,
            "ripple_temp_factors" => Self::TempFactors,
            "price_breaks" => Self::PriceBreaks,
            _ => Self::Unused,
        };
        let text = TEXT_COLUMNS.iter().find(|(name, _)| is(name)).map(|&(_, field)| Self::Text(field));
        let can = || CAN_NUMBERS.iter().position(|field| is(&field.name)).map(Self::Can);
        let trade = || TRADE_NUMBERS.iter().position(|field| is(&field.name)).map(Self::Trade);
        text.or_else(can).or_else(trade).unwrap_or_else(other)
    }
}

/// A cell that cannot be read, or one that is missing.
pub(super) struct Fault {
    pub(super) field: &'static str,
    pub(super) value: String,
    pub(super) reason: &'static str,
}

/// The part in a row; what cannot be read or is missing goes to `faults`.
pub(super) fn read_row<'a>(record: &'a StringRecord, columns: &[PartColumn], faults: &mut Vec<Fault>) -> Part<&'a str> {
    let mut part = Part::<&str>::default();
    let mut can = [None; CAN_NUMBERS.len()];
    let mut trade = [None; TRADE_NUMBERS.len()];
    for (cell, column) in record.iter().zip(columns) {
        let cell = cell.trim();
        if cell.is_empty() {
            continue;
        }
        let mut fault = |field, reason| faults.push(Fault { field, value: cell.to_owned(), reason });
        match *column {
            // The program itself puts an apostrophe before texts that look like a formula.
            PartColumn::Text(field) => *field(&mut part) = bare_text(cell),
            PartColumn::Technology => match word(cell, &Technology::NAMES) {
                Some(known) => part.can.technology = Some(known),
                None => fault("technology", "expected wet, hybrid, polymer or nonpolar"),
            },
            PartColumn::Mounting => match word(cell, &Mounting::NAMES) {
                Some(known) => part.can.mounting = Some(known),
                None => fault("mounting", "expected radial, snap_in, screw, axial or smd"),
            },
            PartColumn::EnduranceBasis => match word(cell, &EnduranceBasis::NAMES) {
                Some(known) => part.can.endurance_basis = Some(known),
                None => fault("endurance_basis", "expected ripple or voltage"),
            },
            PartColumn::LifeBasis => match word(cell, &LifeBasis::NAMES) {
                Some(known) => part.can.life_basis = Some(known),
                None => fault("life_basis", "expected endurance or useful"),
            },
            PartColumn::Status => match word(cell, &Status::NAMES) {
                Some(known) => part.status = Some(known),
                None => fault("status", "expected active, nrnd or obsolete"),
            },
            PartColumn::FreqFactors => match table(cell, Bounds::Positive, Bounds::Positive) {
                Ok(factors) => part.can.ripple_freq_factors = Some(factors),
                Err(reason) => fault("ripple_freq_factors", reason),
            },
            PartColumn::TempFactors => match table(cell, Bounds::Celsius, Bounds::NotNegative) {
                Ok(factors) => part.can.ripple_temp_factors = Some(factors),
                Err(reason) => fault("ripple_temp_factors", reason),
            },
            PartColumn::PriceBreaks => match table(cell, Bounds::Positive, Bounds::NotNegative) {
                Ok(breaks) => part.price_breaks = Some(breaks),
                Err(reason) => fault("price_breaks", reason),
            },
            PartColumn::Can(at) => match plain_number(cell, CAN_NUMBERS[at].bounds) {
                Ok(value) => can[at] = Some(value),
                Err(reason) => fault(CAN_NUMBERS[at].name, reason),
            },
            PartColumn::Trade(at) => match plain_number(cell, TRADE_NUMBERS[at].bounds) {
                Ok(value) => trade[at] = Some(value),
                Err(reason) => fault(TRADE_NUMBERS[at].name, reason),
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

/// Lists required fields that are empty and cells beyond the last column.
fn check_whole(part: &Part<&str>, record: &StringRecord, columns: usize, faults: &mut Vec<Fault>) {
    let absent = [part.part_number.is_empty(), part.can.capacitance_uf.is_none(), part.can.rated_v.is_none()];
    for (field, _) in REQUIRED.into_iter().zip(absent).filter(|&(_, absent)| absent) {
        // A cell that could not be read has been listed with its own reason.
        if faults.iter().all(|fault| fault.field != field) {
            let reason = "empty; expected a value, the row cannot be used without it";
            faults.push(Fault { field, value: String::new(), reason });
        }
    }
    if let Some(extra) = record.iter().skip(columns).find(|cell| !cell.trim().is_empty()) {
        let reason = "the row has more cells than the header row; expected one for each column";
        faults.push(Fault { field: "(row)", value: extra.to_owned(), reason });
    }
}

fn word<T: Copy>(cell: &str, names: &[(T, &str)]) -> Option<T> {
    names.iter().find(|(_, name)| name.eq_ignore_ascii_case(cell)).map(|&(value, _)| value)
}
